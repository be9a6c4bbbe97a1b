"""Four simulated plants on which the promise is tried: what is true of each, its seeds, and what
the promise is held against. Fixed before the engine, its learning or its calibration was tuned;
whoever changes a figure here starts the evidence anew.

Invented figures: no station time of a retread plant was found published. The engine is told what a
plant would have entered (ENTERED, wrong on purpose), the shifts, the chamber's size, and scans and
loads up to the moment of the promise. It is not told the truth in ROUTE, of outages or changes, or
what comes.

A promise is made for every casing when its truck is counted in (its last receiving scan), from
BEFORE_WEEKS on, at ASKED. It is scored where the casing is finished, in worked hours from then, and
was kept if it took no longer than promised. What is rejected has no finishing time and is not
scored, by any method.
"""

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from tests.plant.forecast.trueplant import (
    DAY,
    OPENS,
    WEEK,
    Change,
    Days,
    History,
    Outage,
    Plant,
    Press,
    Step,
)  # fmt: skip

ASKED = 0.9
BEFORE_WEEKS, WEEKS = 8, 26
"""Learned from, and promised in. About 250 casings a week are finished."""
AFTER_WEEKS = 6
"""Weeks in which what was promised last can still be finished."""
PAST_WEEKS = 6
"""How far back the baselines look."""
LEAST = 5_000
"""Promises scored in a regime."""

OFF = (14 + 7 * 5, 56 + 7 * 6 + 3, 56 + 7 * 17)
"""Holidays: a Monday, a Thursday, a Monday; days from the start."""

ROUTE: tuple[Step | Press, ...] = (
    Step("cleaning", 2, 0.10, 4, scanned=False),
    Step("initial-inspection", 2, 0.33, 5, reject=0.09),
    Step("shearography", 1, 0.155, 20, scanned=False),
    Step("buffing", 2, 0.36, 6, reject=0.02, breaks=(60.0, 2.5)),
    Step("skiving", 1, 0.12, 3, scanned=False, share=0.6),
    Step("repair", 2, 0.70, 2, scanned=False, share=0.35),
    Step("cementing", 1, 0.10, 8, scanned=False),
    Step("building", 2, 0.38, 7, breaks=(80.0, 2.0)),
    Step("enveloping", 1, 0.13, 8, scanned=False),
    Press("curing", 22, 3.67, 400, patience_h=4.0, least=8),
    Step("stripping", 1, 0.08, 6, scanned=False),
    Step("final-inspection", 1, 0.17, 4, reject=0.01, rework=0.03),
)
BACK_TO = "repair"

ENTERED: dict[str, tuple[int, float | None]] = {
    "cleaning": (2, None),
    "initial-inspection": (2, 0.25),
    "shearography": (1, 0.20),
    "buffing": (2, 0.45),
    "skiving": (1, None),
    "repair": (2, 0.50),
    "cementing": (1, None),
    "building": (2, 0.30),
    "enveloping": (1, None),
    "curing": (1, 4.0),
    "stripping": (1, None),
    "final-inspection": (1, 0.20),
}
"""Machines and hours a casing (of curing: a load of 22) as a plant would have entered them, rounded
and off by up to a third; None: not entered."""


@dataclass(frozen=True)
class Regime:
    """a_day: casings a working day by trucks, on average; a trailer comes besides on one day in
    ten. swings: sigma of a week's own level (log; a week remembers 0.6 of the last one's). growth:
    of a_day, reached in a line over the weeks of promises."""

    name: str
    seed: int
    a_day: float
    swings: float = 0.12
    growth: float = 1.0
    changes: tuple[Change, ...] = ()
    outages: tuple[Outage, ...] = ()


CALM = Regime("calm", seed=4101, a_day=47)
"""About 58 a day with the trailers; the tightest station, building, has work for 7 hours in 10."""

NEAR_CAPACITY = Regime("near capacity", seed=4202, a_day=65)
"""About 76 a day, more than nine tenths of what building can do."""

DRIFTING = Regime(
    "drifting",
    seed=4303,
    a_day=47,
    growth=1.1,
    changes=(Change("building", 12, 28, 1.2), Change("final-inspection", 10, 20, 1.3)),
)
"""Slower week by week at two stations while more comes."""

_SHOCKS = (14, 24)
SHOCK = Regime(
    "shock",
    seed=4404,
    a_day=52,
    outages=(
        Outage("curing", _SHOCKS[0] * WEEK + DAY + OPENS, _SHOCKS[0] * WEEK + 3 * DAY + OPENS),
        Outage("building", _SHOCKS[1] * WEEK + OPENS, _SHOCKS[1] * WEEK + 2 * DAY + OPENS),
    ),
)
"""Twice nothing goes on for two working days: the chamber, ten weeks later the building."""
SHOCKS_END_H = tuple(out.to_h for out in SHOCK.outages)

REGIMES = (CALM, NEAR_CAPACITY, DRIFTING, SHOCK)

TRUCKS_AT = (7.5, 12.5, 16.5)
TRAILER, TRAILER_SIZE = 0.1, (80, 140)


@dataclass(frozen=True)
class Aims:
    """Of shared aims: coverage of the calm plant at ASKED; lengths at equal coverage; Wilson's
    lower limit in every four weeks that begin a week or more after a shock."""

    calm: tuple[float, float] = (0.88, 0.92)
    than_past: float = 0.8
    than_in_process: float = 1.0
    after_shock: float = 0.85


AIMS = Aims()


def played(regime: Regime, weeks: int = WEEKS, seed: int | None = None) -> tuple[History, Days]:
    """The plant's history: the weeks learned from, `weeks` of promises, and what comes after."""
    seed = regime.seed if seed is None else seed
    days = Days(BEFORE_WEEKS + weeks + AFTER_WEEKS + 20, OFF)
    plant = Plant(
        ROUTE, days, back_to=BACK_TO, changes=regime.changes, outages=regime.outages, seed=seed
    )
    coming = random.Random(seed + 1)
    level = 0.0
    for week in range(BEFORE_WEEKS + weeks + AFTER_WEEKS):
        level = 0.6 * level + coming.gauss(0, 0.8 * regime.swings)
        grown = 1 + (regime.growth - 1) * min(1.0, max(0.0, (week - BEFORE_WEEKS) / weeks))
        mean = regime.a_day / len(TRUCKS_AT) * grown * math.exp(level)
        for day in range(week * 7, week * 7 + 5):
            if day not in OFF:
                for at, size in _trucks(coming, day, mean):
                    plant.bring(at, size)
    return plant.run(), days


def _trucks(coming: random.Random, day: int, mean: float) -> list[tuple[float, int]]:
    found = [
        (day * DAY + hour + coming.uniform(-1, 1), round(coming.gammavariate(4, mean / 4)))
        for hour in TRUCKS_AT
    ]
    if coming.random() < TRAILER:
        found.append((day * DAY + coming.uniform(7, 15), coming.randint(*TRAILER_SIZE)))
    return sorted((at, size) for at, size in found if size)


def regime(name: str) -> Regime:
    return next(one for one in REGIMES if one.name == name)


def shifted(one: Regime, by: int) -> Regime:
    """The same plant with other luck: what learning and calibration may be tuned on."""
    return replace(one, seed=one.seed + by)


# --- What the promise is held against ----------------------------------------------------------
# Each sees casings that were finished before the promise is made and arrived at most PAST_WEEKS
# before it, as (worked hours it took, working days it took, casings in process when it arrived).


@dataclass(frozen=True)
class Past:
    """Arrays of the same length, of casings finished by now."""

    took_h: np.ndarray
    took_days: np.ndarray
    in_process: np.ndarray


def fixed_days(past: Past, asked: float = ASKED) -> int:
    """(a) The smallest number of working days in which the asked share of the past was finished;
    promised is the end of that day, the day of arrival being day 0."""
    return int(_nth(past.took_days, asked))


def past_quantile(past: Past, asked: float = ASKED) -> float:
    """(b) The past's empirical quantile, worked hours."""
    return float(_nth(past.took_h, asked))


def given_in_process(past: Past, in_process: int, asked: float = ASKED) -> float:
    """(c) The quantile of the fifth of the past (at least 50) that met most nearly as many casings
    in process."""
    nearest = np.argsort(np.abs(past.in_process - in_process), kind="stable")
    return float(_nth(past.took_h[nearest[: max(50, len(nearest) // 5)]], asked))


def along_in_process(past: Past, in_process: int, asked: float = ASKED) -> float:
    """(c, a second way) A straight line through hours against casings in process, and the quantile
    of what the past lay above it: it reaches beyond what was seen."""
    slope, start = np.polyfit(past.in_process, past.took_h, 1)
    over = past.took_h - (start + slope * past.in_process)
    return float(start + slope * in_process + _nth(over, asked))


def _nth(values: np.ndarray, asked: float) -> float:
    """The ceil((n + 1) asked)-th smallest, or the largest."""
    rank = min(len(values), math.ceil((len(values) + 1) * asked))
    return float(np.sort(values)[rank - 1])


def at_equal_coverage(promised: Sequence[float], took: Sequence[float]) -> float:
    """Mean length if every promise of a method were stretched by the one factor with which, in
    hindsight, exactly the asked share would have been kept."""
    lengths = np.asarray(promised)
    factor = _nth(np.asarray(took) / lengths, ASKED)
    return float(lengths.mean() * factor)
