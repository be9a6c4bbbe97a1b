"""A plant's open hours: shifts past midnight, holidays, nights on which clocks change."""

from datetime import UTC, date, datetime, time
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from plant.dock.rules import Shift
from plant.forecast import hours
from plant.forecast.hours import ALWAYS, Hours

CHICAGO = ZoneInfo("America/Chicago")
EARLY = [Shift(day, time(6), time(14)) for day in range(5)]
NIGHT = [Shift(day, time(22), time(6)) for day in range(7)]


def local(year: int, month: int, day: int, hour: int = 0, minute: int = 0) -> datetime:
    return datetime(year, month, day, hour, minute, tzinfo=CHICAGO).astimezone(UTC)


MONDAY = local(2027, 1, 11)


@st.composite
def some_hours(draw: st.DrawFn) -> Hours:
    edges = draw(
        st.lists(st.integers(-4000, 4000), min_size=2, max_size=40, unique=True).map(sorted)
    )
    edges = edges[: len(edges) // 2 * 2]
    return hours.of([(a / 16, b / 16) for a, b in zip(edges[::2], edges[1::2], strict=True)])


def test_worked_hours_of_a_week() -> None:
    plain = hours.week(EARLY, [], CHICAGO, MONDAY, 2)
    assert hours.worked(plain, 24 * 7) == 40
    assert hours.worked(plain, 6.0) == 0
    assert hours.worked(plain, 7.5) == 1.5
    assert hours.at_worked(plain, 8.0) == 14
    assert hours.at_worked(plain, 8.25) == 24 + 6.25
    assert hours.next_open(plain, 14.0) == 30
    assert hours.next_open(plain, 13.99) == 13.99
    assert hours.next_open(plain, 4 * 24 + 15.0) == 7 * 24 + 6


def test_before_the_origin_hours_are_negative() -> None:
    plain = hours.week(EARLY, [], CHICAGO, MONDAY, 1)
    assert hours.worked(plain, -24 * 7.0) == -40
    assert hours.at_worked(plain, -1.0) == -3 * 24 + 13


def test_after_the_last_stretch_nothing_is_ever_done() -> None:
    plain = hours.week(EARLY, [], CHICAGO, MONDAY, 1)
    assert hours.at_worked(plain, 40.0) == 4 * 24 + 14
    assert hours.at_worked(plain, 40.01) == np.inf
    assert hours.next_open(plain, 4 * 24 + 14.0) == np.inf
    assert hours.worked(plain, 1e5) == 40


def test_a_plant_that_never_opens() -> None:
    shut = hours.week([], [], CHICAGO, MONDAY, 3)
    assert hours.worked(shut, 100.0) == 0
    assert hours.at_worked(shut, 0.5) == np.inf
    assert hours.next_open(shut, 0.0) == np.inf


def test_a_shift_past_midnight_is_its_first_days() -> None:
    holiday = hours.week(NIGHT, [date(2027, 1, 12)], CHICAGO, MONDAY, 1)
    assert hours.next_open(holiday, 24 + 5.0) == 24 + 5, "Monday's shift runs into the holiday"
    assert hours.next_open(holiday, 24 + 6.0) == 2 * 24 + 22, "none begins on the holiday"


@pytest.mark.parametrize(
    ("day", "long"),
    [(date(2027, 3, 13), 7.0), (date(2027, 11, 6), 9.0), (date(2027, 6, 1), 8.0)],
    ids=["spring", "autumn", "summer"],
)
def test_a_night_in_which_clocks_change_has_its_true_length(day: date, long: float) -> None:
    origin = local(day.year, day.month, day.day, 12)
    open_ = hours.week(NIGHT, [], CHICAGO, origin, 1)
    assert hours.worked(open_, 24.0) == long
    assert hours.at_worked(open_, long) == 10 + long


def test_a_shift_that_a_change_of_clocks_swallows_is_none() -> None:
    """02:30 to 03:15 on the night without a 02:30: its begin is read as 03:30."""
    shifts = [Shift(6, time(2, 30), time(3, 15))]
    spring = hours.week(shifts, [], CHICAGO, local(2027, 3, 14), 1)
    assert hours.worked(spring, 24 * 6.0) == 0
    assert hours.worked(hours.week(shifts, [], CHICAGO, local(2027, 3, 21), 1), 24.0) == 0.75


def test_fixed_times_of_the_day_over_a_change_of_clocks() -> None:
    found = hours.daily([time(20), time(8)], CHICAGO, local(2027, 3, 13, 12), 1)
    assert found[:4] == (-4.0, 8.0, 19.0, 31.0)


def test_overlapping_and_touching_stretches_become_one() -> None:
    joined = hours.of([(4, 6), (0, 2), (2, 3), (5, 8), (9, 9)])
    assert joined.begins.tolist() == [0, 4]
    assert joined.ends.tolist() == [3, 8]
    assert joined.before.tolist() == [0, 3]


@given(some_hours(), st.lists(st.integers(-5000, 5000), min_size=1, max_size=20))
def test_worked_and_at_worked_are_inverse(open_: Hours, at: list[int]) -> None:
    t = np.array(sorted(at)) / 16
    x = hours.worked(open_, t)
    assert (np.diff(x) >= 0).all()
    assert (np.diff(x) <= np.diff(t)).all()
    back = hours.at_worked(open_, x)
    after = t >= open_.begins[0]
    assert (back[after] <= t[after]).all(), "the earliest instant"
    assert np.array_equal(hours.worked(open_, back), x)
    opens = hours.next_open(open_, t)
    assert (opens >= t).all()
    known = np.isfinite(opens)
    assert np.array_equal(hours.worked(open_, opens[known]), x[known])


@given(st.floats(-1000, 1000))
def test_always_open(t: float) -> None:
    assert hours.worked(ALWAYS, t) == pytest.approx(t)
    assert hours.at_worked(ALWAYS, t) == pytest.approx(t)
    assert hours.next_open(ALWAYS, t) == t
