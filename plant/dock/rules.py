"""The usual stations of a precure plant, shifts, and bounds of what a plant enters. Pure.

The route is common practice, no published source. A plant starts from it and changes it as data;
nothing in the code depends on a station being there. Standard times have no default: what a plant
needs only the plant can say, and until it has nothing is promised.
"""

from collections.abc import Mapping, Sequence
from datetime import time
from typing import NamedTuple, TypeVar

DAY = 24 * 60
WEEK = 7 * DAY
"""Minutes."""

LONGEST_DAYS = 60
"""Working days; a standard time beyond is taken for a slip. Our own figure."""

LONGEST_CYCLE_MIN = WEEK
MOST_MACHINES = 99
MOST_IN_ONE = 500
MOST_REWORKS = 20
"""Bounds of what a plant enters, to catch slips. Our own figures."""

TIMES = r"^([01]\d|2[0-3]):[0-5]\d(, ?([01]\d|2[0-3]):[0-5]\d)*\Z"
"""How times of the day are entered, several in one field."""

WEEKDAYS = (
    (0, "Monday"),
    (1, "Tuesday"),
    (2, "Wednesday"),
    (3, "Thursday"),
    (4, "Friday"),
    (5, "Saturday"),
    (6, "Sunday"),
)


def monday_to_friday() -> list[int]:
    """The days that a calendar begins with, to be changed on the same page."""
    return list(range(5))


DEFAULT_ROUTE: tuple[str, ...] = (
    "receiving",
    "cleaning",
    "initial-inspection",
    "electrical-test",
    "shearography",
    "buffing",
    "skiving",
    "repair",
    "cementing",
    "cushion-gum",
    "building",
    "enveloping",
    "curing",
    "stripping",
    "final-ndt",
    "final-inspection",
    "paint",
    "shipping",
)
"""The codes of the usual stations in their order. Names, cautions and what is scanned stand in
fixtures/plant/route.json, from which a plant starts."""


_One = TypeVar("_One")


def moved(order: Sequence[_One], which: _One, to: int) -> list[_One]:
    """The order with one brought to a place (1 is the first; beyond the ends: the end)."""
    rest = [one for one in order if one != which]
    rest.insert(max(0, to - 1), which)
    return rest


class Shift(NamedTuple):
    """A stretch of work: its weekday (0 is Monday), begin and end. One that ends before it begins
    runs past midnight and belongs to the day on which it begins."""

    weekday: int
    begins: time
    ends: time

    def span(self) -> tuple[int, int]:
        """Begin and end in minutes of the week (Monday 00:00 is 0); the end may lie beyond it."""
        first = self.weekday * DAY + self.begins.hour * 60 + self.begins.minute
        last = self.weekday * DAY + self.ends.hour * 60 + self.ends.minute
        return first, last if last > first else last + DAY


def overlaps(shifts: Sequence[Shift]) -> list[tuple[Shift, Shift]]:
    """Shifts of which one begins before another has ended, also round the end of the week."""
    found = []
    for i, one in enumerate(shifts):
        for other in shifts[i + 1 :]:
            first, second = one.span(), other.span()
            if any(
                first[0] < second[1] + turn and second[0] + turn < first[1]
                for turn in (-WEEK, 0, WEEK)
            ):
                found.append((one, other))
    return found


FIGURES: Mapping[str, tuple[float, float]] = {
    "pitch_mm": (1, 1000),
    "gum_mm": (0, 20),
    "length_off_mm": (0, 200),
    "radius_mm": (100, 2000),
    "radius_off_mm": (0, 500),
    "texture_least": (0, 10),
    "texture_most": (0, 10),
    "tread_width_mm": (50, 700),
    "width_off_mm": (0, 200),
}
"""What a plant can want of a tread design, each with its bounds, to catch slips: those of the
gauges (inspection's wire) and our own figures. None of them has a default."""
