"""The end of a delivery is held against what was handed back in it, and asked for where it is
missing: by the rules that pickups have.
"""

from datetime import timedelta
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from pickups.casings.models import WorkOrder
from pickups.custody import overdue
from pickups.custody.models import Delivery, Fact
from pickups.customers import services as customers
from pickups.kernel import clock
from pickups.questions.models import Question
from tests.pickups.custody.test_hand_over import an_end, deliver
from tests.pickups.custody.test_record import open_kinds, pick_up, push
from tests.world import Phone, World

pytestmark = pytest.mark.django_db
LATER = timedelta(days=1, minutes=1)


def hand_back(phone: Phone, world: World, delivery: UUID, count: int = 1) -> list[dict[str, Any]]:
    """So many casings of one customer handed back, pushed."""
    labels = [world.a_label() for _ in range(count)]
    for label in labels:
        pick_up(phone, world, label)
    made = [deliver(phone, label, world.yard.uid, delivery) for label in labels]
    assert push(phone) == ["accepted"] * count
    return made


def asked() -> dict[str, dict[str, Any]]:
    """The open questions about deliveries that differ: the facts by the subject."""
    rows = Question.objects.filter(kind="delivery_differs", settled_at=None)
    return dict(rows.values_list("subject", "facts"))


def test_an_end_that_names_what_was_handed_back_asks_nothing(world: World, phone: Phone) -> None:
    delivery = uuid4()
    ops = hand_back(phone, world, delivery, 2)
    an_end(phone, world.yard.uid, delivery, *(op["id"] for op in ops[::-1]))
    assert push(phone) == ["accepted"]
    assert asked() == {}


def test_an_end_that_leaves_a_casing_out_is_asked_about(world: World, phone: Phone) -> None:
    delivery = uuid4()
    first, second, third = (op["id"] for op in hand_back(phone, world, delivery, 3))
    an_end(phone, world.yard.uid, delivery, first, signer="R. Amsel")
    assert push(phone) == ["contested"]
    facts = {"listed": [first], "delivered": [first, second, third], "of_another": []}
    assert asked() == {f"delivery:{delivery}": facts}
    assert Question.objects.get(kind="delivery_differs").owner == "dispatcher"
    assert Delivery.objects.get().casings == [first], "it is kept as it was told"


def test_an_end_that_names_what_another_delivery_handed_back_is_asked_about(
    world: World, phone: Phone
) -> None:
    delivery = uuid4()
    (mine,) = hand_back(phone, world, delivery)
    (other,) = hand_back(phone, world, uuid4())
    an_end(phone, world.yard.uid, delivery, mine["id"], other["id"])
    assert push(phone) == ["contested"]
    assert asked()[f"delivery:{delivery}"]["delivered"] == [mine["id"]]


def test_a_casing_handed_back_after_the_end_is_asked_about_until_an_earlier_end_names_it(
    world: World, phone: Phone
) -> None:
    delivery = uuid4()
    (first,) = hand_back(phone, world, delivery)
    phone.ahead = timedelta(minutes=-2)
    whole = an_end(phone, world.yard.uid, delivery, first["id"])
    phone.outbox.clear()
    phone.ahead = timedelta()
    part = an_end(phone, world.yard.uid, delivery, first["id"])
    assert push(phone) == ["accepted"]
    (second,) = hand_back(phone, world, delivery)
    assert set(asked()) == {f"delivery:{delivery}"}
    whole["payload"]["casings"] = [first["id"], second["id"]]
    phone.outbox.append(whole)
    push(phone)
    assert Delivery.objects.get().casings == [first["id"], second["id"]]
    assert set(asked()) == {f"fact:{part['id']}"}, "the other end says otherwise now"
    settled = Question.objects.get(subject=f"delivery:{delivery}")
    assert settled.settlement == "settled by a later fact"


@pytest.mark.parametrize("late", [False, True])
def test_a_second_end_that_says_otherwise_is_a_question_of_its_own(
    world: World, phone: Phone, late: bool
) -> None:
    delivery = uuid4()
    ops = [op["id"] for op in hand_back(phone, world, delivery, 2)]
    ends = [
        an_end(phone, world.yard.uid, delivery, *ops, signer="R. Amsel"),
        an_end(phone, world.yard.uid, delivery, *ops, signer="Somebody Else"),
        an_end(phone, world.yard.uid, delivery, ops[0], signer="Somebody Else"),
    ]
    for end in ends[::-1] if late else ends:
        assert phone.push([end]).status == 200
    assert set(asked()) == {f"fact:{ends[2]['id']}"}, "the end that counts is right"


def test_an_end_at_another_customers_yard_is_a_question(world: World, phone: Phone) -> None:
    delivery = uuid4()
    (op,) = hand_back(phone, world, delivery)
    an_end(phone, world.other_yard.uid, delivery, op["id"])
    assert push(phone) == ["contested"]
    assert asked()[f"delivery:{delivery}"]["of_another"] == [op["id"]]


def test_another_yard_of_the_same_customer_is_none(world: World, phone: Phone) -> None:
    delivery = uuid4()
    (op,) = hand_back(phone, world, delivery)
    south = customers.open_yard(customer=world.customer, name="South yard")
    an_end(phone, south.uid, delivery, op["id"])
    assert push(phone) == ["accepted"]
    assert asked() == {}


def test_a_delivery_that_nobody_finishes_is_asked_about_until_it_is(
    world: World, phone: Phone
) -> None:
    delivery = uuid4()
    ops = hand_back(phone, world, delivery, 2)
    WorkOrder.objects.update(withdrawn=True)  # their pickups are another question
    assert overdue.ask_unfinished(at=clock.now() + timedelta(hours=23)) == 0
    assert overdue.ask_unfinished(at=clock.now() + LATER) == 1
    assert overdue.ask_unfinished(at=clock.now() + LATER) == 1, "it is the same question"
    question = Question.objects.get(kind="delivery_open")
    assert (question.subject, question.owner) == (f"delivery:{delivery}", "dispatcher")
    assert question.facts == {"fact": ops[0]["id"], "ours": 2}
    an_end(phone, world.yard.uid, delivery, *(op["id"] for op in ops))
    assert push(phone) == ["accepted"]
    assert open_kinds(f"delivery:{delivery}") == []
    assert overdue.ask_unfinished(at=clock.now() + LATER) == 0


def test_a_delivery_that_a_person_has_settled_is_not_asked_about_again(
    world: World, phone: Phone
) -> None:
    hand_back(phone, world, uuid4())
    WorkOrder.objects.update(withdrawn=True)
    later = clock.now() + LATER
    assert overdue.ask_unfinished(at=later) == 1
    Question.objects.update(settled_at=later, settled_by=world.dispatcher.uid)
    assert overdue.ask_unfinished(at=later) == 0


def test_handing_back_more_casings_reads_no_more_about_their_delivery(
    world: World, phone: Phone
) -> None:
    def reads(count: int) -> int:
        delivery, labels = uuid4(), [world.a_label() for _ in range(count)]
        for label in labels:
            pick_up(phone, world, label)
        for label in labels:
            deliver(phone, label, world.yard.uid, delivery)
        with CaptureQueriesContext(
            connection,
        ) as told:
            push(phone)
        assert Fact.objects.filter(told__delivery=str(delivery)).count() == count
        return sum("custody_delivery" in q["sql"] for q in told)

    assert reads(1) == reads(6) == 1
