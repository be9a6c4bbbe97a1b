"""A casing handed to a customer whose it is not is asked about, whatever came first: the delivery,
the label it wears, the sale or the settled mix-up."""

from itertools import permutations
from uuid import UUID, uuid4

import pytest
from django.test import Client

from pickups.custody import ownership
from pickups.kernel import clock
from pickups.questions import services as questions
from pickups.questions.models import Question
from pickups.questions.rules import Kind
from tests.conftest import Enrol
from tests.pickups.notices.test_owned import sold
from tests.pickups.notices.visits import pushed, taken
from tests.world import Phone, World

pytestmark = pytest.mark.django_db


def handed_back(phone: Phone, label: str, yard: UUID) -> None:
    told = {"delivery": str(uuid4()), "yard": str(yard), "label": label}
    phone.enter("custody.deliver", told, version=2)
    pushed(phone)


def asked() -> list[str]:
    rows = Question.objects.filter(kind=Kind.WRONG_OWNER, settled_at=None)
    return [str(owner) for owner in rows.values_list("facts__owner", flat=True)]


@pytest.mark.parametrize("order", list(permutations(["taken", "relabelled", "delivered"])))
def test_the_order_in_which_it_is_told_decides_nothing(
    world: World, phone: Phone, order: tuple[str, ...]
) -> None:
    label, now = world.a_label(), world.a_label()
    for what in order:
        if what == "taken":
            taken(phone, world, label)
        elif what == "relabelled":
            phone.enter("custody.relabel", {"label": label, "now": now, "why": "lost"})
            pushed(phone)
        else:
            handed_back(phone, now, world.other_yard.uid)
    assert asked() == [str(world.customer.uid)]


@pytest.mark.parametrize("home", [True, False])
@pytest.mark.parametrize("settled_first", [True, False])
def test_a_settled_mix_up_judges_what_was_handed_back_before_and_after(
    world: World, phone: Phone, enrol: Enrol, home: bool, settled_first: bool
) -> None:
    ours = taken(phone, world)
    theirs = taken(enrol(world.other_driver), world, yard=world.other_yard.uid)
    label, yard = ours["payload"]["label"], world.yard if home else world.other_yard

    def settle() -> UUID:
        return ownership.settle(
            work_order=UUID(ours["id"]), other=UUID(theirs["id"]), reason="swapped",
            by=world.dispatcher.uid,
        )  # fmt: skip

    change = settle() if settled_first else None
    handed_back(phone, label, yard.uid)
    change = change or settle()
    assert asked() == ([str(world.other_customer.uid)] if home else [])
    ownership.undo(change=change, reason="no mix-up", by=world.dispatcher.uid)
    assert asked() == ([] if home else [str(world.customer.uid)])


def test_what_the_dealer_bought_and_a_driver_handed_back_is_asked_about_until_the_sale_is_undone(
    world: World, phone: Phone, office: Client
) -> None:
    op = taken(phone, world)
    change = sold(world, op["id"])
    handed_back(phone, op["payload"]["label"], world.yard.uid)
    assert asked() == ["dealer"]
    page = office.get("/office/").content.decode()
    assert "Marrowgate Tire &amp; Retread" in page.partition("Delivered to a customer")[2]
    ownership.undo(change=change, reason="no agreement", by=world.dispatcher.uid)
    assert asked() == []


def test_what_a_person_has_decided_is_not_asked_again_by_a_later_word(
    world: World, phone: Phone
) -> None:
    op = taken(phone, world)
    handed_back(phone, op["payload"]["label"], world.other_yard.uid)
    (subject,) = Question.objects.values_list("subject", flat=True)
    questions.settle(
        kinds=[Kind.WRONG_OWNER], subjects=[subject], how="fetched back", at=clock.now(),
        by=world.dispatcher.uid,
    )  # fmt: skip
    told = op["payload"] | {"size": "11R22.5"}
    named = {"fact": op["id"], "label": op["payload"]["label"]}
    phone.enter("custody.pick_up", told | {"corrects": named})
    pushed(phone)
    assert asked() == []
