"""The promise on simulated plants that the engine does not know, a short part; all of it by
`make coverage` (evidence.py). Seeds are fixed, so the figures are. In the calm plant the simulation
alone keeps its promises too, so what the correction is worth is tried where the simulation is off.
"""

import math
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

import numpy as np
import pytest

from plant.forecast import fitted
from tests.plant.forecast import evidence
from tests.plant.forecast.evidence import column
from tests.plant.forecast.promising import (
    FIRST,
    SCANNED,
    SEEN_WEEKS,
    STOPS,
    TOLD,
    Baselines,
    Book,
    Forecast,
    Office,
    Promised,
    forecasts,
    promised,
)  # fmt: skip
from tests.plant.forecast.regimes import (
    ASKED,
    BACK_TO,
    BEFORE_WEEKS,
    CALM,
    ENTERED,
    ROUTE,
    SHOCK,
    at_equal_coverage,
    played,
)  # fmt: skip
from tests.plant.forecast.trueplant import WEEK, Press

WEEKS_HERE = 3


@pytest.fixture(scope="module")
def simulated() -> list[Forecast]:
    return forecasts(*played(CALM), WEEKS_HERE, since=6, courses=50)


@pytest.fixture(scope="module")
def calm(simulated: list[Forecast]) -> list[Promised]:
    return promised(*played(CALM), simulated)


@pytest.mark.parametrize(("off", "least", "most"), [(0.8, 0.78, 0.92), (1.4, 0.86, 0.95)])
def test_a_simulation_that_is_off_is_put_right(
    simulated: list[Forecast], off: float, least: float, most: float
) -> None:
    """As if all that was entered and learned were a fifth too short, or two fifths too long:
    uncorrected, a third of such promises is kept, or nearly every one."""
    wrong = [replace(one, grid=tuple(off * hours for hours in one.grid)) for one in simulated]
    found = promised(*played(CALM), wrong)
    took = column(found, "took")
    raw, ours = (float((took <= column(found, name)).mean()) for name in ("raw", "ours"))
    assert raw < 0.5 if off < 1 else raw > 0.97
    assert least <= ours <= most


def test_a_calm_plant_keeps_what_it_promised(calm: list[Promised]) -> None:
    assert len(calm) > 500
    kept = column(calm, "took") <= column(calm, "ours")
    assert 0.85 <= kept.mean() <= 0.97


def test_it_promises_shorter_than_those_that_see_no_queue(calm: list[Promised]) -> None:
    took = column(calm, "took").tolist()
    length = {
        name: at_equal_coverage(column(calm, name).tolist(), took) for name in evidence.METHODS
    }
    assert length["ours"] < 0.8 * length["past"]
    assert length["ours"] < 0.8 * length["days"]
    assert length["ours"] < length["nearest"]
    assert length["ours"] < length["along"]


def test_the_plants_are_the_ones_that_were_fixed() -> None:
    """A change of the plant, its luck or its calendar makes all figures other figures."""
    history, days = played(CALM)
    took = [days.worked(c.arrived, c.finished) for c in history.casings if c.finished is not None]
    assert (len(history.casings), len(history.loads)) == (10_820, 672)
    assert float(np.mean(took)) == pytest.approx(15.8, abs=0.2)


def test_the_engine_is_told_less_than_the_truth() -> None:
    true = {one.code: one for one in ROUTE}
    for stop in STOPS[1:]:
        one = true[stop.code]
        if not isinstance(one, Press):
            entered = ENTERED[stop.code][1]
            assert entered is None or abs(entered / one.mean_h - 1) > 0.1
    assert {stop.code for stop in STOPS if stop.scans} == {
        "receiving", "initial-inspection", "buffing", "building", "curing", "final-inspection",
    }  # fmt: skip


def test_no_forecast_knows_what_comes_after_it() -> None:
    """Told only what had happened by then, it says the same of the same casings, and so does what
    corrects it and what it is held against. Of casings, loads and trucks all that came later is
    taken out."""
    history, days = played(SHOCK)
    until = 4.5 * WEEK

    def by_then(at: float | None) -> float | None:
        return at if at is not None and at <= until else None

    trucks = [truck for truck in history.trucks if truck[0] <= until]
    cut = replace(
        history,
        scans=[scan for scan in history.scans if scan.at <= until],
        loads=[
            replace(load, ended=load.ended if load.ended <= until else math.inf)
            for load in history.loads
            if load.begun <= until
        ],
        trucks=trucks,
        casings=[
            replace(
                one,
                finished=by_then(one.finished),
                ended=by_then(one.ended),
                load=one.load if by_then(one.finished) else -1,
            )
            for one in history.casings
            if one.truck < len(trucks)
        ],
    )
    week = 5 - BEFORE_WEEKS
    whole = forecasts(history, days, week, since=3.5, courses=20)
    known = forecasts(cut, days, week, since=3.5, courses=20)
    assert known
    assert known == [one for one in whole if one.at <= until]
    state = Book(cut, days, known).state(until)
    assert state.enough
    assert state == Book(history, days, whole).state(until)
    past, same = Baselines(history, days).past(until), Baselines(cut, days).past(until)
    assert len(past.took_h) > 500
    assert all(np.array_equal(a, b) for a, b in zip(vars(past).values(), vars(same).values(),
                                                    strict=True))  # fmt: skip
    assert Baselines(history, days).in_process(until) == Baselines(cut, days).in_process(until)


@dataclass(frozen=True)
class Event:
    """A scan as the plant's own records have it."""

    station: str
    outcome: str
    happened_at: datetime
    again_at: str | None


def test_what_is_learned_here_is_what_the_product_learns() -> None:
    """From events as stations tell them, by the way that the product goes (fitted)."""
    history, days = played(CALM)
    at = 7 * WEEK + 30.0
    origin, since = FIRST + timedelta(hours=at), at - SEEN_WEEKS * WEEK
    stories: dict[int, list[Event]] = {}
    for scan in history.scans:
        if since < scan.at <= at:
            finished = scan.code == SCANNED[-1] and scan.outcome == "passed"
            outcome = "finished" if finished else scan.outcome.replace("rework", "repair")
            again = BACK_TO if scan.outcome == "rework" else None
            event = Event(scan.code, outcome, FIRST + timedelta(hours=scan.at), again)
            stories.setdefault(scan.label, []).append(event)
    cures = [
        fitted.Cure(
            "chamber",
            FIRST + timedelta(hours=load.begun),
            FIRST + timedelta(hours=load.ended) if load.ended <= at else None,
            tuple(map(str, load.labels)),
        )
        for load in history.loads
        if since < load.begun <= at
    ]
    ways = [fitted.Way(str(label), tuple(told)) for label, told in stories.items()]
    office = Office(history, days, 1)
    known, _ = fitted.known(TOLD, fitted.Past(ways, cures), office.hours(at), origin)
    ours = office.learned(at)
    assert set(known.figures) == set(ours.figures)
    for code, one in ours.figures.items():
        theirs = known.figures[code]
        assert (theirs.n, theirs.machines) == (one.n, one.machines)
        assert theirs.mean_h == pytest.approx(one.mean_h, rel=0.01)
        assert theirs.cv == pytest.approx(one.cv, rel=0.05)
        assert (theirs.reject, theirs.rework) == pytest.approx((one.reject, one.rework))
    assert known.cure_h[""] == pytest.approx(ours.cure_h[""])
    assert known.wait_h == pytest.approx(ours.wait_h)


def test_limits_are_wider_where_casings_of_a_load_are_late_together() -> None:
    kept = np.repeat([1.0, 1.0, 1.0, 0.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0], 20)
    together = evidence.clustered(kept, np.arange(200) // 20)
    alone = evidence.clustered(kept, np.arange(200))
    assert together.kept == alone.kept == pytest.approx(0.9)
    assert together.high - together.low == pytest.approx(
        math.sqrt(20) * (alone.high - alone.low), rel=0.1
    )


def test_wilsons_limit_is_the_published_one() -> None:
    """81 of 263: 0.2553 (Newcombe, Statistics in Medicine 17, 1998, table I; from memory)."""
    assert evidence.wilson(81, 263) == pytest.approx(0.2553, abs=1e-4)


def test_at_equal_coverage_a_better_order_is_shorter() -> None:
    took = np.linspace(1, 100, 1000)
    assert at_equal_coverage((took * 3).tolist(), took.tolist()) == pytest.approx(took.mean())
    assert at_equal_coverage([50.0] * 1000, took.tolist()) == pytest.approx(ASKED * 100, rel=0.01)
