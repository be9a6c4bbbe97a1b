"""How open promises stand after a forecast, and new days told in the place of old ones: through
the plant's publication, the phone's doors and the journal, over PostgreSQL."""

from datetime import date
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

import pytest
from pytest_django import Settings

from pickups.journal.models import Entry
from pickups.kernel import clock
from pickups.promises import queries, tasks, watching
from pickups.promises.models import Forecast, Promise, Risk
from pickups.promises.watching import NewDay
from pickups.questions import services as questions
from pickups.questions.models import Question
from pickups.questions.rules import Kind
from pickups.questions.services import Ask
from tests.conftest import Enrol
from tests.pickups.promises.forecasting import DAY, back, courses, forecast, trucks_every_day
from tests.pickups.promises.history import finished
from tests.pickups.promises.promising import (
    asked,
    by_hand,
    by_table,
    sent,
    taken,
    today,
    told_again,
)
from tests.world import Phone, World
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db
SPREAD = courses(on={3: 30, 5: 65, 9: 5})
"""Finished in 3 days in 30 of a hundred courses, in 5 in 95, in 9 in all."""


@pytest.fixture(autouse=True)
def trucks(world: World, settings: Settings) -> None:
    settings.TELLING_BEGINS_HOUR, settings.TELLING_ENDS_HOUR = 0, 24
    trucks_every_day(world)


def risk(op: dict[str, Any]) -> Risk | None:
    return Risk.objects.filter(work_order=op["id"]).first()


def stands(op: dict[str, Any]) -> Promise:
    return queries.standing([UUID(op["id"])])[UUID(op["id"])]


def revised() -> list[Entry]:
    return list(Entry.objects.filter(kind="promise.revised").order_by("id"))


# --- How a promise stands -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("ahead", "probability", "risky"),
    [(2, 0.0, True), (3, 0.3, True), (4, 0.3, True), (5, 0.95, False), (9, 1.0, False)],
)
def test_a_promise_is_kept_in_the_courses_that_finish_in_time_for_the_trucks(
    world: World, phone: Phone, ahead: int, probability: float, risky: bool
) -> None:
    op = taken(phone, world, back(ahead))
    sent(phone)
    forecast(world, (op, SPREAD))
    found = risk(op)
    assert found is not None
    assert (found.on, found.expected, found.percent) == (back(ahead), back(5), 90)
    assert found.probability == pytest.approx(probability)
    assert (found.since is not None) is risky


def test_the_expected_day_is_at_the_accounts_own_confidence(world: World, phone: Phone) -> None:
    world.customer.promise_percent = 99
    world.customer.save()
    op = taken(phone, world, back(3))
    sent(phone)
    forecast(world, (op, SPREAD))
    found = risk(op)
    assert found is not None
    assert (found.percent, found.expected) == (99, back(9))


def test_a_course_that_rejects_it_says_nothing_of_its_promise(world: World, phone: Phone) -> None:
    op = taken(phone, world, back(3))
    sent(phone)
    forecast(world, (op, [None, 3, None, 5]))
    found = risk(op)
    assert found is not None
    assert found.probability == pytest.approx(0.5)


def test_since_when_it_is_at_risk_is_kept_while_it_is_and_forgotten_once_it_is_not(
    world: World, phone: Phone
) -> None:
    op = taken(phone, world, back(3))
    sent(phone)
    forecast(world, (op, [5]))
    first = risk(op)
    forecast(world, (op, [6]))
    second = risk(op)
    assert first is not None
    assert second is not None
    assert first.since is not None
    assert (second.since, second.expected) == (first.since, back(6))
    assert second.at > first.at
    forecast(world, (op, [3]))
    third = risk(op)
    assert third is not None
    assert third.since is None


def test_what_a_forecast_knows_no_more_and_is_not_in_its_plant_is_watched_no_more(
    world: World, phone: Phone
) -> None:
    op, other = (taken(phone, world, back(3)) for _ in range(2))
    sent(phone)
    forecast(world, (op, [5]), (other, [5]))
    forecast(world, (other, [5]))
    assert risk(op) is None
    assert risk(other) is not None


def test_what_is_finished_rejected_or_in_question_or_not_this_casing_is_not_watched(
    world: World, phone: Phone, gateway: Gateway, enrol: Enrol
) -> None:
    ops = [taken(phone, world, back(3)) for _ in range(4)]
    pool = taken(phone, world, back(3), basis="pool")
    unpromised = taken(phone, world, None)
    sent(phone)
    finished(gateway, ops[0], today())
    gateway.tell(ops[1]["payload"]["label"], "rejected")
    other = enrol(world.other_driver)
    other.pick_up(ops[2]["payload"]["label"], world.other_yard.uid, UUID(int=7))
    sent(other)
    told_again(phone, ops[3], promised=None)
    sent(phone)
    forecast(world, *((op, [5]) for op in [*ops, pool, unpromised]))
    assert not Risk.objects.exists()


def test_a_forecast_that_was_replaced_writes_nothing(world: World, phone: Phone) -> None:
    """Its own entry comes late: what stands is what the later one said."""
    op = taken(phone, world, back(3))
    sent(phone)
    forecast(world, (op, [5]))
    late = Entry.objects.filter(kind="forecast.published").latest("id")
    forecast(world, (op, [3]))
    watching.watch(plant=UUID(late.body["plant"]), at=clock.now())
    found = risk(op)
    assert found is not None
    assert found.probability == 1.0


def test_what_goes_on_hold_in_its_plant_stays_at_risk_and_nobody_can_say_when_it_is_back(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    op, sure = (taken(phone, world, back(3)) for _ in range(2))
    sent(phone)
    for one in (op, sure):
        gateway.tell(one["payload"]["label"], "received", station="receiving")
    forecast(world, (op, [5]), (sure, [3]))
    before = risk(op)
    assert before is not None
    gateway.tell(op["payload"]["label"], "hold")
    forecast(world)
    left = risk(op)
    assert left is not None
    assert (left.probability, left.expected, left.since) == (None, None, before.since)
    assert left.at > before.at
    assert risk(sure) is None, "what was sure is not called at risk by silence"
    forecast(world, (op, [3]))
    again = risk(op)
    assert again is not None
    assert (again.probability, again.since) == (1.0, None)


def over(world: World) -> None:
    """The plant's forecast has ended, and none came after it."""
    Forecast.objects.filter(plant=world.plant.uid).update(valid_until=clock.now())


def test_a_risk_counts_no_more_once_its_forecast_has_ended(
    world: World, phone: Phone, tells: None, settings: Settings
) -> None:
    settings.TELLING_ENDS_HOUR = 0
    op = taken(phone, world, by_table(back(3)))
    sent(phone)
    forecast(world, (op, [5]))
    uid = UUID(op["id"])
    assert set(watching.due([uid], at=clock.now())) == {uid}
    over(world)
    settings.TELLING_ENDS_HOUR = 24
    assert watching.due([uid], at=clock.now()) == {}
    assert tasks.tell_due() == 0
    assert revised() == []
    watching.watch(plant=world.plant.uid, at=clock.now())
    assert risk(op) is None


def test_what_was_sent_back_outlives_a_forecast_that_ended_and_a_watch_that_began_before(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    trucks_every_day(world, days=4)
    op = taken(phone, world, back(3))
    sent(phone)
    forecast(world)
    began = clock.now()
    sent_back(gateway, op)
    sent(phone)
    assert risk(op) is not None
    watching.watch(plant=world.plant.uid, at=began)
    assert risk(op) is not None, "said after that watch began"
    over(world)
    watching.watch(plant=world.plant.uid, at=clock.now())
    assert risk(op) is not None


# --- New days told by themselves ------------------------------------------------------------------


@pytest.fixture
def tells(settings: Settings) -> None:
    settings.PROMISE_TELL_NEW_DAYS = True


def test_nobody_is_told_anything_by_itself_where_the_dealer_does_not_want_it(
    world: World, phone: Phone
) -> None:
    op = taken(phone, world, back(3))
    sent(phone)
    forecast(world, (op, [5]))
    assert stands(op).uid == UUID(op["id"])
    assert revised() == []


def test_a_promise_at_risk_gets_a_new_day_once_and_the_old_one_stays_as_it_was(
    world: World, phone: Phone, tells: None
) -> None:
    op = taken(phone, world, by_table(back(3)))
    sent(phone)
    before = Promise.objects.values().get(uid=op["id"])
    forecast(world, (op, SPREAD))
    now = stands(op)
    assert (now.on, now.basis, now.confidence, now.by) == (back(5), "forecast", 90, None)
    assert (now.revises, now.back_to) == (UUID(op["id"]), "yard")
    assert now.forecast_at is not None
    assert Promise.objects.values().get(uid=op["id"]) == before
    forecast(world, (op, SPREAD))
    forecast(world, (op, courses(on={4: 50, 5: 45, 6: 5})))
    assert Promise.objects.count() == 2, "a forecast that swings tells nobody anything"
    (entry,) = revised()
    assert entry.body == {"work_orders": [op["id"]]}


def test_it_moves_on_where_the_new_day_is_at_risk_too_and_back_where_the_first_one_holds(
    world: World, phone: Phone, tells: None
) -> None:
    op = taken(phone, world, by_table(back(3)))
    sent(phone)
    for ahead, day in ((5, 5), (8, 8), (6, 8), (3, 3), (2, 3)):
        forecast(world, (op, [ahead]))
        assert stands(op).on == back(day), ahead
    told = queries.told([UUID(op["id"])])[UUID(op["id"])]
    assert [p.on for p in told] == [back(3), back(5), back(8), back(3)]
    assert [p.revises for p in told[1:]] == [p.uid for p in told[:-1]]


def test_all_of_a_forecast_are_told_in_one_go(world: World, phone: Phone, tells: None) -> None:
    ops = [taken(phone, world, by_table(back(3))) for _ in range(3)]
    sent(phone)
    forecast(world, *((op, [5]) for op in ops))
    (entry,) = revised()
    assert entry.body["work_orders"] == sorted(op["id"] for op in ops)


def test_at_night_nobody_is_told_and_in_the_morning_everybody(
    world: World, phone: Phone, tells: None, settings: Settings
) -> None:
    hour = clock.now().astimezone(ZoneInfo(settings.DEALER_TIME_ZONE)).hour
    settings.TELLING_BEGINS_HOUR, settings.TELLING_ENDS_HOUR = (hour + 1, 24)
    op = taken(phone, world, by_table(back(3)))
    sent(phone)
    forecast(world, (op, [5]))
    assert stands(op).on == back(3)
    settings.TELLING_BEGINS_HOUR = hour
    forecast(world, (op, [5]))
    assert stands(op).on == back(5)


def test_by_itself_nothing_is_told_where_nobody_would_hear_of_it(
    world: World, phone: Phone, tells: None
) -> None:
    world.customer.contacts.update(wants_progress=False)
    op = taken(phone, world, by_table(back(3)))
    sent(phone)
    forecast(world, (op, [5]))
    assert (stands(op).on, revised()) == (back(3), [])
    found = risk(op)
    assert found is not None
    assert found.since is not None, "it waits for a person who calls"
    world.customer.contacts.update(wants_progress=True)
    forecast(world, (op, [5]))
    assert stands(op).on == back(5)


def test_a_day_that_a_person_named_is_moved_by_a_person_alone(
    world: World, phone: Phone, tells: None
) -> None:
    op = taken(phone, world, back(3))
    sent(phone)
    forecast(world, (op, [5]))
    assert (stands(op).on, revised()) == (back(3), [])
    at = clock.now()
    new = watching.due([UUID(op["id"])], at=at)
    assert watching.revise(new_days=new, by=world.dispatcher.uid, at=at) == {UUID(op["id"])}
    forecast(world, (op, [8]))
    assert stands(op).on == back(8), "the day that stands now is the forecast's"


def test_a_day_of_which_it_is_asked_whether_it_can_be_kept_waits_for_the_answer(
    world: World, phone: Phone, tells: None
) -> None:
    op = taken(phone, world, by_table(back(3)))
    sent(phone)
    subject = f"fact:{op['id']}"
    questions.ask([Ask(Kind.PROMISE_TOO_EARLY, subject, {})], at=clock.now())
    forecast(world, (op, [5]))
    assert (stands(op).on, revised()) == (back(3), [])
    assert asked(op) is not None
    at = clock.now()
    questions.settle(kinds=[Kind.PROMISE_TOO_EARLY], subjects=[subject], how="kept", at=at)
    forecast(world, (op, [5]))
    assert stands(op).on == back(5)


# --- Which promise stands -------------------------------------------------------------------------


def test_a_casing_told_again_with_the_same_promise_leaves_the_new_day_standing(
    world: World, phone: Phone, tells: None
) -> None:
    op = taken(phone, world, by_table(back(3)))
    sent(phone)
    forecast(world, (op, [5]))
    told_again(phone, op, unit="T-114")
    sent(phone)
    assert (stands(op).on, Promise.objects.count()) == (back(5), 3)
    told_again(phone, op, promised=by_hand(back(9)))
    sent(phone)
    assert stands(op).on == back(9), "another word of a person's stands"


def test_a_new_day_ends_the_question_whether_the_old_one_was_too_early(
    world: World, phone: Phone
) -> None:
    trucks_every_day(world, days=20)
    op = taken(phone, world, back(3))
    sent(phone)
    assert asked(op) is not None
    forecast(world, (op, [5]))
    new, at = watching.due([UUID(op["id"])], at=clock.now()), clock.now()
    assert watching.revise(new_days=new, by=world.dispatcher.uid, at=at)
    assert asked(op) is None
    told_again(phone, op, unit="T-114")
    sent(phone)
    assert not Question.objects.filter(settled_at=None).exists()


def test_a_day_is_told_only_in_the_place_of_the_promise_that_was_looked_at(
    world: World, phone: Phone
) -> None:
    op = taken(phone, world, back(3))
    sent(phone)
    uid, at = UUID(op["id"]), clock.now()
    looked_at = NewDay(stands(op).uid, back(6), "by_hand")
    told_again(phone, op, promised=by_hand(back(4)))
    sent(phone)
    assert watching.revise(new_days={uid: looked_at}, by=world.dispatcher.uid, at=at) == set()
    now = NewDay(stands(op).uid, back(6), "by_hand")
    for _ in range(2):
        watching.revise(new_days={uid: now}, by=world.dispatcher.uid, at=at)
    assert (stands(op).on, stands(op).by) == (back(6), world.dispatcher.uid)
    assert Promise.objects.count() == 3


# --- Sent back to be worked again -----------------------------------------------------------------


def sent_back(gateway: Gateway, op: dict[str, Any]) -> None:
    label = op["payload"]["label"]
    gateway.tell(label, "received", station="receiving")
    gateway.tell(label, "repair", station="final-inspection", again_at="buffing")


def test_what_is_worked_again_is_counted_anew_by_standard_time_where_nothing_is_forecast(
    world: World, phone: Phone, gateway: Gateway, tells: None
) -> None:
    trucks_every_day(world, days=4)
    op = taken(phone, world, by_table(back(3)), on=today() - 2 * DAY)
    sent(phone)
    sent_back(gateway, op)
    sent(phone)
    now = stands(op)
    assert (now.on, now.basis, now.confidence) == (back(4), "standard_time", None)


def test_what_was_sent_back_at_night_is_told_in_the_morning(
    world: World, phone: Phone, gateway: Gateway, tells: None, settings: Settings
) -> None:
    """No forecast comes by: the queue looks again."""
    settings.TELLING_BEGINS_HOUR, settings.TELLING_ENDS_HOUR = 0, 0
    trucks_every_day(world, days=4)
    op = taken(phone, world, by_table(back(3)), on=today() - 2 * DAY)
    sent(phone)
    sent_back(gateway, op)
    sent(phone)
    assert tasks.tell_due() == 0
    assert stands(op).on == back(3)
    settings.TELLING_ENDS_HOUR = 24
    settings.PROMISE_TELL_NEW_DAYS = False
    assert tasks.tell_due() == 0
    settings.PROMISE_TELL_NEW_DAYS = True
    assert tasks.tell_due() == 1
    assert stands(op).on == back(4)
    assert tasks.tell_due() == 0


@pytest.mark.parametrize("on", [back(4), back(9)], ids=["just in time", "long after"])
def test_what_can_be_worked_again_in_time_keeps_its_promise(
    world: World, phone: Phone, gateway: Gateway, tells: None, on: date
) -> None:
    trucks_every_day(world, days=4)
    op = taken(phone, world, by_table(on))
    sent(phone)
    sent_back(gateway, op)
    sent(phone)
    assert stands(op).on == on
    assert risk(op) is None


def test_what_a_forecast_knows_waits_for_the_next_one_to_say_what_working_again_means(
    world: World, phone: Phone, gateway: Gateway, tells: None
) -> None:
    trucks_every_day(world, days=4)
    op = taken(phone, world, by_table(back(3)), on=today() - 2 * DAY)
    sent(phone)
    forecast(world, (op, [3]))
    sent_back(gateway, op)
    sent(phone)
    assert stands(op).on == back(3)
    forecast(world, (op, [7]))
    assert (stands(op).on, stands(op).basis) == (back(7), "forecast")


def test_a_mark_for_repair_ahead_of_the_repair_station_moves_no_promise(
    world: World, phone: Phone, gateway: Gateway, tells: None
) -> None:
    trucks_every_day(world, days=4)
    op = taken(phone, world, by_table(back(3)), on=today() - 2 * DAY)
    sent(phone)
    gateway.tell(op["payload"]["label"], "repair", station="initial-inspection")
    sent(phone)
    assert stands(op).on == back(3)
