"""A plant's hours in whole milliseconds, compiled. Pure; hours.py is the same for everybody else.

The simulation counts in whole milliseconds from the origin: sums are exact, so the same draws give
the same path whichever way it is computed, and two casings that arrive together are a true tie. The
stretches of several calendars lie one behind the other; `lo` and `hi` bound one of them, and `near`
is where the last search ended, since the next one ends close by.
"""

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from plant.forecast.engine.compiled import inlined, whole
from plant.forecast.hours import Hours

Ints = NDArray[np.int64]

HOUR = 3_600_000
"""Milliseconds."""
ORIGIN = whole(0)
NEVER = whole(1 << 60)
"""An instant that does not come; sums with it stay within 64 bits."""


STRETCH = np.dtype([(name, np.int64) for name in ("begins", "ends", "before")])


def milliseconds(hours: float) -> int:
    """Whole milliseconds; NEVER for inf."""
    return int(NEVER) if hours == np.inf else round(hours * HOUR)


def stretches(calendars: Sequence[Hours]) -> tuple[NDArray[Any], list[int]]:
    """The same stretches in milliseconds, and where each calendar begins in them, one more at the
    end. A calendar without any gets one that never comes."""
    tables, first = [], [0]
    for one in calendars:
        table = np.zeros(max(one.begins.size, 1), STRETCH)
        if one.begins.size:
            table["begins"] = np.rint(one.begins * HOUR)
            table["ends"] = np.rint(one.ends * HOUR)
            long = table["ends"] - table["begins"]
            table["before"][1:] = np.cumsum(long[:-1])
        else:
            table["begins"] = table["ends"] = NEVER
        tables.append(table)
        first.append(first[-1] + table.size)
    return np.concatenate(tables), first


@inlined
def worked(c: NDArray[Any], lo: int, hi: int, t: int, near: int) -> tuple[int, int]:
    """Worked milliseconds until t, from the first stretch on; and where that was."""
    i = near
    while i + 1 < hi and c[i + 1].begins <= t:
        i += 1
    while i > lo and c[i].begins > t:
        i -= 1
    inside = min(max(t, c[i].begins), c[i].ends)
    return c[i].before + (inside - c[i].begins), i


@inlined
def at_worked(c: NDArray[Any], lo: int, hi: int, x: int, near: int) -> tuple[int, int]:
    """The earliest instant until which x milliseconds were worked, or NEVER; and where that was."""
    i = near
    while i + 1 < hi and c[i + 1].before < x:
        i += 1
    while i > lo and c[i].before >= x:
        i -= 1
    t = c[i].begins + (x - c[i].before)
    if t > c[i].ends:
        return NEVER, i
    return t, i


@inlined
def next_open(c: NDArray[Any], lo: int, hi: int, t: int, near: int) -> tuple[int, int]:
    """The first open instant at or after t, or NEVER; and where that was. An end is closed."""
    i = near
    while i + 1 < hi and c[i].ends <= t:
        i += 1
    while i > lo and c[i - 1].ends > t:
        i -= 1
    if c[i].ends <= t:
        return NEVER, i
    return max(t, c[i].begins), i
