"""What plants and stores publish becomes what devices may offer, by the feed."""

from datetime import date, timedelta
from functools import partial
from typing import Any
from uuid import uuid4

import pytest

from pickups.kernel import clock
from pickups.labels import queries as labels_read
from pickups.labels import services as labels
from pickups.promises import queries, services, tasks
from pickups.promises.models import PlantCalendar, Promise, StandardTime, Table, Timetable
from pickups.promises.rules import DAYS_OFFERED, STORE
from pickups.questions.models import Question
from pickups.questions.rules import Kind
from tests.conftest import Enrol
from tests.pickups.promises.promising import drained, noon, promise, sent, table, taken, today
from tests.pickups.promises.trucks import publish, timetable
from tests.world import Phone, World
from tests.world.tables import nothing_written
from tests.world.threads import at_once

pytestmark = [
    pytest.mark.django_db(transaction=True),
    pytest.mark.usefixtures("apart"),
    pytest.mark.xdist_group("feed"),
]

DAY = timedelta(days=1)


def offered(phone: Phone, world: World) -> dict[str, Any] | None:
    """The table that a phone has of the first store, after a pull."""
    phone.pull_all()
    return phone.seen("promise_table").get(str(world.store.uid))


def on_the_phone(body: dict[str, Any], place: str, work: str, day: date) -> str | None:
    """What the app reads from the table for a hand-over day: by its place in the list."""
    if day > date.fromisoformat(body["valid_until"]):
        return None
    at = (day - date.fromisoformat(body["computed_on"])).days
    days: list[str | None] = body["places"][place][work]
    return days[at]


PUBLISHED: list[dict[str, Any]] = [
    {},
    {"days": 10, "to_plant": [1], "to_yard": [0, 4], "weekdays": [0, 1, 2, 3]},
    {"days": 3, "to_plant": [5, 6], "to_yard": [6], "holidays": [date(2026, 7, 3)]},
    {"days": 2, "to_plant": range(7), "to_yard": [], "weekdays": [5]},
    {"days": 59, "to_plant": [3], "weekdays": [0, 1]},
]


@pytest.mark.parametrize("published", PUBLISHED)
def test_what_the_phone_offers_for_a_day_is_what_the_server_expects_of_it(
    world: World, phone: Phone, published: dict[str, Any]
) -> None:
    publish(world, **published)
    first = today() - 13 * DAY  # facts of days to come would be in question for themselves
    assert services.compute_table(site=world.store.uid, today=first)
    body = offered(phone, world)
    assert body is not None
    assert (body["computed_on"], body["valid_until"]) == (str(first), str(today()))
    roll = labels.print_roll(range_symbols="K8", count=60, site=world.store, at=clock.now())
    codes, entered = labels_read.codes_of(roll), []
    places = {STORE: "store", str(world.yard.uid): "yard"}
    for ahead in range(DAYS_OFFERED):
        for work in ("retread", "repair"):
            for place, back_to in places.items():
                day = first + ahead * DAY
                on = on_the_phone(body, place, work, day) if place in body["places"] else None
                said = {"on": on or str(day), "basis": "standard_time" if on else "by_hand",
                        "offered": on, "table": body["version"]}  # fmt: skip
                more: dict[str, Any] = {"work": work, "back_to": back_to, "label": codes.pop()}
                entered.append((taken(phone, world, said, on=day, **more), on))
    assert phone.push().status == 200
    drained()
    for op, on in entered:
        kept = promise(op)
        assert (str(kept.expected) if kept.expected else None) == on
        assert kept.offered == kept.expected
    assert Promise.objects.count() == DAYS_OFFERED * 4
    assert not Question.objects.filter(kind=Kind.PROMISE_TOO_EARLY).exists()


def test_the_published_sets_offer_days_and_also_none(world: World) -> None:
    """So that the test above compares something."""
    found = set()
    for published in PUBLISHED:
        publish(world, **published)
        by_place = queries.offers(world.store.uid, today())
        found.add(
            frozenset(day is None for w in by_place.values() for d in w.values() for day in d)
        )
    assert found == {frozenset({False}), frozenset({False, True})}


def test_a_phone_gets_the_table_after_each_publishing_with_a_greater_version(
    world: World, phone: Phone
) -> None:
    drained()
    assert offered(phone, world) is None
    seen = []
    for days in (5, 6, 7):
        publish(world, days=days)
        drained()
        body = offered(phone, world)
        assert body is not None
        assert body["computed_on"] == str(today())
        seen.append((body["version"], body["places"][STORE]["retread"][0]))
    versions, offers = zip(*seen, strict=True)
    assert list(versions) == sorted(set(versions))
    assert list(offers) == sorted(offers)
    assert offers[0] < offers[-1]
    row = next(r for key, r in phone.rows.items() if key[1] == "promise_table")
    assert row["version"] == versions[-1]


def test_another_stores_phone_sees_nothing_of_it(world: World, phone: Phone, enrol: Enrol) -> None:
    publish(world)
    drained()
    other = enrol(world.other_driver)
    assert offered(phone, world) is not None
    assert offered(other, world) is None
    assert str(world.yard.uid) not in repr(other.rows)
    assert services.compute_due(at=clock.now()) == 1  # its own, empty
    other.pull_all()
    assert set(other.seen("promise_table")) == {str(world.other_store.uid)}
    assert set(offered(phone, world) or {}) >= {"places"}
    assert set(phone.seen("promise_table")) == {str(world.store.uid)}


def test_without_standard_times_or_trucks_nothing_is_offered(world: World, phone: Phone) -> None:
    publish(world, days=None)
    drained()
    body = offered(phone, world)
    assert body is not None
    assert body["places"] == {STORE: {}, str(world.yard.uid): {}}
    publish(world, to_plant=[])
    drained()
    body = offered(phone, world)
    assert body is not None
    assert body["places"] == {STORE: {}, str(world.yard.uid): {}}
    publish(world, to_yard=[])
    drained()
    body = offered(phone, world)
    assert body is not None
    assert set(body["places"]) == {STORE}
    assert None not in body["places"][STORE]["retread"]


def test_what_is_published_again_unchanged_gives_no_new_table(world: World, phone: Phone) -> None:
    publish(world)
    drained()
    before = offered(phone, world)
    publish(world)
    drained()
    assert offered(phone, world) == before
    with nothing_written():
        assert services.compute_table(site=world.store.uid, today=today()) is False


def test_each_day_has_its_own_table_computed_once(world: World, phone: Phone) -> None:
    publish(world)
    drained()
    before = offered(phone, world)
    tomorrow = noon(today() + DAY)
    assert services.compute_due(at=tomorrow) == 2, "the other store had none"
    with nothing_written():
        assert services.compute_due(at=tomorrow) == 0
    after = offered(phone, world)
    assert before is not None
    assert after is not None
    assert after["version"] == before["version"] + 1
    assert after["computed_on"] == str(today() + DAY)
    for place, works in after["places"].items():
        for work, days in works.items():
            assert days[:-1] == before["places"][place][work][1:]


def test_a_new_day_begins_at_the_dealers_midnight(world: World) -> None:
    day = date(2026, 4, 21)
    before = noon(day) + timedelta(hours=11, minutes=59)
    services.compute_due(at=before)
    assert table(world).computed_on == day
    assert services.compute_due(at=before) == 0
    assert services.compute_due(at=before + timedelta(minutes=2)) == 2
    assert table(world).computed_on == day + DAY


def test_beats_task_computes_what_is_not_of_today(world: World) -> None:
    assert tasks.compute_due() == 2
    assert tasks.compute_due() == 0
    assert {t.computed_on for t in Table.objects.all()} == {today()}
    assert {t.site for t in Table.objects.all()} == {world.store.uid, world.other_store.uid}


def test_a_plant_publishes_for_every_store_whose_trucks_reach_it(world: World) -> None:
    publish(world)
    at, plant = clock.now(), world.plant.uid
    rows = [(plant, "to_plant", [0]), (plant, "from_plant", [2])]
    services.publish_timetable(site=world.other_store.uid, rows=rows, at=at)
    drained()
    versions = dict(Table.objects.values_list("site", "version"))
    assert set(versions) == {world.store.uid, world.other_store.uid}
    services.publish_standard_times(
        plant=plant, times={"retread": 20}, weekdays=[0], holidays=[], at=at
    )
    drained()
    assert all(t.version == versions[t.site] + 1 for t in Table.objects.all())
    somewhere = uuid4()
    services.publish_standard_times(
        plant=somewhere, times={"retread": 1}, weekdays=[0], holidays=[], at=at
    )
    drained()
    assert all(t.version == versions[t.site] + 1 for t in Table.objects.all())


def test_what_is_published_takes_the_place_of_all_that_was(world: World) -> None:
    publish(world)
    plant, at = world.plant.uid, clock.now()
    rows = [(plant, "to_plant", [4]), (plant, "to_plant", [0, 4]), (world.yard.uid, "to_yard", [])]
    services.publish_timetable(site=world.store.uid, rows=rows, at=at)
    kept = Timetable.objects.values_list("site", "place", "way", "weekdays")
    assert list(kept) == [(world.store.uid, plant, "to_plant", [0, 4])]
    closed = [date(2026, 12, 25), date(2026, 11, 26), date(2026, 12, 25)]
    services.publish_standard_times(
        plant=plant, times={"repair": 2}, weekdays=[4, 0, 4], holidays=closed, at=at
    )
    assert list(StandardTime.objects.values_list("work", "working_days")) == [("repair", 2)]
    calendar = PlantCalendar.objects.get()
    assert (calendar.weekdays, calendar.holidays) == ([0, 4], ["2026-11-26", "2026-12-25"])


@pytest.mark.parametrize(
    ("wrong", "named"),
    [
        ({"times": {"retread": 0}}, "times is {'retread': 0}"),
        ({"times": {"retread": 3, "repair": -1}}, "times is {'repair': -1}"),
        ({"weekdays": [0, 7]}, "weekdays is [0, 7]"),
        ({"weekdays": [-1]}, "weekdays is [-1]"),
    ],
)
def test_wrong_standard_times_are_refused_and_nothing_is_written(
    world: World, wrong: dict[str, Any], named: str
) -> None:
    right: dict[str, Any] = {"times": {"retread": 5}, "weekdays": [0], "holidays": []}
    with nothing_written(), pytest.raises(ValueError, match="allowed") as refused:
        services.publish_standard_times(plant=world.plant.uid, at=clock.now(), **right | wrong)
    assert named in str(refused.value)


@pytest.mark.parametrize("row", [("by_air", [0]), ("to_plant", [7])])
def test_a_wrong_timetable_is_refused_and_nothing_is_written(
    world: World, row: tuple[str, list[int]]
) -> None:
    timetable(world)
    rows = [(world.plant.uid, "to_plant", [1]), (world.plant.uid, *row)]
    with nothing_written(), pytest.raises(ValueError, match=r"by_air|\[7\]"):
        services.publish_timetable(site=world.store.uid, rows=rows, at=clock.now())


def test_many_at_once_compute_one_table_and_lose_no_publishing(world: World) -> None:
    publish(world)

    def compute() -> bool:
        return services.compute_table(site=world.store.uid, today=today())

    assert sorted(at_once(*[compute] * 4)) == [False, False, False, True]
    assert table(world).version == 1

    def change(days: int) -> None:
        publish(world, days=days, to_plant=[days % 7], to_yard=[(days + 1) % 7])

    at_once(*(partial(change, days) for days in range(1, 5)))
    drained()
    assert table(world).places == queries.offers(world.store.uid, today())
    assert StandardTime.objects.count() == 2
    assert Timetable.objects.count() == 3


def test_a_finished_casing_comes_with_the_next_trucks(world: World) -> None:
    publish(world)

    def comes(after: date, back_to: str, *, at_store: bool, yard: Any = None) -> date | None:
        where: dict[str, Any] = {"yard": yard or world.yard.uid, "back_to": back_to}
        return queries.comes_on(site=world.store.uid, after=after, at_store=at_store, **where)

    wednesday = date(2026, 4, 29)
    assert comes(wednesday, "store", at_store=False) == date(2026, 5, 1)
    assert comes(wednesday, "yard", at_store=False) == date(2026, 5, 5)
    assert comes(wednesday, "yard", at_store=True) == date(2026, 4, 30)
    assert comes(wednesday, "store", at_store=True) == wednesday
    assert comes(wednesday, "yard", at_store=True, yard=world.other_yard.uid) is None
    publish(world, holidays=[date(2026, 5, 1)])
    assert comes(wednesday, "store", at_store=False) == date(2026, 5, 4)
    publish(world, to_plant=[])
    assert comes(wednesday, "store", at_store=False) is None
    assert comes(wednesday, "yard", at_store=True) == date(2026, 4, 30)


def test_an_old_table_is_not_needed_to_keep_what_was_promised_by_it(
    world: World, phone: Phone
) -> None:
    """A phone that was a week without signal offered by last week's table; since then the plant
    takes longer. What it promised is kept, and asked about."""
    publish(world, days=5)
    last_week = today() - 7 * DAY
    services.compute_table(site=world.store.uid, today=last_week)
    body = offered(phone, world)
    assert body is not None
    day = on_the_phone(body, STORE, "retread", last_week)
    publish(world, days=15)
    drained()
    said = {"on": day, "basis": "standard_time", "offered": day, "table": body["version"]}
    op = taken(phone, world, said, on=last_week, back_to="store")
    sent(phone)
    kept = promise(op)
    assert (str(kept.on), kept.basis, kept.table) == (day, "standard_time", body["version"])
    assert kept.too_early
    assert Question.objects.get(kind=Kind.PROMISE_TOO_EARLY).subject == f"fact:{op['id']}"
