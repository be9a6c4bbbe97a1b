"""Simulated courses as they are published: samples, groups, and what calibration makes of them."""

from collections.abc import Mapping, Sequence
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pickups.promises import finishing
from plant.forecast import coming, laid_out, making, simulating
from plant.forecast.calibration import NOTHING
from plant.forecast.engine import finishes
from plant.forecast.engine import jobs as casings
from plant.forecast.laid_out import Figures, Known
from plant.forecast.whereabouts import Inside
from tests.plant.forecast.routes import MONDAY, ZONE, casing, entered, known
from tests.plant.forecast.test_coming import USUAL

PLANT = entered()
LAYOUT = laid_out.layout(PLANT, Known(), MONDAY)
FIRST = MONDAY.astimezone(ZONE).date()


def told(*casings: Inside, figures: Known | None = None) -> making.Told:
    """A quiet plant with these casings inside."""
    return making.Told(
        MONDAY,
        PLANT,
        figures or Known(),
        casings,
        {},
        {},
        [],
        USUAL,
        NOTHING,
    )


def test_a_forecast_says_of_each_casing_inside_when_and_of_each_arrival() -> None:
    made = making.make(told(casing("A", "receiving"), casing("B", "building")), seed=1)
    assert made.samples.shape == (simulating.COURSES, 2)
    by_label = {p.casing.label: np.median(made.samples[:, i]) for i, p in enumerate(made.placed)}
    assert by_label["B"] < by_label["A"] < 48
    keys = {(one.work, one.on, one.group) for one in made.arrivals}
    days = [FIRST + timedelta(days=n) for n in range(simulating.DAYS)]
    assert keys == {(w, d, g) for w in coming.WORKS for d in days for g in finishing.GROUPS}
    assert made.arrivals[0].work == "retread"


def test_the_same_told_twice_gives_the_same() -> None:
    one, other = (making.make(told(casing("A", "receiving")), seed=5) for _ in range(2))
    assert np.array_equal(one.raw, other.raw)
    assert all(
        np.array_equal(a.hours, b.hours) for a, b in zip(one.arrivals, other.arrivals, strict=True)
    )


def test_a_larger_group_is_never_done_sooner_and_a_repair_is_done_before_a_retread() -> None:
    made = making.make(told(), seed=2)
    at = {(a.work, a.on, a.group): np.median(a.hours) for a in made.arrivals}
    for (work, on, group), median in at.items():
        larger = [g for g in finishing.GROUPS if g > group]
        # Groups of one run are nested; of different ones luck and load differ by little.
        assert all(at[work, on, g] > median - 2.0 for g in larger)
        assert at["repair", on, group] < at["retread", on, group]
    assert at["retread", FIRST, 50] > at["retread", FIRST, 1] + 2


def test_each_line_of_a_list_of_fourteen_is_kept_as_often_as_one_casing_was_promised() -> None:
    """Promised one by one for what one casing takes; then all fourteen come at once, and which of
    them is worked first nobody knew."""
    day = FIRST + timedelta(days=2)
    made = making.make(told(), seed=8)
    (one,) = [a for a in made.arrivals if (a.work, a.on, a.group) == ("retread", day, 1)]
    jobs, (group,) = making.come(told(), LAYOUT, simulating.DAYS, {day: [("retread", 14)]})
    lines = finishes(LAYOUT.shop, casings(jobs), replications=400, seed=9)[:, list(group.jobs)]
    lines = lines[np.isfinite(lines)]
    for percent in (50, 90):
        promised = np.quantile(one.hours[np.isfinite(one.hours)], percent / 100)
        assert (lines <= promised).mean() > percent / 100 - 0.02


def test_what_arrives_on_a_day_is_not_done_before_it_and_on_a_sunday_waits_for_monday() -> None:
    made = making.make(told(), seed=3)
    sunday = FIRST + timedelta(days=6)
    (one,) = [a for a in made.arrivals if (a.work, a.on, a.group) == ("repair", sunday, 1)]
    assert one.hours.min() > 7 * 24 - 2  # Monday six in the morning


def test_a_share_that_is_rejected_is_never_done_and_the_rest_is() -> None:
    figures = known(final_inspection=Figures(0.25, reject=0.5, n=50))
    made = making.make(told(casing("A", "building"), figures=figures), seed=4)
    done = np.isfinite(made.raw[:, 0])
    assert 0.35 < done.mean() < 0.65
    assert making.grid_of(made.raw[:, 0], LAYOUT.hours) is not None
    assert making.grid_of(np.full(200, np.inf), LAYOUT.hours) is None


@given(st.lists(st.floats(0, 5000) | st.just(np.inf), min_size=1, max_size=50))
def test_minutes_are_those_that_have_begun_and_pack(hours: list[float]) -> None:
    found = simulating.minutes(np.array(hours))
    assert list(finishing.unpack(finishing.pack(found))) == found
    for hour, minute in zip(hours, found, strict=True):
        if hour == np.inf:
            assert minute == finishing.NEVER == simulating.NEVER_MIN
        else:
            assert minute - 1 - 1e-3 <= hour * 60 <= minute + 1e-3


@given(st.lists(st.floats(0, 300), min_size=5, max_size=5), st.floats(0.3, 3), st.floats(0, 100))
def test_a_correction_is_made_in_worked_hours_and_keeps_the_order_of_courses(
    hours: list[float], times: float, since_h: float
) -> None:
    samples = np.array(hours)[:, None] + since_h
    samples[0] = np.inf
    better = simulating.corrected(samples, LAYOUT.hours, lambda x: x * times, since_h=since_h)
    assert np.isinf(better[0, 0])
    assert (better[1:] >= since_h).all()
    order = np.argsort(samples[1:, 0], kind="stable")
    assert (np.diff(better[1:, 0][order]) >= -1e-9).all()


def test_nothing_is_changed_where_nothing_is_corrected() -> None:
    samples = np.array([[3.0], [30.0], [np.inf], [75.5]])
    same = simulating.corrected(samples, LAYOUT.hours, lambda x: x)
    # What would end outside of the hours ends with the shift before.
    assert same[0, 0] == pytest.approx(3.0)
    assert same[1, 0] == pytest.approx(30.0)


def test_every_day_and_work_is_asked_about_once_a_run() -> None:
    for groups, every in simulating.RUNS:
        found: list[tuple[date, str]] = []
        for shift in range(every):
            asked: Mapping[date, Sequence[tuple[str, int]]]
            asked = simulating.asked(FIRST, every, max(groups), shift)
            found += [(day, work) for day, several in asked.items() for work, _ in several]
        assert len(found) == len(set(found)) == simulating.DAYS * len(coming.WORKS)


def test_a_plant_without_anything_inside_still_says_when_arrivals_are_done() -> None:
    made = making.make(told(), seed=6)
    assert made.samples.shape == (simulating.COURSES, 0)
    assert all(np.isfinite(one.hours).any() for one in made.arrivals)
