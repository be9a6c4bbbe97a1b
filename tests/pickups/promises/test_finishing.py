"""From samples of finishing instants to days: against counting by hand, for what must hold."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pickups.promises import rules
from pickups.promises.finishing import (
    NEVER,
    Sample,
    day_of,
    group_for,
    pack,
    quantile,
    together,
    unpack,
)
from pickups.promises.rules import STORE, Plant
from tests.pickups.promises.trucks import OTHER, YARD, plants, starts

CHICAGO = ZoneInfo("America/Chicago")
minutes = st.integers(-600, 40 * 24 * 60) | st.just(NEVER)
samples = st.lists(minutes, min_size=1, max_size=30)
percents = st.integers(50, 99)
# Over both changes of the clocks in 2026.
origins = st.integers(0, 365 * 24 * 60).map(
    lambda m: datetime(2026, 1, 1, tzinfo=UTC) + timedelta(minutes=m)
)


@given(samples)
def test_what_is_packed_is_unpacked(sample: list[int]) -> None:
    packed = pack(sample)
    assert list(unpack(packed)) == sample
    assert packed[:4] == sample[0].to_bytes(4, "little", signed=True)


@pytest.mark.parametrize("packed", [b"", b"123"])
def test_bytes_that_are_no_sample_are_refused(packed: bytes) -> None:
    with pytest.raises(ValueError, match="multiple of 4"):
        unpack(packed)


@given(samples, percents)
def test_a_quantile_is_the_least_minute_by_which_so_many_are_done(
    sample: list[int], percent: int
) -> None:
    done = [m for m in sample if m != NEVER]
    found = quantile(sample, percent)
    assert (found is None) == (not done)
    if found is not None:
        assert 100 * sum(m <= found for m in done) >= percent * len(done)
        assert 100 * sum(m < found for m in done) < percent * len(done)


@given(origins, samples)
def test_each_course_has_the_day_that_a_clock_in_the_zone_shows(
    origin: datetime, sample: list[int]
) -> None:
    by_clock = [
        None if m == NEVER else (origin + timedelta(minutes=m)).astimezone(CHICAGO).date()
        for m in sample
    ]
    assert list(Sample(origin, sample).days(CHICAGO)) == by_clock


def test_days_are_the_dealers_through_both_changes_of_the_clocks() -> None:
    night = datetime(2026, 3, 8, 6, 0, tzinfo=UTC)  # midnight in Chicago; the day has 23 hours
    assert day_of(night, 23 * 60 - 1, CHICAGO) == date(2026, 3, 8)
    assert day_of(night, 23 * 60, CHICAGO) == date(2026, 3, 9)
    night = datetime(2026, 11, 1, 5, 0, tzinfo=UTC)  # 25 hours
    assert day_of(night, 25 * 60 - 1, CHICAGO) == date(2026, 11, 1)
    days = Sample(night, [25 * 60 - 1, 25 * 60]).days(CHICAGO)
    assert list(days) == [date(2026, 11, 1), date(2026, 11, 2)]


@given(starts, starts, plants, st.sampled_from([STORE, YARD, OTHER]))
def test_the_last_day_to_finish_is_the_last_that_the_trucks_still_bring_in_time(
    promised: date, finished: date, plant: Plant, place: str
) -> None:
    to_yard = None if place == STORE else plant.trucks.to_yard.get(place, ())
    last = rules.last_finish(promised, plant=plant, to_yard=to_yard)
    comes = rules.comes_on(finished, plants=[plant], to_yard=to_yard, at_store=False)
    in_time = comes is not None and comes <= promised
    assert in_time == (last is not None and finished <= last)


@given(origins, samples, percents, plants)
def test_the_day_of_a_quantile_is_the_quantile_of_the_days(
    origin: datetime, sample: list[int], percent: int, plant: Plant
) -> None:
    """Trucks never bring back earlier what was finished later: so the share that is back by the
    promised day is at least what was asked."""
    one = Sample(origin, sample)
    finished = one.by(percent, CHICAGO)
    if finished is None:
        return
    comes = rules.comes_on(finished, plants=[plant], to_yard=None, at_store=False)
    if comes is None:
        return
    last = rules.last_finish(comes, plant=plant, to_yard=None)
    share = one.kept(last, CHICAGO)
    assert share is not None
    assert share * 100 >= percent - 1e-9


@given(origins, st.lists(st.lists(minutes, min_size=20, max_size=20), min_size=1, max_size=5))
def test_all_of_a_group_are_back_no_earlier_than_any_one(
    origin: datetime, group: list[list[int]]
) -> None:
    def back(day: date) -> date:
        return day + timedelta(days=2)

    asked = [(Sample(origin, sample), back) for sample in group]
    found = together(asked, 90, CHICAGO)
    whole = [one for one in asked if NEVER not in one[0].minutes]
    for one in whole:
        alone = together([one], 90, CHICAGO)
        assert found is not None
        assert alone is not None
        assert found.on >= alone.on
    if found is not None:
        assert found.of == len(group)


def test_a_group_is_asked_for_course_by_course() -> None:
    """Two casings, each late in one course of ten, never the same one: each alone is back on the
    second with 90 %, both together are not."""
    origin = datetime(2026, 6, 1, 12, tzinfo=UTC)
    soon, late = 60, 60 + 5 * 24 * 60
    first = Sample(origin, [late] + [soon] * 9)
    second = Sample(origin, [soon, late] + [soon] * 8)
    both = together([(first, _next_day), (second, _next_day)], 90, CHICAGO)
    alone = [together([(one, _next_day)], 90, CHICAGO) for one in (first, second)]
    assert [one and one.on for one in alone] == [date(2026, 6, 2), date(2026, 6, 2)]
    assert both is not None
    assert both.on == date(2026, 6, 7)
    assert together([(first, lambda _: None)], 90, CHICAGO) is None
    assert together([(Sample(origin, [NEVER]), _next_day)], 90, CHICAGO) is None


def _next_day(day: date) -> date:
    return day + timedelta(days=1)


@pytest.mark.parametrize(
    ("count", "group"), [(1, 1), (2, 2), (3, 5), (14, 20), (50, 50), (51, None)]
)
def test_a_group_has_room_for_all(count: int, group: int | None) -> None:
    assert group_for(count, (1, 2, 5, 10, 20, 50)) == group
