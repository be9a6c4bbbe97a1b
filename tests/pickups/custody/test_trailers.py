"""A trailer taken closed: its list is unknown until it is emptied, in whatever order that comes."""

from itertools import permutations
from typing import Any
from uuid import UUID, uuid4

import pytest

from pickups.custody import visits
from pickups.custody.models import Fact, Pickup
from pickups.kernel import clock
from pickups.questions.models import Question
from pickups.sync.push import retry_held
from tests.pickups.custody.test_record import push, take_back
from tests.world import Phone, World

pytestmark = pytest.mark.django_db

TRAILER = {"number": "TW-118", "seal": "0047112", "left": "TW-109"}


def take(phone: Phone, world: World, pickup: UUID, **more: Any) -> dict[str, Any]:
    """The end of a pickup that took a whole trailer."""
    payload = {"pickup": str(pickup), "yard": str(world.yard.uid), "trailer": TRAILER} | more
    return phone.enter("custody.finish_pickup", payload, version=4)


def empty(phone: Phone, world: World, pickup: UUID, casings: Any, **more: Any) -> dict[str, Any]:
    """Everything in it is labelled; `casings` are the pick_ups."""
    payload = {"pickup": str(pickup), "yard": str(world.yard.uid)}
    payload |= {"casings": [c["id"] for c in casings]} | more
    return phone.enter("custody.empty_trailer", payload)


def label_two(phone: Phone, world: World, pickup: UUID) -> list[dict[str, Any]]:
    return [phone.pick_up(world.a_label(), world.yard.uid, pickup) for _ in range(2)]


def asked() -> set[tuple[str, str]]:
    rows = Question.objects.filter(settled_at=None)
    return {(q.kind, q.subject.partition(":")[0]) for q in rows}


def test_a_shut_trailer_differs_from_nothing(world: World, phone: Phone) -> None:
    pickup = uuid4()
    take(phone, world, pickup, customer_count=40)
    assert push(phone) == ["accepted"]
    assert asked() == set()
    # Being labelled, it is no list yet.
    label_two(phone, world, pickup)
    assert push(phone) == ["accepted", "accepted"]
    assert asked() == set()
    body = visits.bodies([pickup])[pickup]
    assert (body["trailer"], body["emptied_at"], body["count"]) == (TRAILER, None, 0)


def test_emptied_it_is_held_against_what_was_labelled_and_against_the_customers_count(
    world: World, phone: Phone
) -> None:
    pickup = uuid4()
    take(phone, world, pickup, customer_count=3)
    casings = label_two(phone, world, pickup)
    emptying = empty(phone, world, pickup, casings, seal="00 47112", seal_state="whole", counted=2)
    assert push(phone) == ["accepted"] * 3 + ["contested"]
    question = Question.objects.get(settled_at=None)
    assert (question.kind, question.subject) == ("count_differs", f"pickup:{pickup}")
    assert question.facts == {"ours": 2, "theirs": 3}
    assert Fact.objects.get(kind="emptied").told["counted"] == 2
    body = visits.bodies([pickup])[pickup]
    assert (body["emptied_at"], body["count"]) == (emptying["happened_at"], 2)
    # One more lay behind the door: the count is right, the list is not until it is told again.
    phone.pick_up(world.a_label(), world.yard.uid, pickup)
    assert push(phone) == ["accepted"]
    assert asked() == {("pickup_differs", "pickup")}


def test_a_casing_taken_back_is_missed_on_no_list(world: World, phone: Phone) -> None:
    pickup = uuid4()
    take(phone, world, pickup)
    casings = label_two(phone, world, pickup)
    empty(phone, world, pickup, casings)
    push(phone)
    take_back(phone, casings[0])
    assert asked() == set()


@pytest.mark.parametrize("found", [{"seal": "0047113", "seal_state": "whole"},
                                   {"seal": "", "seal_state": "missing"},
                                   {"seal": "0047112", "seal_state": "broken"}],
                         ids=["another", "missing", "broken"])  # fmt: skip
def test_a_seal_that_is_not_the_one_told_or_not_whole_is_asked_about(
    world: World, phone: Phone, found: dict[str, str]
) -> None:
    pickup = uuid4()
    take(phone, world, pickup)
    emptying = empty(phone, world, pickup, [], **found)
    assert push(phone) == ["accepted", "contested"]
    question = Question.objects.get(settled_at=None)
    assert (question.kind, question.facts["fact"]) == ("seal_differs", emptying["id"])
    assert question.facts["seal_told"] == "0047112"


ORDERS = list(permutations(range(4)))


@pytest.mark.parametrize("order", ORDERS, ids=["".join(map(str, o)) for o in ORDERS])
def test_end_and_emptyings_come_to_the_same_in_any_order(
    world: World, phone: Phone, order: tuple[int, ...]
) -> None:
    """The first emptying told counts, a repeat of it is nothing, another one is asked about."""
    pickup = uuid4()
    casings = label_two(phone, world, pickup)
    assert push(phone) == ["accepted", "accepted"]
    told = [
        take(phone, world, pickup, customer_count=2),
        empty(phone, world, pickup, casings, seal_state="broken"),
        empty(phone, world, pickup, casings, seal_state="broken"),
        empty(phone, world, pickup, casings[:1]),
    ]
    phone.outbox.clear()
    for i in order:
        assert phone.push([told[i]]).json["answers"][0]["outcome"] in ("accepted", "contested")
    row = Pickup.objects.get()
    assert row.emptied is not None
    assert row.emptied["casings"] == [c["id"] for c in casings]
    open_now = {(q.kind, q.subject) for q in Question.objects.filter(settled_at=None)}
    assert open_now == {
        ("seal_differs", f"pickup:{pickup}"),
        ("pickup_differs", f"fact:{told[3]['id']}"),
    }


def test_what_a_person_settled_is_not_asked_again_by_another_telling(
    world: World, phone: Phone
) -> None:
    pickup = uuid4()
    take(phone, world, pickup)
    empty(phone, world, pickup, [], seal_state="broken")
    empty(phone, world, pickup, [], note="SECOND")
    push(phone)
    Question.objects.update(settled_at=clock.now())
    third = empty(phone, world, pickup, [], note="THIRD")
    push(phone)
    assert [q.subject for q in Question.objects.filter(settled_at=None)] == [f"fact:{third['id']}"]


def test_a_trailer_that_nobody_took_cannot_be_emptied_unasked(world: World, phone: Phone) -> None:
    pickup = uuid4()
    casings = label_two(phone, world, pickup)
    emptying = empty(phone, world, pickup, casings)
    assert push(phone) == ["accepted"] * 3
    phone.finish(pickup, world.yard.uid, [c["id"] for c in casings])
    assert push(phone) == ["contested"]
    assert [q.subject for q in Question.objects.filter(settled_at=None)] == [
        f"fact:{emptying['id']}"
    ]
    assert Pickup.objects.get().emptied is None


def test_an_emptying_waits_for_a_casing_that_has_not_come(world: World, phone: Phone) -> None:
    pickup = uuid4()
    take(phone, world, pickup)
    push(phone)
    casings = label_two(phone, world, pickup)
    emptying = empty(phone, world, pickup, casings)
    phone.outbox.clear()
    (answer,) = phone.push([emptying]).json["answers"]
    assert (answer["outcome"], answer["code"]) == ("held", "reference_unseen")
    assert phone.push(casings).status == 200
    retry_held(everything=True)
    assert Pickup.objects.get().emptied is not None
    assert asked() == set()
