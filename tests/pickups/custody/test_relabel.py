"""A label that is lost or spoiled gives way to another on the same work order, in any order."""

import itertools
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.db import OperationalError, transaction

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.custody import queries, services
from pickups.custody.fold import Kind
from pickups.custody.models import Fact
from pickups.kernel import clock, locks
from pickups.questions.models import Question
from tests.pickups.custody.histories import at_plant, picked_up, relabelled, told
from tests.world import Phone, World
from tests.world.plant import Gateway
from tests.world.threads import at_once

pytestmark = pytest.mark.django_db


def relabel(phone: Phone, label: str, now: str, **more: Any) -> str:
    """One label replaced by another, pushed; returns the outcome."""
    phone.enter("custody.relabel", {"label": label, "now": now, "why": "lost", **more})
    return push(phone)


def push(phone: Phone) -> str:
    reply = phone.push()
    assert reply.status == 200, reply.body
    outcome: str = reply.json["answers"][-1]["outcome"]
    return outcome


def casing(phone: Phone, world: World, label: str, **more: Any) -> dict[str, Any]:
    made = phone.pick_up(label, world.yard.uid, uuid4(), **more)
    push(phone)
    return made


def order(op: dict[str, Any]) -> WorkOrder:
    return WorkOrder.objects.get(uid=op["id"])


def asked(kind: str) -> set[str]:
    rows = Question.objects.filter(kind=kind, settled_at=None)
    return set(rows.values_list("subject", flat=True))


def test_a_lost_label_gives_way_to_another_on_the_same_work_order(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    old, new = world.a_label(), world.a_label()
    op = casing(phone, world, old, size="11R22.5")
    gateway.tell(old, "received", station="receiving")
    assert relabel(phone, old, new, known_by="TIN and size") == "accepted"
    assert (order(op).label, order(op).progress) == (new, "received")
    # Whoever reads the old one, or has read it before, means the same casing.
    gateway.tell(old, "passed")
    gateway.tell(new, "finished")
    assert order(op).progress == "finished"
    assert WorkOrder.objects.count() == 1
    assert set(Fact.objects.values_list("work_order", flat=True)) == {UUID(op["id"])}
    assert not Question.objects.filter(settled_at=None).exists()
    body = casings.bodies([UUID(op["id"])])[UUID(op["id"])]
    assert (body["label"], body["void_labels"], body["picked_up_under"]) == (new, [old], old)


@pytest.mark.parametrize("turn", list(itertools.permutations(range(4))), ids=str)
def test_it_is_the_same_whatever_comes_first(world: World, turn: tuple[int, ...]) -> None:
    a, b, c = (world.a_label() for _ in "abc")
    facts = [
        picked_up(UUID(int=1), a),
        relabelled(UUID(int=2), a, b),
        relabelled(UUID(int=3), b, c),
        at_plant(UUID(int=4), Kind.FINISHED, b),
    ]
    for at in (*turn, *turn[:2]):
        services.record([told(facts[at])], site=world.store.uid, at=clock.now())
    found = WorkOrder.objects.get()
    assert (found.label, found.progress) == (c, "finished")
    assert found.told["void_labels"] == sorted([a, b])
    assert not asked("label_replaced") | asked("label_contested")


def test_a_correction_by_a_phone_that_has_not_heard_keeps_the_label_on_the_casing(
    world: World, phone: Phone
) -> None:
    old, new = world.a_label(), world.a_label()
    op = casing(phone, world, old)
    relabel(phone, old, new)
    again = op["payload"] | {"size": "11R22.5", "corrects": {"fact": op["id"], "label": old}}
    phone.enter("custody.pick_up", again)
    push(phone)
    assert (order(op).label, order(op).told["size"]) == (new, "11R22.5")


def test_a_label_of_another_casing_in_its_place_is_asked_about_and_can_be_taken_back(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    mine, others = world.a_label(), world.a_label()
    one, other = casing(phone, world, mine), casing(phone, world, others)
    gateway.tell(mine, "received", station="receiving")
    assert relabel(phone, mine, others) == "contested"
    assert (order(one).contested, order(other).contested) == (True, True)
    assert asked("label_contested") == {f"label:{others}"}
    swap = Fact.objects.get(kind="relabelled")
    services.take_label_back(fact=swap.uid, reason="read the wrong one", by=world.driver.uid)
    assert not asked("label_contested")
    assert (order(one).label, order(one).progress, order(one).contested) == (
        mine, "received", False,
    )  # fmt: skip
    assert (order(other).label, order(other).progress) == (others, "picked_up")


def test_a_relabelling_taken_back_stays_so_whatever_corrects_it_later(
    world: World, phone: Phone
) -> None:
    old, new = world.a_label(), world.a_label()
    op = casing(phone, world, old)
    swap = phone.enter("custody.relabel", {"label": old, "now": new, "why": "lost"})
    named = {"fact": swap["id"], "label": old}
    back = {"pickup": op["payload"]["pickup"], "withdraws": named, "reason": "found it"}
    phone.enter("custody.withdraw", back)
    phone.enter("custody.pick_up", op["payload"] | {"corrects": named})
    phone.push()
    assert (order(op).label, queries.names_of(old).worn) == (old, old)


def test_a_phone_may_take_its_relabelling_back(world: World, phone: Phone) -> None:
    old, new = world.a_label(), world.a_label()
    op = casing(phone, world, old)
    swap = phone.enter("custody.relabel", {"label": old, "now": new, "why": "spoiled"})
    named = {"fact": swap["id"], "label": old}
    back = {"pickup": op["payload"]["pickup"], "withdraws": named, "reason": "found it"}
    # The one that takes it back comes first.
    phone.enter("custody.withdraw", back)
    phone.outbox.reverse()
    phone.push()
    assert not phone.outbox
    assert order(op).label == old
    assert not asked("correction_parked")


def test_two_labels_in_the_place_of_one_are_asked_about_once(world: World, phone: Phone) -> None:
    old, first, second = (world.a_label() for _ in "abc")
    op = casing(phone, world, old)
    assert relabel(phone, old, first) == "accepted"
    assert relabel(phone, old, second) == "contested"
    assert order(op).label == second
    assert asked("label_replaced") == {f"label:{old}"}
    Question.objects.filter(kind="label_replaced").update(settled_at=clock.now())
    third = world.a_label()
    assert relabel(phone, second, third) == "accepted", "what was decided is not asked again"
    assert order(op).label == third


def test_labels_that_come_back_to_the_first_are_asked_about(world: World, phone: Phone) -> None:
    old, new = world.a_label(), world.a_label()
    op = casing(phone, world, old)
    relabel(phone, old, new)
    assert relabel(phone, new, old) == "contested"
    assert order(op).label == old
    assert asked("label_replaced") == {f"label:{old}", f"label:{new}"}


def test_a_label_in_its_own_place_is_a_question_not_a_refusal(world: World, phone: Phone) -> None:
    label = world.a_label()
    op = casing(phone, world, label)
    assert relabel(phone, label, label) == "contested"
    assert (order(op).label, order(op).contested) == (label, False)


def test_a_void_label_on_another_casing_contests_the_casing_that_wore_it(
    world: World, phone: Phone
) -> None:
    old, new = world.a_label(), world.a_label()
    op = casing(phone, world, old)
    relabel(phone, old, new)
    found = casing(phone, world, old)
    assert order(op).contested
    assert order(found).contested
    assert asked("label_contested") == {f"label:{new}"}


def test_a_new_label_that_nobody_printed_is_asked_about(world: World, phone: Phone) -> None:
    old = world.a_label()
    casing(phone, world, old)
    assert relabel(phone, old, "K72K54X2") == "contested"
    assert asked("label_not_printed") == {"label:K72K54X2"}


@pytest.mark.django_db(transaction=True)
def test_a_further_label_of_a_chain_is_tried_and_never_waited_for(
    world: World, phone: Phone
) -> None:
    a, b, c = (world.a_label() for _ in "abc")
    casing(phone, world, a)
    relabel(phone, a, b)
    relabel(phone, b, c)

    def scan() -> None:
        with transaction.atomic():
            locks.take([locks.label_key(a)])
            fact = at_plant(uuid4(), Kind.FINISHED, a)
            services.record([told(fact)], site=world.store.uid, at=clock.now())

    with transaction.atomic():
        locks.take([locks.label_key(c)])
        with pytest.raises(OperationalError, match="busy"):
            at_once(scan)
    assert not Fact.objects.filter(kind="finished").exists()
    at_once(scan)
    assert WorkOrder.objects.get().progress == "finished"
