"""From a plant's forecast, a sample of finishing instants, to days. Pure: no table, no clock.

A forecast tells of each casing, and of one that arrives on a day, when it was finished in each of
so many simulated courses of things: whole minutes after an origin, NEVER where it was rejected
there. Courses stand in the same order for all casings of a publication, so that a group is asked
for course by course. Of a casing that may be rejected a quantile is taken among the courses in
which it is finished: what is promised is the day of a finished casing, and a rejection is told by
itself. The day of an instant is the dealer's; from it on the trucks of `rules` lead back.

From a day to the day of coming back never leads to an earlier one, so a quantile of instants is
turned into days once, and the share of courses that keep a promise is the share that is finished
on the last day from which the trucks still keep it (`rules.last_finish`).
"""

import sys
from array import array
from bisect import bisect_right
from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from typing import NamedTuple

NEVER = 2**31 - 1
"""Minutes that stand for "rejected in this course"."""
GROUPS = (1, 2, 5, 10, 20, 50)
"""How many casings that arrive together a forecast tells the last of. Our own choice."""
LOWEST, HIGHEST = 50, 99
"""Percent: how sure a promised day may be asked to be."""
USUAL = 90
"""Percent, where an account says nothing else."""
ALL_SIZES = ""
"""The class of a casing whose size is not known."""

_MINUTE = timedelta(minutes=1)
_FURTHEST_MIN = 400 * 24 * 60
"""An instant beyond is taken as far off as this: no truck that is promised leads there."""


def pack(minutes: Iterable[int]) -> bytes:
    """A sample as it is published: int32, least byte first."""
    found = array("i", minutes)
    if sys.byteorder == "big":
        found.byteswap()
    return found.tobytes()


def unpack(packed: bytes | memoryview) -> Sequence[int]:
    """The minutes of a published sample. ValueError where the bytes are none."""
    found = array("i")
    if not packed or len(packed) % found.itemsize:
        raise ValueError(f"minutes is {len(packed)} bytes; a multiple of 4 above 0 is allowed")
    found.frombytes(packed)
    if sys.byteorder == "big":
        found.byteswap()
    return found


def quantile(minutes: Iterable[int], percent: int) -> int | None:
    """The least minute by which so many of a hundred finished courses are done; None: in none."""
    done = sorted(minute for minute in minutes if minute < NEVER)
    return done[-(-percent * len(done) // 100) - 1] if done else None


class Sample(NamedTuple):
    """When one casing, or the last of a group, is finished in each course."""

    origin: datetime
    minutes: Sequence[int]

    def by(self, percent: int, zone: tzinfo) -> date | None:
        """The day by which it is finished with so many percent of the courses that finish it."""
        minute = quantile(self.minutes, percent)
        return None if minute is None else day_of(self.origin, minute, zone)

    def days(self, zone: tzinfo) -> Iterator[date | None]:
        """The day on which it is finished in each course; None where it is rejected."""
        done = [m for m in self.minutes if m < NEVER]
        begins, ends = (day_of(self.origin, f(done, default=0), zone) for f in (min, max))
        nights = [
            _minutes(datetime.combine(begins + timedelta(days=n), time(), zone), self.origin)
            for n in range((ends - begins).days + 1)
        ]
        for minute in self.minutes:
            ahead = bisect_right(nights, min(minute, _FURTHEST_MIN)) - 1
            yield None if minute == NEVER else begins + timedelta(days=ahead)

    def kept(self, last: date | None, zone: tzinfo) -> float | None:
        """The share of the finished courses that are done on a day or before; None: in none."""
        done = [day for day in self.days(zone) if day is not None]
        if not done:
            return None
        return sum(last is not None and day <= last for day in done) / len(done)


def day_of(origin: datetime, minute: int, zone: tzinfo) -> date:
    """The day, in a zone, so many minutes after an instant."""
    return (origin.astimezone(UTC) + min(minute, _FURTHEST_MIN) * _MINUTE).astimezone(zone).date()


Back = Callable[[date], date | None]
"""From the day on which a casing is finished to the day on which it is back; None: no truck."""


class Together(NamedTuple):
    """When casings are back, all of them: the day at a confidence, and how many it speaks of."""

    on: date
    of: int


def together(samples: Sequence[tuple[Sample, Back]], percent: int, zone: tzinfo) -> Together | None:
    """By when all of a group are back, in so many percent of the courses.

    Of one publication, so that course s of each is the same course. In each course those count
    that it finishes; one in which none is counts for nothing. None where a truck is missing on the
    way, or no course finishes any.
    """
    courses: list[list[date | None]] = []
    for sample, back in samples:
        found: dict[date, date | None] = {}
        came: list[date | None] = []
        for day in sample.days(zone):
            if day is None:
                came.append(None)
                continue
            if day not in found:
                found[day] = back(day)
            if found[day] is None:
                return None
            came.append(found[day])
        courses.append(came)
    last = sorted(
        max(days)
        for days in ([d for d in course if d is not None] for course in zip(*courses, strict=True))
        if days
    )
    if not last:
        return None
    return Together(last[-(-percent * len(last) // 100) - 1], len(samples))


def group_for(count: int, groups: Iterable[int]) -> int | None:
    """The smallest published group that holds so many; None where they are more than any."""
    return min((group for group in groups if group >= count), default=None)


def _minutes(at: datetime, origin: datetime) -> int:
    """Whole minutes to an instant, rounded up: a minute that has begun belongs to what comes."""
    return -((origin.astimezone(UTC) - at.astimezone(UTC)) // _MINUTE)
