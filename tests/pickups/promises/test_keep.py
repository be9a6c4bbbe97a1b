"""What was promised is kept as it was told, for ever; a day that is too early is asked about."""

from datetime import date, timedelta
from itertools import permutations
from typing import Any
from uuid import UUID, uuid4

import pytest

from pickups.journal.models import Entry
from pickups.kernel import clock
from pickups.promises import queries, reactions
from pickups.promises.models import Promise
from pickups.questions import services as questions
from pickups.questions.models import Question
from pickups.questions.queries import open_about
from pickups.questions.rules import OWNER, Kind
from tests.conftest import Enrol
from tests.pickups.promises.promising import (
    asked,
    by_hand,
    promise,
    sent,
    taken,
    today,
    told_again,
)
from tests.pickups.promises.trucks import publish
from tests.world import Phone, World
from tests.world.tables import contents

pytestmark = pytest.mark.django_db

DAY = timedelta(days=1)
MONDAY = date(2026, 4, 20)
YARD_DAY = date(2026, 5, 5)
"""When a casing of that Monday is back in the yard: see test_rules."""
STORE_DAY = date(2026, 5, 1)


def test_a_promise_is_kept_as_it_was_told(world: World, phone: Phone) -> None:
    publish(world)
    offered = {
        "on": str(YARD_DAY),
        "basis": "standard_time",
        "offered": str(YARD_DAY),
        "table": 7,
    }
    op = taken(phone, world, offered, on=MONDAY)
    sent(phone)
    kept = promise(op)
    assert (kept.on, kept.basis, kept.offered, kept.table) == (
        YARD_DAY,
        "standard_time",
        YARD_DAY,
        7,
    )
    assert (kept.work_order, kept.back_to, kept.stamp) == (UUID(op["id"]), "yard", op["stamp"])
    assert (kept.expected, kept.by) == (YARD_DAY, world.driver.uid)
    assert kept.told_at.isoformat() == "2026-04-20T17:00:00+00:00"
    assert asked(op) is None


@pytest.mark.parametrize(
    ("back_to", "work", "expected"),
    [
        ("yard", "retread", YARD_DAY),
        ("store", "retread", STORE_DAY),
        ("yard", "repair", date(2026, 4, 28)),
        ("store", "repair", date(2026, 4, 24)),
    ],
)
def test_a_day_before_the_standard_time_is_asked_about_and_the_day_itself_is_not(
    world: World, phone: Phone, back_to: str, work: str, expected: date
) -> None:
    publish(world)
    more: dict[str, Any] = {"on": MONDAY, "back_to": back_to, "work": work}
    early, right = (taken(phone, world, day, **more) for day in (expected - DAY, expected))
    sent(phone)
    assert asked(early) == {"promised": str(expected - DAY), "expected": str(expected)}
    assert asked(right) is None
    assert {promise(op).expected for op in (early, right)} == {expected}
    assert OWNER[Kind.PROMISE_TOO_EARLY] == "dispatcher"


def test_where_nothing_is_published_the_promise_is_kept_and_nothing_is_asked(
    world: World, phone: Phone
) -> None:
    op = taken(phone, world, MONDAY + DAY, on=MONDAY)
    publish(world, days=None)
    other = taken(phone, world, MONDAY + DAY, on=MONDAY)
    sent(phone)
    for each in (op, other):
        assert (promise(each).expected, asked(each)) == (None, None)


def test_a_casing_without_a_promise_makes_none(world: World, phone: Phone) -> None:
    publish(world)
    taken(phone, world, None)
    phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    sent(phone)
    assert not Promise.objects.exists()


def test_the_day_of_hand_over_is_the_dealers_day(world: World, phone: Phone) -> None:
    """Ten in the evening of Tuesday in Chicago is Wednesday in UTC, and still rides on Wednesday's
    truck; one in the morning of Wednesday does not."""
    publish(world)
    ops = [
        taken(phone, world, YARD_DAY, back_to="store") | {"happened_at": at}
        for at in ("2026-04-22T03:00:00.000Z", "2026-04-22T06:00:00.000Z")
    ]
    sent(phone, *ops)
    assert [promise(op).expected for op in ops] == [STORE_DAY, date(2026, 5, 4)]


def test_what_comes_back_in_exchange_is_not_bound_by_the_way_through_the_plant(
    world: World, phone: Phone
) -> None:
    publish(world)
    others = ("pool", "exchange", "bought", "dealer")
    ops = [taken(phone, world, MONDAY + DAY, on=MONDAY, basis=basis) for basis in others]
    own = taken(phone, world, MONDAY + DAY, on=MONDAY, basis="own")
    sent(phone)
    assert [(promise(op).expected, asked(op)) for op in ops] == [(None, None)] * 4
    assert asked(own) is not None


def test_at_a_counter_the_trucks_of_that_counters_store_count(
    world: World, phone: Phone, enrol: Enrol
) -> None:
    publish(world)
    there = enrol(world.other_driver)
    counter = str(world.other_store.uid)
    op = taken(there, world, MONDAY, on=MONDAY, store=counter, back_to="store")
    sent(there)
    assert promise(op).expected is None, "the other store has published no trucks"
    op = taken(phone, world, MONDAY, on=MONDAY, store=str(world.store.uid), back_to="store")
    sent(phone)
    assert promise(op).expected == STORE_DAY


def test_a_yard_that_nobody_knows_is_promised_for_all_the_same(world: World, phone: Phone) -> None:
    publish(world)
    op = taken(phone, world, MONDAY + DAY, on=MONDAY, yard=str(uuid4()))
    sent(phone)
    assert (promise(op).on, promise(op).expected) == (MONDAY + DAY, None)


def test_a_contested_labels_promises_are_kept(world: World, phone: Phone, enrol: Enrol) -> None:
    publish(world)
    first = taken(phone, world, YARD_DAY, on=MONDAY)
    second = taken(enrol(), world, YARD_DAY, on=MONDAY, label=first["payload"]["label"])
    sent(phone)
    other = enrol()
    other.outbox = [second | {"incarnation": str(other.incarnation)}]
    sent(other)
    assert Kind.LABEL_CONTESTED in open_about(f"label:{first['payload']['label']}")
    assert {p.uid for p in Promise.objects.all()} == {UUID(first["id"]), UUID(second["id"])}


def test_a_clock_at_the_end_of_the_calendar_breaks_nothing(world: World, phone: Phone) -> None:
    publish(world)
    op = taken(phone, world, "9999-12-31")
    op["happened_at"] = "9999-12-30T23:59:59.999Z"
    sent(phone)
    assert (promise(op).on, promise(op).expected) == (date.max, None)


# --- Told again -------------------------------------------------------------------------------


def test_a_correction_is_another_promise_and_the_first_stays(world: World, phone: Phone) -> None:
    publish(world)
    op = taken(phone, world, YARD_DAY - DAY, on=MONDAY)
    sent(phone)
    assert asked(op) is not None
    again = told_again(phone, op, promised=YARD_DAY)
    sent(phone)
    order = UUID(op["id"])
    assert [(p.uid, p.on) for p in queries.told([order])[order]] == [
        (order, YARD_DAY - DAY),
        (UUID(again["id"]), YARD_DAY),
    ]
    assert queries.standing([order])[order].uid == UUID(again["id"])
    assert promise(again).expected == YARD_DAY, "as it was handed over, not as it was told again"
    assert (asked(op), asked(again)) == (None, None)
    assert Question.objects.get(subject=f"fact:{op['id']}").settlement == "told anew or withdrawn"


def test_a_correction_that_is_too_early_itself_is_asked_about_in_the_firsts_place(
    world: World, phone: Phone
) -> None:
    publish(world)
    op = taken(phone, world, YARD_DAY - DAY, on=MONDAY)
    sent(phone)
    again = told_again(phone, op, promised=YARD_DAY - 2 * DAY)
    sent(phone)
    assert asked(op) is None
    assert asked(again) == {"promised": str(YARD_DAY - 2 * DAY), "expected": str(YARD_DAY)}


def test_a_correction_of_something_else_neither_settles_the_question_nor_asks_it_again(
    world: World, phone: Phone
) -> None:
    publish(world)
    op = taken(phone, world, YARD_DAY - DAY, on=MONDAY)
    sent(phone)
    again = told_again(phone, op, unit="T-9")
    sent(phone)
    assert promise(again).on == YARD_DAY - DAY
    assert (asked(op) is not None, asked(again)) == (True, None)
    answer(op)
    third = told_again(phone, op, unit="T-10")
    sent(phone)
    assert (asked(op), asked(again), asked(third)) == (None, None, None)


def answer(op: dict[str, Any]) -> None:
    """The dispatcher has decided."""
    how, subjects = "rush work, agreed with the plant", [f"fact:{op['id']}"]
    kinds = [Kind.PROMISE_TOO_EARLY]
    assert questions.settle(kinds=kinds, subjects=subjects, how=how, at=clock.now()) == 1


def test_another_work_wanted_makes_the_same_day_too_early(world: World, phone: Phone) -> None:
    publish(world)
    op = taken(phone, world, YARD_DAY - DAY, on=MONDAY, work="repair")
    sent(phone)
    assert asked(op) is None
    again = told_again(phone, op, work="retread")
    sent(phone)
    assert asked(again) == {"promised": str(YARD_DAY - DAY), "expected": str(YARD_DAY)}


def test_a_correction_that_comes_first_waits_for_its_pick_up(world: World, phone: Phone) -> None:
    publish(world)
    op = taken(phone, world, YARD_DAY - DAY, on=MONDAY)
    again = told_again(phone, op, promised=YARD_DAY - 2 * DAY)
    sent(phone, again)
    assert not Promise.objects.exists()
    sent(phone, op)
    assert (asked(op), asked(again) is not None) == (None, True)
    assert promise(again).expected == YARD_DAY


@pytest.mark.parametrize("order", list(permutations(range(3))))
def test_in_whatever_order_it_is_told_the_same_is_kept_and_asked(
    world: World, phone: Phone, order: tuple[int, ...]
) -> None:
    publish(world)
    first = taken(phone, world, YARD_DAY, on=MONDAY)
    second = told_again(phone, first, promised=YARD_DAY - DAY)
    third = told_again(phone, first, promised=YARD_DAY - 2 * DAY)
    ops = [first, second, third]
    for place in order:
        sent(phone, ops[place])
    made = queries.told([UUID(first["id"])])[UUID(first["id"])]
    assert [str(p.uid) for p in made] == [op["id"] for op in ops]
    assert [asked(op) is not None for op in ops] == [False, False, True]


def test_a_correction_with_an_earlier_stamp_changes_nothing_that_stands(
    world: World, phone: Phone
) -> None:
    publish(world)
    op = taken(phone, world, YARD_DAY, on=MONDAY)
    sent(phone)
    again = told_again(phone, op, promised=YARD_DAY - DAY, stamp=op["stamp"] - 1000)
    sent(phone)
    assert promise(again).on == YARD_DAY - DAY
    assert asked(again) is None
    assert queries.standing([UUID(op["id"])])[UUID(op["id"])].on == YARD_DAY


def test_a_pick_up_that_is_withdrawn_is_asked_about_no_longer(world: World, phone: Phone) -> None:
    publish(world)
    op = taken(phone, world, YARD_DAY - DAY, on=MONDAY)
    sent(phone)
    named = {"fact": op["id"], "label": op["payload"]["label"]}
    payload = {"pickup": op["payload"]["pickup"], "withdraws": named, "reason": "wrong pile"}
    phone.enter("custody.withdraw", payload)
    sent(phone)
    assert asked(op) is None
    assert promise(op).on == YARD_DAY - DAY
    told_again(phone, op, promised=YARD_DAY - DAY, stamp=op["stamp"] + 1)
    sent(phone)
    assert Question.objects.filter(kind=Kind.PROMISE_TOO_EARLY, settled_at=None).count() == 0


def test_to_run_the_reaction_again_changes_nothing(world: World, phone: Phone) -> None:
    publish(world)
    ops = [taken(phone, world, YARD_DAY - DAY * late, on=MONDAY) for late in (0, 1)]
    told_again(phone, ops[1], promised=YARD_DAY - 2 * DAY)
    sent(phone)
    answered = ops[1]["id"]
    before = contents()
    publish(world, days=9)  # what is published later changes no promise that was made
    between = contents()
    for entry in Entry.objects.filter(kind__in=["casing.picked_up", "casing.withdrawn"]):
        reactions.promise(entry)
    after = contents()
    assert after == between
    assert after["promises_promise"] == before["promises_promise"]
    assert Promise.objects.filter(work_order=answered).count() == 2


def test_a_whole_days_batch_is_kept(world: World, phone: Phone) -> None:
    """As many as one push carries of one roll, each asked about by itself."""
    publish(world)
    ops = [taken(phone, world, by_hand(today())) for _ in range(25)]
    sent(phone)
    assert Promise.objects.count() == 25
    assert all(asked(op) for op in ops)


# --- Taken back -------------------------------------------------------------------------------


def test_a_promise_that_is_taken_back_is_kept_and_asked_about_no_longer(
    world: World, phone: Phone
) -> None:
    publish(world)
    op = taken(phone, world, YARD_DAY - DAY, on=MONDAY, work="retread")
    sent(phone)
    assert asked(op) is not None
    told_again(phone, op, promised=None)
    sent(phone)
    assert asked(op) is None
    assert promise(op).on == YARD_DAY - DAY
    again = told_again(phone, op, promised=YARD_DAY - DAY)
    sent(phone)
    assert (asked(op), asked(again) is not None) == (None, True), "promised anew, asked anew"


def test_a_promise_is_taken_back_by_a_phone_whose_clock_is_behind(
    world: World, phone: Phone
) -> None:
    publish(world)
    op = taken(phone, world, YARD_DAY - DAY, on=MONDAY, work="retread")
    sent(phone)
    told_again(phone, op, promised=None, stamp=op["stamp"] - 1000)
    sent(phone)
    assert asked(op) is None


def test_an_app_that_knows_of_no_promises_takes_none_back(world: World, phone: Phone) -> None:
    publish(world)
    op = taken(phone, world, YARD_DAY - DAY, on=MONDAY, work="retread")
    sent(phone)
    named = {"fact": op["id"], "label": op["payload"]["label"]}
    told = {name: op["payload"][name] for name in ("pickup", "yard", "label")}
    phone.enter("custody.pick_up", told | {"corrects": named})
    sent(phone)
    assert asked(op) is not None


@pytest.mark.parametrize("between", [None, YARD_DAY - 2 * DAY])
@pytest.mark.parametrize("order", list(permutations(range(3))))
def test_promised_again_after_another_word_is_asked_about_in_whatever_order_it_is_told(
    world: World, phone: Phone, order: tuple[int, ...], between: date | None
) -> None:
    publish(world)
    first = taken(phone, world, YARD_DAY - DAY, on=MONDAY, work="retread")
    second = told_again(phone, first, promised=between)
    third = told_again(phone, first, promised=YARD_DAY - DAY)
    ops = [first, second, third]
    for place in order:
        sent(phone, ops[place])
    assert [asked(op) is not None for op in ops] == [False, False, True]
