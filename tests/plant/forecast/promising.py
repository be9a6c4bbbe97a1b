"""What the product would have promised on a simulated plant, casing by casing as trucks come in.

The shipped parts, in a smaller run of our own: scans and loads up to the moment are learned from
(learning), the plant is laid out with what was entered (laid_out), casings are placed where their
scans leave them (whereabouts), as many as usually come are expected (coming), all of it is
simulated (engine) and corrected by what became of earlier promises (calibration). Nothing here
looks into the plant.

What the product does otherwise, and no figure from here speaks of: it learns from eight weeks by
`fitted.known` (test_coverage holds the two against each other), of each chamber by itself, which
station finishes and where rework goes too; it runs 200 courses, looks ten days ahead and corrects
each time. Here are no repairs alone, no holds, no lost casings, no rush, one zone without summer
time and a calendar that never changes; a promise is made as a truck is counted in, never before.
"""

from bisect import bisect_left, bisect_right
from collections import defaultdict
from dataclasses import dataclass
from datetime import UTC, datetime, time, timedelta
from itertools import groupby
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np

from plant.dock.rules import Shift
from plant.forecast import calibration, coming, engine, laid_out, learning, whereabouts
from plant.forecast import hours as calendar
from plant.forecast.laid_out import Entered, Figures, Known, Oven, Stop
from plant.forecast.whereabouts import Inside, Load
from tests.plant.forecast.regimes import (
    ASKED,
    BACK_TO,
    BEFORE_WEEKS,
    ENTERED,
    OFF,
    PAST_WEEKS,
    ROUTE,
    Past,
    along_in_process,
    fixed_days,
    given_in_process,
    past_quantile,
)  # fmt: skip
from tests.plant.forecast.trueplant import CLOSES, DAY, OPENS, WEEK, Days, History, Press, Scan
from tests.plant.forecast.trueplant import Load as TrueLoad

COURSES = 80
FIRST = datetime(2026, 1, 5, tzinfo=UTC)
"""A Monday."""
ZONE = ZoneInfo("UTC")
AHEAD_DAYS = 2
LEARNS_WEEKS = 3
SEEN_WEEKS = 4

STOPS = (
    Stop("receiving"),
    *(
        Stop(
            one.code,
            optional=not isinstance(one, Press) and one.share < 1,
            scans=isinstance(one, Press) or one.scanned,
            machines=ENTERED[one.code][0],
            cycle_min=None if entered is None else round(entered * 60),
        )
        for one in ROUTE
        for entered in [ENTERED[one.code][1]]
    ),
)
PRESS = next(one for one in ROUTE if isinstance(one, Press))
TOLD = Entered(
    stops=STOPS,
    ovens=(Oven("chamber", PRESS.holds, round(60 * (ENTERED[PRESS.code][1] or 0))),),
    shifts=tuple(Shift(day, time(int(OPENS)), time(int(CLOSES))) for day in range(5)),
    holidays=frozenset((FIRST + timedelta(days=day)).date() for day in OFF),
    rework_limit=2,
    zone=ZONE,
)
SCANNED = [stop.code for stop in STOPS if stop.scans]


@dataclass(frozen=True)
class Forecast:
    """What was simulated of a casing when its truck was counted in: quantiles, worked hours."""

    label: int
    at: float
    grid: tuple[float, ...]


@dataclass(frozen=True)
class Promised:
    """A promise at ASKED and its outcome, in worked hours from `at` on. raw: as simulated, ours: as
    corrected, the rest: what the baselines would have promised. load: its cure load."""

    label: int
    at: float
    took: float
    load: int
    ours: float
    raw: float
    days: float
    past: float
    nearest: float
    along: float


class Office:
    """All that the plant's scans have told by a moment, and what would be promised then."""

    def __init__(self, history: History, days: Days, courses: int) -> None:
        self.history, self.days, self.courses = history, days, courses
        self.times = [scan.at for scan in history.scans]
        self.stories: dict[int, list[Scan]] = defaultdict(list)
        for scan in history.scans:
            self.stories[scan.label].append(scan)
        self.begun = [load.begun for load in history.loads]
        self.known: Known | None = None
        self.known_on = -1

    def promise(self, at: float, truck: range) -> tuple[list[int], np.ndarray]:
        """Of a truck that has just come in: casings (those not rejected by now), and their samples
        [courses, casings], worked hours from now."""
        origin = FIRST + timedelta(hours=at)
        known = self.learned(at)
        layout = laid_out.layout(TOLD, known, origin)
        inside, left = self._inside(at)
        placed = whereabouts.placed(layout, TOLD, inside, self._loads(at), left)
        later, _ = coming.jobs(layout, TOLD, (), self._usual(at), origin=origin, days=AHEAD_DAYS)
        jobs = [*(one.job for one in placed), *later]
        finishes = engine.finishes(
            layout.shop, engine.jobs(jobs), replications=self.courses, seed=1, threads=1
        )
        where = {one.casing.label: i for i, one in enumerate(placed)}
        labels = [label for label in truck if str(label) in where]
        ours = finishes[:, [where[str(label)] for label in labels]]
        finite = np.isfinite(ours)
        worked = calendar.worked(layout.hours, np.where(finite, ours, 0.0))
        return labels, np.where(finite, worked, np.inf)

    def hours(self, at: float) -> calendar.Hours:
        return calendar.of(
            [(b - at, e - at) for b, e in zip(self.days.begins, self.days.ends, strict=True)]
        )

    def learned(self, at: float) -> Known:
        """Learned anew each day."""
        if self.known is not None and self.known_on == int(at // DAY):
            return self.known
        since = at - SEEN_WEEKS * WEEK
        scans = self.history.scans[bisect_right(self.times, since) : bisect_right(self.times, at)]
        seen = [learning.Seen(s.label, s.code, s.at - at, s.outcome) for s in scans]
        loads = [
            learning.Cured(
                load.begun - at, load.ended - at if load.ended <= at else None, load.labels
            )
            for load in self.history.loads[
                bisect_right(self.begun, since) : bisect_right(self.begun, at)
            ]
        ]
        entered = [
            learning.Entered(
                stop.code, stop.machines, None if stop.cycle_min is None else stop.cycle_min / 60,
                stop.scans, stop.optional, stop.takes, stop.code == PRESS.code,
            )
            for stop in STOPS
        ]  # fmt: skip
        hours = self.hours(at)
        learned = learning.learned(seen, loads, entered, hours)
        cure = learning.cure(loads, PRESS.holds, hours, seen)
        self.known = Known(
            figures={
                code: Figures(one.mean_h, one.cv, one.passes, one.reject, one.rework, one.n,
                              one.machines)
                for code, one in learned.items()
            },
            finishes={SCANNED[-1]: 1},
            back_to={BACK_TO: 1},
            cure_h={"": cure.cycle_h} if cure else {},
            wait_h=cure.wait_h if cure else None,
        )  # fmt: skip
        self.known_on = int(at // DAY)
        return self.known

    def _inside(self, at: float) -> tuple[list[Inside], dict[str, list[float]]]:
        found = []
        left: dict[str, list[float]] = defaultdict(list)
        upto = bisect_right(self.times, at)
        for scan in reversed(self.history.scans[max(0, upto - 400) : upto]):
            left[scan.code].append(scan.at - at)
        out = {label for load in self._ended(at) for label in load.labels}
        in_load = {label: load for load in self._running(at) for label in load.labels}
        since = bisect_right(self.times, at - 8 * WEEK)
        labels = dict.fromkeys(s.label for s in self.history.scans[since:upto])
        for label in labels:
            story = [s for s in self.stories[label] if s.at <= at]
            last = story[-1]
            if last.outcome == "rejected" or (
                last.code == SCANNED[-1] and last.outcome == "passed"
            ):
                continue
            found.append(_placed(label, story, at, in_load, label in out))
        return found, left

    def _running(self, at: float) -> list[TrueLoad]:
        upto = bisect_right(self.begun, at)
        return [one for one in self.history.loads[max(0, upto - 3) : upto] if one.ended > at]

    def _ended(self, at: float) -> list[TrueLoad]:
        upto = bisect_right(self.begun, at)
        return [one for one in self.history.loads[max(0, upto - 3) : upto] if one.ended <= at]

    def _loads(self, at: float) -> dict[str, Load]:
        return {str(one.number): Load(str(one.number), one.begun - at) for one in self._running(at)}

    def _usual(self, at: float) -> coming.Usual:
        first = bisect_right(self.times, at - coming.WEEKS * WEEK)
        came = [
            FIRST + timedelta(hours=s.at)
            for s in self.history.scans[first : bisect_right(self.times, at)]
            if s.code == "receiving"
        ]
        return coming.usual(came, 0.0, ZONE)


def _placed(label: int, story: list[Scan], at: float, in_load: dict[int, Any], out: bool) -> Inside:
    """Where its scans leave a casing, as the plant's own records have it."""
    back = max((i for i, s in enumerate(story) if s.outcome == "rework"), default=-1)
    passed = tuple(s.code for s in story[back + 1 :])
    if out and PRESS.code not in passed:
        passed = (*passed, PRESS.code)
    furthest = max((SCANNED.index(code) for code in passed), default=-1)
    return Inside(
        label=str(label),
        stage="in_work",
        passed=passed,
        next=SCANNED[min(furthest + 1, len(SCANNED) - 1)],
        again_at=BACK_TO if not passed else "",
        seen_h=story[-1].at - at,
        load=str(in_load[label].number) if label in in_load else "",
    )


class Baselines:
    """What the others would promise."""

    def __init__(self, history: History, days: Days) -> None:
        self.history, self.days = history, days
        casings = [c for c in history.casings if c.finished is not None]
        self.arrived = np.array([history.trucks[c.truck][0] for c in casings])
        self.finished = np.array([c.finished for c in casings], dtype=np.float64)
        pairs = list(zip(self.arrived.tolist(), self.finished.tolist(), strict=True))
        self.took = np.array([days.worked(a, f) for a, f in pairs])
        self.took_days = np.array([days.days_between(a, f) for a, f in pairs])
        self.starts = np.sort([history.trucks[c.truck][0] for c in history.casings])
        self.ends = np.sort([c.ended for c in history.casings if c.ended is not None])
        self.met = np.array([self.in_process(a) for a in self.arrived.tolist()])

    def in_process(self, at: float) -> int:
        return int(np.searchsorted(self.starts, at, "right") - np.searchsorted(self.ends, at))

    def past(self, at: float) -> Past:
        seen = (self.finished <= at) & (self.arrived > at - PAST_WEEKS * WEEK)
        return Past(self.took[seen], self.took_days[seen], self.met[seen])


def forecasts(
    history: History,
    days: Days,
    weeks: int,
    *,
    since: float = LEARNS_WEEKS,
    courses: int = COURSES,
) -> list[Forecast]:
    """Of every casing that is inside when its truck is counted in, from a week on and up to `weeks`
    after BEFORE_WEEKS; those before that are what the first corrections stand on."""
    office = Office(history, days, courses)
    found = []
    for at, truck in history.trucks:
        if since * WEEK <= at < (BEFORE_WEEKS + weeks) * WEEK:
            labels, samples = office.promise(at, truck)
            grids = calibration.grid(samples)
            found += [
                Forecast(label, at, tuple(grid.tolist()))
                for label, grid in zip(labels, grids, strict=True)
                if np.isfinite(grid[0])
            ]
    return found


class Book:
    """What was forecast, and what is known of it at a moment."""

    def __init__(self, history: History, days: Days, made: list[Forecast]) -> None:
        self.days = days
        self.at = [one.at for one in made]
        casings = [history.casings[one.label] for one in made]
        self.ended = [np.inf if c.ended is None else c.ended for c in casings]
        self.scored = [
            calibration.Scored(
                days.worked(0.0, one.at),
                one.grid,
                np.inf if c.finished is None else days.worked(one.at, c.finished),
            )
            for one, c in zip(made, casings, strict=True)
        ]

    def state(self, at: float) -> calibration.State:
        """By what is known at this moment: of those that were rejected by now, nothing."""
        upto = bisect_left(self.at, at)
        known = [
            one
            for one, ended in zip(self.scored[:upto], self.ended[:upto], strict=True)
            if ended > at or np.isfinite(one.took_h)
        ]
        return calibration.state(known[-calibration.NEWEST :], self.days.worked(0.0, at))


def promised(history: History, days: Days, made: list[Forecast]) -> list[Promised]:
    """The promises of what was forecast from BEFORE_WEEKS on, of casings that were finished; the
    correction is computed anew each day."""
    book, others = Book(history, days, made), Baselines(history, days)
    found: list[Promised] = []
    state = calibration.NOTHING
    for at, truck in groupby(made, key=lambda one: one.at):
        if at < BEFORE_WEEKS * WEEK:
            continue
        if not found or int(found[-1].at // DAY) != int(at // DAY):
            state = book.state(at)
        past, met = others.past(at), others.in_process(at)
        lengths = {
            "days": days.until_end_of_day(at, fixed_days(past)),
            "past": past_quantile(past),
            "nearest": given_in_process(past, met),
            "along": along_in_process(past, met),
        }
        for one in truck:
            casing = history.casings[one.label]
            if casing.finished is not None:
                grid = np.array([one.grid])
                raw = float(np.interp(ASKED, calibration.LEVELS, one.grid))
                ours = float(calibration.read_at(grid, state, np.array([ASKED]))[0, 0])
                took = days.worked(at, casing.finished)
                found.append(
                    Promised(one.label, at, took, casing.load, ours=ours, raw=raw, **lengths)
                )
    return found
