"""What a plant's own scans say of its stations: hours of work, shares, delays; how sure. Pure.

Most scans carry an end and no begin, so how long a casing took since its last scan is waiting and
work in one. They are told apart by when a station is busy. Casings leave a station in the order in
which they came, nearly; so the k-th to come begins when it comes or when the c-th before it has
left, whichever is later, c being how many are worked at once (Lindley 1952 for one server, read
backwards). Where it had been there for longer than the way to the station takes, the station was
busy, and the time from that leaving to the k-th is its work alone; sums of it stay right when
casings overtake each other. Breakdowns and breaks while there is work are work in this sense.

Where nobody scans there is no queue to be seen. All unscanned stations between two scanned ones are
one delay: what a casing takes when few are about, less the work of the station that scans it. It is
spread over them, each with room for MANY.

Times are worked hours. What was entered counts as PRIOR observations, and older ones count less, by
half every HALF_WEEKS. Where a station's last week differs from the weeks before by more than days
differ from each other, that is said (drift), and the past is forgotten three times as fast.
"""

import math
from collections import Counter
from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from plant.forecast import hours as calendar
from plant.forecast.hours import Hours
from plant.forecast.passages import (
    Cured,
    Entered,
    Passage,
    Seen,
    back_to,
    last_scans,
    passages,
    stories,
)  # fmt: skip

__all__ = ["Cure", "Cured", "Entered", "LearnedStation", "Seen", "back_to", "cure", "learned"]

Floats = NDArray[np.float64]

PRIOR = 20.0
"""So many casings does an entered figure weigh. Our own figure."""
LEAST = 10
"""Observations, below which a figure that nobody entered is none."""
HALF_WEEKS = 2.0
FASTER = 3.0
"""After drift the past counts less so many times as fast."""
SPREAD = 0.5
"""Standard deviation over mean, where little is known of it."""
MANY = 60
"""Casings that an unscanned station works at once: nobody sees a queue there."""
QUIET = 0.05
"""The share of passages, those with fewest casings about, that are taken for undisturbed."""
BRIEF_H = 0.25
"""Receiving scans nearer than this are of one truck."""
MOVED, SURE = 0.1, 3.5
"""Drift: by more than a tenth, and by so many standard errors of daily means."""


@dataclass(frozen=True, slots=True)
class LearnedStation:
    """n: casings seen. machines: None, as entered. weight: how much of mean_h is seen, 0 to 1."""

    code: str
    mean_h: float
    cv: float
    passes: float = 1.0
    reject: float = 0.0
    rework: float = 0.0
    n: int = 0
    machines: int | None = None
    weight: float = 0.0
    drift: bool = False


@dataclass(frozen=True, slots=True)
class Cure:
    """cycle_h: by the clock, from one start until the next is possible. wait_h: worked hours that
    the first of a load waited where it was begun with room left; None where all were full."""

    cycle_h: float
    wait_h: float | None
    n: int


def learned(
    seen: Iterable[Seen],
    loads: Sequence[Cured],
    entered: Sequence[Entered],
    hours: Hours,
    now_h: float = 0.0,
) -> dict[str, LearnedStation]:
    """What is known of each station by now_h; those with nothing seen nor entered are left out."""
    told = stories(seen, loads, entered, now_h)
    ways = passages(told, entered, hours)
    half = HALF_WEEKS * _a_week(hours, now_h)
    now = calendar.worked(hours, now_h)
    shares = _shares(told, entered)
    found: dict[str, LearnedStation] = {}
    before: list[Entered] = []
    for place, one in enumerate(entered):
        if not one.scans and not one.chamber:
            before.append(one)
            continue
        mine = _Leg.of([p for p in ways if p.place == place], one, bool(before), now, half)
        if one.chamber:
            delay = _before_curing(loads, ways, place, hours, now_h)
        else:
            delay = mine.delay if before else None
            work = _door(told, one, hours) if place == 0 else mine.work
            if figure := _blended(one, work, mine.drift):
                found[one.code] = figure
        for unseen in before:
            if figure := _delayed(unseen, before, delay):
                found[unseen.code] = figure
        before = []
    for code, (n, passes, reject, rework) in shares.items():
        base = found.get(code)
        if base is None and any(one.chamber for one in entered if one.code == code):
            base = LearnedStation(code, 0.0, 0.0)
        if base is not None:
            found[code] = LearnedStation(
                code, base.mean_h, base.cv, passes, reject, rework, n,
                base.machines, base.weight, base.drift,
            )  # fmt: skip
    return found


class Work(NamedTuple):
    """Hours of work: mean and spread of what was seen, how many and their weight."""

    mean: float
    cv: float
    n: int
    weight: float


class Delay(NamedTuple):
    """Hours on the way to a station: mean, standard deviation, passages that say so."""

    mean: float
    spread: float
    n: int


@dataclass(frozen=True, slots=True)
class _Leg:
    """Of the way from one scan to the next: the work at its end, the delay before it."""

    work: Work
    delay: Delay | None
    drift: bool

    @classmethod
    def of(
        cls, mine: Sequence[Passage], one: Entered, delayed: bool, now: float, half: float
    ) -> "_Leg":
        if len(mine) <= one.machines * one.takes:
            return cls(Work(0.0, SPREAD, 0, 0.0), None, False)
        came = np.sort([p.came for p in mine])
        left = np.sort([p.left for p in mine])
        at_once = one.machines * one.takes
        free = np.concatenate((np.full(at_once, -np.inf), left[:-at_once]))
        quiet = _quiet(mine, came, left)
        way = float(np.quantile(quiet, 0.8)) if delayed and quiet.size else 0.0
        busy = free - came > way if delayed else np.ones(len(mine), dtype=bool)
        spent = left - np.maximum(came, free)
        drift = _drifts(spent[busy], left[busy], now, half / HALF_WEEKS)
        forgets = half / FASTER if drift else half
        weights = 0.5 ** ((now - left[busy]) / forgets)
        work = _weighed(spent[busy], weights, at_once)
        if not delayed:
            return cls(work, None, drift)
        own = work.mean if work.n >= LEAST else (one.mean_h or 0.0)
        if not quiet.size:
            return cls(work, None, drift)
        spread = math.sqrt(max(float(quiet.var()) - (own * work.cv) ** 2, 0.0))
        delay = Delay(max(float(quiet.mean()) - own, 0.0), spread, len(quiet))
        return cls(work, delay, drift)


def _quiet(mine: Sequence[Passage], came: Floats, left: Floats) -> Floats:
    """Hours of the whole passages that met fewest casings on the way."""
    ordered = sorted(mine, key=lambda p: (p.came, p.left))
    about = np.arange(len(ordered)) - np.searchsorted(left, came, side="right")
    took = np.array([p.left - p.came for p in ordered])
    whole = np.flatnonzero([p.whole for p in ordered])
    if len(whole) < LEAST:
        return np.array([])
    fewest = whole[np.argsort(about[whole], kind="stable")]
    quiet: Floats = took[fewest[: max(LEAST, int(QUIET * len(whole)))]]
    return quiet


def _weighed(spent: Floats, weights: Floats, at_once: int) -> Work:
    total = float(weights.sum())
    if not len(spent) or not total:
        return Work(0.0, SPREAD, 0, 0.0)
    mean = float((weights * spent).sum() / total)
    # Of several at once, each time lies over as many leavings: their mean spreads less than one.
    var = float((weights * (spent - mean) ** 2).sum() / total) * at_once
    cv = math.sqrt(var) / mean if mean else SPREAD
    cv = (PRIOR * SPREAD + total * cv) / (PRIOR + total)
    return Work(mean, min(max(cv, 0.1), 1.5), len(spent), total)


def _drifts(spent: Floats, left: Floats, now: float, a_week: float) -> bool:
    """Whether the days of the last week differ from those before (Welch's t of daily means)."""
    if not a_week:
        return False
    days = np.floor((now - left) / (a_week / 5))
    means = {int(day): spent[days == day].mean() for day in np.unique(days)}
    late = np.array([mean for day, mean in means.items() if day < 5])
    early = np.array([mean for day, mean in means.items() if day >= 5])
    if len(late) < 3 or len(early) < 5 or not early.mean():
        return False
    error = math.sqrt(late.var(ddof=1) / len(late) + early.var(ddof=1) / len(early))
    off = abs(late.mean() - early.mean())
    return bool(off > MOVED * early.mean() and off > SURE * error)


def _blended(one: Entered, work: Work, drift: bool) -> LearnedStation | None:
    if one.mean_h is None:
        if work.n < LEAST or work.mean <= 0:
            return None
        return LearnedStation(one.code, work.mean, work.cv, n=work.n, weight=1.0, drift=drift)
    share = work.weight / (work.weight + PRIOR)
    mean = share * work.mean + (1 - share) * one.mean_h
    return LearnedStation(one.code, mean, work.cv, n=work.n, weight=share, drift=drift)


def _delayed(one: Entered, before: Sequence[Entered], delay: Delay | None) -> LearnedStation | None:
    """The part of a delay that an unscanned station has: as what was entered, else alike."""
    if delay is None or delay.n < LEAST:
        return None
    told = [b.mean_h for b in before if b.mean_h is not None]
    usual = sum(told) / len(told) if told else 1.0
    parts = {b.code: usual if b.mean_h is None else b.mean_h for b in before}
    share = parts[one.code] / sum(parts.values())
    mean = max(delay.mean * share, 1 / 360)
    cv = min(delay.spread * math.sqrt(share) / mean, 3.0)
    return LearnedStation(one.code, mean, max(cv, 0.1), n=delay.n, machines=MANY, weight=1.0)


def _door(told: Mapping[Hashable, Sequence[Seen]], one: Entered, hours: Hours) -> Work:
    """What receiving takes: between scans of one truck."""
    at = np.sort([calendar.worked(hours, s[0].at_h) for s in told.values()
                  if s and s[0].code == one.code])  # fmt: skip
    gaps = np.diff(at)
    gaps = gaps[(gaps > 0) & (gaps < BRIEF_H)] * one.machines
    return _weighed(gaps, np.ones(len(gaps)), one.machines)


def _shares(
    told: Mapping[Hashable, Sequence[Seen]], entered: Sequence[Entered]
) -> dict[str, tuple[int, float, float, float]]:
    """Of each scanned station: casings seen; shares that pass there, are rejected, sent back."""
    places = {one.code: i for i, one in enumerate(entered)}
    seen: Counter[str] = Counter()
    ends: Counter[tuple[str, str]] = Counter()
    beyond: Counter[int] = Counter()
    for story in told.values():
        seen.update(s.code for s in story)
        ends.update((s.code, s.outcome) for s in story)
        furthest = max((places[s.code] for s in story), default=-1)
        beyond.update(range(furthest + 1))
    found = {}
    for one in entered:
        if n := seen[one.code]:
            passes = min(1.0, n / max(beyond[places[one.code]], 1)) if one.optional else 1.0
            found[one.code] = (
                n,
                passes,
                ends[one.code, "rejected"] / (n + PRIOR),
                ends[one.code, "rework"] / (n + PRIOR),
            )
    return found


def _before_curing(
    loads: Sequence[Cured],
    ways: Sequence[Passage],
    place: int,
    hours: Hours,
    now_h: float,
) -> Delay | None:
    """The way to the chamber: of each load the shortest, since the last to come is not waited for
    longer than it takes to bring it there; of loads the lower quarter."""
    came = np.sort([p.came for p in ways if p.place == place])
    shortest = []
    for load in loads:
        if load.begun_h <= now_h and came.size:
            begun = calendar.worked(hours, load.begun_h)
            if last := int(np.searchsorted(came, begun)):
                shortest.append(begun - came[last - 1])
    if len(shortest) < LEAST:
        return None
    mean = float(np.quantile(shortest, 0.25))
    return Delay(mean, SPREAD * mean, len(shortest))


def cure(
    loads: Sequence[Cured], holds: int, hours: Hours, seen: Iterable[Seen], now_h: float = 0.0
) -> Cure | None:
    """How long loads are in and how long a chamber waits for the last; None below LEAST of them.
    holds: of the largest chamber."""
    done = [one for one in loads if one.ended_h is not None and one.ended_h <= now_h]
    if len(done) < LEAST:
        return None
    cycle = float(np.median([one.ended_h - one.begun_h for one in done if one.ended_h is not None]))
    starts = sorted(one.begun_h for one in loads)
    ends = sorted(one.ended_h for one in done if one.ended_h is not None)
    after = [s - e for e in ends for s in starts[int(np.searchsorted(starts, e)) :][:1]]
    turn = float(np.quantile(after, 0.1)) if after else 0.0
    last = last_scans(seen)
    waits = []
    for one in done:
        came = [at for c in one.casings if (at := last(c, one.begun_h)) is not None]
        if len(one.casings) < holds and came:
            begun = calendar.worked(hours, one.begun_h)
            waits.append(begun - calendar.worked(hours, min(came)))
    return Cure(cycle + max(turn, 0.0), float(np.median(waits)) if waits else None, len(done))


def _a_week(hours: Hours, now_h: float) -> float:
    """Worked hours of a usual week: of the last four."""
    return (calendar.worked(hours, now_h) - calendar.worked(hours, now_h - 4 * 168)) / 4
