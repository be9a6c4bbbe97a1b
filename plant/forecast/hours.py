"""When a plant is open, as hours from an instant. Pure; knows dock's shifts and no table.

Everything that a calendar decides goes through here. An `Hours` is a list of open stretches in real
hours from an origin (an aware datetime), so a night on which clocks change has its true length. Its
worked hours are those in which it is open, counted from the origin: negative before it. Outside the
stretches nothing is open: what would be worked after the last one is never done (inf).

The engine has the same in whole milliseconds (ticks.py), compiled.
"""

from collections.abc import Collection, Sequence
from datetime import UTC, date, datetime, time, timedelta
from typing import NamedTuple, overload
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

from plant.dock.rules import Shift

Floats = NDArray[np.float64]

FAR_H = 1e6
"""Hours; a hundred years, more than anything here lasts."""
BACK = 8
"""Weeks before the origin that an Hours knows of, for what was begun before it."""


class Hours(NamedTuple):
    """Open stretches, ascending and apart; all three are float64[n].

    begins, ends: hours from the origin. before: worked hours from the origin to begins[i].
    """

    begins: Floats
    ends: Floats
    before: Floats


def of(stretches: Sequence[tuple[float, float]]) -> Hours:
    """Hours of (begin, end) pairs in any order; what overlaps or touches becomes one."""
    joined: list[list[float]] = []
    for begin, end in sorted(one for one in stretches if one[1] > one[0]):
        if joined and begin <= joined[-1][1]:
            joined[-1][1] = max(joined[-1][1], end)
        else:
            joined.append([begin, end])
    begins = np.array([one[0] for one in joined], dtype=np.float64)
    ends = np.array([one[1] for one in joined], dtype=np.float64)
    counted = Hours(begins, ends, np.concatenate(([0.0], np.cumsum(ends - begins)))[:-1])
    return counted._replace(before=counted.before - worked(counted, 0.0))


ALWAYS = Hours(np.array([-FAR_H]), np.array([FAR_H]), np.array([-FAR_H]))
"""Open for ever: worked hours are hours."""


def week(
    shifts: Sequence[Shift],
    holidays: Collection[date],
    zone: ZoneInfo,
    origin: datetime,
    weeks: int,
    *,
    back: int = BACK,
) -> Hours:
    """The hours of a plant that works these shifts every week, from `back` weeks before the
    origin's day to `weeks` after it.

    A shift past midnight belongs to the day on which it begins; on a holiday none begins. Local
    times that a change of clocks leaves out or repeats are read as Python does without a fold: the
    first of two, and one left out with the offset before it.
    """
    first = origin.astimezone(zone).date()
    found: list[tuple[float, float]] = []
    for away in range(-7 * back - 1, 7 * weeks):
        day = first + timedelta(days=away)
        if day in holidays:
            continue
        for shift in shifts:
            if shift.weekday != day.weekday():
                continue
            last = day if shift.ends > shift.begins else day + timedelta(days=1)
            found.append(
                (_at(day, shift.begins, zone, origin), _at(last, shift.ends, zone, origin))
            )
    return of(found)


def daily(
    at: Sequence[time], zone: ZoneInfo, origin: datetime, weeks: int, *, back: int = 0
) -> tuple[float, ...]:
    """Hours from the origin at which it is one of these local times of the day, ascending; each
    instant once, also where a change of clocks makes two times one."""
    first = origin.astimezone(zone).date()
    days = (first + timedelta(days=away) for away in range(-7 * back, 7 * weeks))
    return tuple(sorted({_at(day, clock, zone, origin) for day in days for clock in at}))


def _at(day: date, clock: time, zone: ZoneInfo, origin: datetime) -> float:
    local = datetime.combine(day, clock, tzinfo=zone)
    return (local.astimezone(UTC) - origin).total_seconds() / 3600


@overload
def worked(hours: Hours, t: float) -> float: ...
@overload
def worked(hours: Hours, t: Floats) -> Floats: ...
def worked(hours: Hours, t: float | Floats) -> float | Floats:
    """Worked hours from the origin until t (hours from the origin); t may be an array."""
    if not hours.begins.size:
        return _as(t, np.zeros_like(np.asarray(t, dtype=np.float64)))
    i = np.maximum(np.searchsorted(hours.begins, t, side="right") - 1, 0)
    inside = np.clip(t, hours.begins[i], hours.ends[i])
    return _as(t, inside + (hours.before[i] - hours.begins[i]))


@overload
def at_worked(hours: Hours, x: float) -> float: ...
@overload
def at_worked(hours: Hours, x: Floats) -> Floats: ...
def at_worked(hours: Hours, x: float | Floats) -> float | Floats:
    """The earliest t with worked(t) = x; inf where so much is never worked. What would lie before
    the first stretch is its begin."""
    if not hours.begins.size:
        return _as(x, np.full_like(np.asarray(x, dtype=np.float64), np.inf))
    i = np.maximum(np.searchsorted(hours.before, x, side="left") - 1, 0)
    t = np.maximum(x + (hours.begins[i] - hours.before[i]), hours.begins[i])
    return _as(x, np.where(t > hours.ends[i] + _ROUNDING, np.inf, np.minimum(t, hours.ends[i])))


_ROUNDING = 1e-9
"""Hours; sums of floats are that uncertain at the end of the last stretch."""


@overload
def next_open(hours: Hours, t: float) -> float: ...
@overload
def next_open(hours: Hours, t: Floats) -> Floats: ...
def next_open(hours: Hours, t: float | Floats) -> float | Floats:
    """The first open instant at or after t; inf where there is none. An end is closed."""
    begins = np.append(hours.begins, np.inf)
    ends = np.append(hours.ends, np.inf)
    i = np.searchsorted(ends, t, side="right")
    i = np.minimum(i, ends.size - 1)
    return _as(t, np.maximum(begins[i], t))


def _as(like: float | Floats, value: Floats) -> float | Floats:
    return value if isinstance(like, np.ndarray) else float(value)
