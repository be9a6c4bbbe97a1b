"""A promise tried on an event log by rolling origin: each case is promised when it comes, by what
the log has told until then, and held against when it was finished. Pure.

The same parts as for a plant of ours: activities are stations in the order in which cases mostly
meet them (learning.py reads their hours from ends, with waiting told apart), what is open is
simulated (engine) with as many more cases as came in the week before, and the result is corrected
by what became of earlier promises (calibration.py). A log has no route: a case that goes back is
taken to go on from the furthest it has been. The order of activities, their resources and how many
cases they do at once (those that end in one minute) are read off the whole log, as a plant would
have entered them; that a case is still open is taken as known too.

Held against it: (a) a fixed number of days, the smallest in which the asked share of the past was
finished, and (b) the past's empirical quantile.
"""

import math
from collections import Counter, defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from statistics import median

import numpy as np
from numpy.typing import NDArray

from plant.forecast import calibration, engine, learning
from plant.forecast import hours as calendar
from plant.forecast.hours import Hours
from plant.forecast.learning import LearnedStation
from plant.forecast.outside import Case, Log
from plant.forecast.shop import MOST_STATIONS, Job, Shop, Station

Floats = NDArray[np.float64]

COURSES = 100
LEARN = 50
"""Cases that are finished before the first one is promised."""
MOST = 1_000
"""Cases that are promised; of more, evenly spread ones."""
FEW = 3
"""Cases that end in one minute, from which on they are taken to be done at once."""
PAST = 500
"""Finished cases that the others look back on; and four times as many events are learned from."""
WEEK_H = 168.0


@dataclass(frozen=True, slots=True)
class Tried:
    """One promise, open hours from when its case came. days: (a); past: (b)."""

    case: str
    took: float
    ours: float
    raw: float
    days: float
    past: float
    corrected: bool


@dataclass(frozen=True, slots=True)
class Line:
    """One way to promise: the share kept, mean hours, and mean hours if all its promises were
    stretched by the one factor that would have kept just the asked share."""

    name: str
    kept: float
    mean_h: float
    equal_h: float


@dataclass(frozen=True, slots=True)
class _Times:
    """A case in open hours on one clock, with its steps as (activity, begin or None, end)."""

    name: str
    came: float
    came_h: float
    finished_h: float
    finished: float
    steps: tuple[tuple[str, float | None, float], ...]


def tried(
    log: Log,
    origin: datetime,
    hours: Hours,
    *,
    asked: float,
    most: int = MOST,
    seed: int = 1,
    told: Callable[[int, int], None] | None = None,
) -> list[Tried]:
    """Every promise, in order; hours count from the origin. told: how many are done of how many."""
    cases = [_times(one, origin, hours) for one in log.cases]
    order = _order(log.cases)
    ends = sorted(c.finished_h for c in cases if math.isfinite(c.finished_h))
    if len(ends) <= LEARN:
        return []
    able = [c for c in cases if c.came_h >= ends[LEARN - 1]]
    every = max(1, math.ceil(len(able) / most))
    machines, takes = _machines(log.cases), _takes(log.cases)
    book: list[calibration.Scored] = []
    found: list[Tried] = []
    for n, case in enumerate(able[::every]):
        open_now = [c for c in cases if c.came_h <= case.came_h < c.finished_h]
        known = [c for c in cases if c.finished_h <= case.came_h][-PAST:]
        grid = _grid(case, open_now, known, cases, order, machines, takes, hours, seed + n)
        if told:
            told(n + 1, len(able[::every]))
        if grid is None:
            continue
        state = calibration.state(book, case.came)
        scored = calibration.Scored(case.came, tuple(grid.tolist()), case.finished - case.came)
        book.append(scored)
        if math.isfinite(case.finished):
            found.append(_held(case, known, grid, state, asked, hours))
    return found


def _held(
    case: _Times,
    known: Sequence[_Times],
    grid: Floats,
    state: calibration.State,
    asked: float,
    hours: Hours,
) -> Tried:
    raw = float(np.interp(asked, calibration.LEVELS, grid))
    ours = float(calibration.read_at(grid[None, :], state, np.array([asked]))[0, 0])
    took_days = [math.floor(k.finished_h / 24) - math.floor(k.came_h / 24) for k in known]
    last = 24.0 * (math.floor(case.came_h / 24) + _nth(took_days, asked) + 1)
    return Tried(
        case=case.name,
        took=case.finished - case.came,
        ours=ours,
        raw=raw,
        days=calendar.worked(hours, last) - case.came,
        past=_nth([k.finished - k.came for k in known], asked),
        corrected=state.enough,
    )


def lines(found: Sequence[Tried], asked: float) -> list[Line]:
    """Each way to promise, over all promises."""
    took = np.array([one.took for one in found])
    made = []
    for name in ("ours", "raw", "days", "past"):
        lengths = np.maximum([getattr(one, name) for one in found], 1e-9)
        factor = _nth((took / lengths).tolist(), asked)
        made.append(
            Line(name, float((took <= lengths).mean()), float(lengths.mean()),
                 float(lengths.mean() * factor))
        )  # fmt: skip
    return made


def _nth(values: Sequence[float], asked: float) -> float:
    """The ceil((n + 1) asked)-th smallest, or the largest."""
    rank = min(len(values), math.ceil((len(values) + 1) * asked - 1e-9))
    return float(sorted(values)[rank - 1])


def _times(case: Case, origin: datetime, hours: Hours) -> _Times:
    def at(instant: datetime) -> float:
        return (instant - origin).total_seconds() / 3600

    came, finished = at(case.came), math.inf if case.finished is None else at(case.finished)
    return _Times(
        case.name,
        calendar.worked(hours, came),
        came,
        finished,
        math.inf if case.finished is None else calendar.worked(hours, finished),
        tuple(
            (s.activity, None if s.start is None else at(s.start), at(s.end)) for s in case.steps
        ),
    )


def _order(cases: Sequence[Case]) -> list[str]:
    """Activities by where in a case they mostly end; the most frequent ones of too many."""
    places: dict[str, list[float]] = defaultdict(list)
    for case in cases:
        for i, step in enumerate(case.steps):
            places[step.activity].append((i + 1) / len(case.steps))
    often = sorted(places, key=lambda one: -len(places[one]))[: MOST_STATIONS - 1]
    return sorted(often, key=lambda one: (median(places[one]), one))


def _machines(cases: Sequence[Case]) -> dict[str, int]:
    """Of each activity the resources that did at least a twentieth of it; 1 where none is named."""
    by: dict[str, Counter[str]] = defaultdict(Counter)
    for case in cases:
        for step in case.steps:
            by[step.activity][step.resource] += 1
    return {
        one: max(1, sum(n >= 0.05 * counts.total() for n in counts.values()))
        for one, counts in by.items()
    }


def _takes(cases: Sequence[Case]) -> dict[str, int]:
    """How many cases each activity does at once: as many as mostly end in one minute, where that is
    FEW or more; else one."""
    ends: dict[str, Counter[datetime]] = defaultdict(Counter)
    for case in cases:
        for step in case.steps:
            ends[step.activity][step.end.replace(second=0, microsecond=0)] += 1
    found = {}
    for one, counts in ends.items():
        together = sorted(n for size in counts.values() for n in [size] * size)
        often = together[len(together) // 2]
        found[one] = together[int(0.9 * len(together))] if often >= FEW else 1
    return found


def _grid(
    case: _Times,
    open_now: Sequence[_Times],
    known: Sequence[_Times],
    cases: Sequence[_Times],
    order: Sequence[str],
    machines: dict[str, int],
    takes: dict[str, int],
    hours: Hours,
    seed: int,
) -> Floats | None:
    """Quantiles of the case's open hours, simulated from what the log has told when it came."""
    now = case.came_h
    ours = Hours(hours.begins - now, hours.ends - now, hours.before - case.came)
    figures = _learned([*known, *open_now], order, machines, takes, ours, now)
    places = {code: i for i, code in enumerate(figures)}
    if not places:
        return None
    stations = tuple(
        Station(
            code,
            machines[code],
            max(one.mean_h, 1e-3),
            one.cv,
            takes=takes[code],
            passes=one.passes,
        )
        for code, one in figures.items()
    )
    luck = np.random.default_rng(seed)
    others = (_job(one, figures, places, now, luck) for one in open_now if one is not case)
    week_ago = (c.came_h + WEEK_H - now for c in cases if now - WEEK_H < c.came_h < now)
    jobs = [
        Job(0, 0.0),
        *(job for job in others if job is not None),
        *(Job(0, at_h) for at_h in week_ago),
    ]
    finishes = engine.finishes(
        Shop(stations, (ours,)), engine.jobs(jobs), replications=COURSES, seed=seed, threads=1
    )[:, :1]
    done = finishes[np.isfinite(finishes)]
    if not done.size:
        return None
    grid: Floats = calibration.grid(calendar.worked(ours, done)[:, None])[0]
    return grid


def _learned(
    told: Sequence[_Times],
    order: Sequence[str],
    machines: dict[str, int],
    takes: dict[str, int],
    hours: Hours,
    now: float,
) -> dict[str, LearnedStation]:
    """Of activities that enough was seen of, in their order. Where a log tells begins, hours of
    work are what lies between; else they are told apart from waiting."""
    spent: dict[str, list[float]] = defaultdict(list)
    seen = []
    for case in told:
        seen.append(learning.Seen(case.name, DOOR, case.came_h - now))
        for activity, begun, ended in case.steps:
            if ended <= now:
                seen.append(learning.Seen(case.name, activity, ended - now))
                if begun is not None:
                    spent[activity].append(
                        calendar.worked(hours, ended - now) - calendar.worked(hours, begun - now)
                    )
    entered = [learning.Entered(DOOR, 1, None, scans=True)]
    entered += [
        learning.Entered(code, machines[code], None, scans=True, optional=True, takes=takes[code])
        for code in order
    ]
    found = learning.learned(seen, (), entered, hours)
    made: dict[str, LearnedStation] = {}
    for code in order:
        one = found.get(code)
        if one is None:
            continue
        times = spent.get(code, [])
        if len(times) >= learning.LEAST:
            # A case may come to one activity several times: all of it in one.
            mean = sum(times) / len(times) * max(1.0, len(times) / max(one.n, 1))
            cv = min(max(float(np.std(times)) / mean, 0.1), 3.0) if mean else 0.1
            one = LearnedStation(code, mean, cv, passes=one.passes, n=one.n)
        made[code] = one
    return made


DOOR = "(came)"


def _job(
    case: _Times,
    figures: Mapping[str, LearnedStation],
    places: Mapping[str, int],
    now: float,
    luck: np.random.Generator,
) -> Job | None:
    """Where an open case is: at work, or in the queue of the next activity behind the furthest that
    it has ended; whether it goes to one that not all go to, luck says."""
    past = [(places[a], end) for a, _, end in case.steps if a in places and end <= now]
    at, since = max(past, default=(-1, case.came_h))
    for activity, begun, end in case.steps:
        if begun is not None and begun <= now < end and places.get(activity, -1) > at:
            return Job(places[activity], begun - now, begun - now)
    for place, one in list(enumerate(figures.values()))[at + 1 :]:
        if luck.random() < one.passes:
            return Job(place, min(since - now, 0.0))
    return None
