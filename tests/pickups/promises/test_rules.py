"""When a casing can be back: against a naive walk day by day, and for what must always hold."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pickups.promises import rules
from pickups.promises.rules import DAYS_OFFERED, FURTHEST, STORE, Calendar, Plant, Trucks, Way, way
from tests.pickups.promises.trucks import (
    OTHER,
    PLACES,
    START,
    WEEK,
    YARD,
    calendars,
    places,
    plants,
    starts,
    trucks,
    weekdays,
    working,
    works,
)

DAY = timedelta(days=1)
MONDAY_TO_FRIDAY = Calendar(range(5))
TRUCKS = Trucks(to_plant=[0, 2, 4], from_plant=[0, 2, 4], to_yard={YARD: [1, 3]})


def walked(
    handed_over: date, working_days: int, plant: Calendar, trucks: Trucks, place: str
) -> date | None:
    """The same, as a casing lives through it: one day after the other, never looking ahead."""
    stands, left, day = "store", working_days, handed_over
    while day < handed_over + FURTHEST:
        day += DAY
        shut, weekday = day in plant.holidays, day.weekday()
        if stands == "store":
            if weekday in trucks.to_plant and not shut:
                stands = "plant"
        elif stands == "plant":
            left -= weekday in plant.weekdays and not shut
            stands = "plant" if left else "done"
        elif stands == "done":
            if weekday in trucks.from_plant and not shut:
                stands = "back"
                if place == STORE:
                    return day
        elif weekday in trucks.to_yard.get(place, ()):
            return day
    return None


@given(starts, working, calendars, trucks, places)
def test_a_way_is_what_a_walk_day_by_day_finds(
    day: date, days: int, plant: Calendar, trucks: Trucks, place: str
) -> None:
    found = way(day, working_days=days, plant=plant, trucks=trucks, place=place)
    assert (found and found.promised) == walked(day, days, plant, trucks, place)


def test_a_casing_of_a_monday_by_hand() -> None:
    """Handed over on Monday 20 April 2026: Wednesday's truck, five working days to the next
    Wednesday, Friday's truck back, and Tuesday's run to the yard."""
    found = way(START, working_days=5, plant=MONDAY_TO_FRIDAY, trucks=TRUCKS, place=YARD)
    assert found == Way(
        leaves_store=date(2026, 4, 22),
        finished=date(2026, 4, 29),
        at_store=date(2026, 5, 1),
        promised=date(2026, 5, 5),
    )
    at_counter = way(START, working_days=5, plant=MONDAY_TO_FRIDAY, trucks=TRUCKS, place=STORE)
    assert at_counter == Way(found.leaves_store, found.finished, found.at_store, found.at_store)


def test_a_holiday_is_no_working_day_and_has_no_truck() -> None:
    closed = Calendar(range(5), [date(2026, 4, 22), date(2026, 4, 27)])
    found = way(START, working_days=5, plant=closed, trucks=TRUCKS, place=YARD)
    # Friday's truck instead of Wednesday's; Tuesday to the next Monday, Monday being closed.
    assert found == Way(date(2026, 4, 24), date(2026, 5, 4), date(2026, 5, 6), date(2026, 5, 7))
    closed = Calendar(range(5), [date(2026, 5, 1)])
    found = way(START, working_days=5, plant=closed, trucks=TRUCKS, place=STORE)
    assert found is not None
    assert found.at_store == date(2026, 5, 4), "Friday's truck back does not come"


@given(starts, working, calendars, trucks, places)
def test_each_step_comes_on_a_later_day_than_the_one_before(
    day: date, days: int, plant: Calendar, trucks: Trucks, place: str
) -> None:
    found = way(day, working_days=days, plant=plant, trucks=trucks, place=place)
    if found is not None:
        steps = [day, found.leaves_store, found.finished, found.at_store]
        assert steps == sorted(set(steps))
        assert found.promised == found.at_store or place != STORE
        assert found.promised > found.at_store or place == STORE
        assert found.promised - day <= FURTHEST


@given(starts, starts, working, calendars, trucks, places)
def test_who_hands_over_later_is_never_promised_an_earlier_day(
    one: date, other: date, days: int, plant: Calendar, trucks: Trucks, place: str
) -> None:
    first, second = (
        way(day, working_days=days, plant=plant, trucks=trucks, place=place)
        for day in sorted((one, other))
    )
    if first and second:
        assert first.promised <= second.promised
        assert first.finished <= second.finished


@given(starts, working, working, calendars, trucks, places)
def test_a_longer_standard_time_never_promises_an_earlier_day(
    day: date, one: int, other: int, plant: Calendar, trucks: Trucks, place: str
) -> None:
    first, second = (
        way(day, working_days=days, plant=plant, trucks=trucks, place=place)
        for days in sorted((one, other))
    )
    assert second is None or (first is not None and first.promised <= second.promised)


@given(starts, working, calendars, trucks, places, weekdays)
def test_one_truck_more_never_promises_a_later_day(
    day: date,
    days: int,
    plant: Calendar,
    trucks: Trucks,
    place: str,
    more: frozenset[int],
) -> None:
    busier = Trucks(
        to_plant={*trucks.to_plant, *more},
        from_plant={*trucks.from_plant, *more},
        to_yard={yard: {*trucks.to_yard.get(yard, ()), *more} for yard in (YARD, OTHER)},
    )
    before = way(day, working_days=days, plant=plant, trucks=trucks, place=place)
    after = way(day, working_days=days, plant=plant, trucks=busier, place=place)
    assert before is None or (after is not None and after.promised <= before.promised)


@pytest.mark.parametrize(
    ("plant", "trucks", "place"),
    [
        (Calendar([]), TRUCKS, STORE),
        (MONDAY_TO_FRIDAY, Trucks([], [0], {YARD: [1]}), STORE),
        (MONDAY_TO_FRIDAY, Trucks([0], [], {YARD: [1]}), STORE),
        (MONDAY_TO_FRIDAY, Trucks([0], [0], {YARD: []}), YARD),
        (MONDAY_TO_FRIDAY, Trucks([0], [0], {OTHER: [1]}), YARD),
    ],
)
def test_where_the_plant_never_works_or_a_truck_is_missing_nothing_is_promised(
    plant: Calendar, trucks: Trucks, place: str
) -> None:
    assert way(START, working_days=1, plant=plant, trucks=trucks, place=place) is None


def test_nothing_is_promised_further_than_the_furthest_day() -> None:
    daily = Trucks(WEEK, WEEK, {YARD: WEEK})

    def promised(days: int, place: str) -> date | None:
        found = way(START, working_days=days, plant=Calendar(WEEK), trucks=daily, place=place)
        return found.promised if found else None

    assert promised(117, YARD) == START + FURTHEST
    assert promised(118, YARD) is None
    assert promised(118, STORE) == START + FURTHEST
    assert promised(119, STORE) is None


def test_a_clock_at_the_end_of_the_calendar_is_promised_nothing_and_breaks_nothing() -> None:
    for day in (date.max, date.max - 3 * DAY):
        assert way(day, working_days=5, plant=MONDAY_TO_FRIDAY, trucks=TRUCKS, place=YARD) is None


@given(starts, works, calendars, trucks)
def test_a_table_says_for_each_day_what_the_way_of_that_day_says(
    today: date, works: dict[str, int], plant: Calendar, trucks: Trucks
) -> None:
    made = rules.table(today, works=works, plant=plant, trucks=trucks, places=PLACES)
    assert set(made) == set(PLACES)
    for place, by_work in made.items():
        assert set(by_work) == set(works)
        for work, days in by_work.items():
            ways = [
                way(
                    today + ahead * DAY,
                    working_days=works[work],
                    plant=plant,
                    trucks=trucks,
                    place=place,
                )
                for ahead in range(DAYS_OFFERED)
            ]
            assert days == [w.promised.isoformat() if w else None for w in ways]


@given(starts, st.lists(plants, max_size=3))
def test_a_stores_table_over_all_its_plants_says_what_is_expected_of_each_day(
    today: date, plants: list[Plant]
) -> None:
    made = rules.offers(today, plants=plants, places=PLACES)
    for place, by_work in made.items():
        assert set(by_work) == {work for p in plants for work in p.works}
        for work, days in by_work.items():
            for ahead, day in enumerate(days):
                handed_over = today + ahead * DAY
                expected = rules.expected(handed_over, work=work, plants=plants, place=place)
                assert day == (expected.isoformat() if expected else None)


def test_of_several_plants_that_do_a_work_the_latest_counts_and_the_others_do_not() -> None:
    quick = Plant({"retread": 5}, MONDAY_TO_FRIDAY, TRUCKS)
    slow = Plant({"retread": 10, "repair": 1}, MONDAY_TO_FRIDAY, TRUCKS)
    cut_off = Plant({"retread": 1}, MONDAY_TO_FRIDAY, Trucks([0], [], TRUCKS.to_yard))

    def expected(work: str, *plants: Plant) -> date | None:
        return rules.expected(START, work=work, plants=plants, place=YARD)

    assert expected("retread", quick) == date(2026, 5, 5)
    assert expected("retread", quick, slow) == expected("retread", slow) == date(2026, 5, 12)
    assert expected("repair", quick, slow) == expected("repair", slow) == date(2026, 4, 28)
    assert expected("retread", quick, cut_off) is None
    assert expected("repair", quick) is None


@given(starts, plants, weekdays, st.booleans())
def test_what_is_finished_comes_as_its_way_says(
    day: date, plant: Plant, to_yard: frozenset[int], at_counter: bool
) -> None:
    trucks = Trucks(plant.trucks.to_plant, plant.trucks.from_plant, {YARD: to_yard})
    place = STORE if at_counter else YARD
    found = way(day, working_days=3, plant=plant.calendar, trucks=trucks, place=place)
    if found is not None:
        runs = None if at_counter else to_yard
        by = [Plant(plant.works, plant.calendar, trucks)]
        for after, at_store in ((found.finished, False), (found.at_store, True)):
            comes = rules.comes_on(after, plants=by, to_yard=runs, at_store=at_store)
            assert comes == found.promised


@given(starts, starts, st.lists(plants, max_size=2), weekdays | st.none(), st.booleans())
def test_what_is_finished_later_never_comes_earlier(
    one: date,
    other: date,
    plants: list[Plant],
    to_yard: frozenset[int] | None,
    at_store: bool,
) -> None:
    first, second = (
        rules.comes_on(day, plants=plants, to_yard=to_yard, at_store=at_store)
        for day in sorted((one, other))
    )
    if first and second:
        assert first <= second


def test_what_is_at_the_store_and_fetched_there_has_come() -> None:
    assert rules.comes_on(START, plants=[], to_yard=None, at_store=True) == START
    assert rules.comes_on(START, plants=[], to_yard=None, at_store=False) is None
    assert rules.comes_on(START, plants=[], to_yard=[0], at_store=True) == START + 7 * DAY
    assert rules.comes_on(START, plants=[], to_yard=[], at_store=True) is None


def test_a_truck_of_today_counts_for_what_lay_there_before_today() -> None:
    for since, goes in ((None, 0), (-9, 0), (-1, 0), (0, 7), (3, 7)):
        lay = None if since is None else START + since * DAY
        after = rules.counts_after(START, since=lay)
        comes = rules.comes_on(after, plants=[], to_yard=[START.weekday()], at_store=True)
        assert comes == START + goes * DAY, since


told = st.tuples(st.dates(START, START + DAY), st.sampled_from(["yard", "store"]), st.booleans())


@given(st.lists(told, min_size=1, max_size=6))
def test_a_promise_told_again_unchanged_has_stood_since_it_was_told_first(
    promises: list[tuple[date, str, bool]],
) -> None:
    since = rules.told_since(promises)
    assert set(promises[since:]) == {promises[-1]}
    assert since == 0 or promises[since - 1] != promises[-1]
