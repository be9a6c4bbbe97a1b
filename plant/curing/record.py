"""A chamber's record held against the cure specification that the plant entered. Pure.

Between two readings a gauge is taken to move in a straight line; where they lie further apart than
the plant allows, that is a gap, of which nothing is known and nothing counts. Time in range is the
sum over the record. The verdict says what was entered and what was seen, no more: "meets what was
entered" is no release of a tire.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum
from itertools import pairwise

from plant.curing.series import Reading


@dataclass(frozen=True, slots=True)
class Terms:
    """What a plant entered: temperature and pressure band, minutes in both, and the longest time
    without a reading. most_c, low_kpa, most_kpa: None asks nothing."""

    low_c: float
    minutes: float
    gap_s: float
    most_c: float | None = None
    low_kpa: float | None = None
    most_kpa: float | None = None

    @property
    def asks_pressure(self) -> bool:
        """Whether a pressure was entered at all."""
        return self.low_kpa is not None or self.most_kpa is not None


class Verdict(StrEnum):
    """What holding a record against terms comes to."""

    SHORT = "short"
    MEETS = "meets"
    NO_TERMS = "no_terms"
    NO_RECORD = "no_record"


class Ground(StrEnum):
    """Why a load fell short."""

    TIME = "time"
    TOO_HOT = "too_hot"
    PRESSURE_OVER = "pressure_over"
    NO_PRESSURE = "no_pressure"
    GAPS = "gaps"


@dataclass(frozen=True, slots=True)
class Gap:
    """From one reading to the next, too far apart; or from the load's start or to its end."""

    since: datetime
    until: datetime

    @property
    def seconds(self) -> float:
        """How long nothing is known."""
        return (self.until - self.since).total_seconds()


@dataclass(frozen=True, slots=True)
class Figures:
    """What a record shows: °C, kPa, seconds. unbroken_s: the longest time in range at a stretch."""

    since: datetime
    until: datetime
    count: int
    lowest_c: float
    highest_c: float
    lowest_kpa: float | None
    highest_kpa: float | None
    in_range_s: float = 0.0
    unbroken_s: float = 0.0
    gaps: tuple[Gap, ...] = ()


@dataclass(frozen=True, slots=True)
class Judged:
    """The verdict with its grounds and figures."""

    verdict: Verdict
    grounds: tuple[Ground, ...] = ()
    figures: Figures | None = field(default=None)


@dataclass(frozen=True, slots=True)
class Stretch:
    """Two readings that follow each other near enough, in °C and kPa."""

    since: datetime
    until: datetime
    from_c: float
    to_c: float
    from_kpa: float | None
    to_kpa: float | None

    @property
    def seconds(self) -> float:
        """How long it is."""
        return (self.until - self.since).total_seconds()


def stretches(
    readings: Sequence[Reading], gap_s: float, *, pressure: bool = False
) -> Iterator[Stretch]:
    """The straight pieces of a record. pressure: only readings that show both gauges count."""
    full = [r for r in readings if r.celsius is not None and not (pressure and r.kpa is None)]
    for one, two in pairwise(full):
        near = (two.at - one.at).total_seconds() <= gap_s
        if near and one.celsius is not None and two.celsius is not None:
            yield Stretch(one.at, two.at, one.celsius, two.celsius, one.kpa, two.kpa)


def gaps(
    readings: Sequence[Reading],
    gap_s: float,
    *,
    started_at: datetime | None = None,
    ended_at: datetime | None = None,
    pressure: bool = False,
) -> tuple[Gap, ...]:
    """Where nothing is known for longer than allowed, the load's own start and end among it."""
    moments = [r.at for r in readings if r.celsius is not None and not (pressure and r.kpa is None)]
    if not moments:
        return ()
    if started_at is not None and started_at < moments[0]:
        moments.insert(0, started_at)
    if ended_at is not None and ended_at > moments[-1]:
        moments.append(ended_at)
    pairs = pairwise(moments)
    return tuple(Gap(a, b) for a, b in pairs if (b - a).total_seconds() > gap_s)


def judge(
    readings: Sequence[Reading] | None,
    terms: Terms | None,
    *,
    started_at: datetime | None = None,
    ended_at: datetime | None = None,
) -> Judged:
    """Hold a record against what the plant entered for the chamber; None where there is neither.

    started_at, ended_at: of the load, where they were told; the record has to reach both.
    """
    if not readings:
        return Judged(Verdict.NO_RECORD)
    figures = measure(readings, terms, started_at=started_at, ended_at=ended_at)
    if terms is None:
        return Judged(Verdict.NO_TERMS, (), figures)
    grounds = tuple(_grounds(figures, terms))
    return Judged(Verdict.SHORT if grounds else Verdict.MEETS, grounds, figures)


def measure(
    readings: Sequence[Reading],
    terms: Terms | None,
    *,
    started_at: datetime | None = None,
    ended_at: datetime | None = None,
) -> Figures:
    """The figures of a record; those of a range and of gaps only where terms say which."""
    hot = [r.celsius for r in readings if r.celsius is not None]
    forced = [r.kpa for r in readings if r.kpa is not None]
    in_range, unbroken, missing = 0.0, 0.0, tuple[Gap, ...]()
    if terms is not None:
        in_range, unbroken = _time_in_range(readings, terms)
        missing = gaps(readings, terms.gap_s, started_at=started_at, ended_at=ended_at,
                       pressure=terms.asks_pressure)  # fmt: skip
    return Figures(
        since=readings[0].at,
        until=readings[-1].at,
        count=len(readings),
        lowest_c=min(hot),
        highest_c=max(hot),
        lowest_kpa=min(forced) if forced else None,
        highest_kpa=max(forced) if forced else None,
        in_range_s=in_range,
        unbroken_s=unbroken,
        gaps=missing,
    )


SLACK_S = 0.001
"""A sum of many pieces may miss a whole minute by a rounding; a millisecond is given."""


def _grounds(figures: Figures, terms: Terms) -> Iterator[Ground]:
    if terms.asks_pressure and figures.highest_kpa is None:
        yield Ground.NO_PRESSURE
    if figures.in_range_s + SLACK_S < terms.minutes * 60:
        yield Ground.TIME
    if terms.most_c is not None and figures.highest_c > terms.most_c:
        yield Ground.TOO_HOT
    most = terms.most_kpa
    if most is not None and figures.highest_kpa is not None and figures.highest_kpa > most:
        yield Ground.PRESSURE_OVER
    if figures.gaps:
        yield Ground.GAPS


def _time_in_range(readings: Sequence[Reading], terms: Terms) -> tuple[float, float]:
    """Seconds in range in all, and at the longest stretch."""
    total = longest = run = 0.0
    inside_until: datetime | None = None
    for piece in stretches(readings, terms.gap_s, pressure=terms.asks_pressure):
        begin, end = _within(piece.from_c, piece.to_c, terms.low_c, terms.most_c)
        if terms.asks_pressure and piece.from_kpa is not None and piece.to_kpa is not None:
            low, high = _within(piece.from_kpa, piece.to_kpa, terms.low_kpa, terms.most_kpa)
            begin, end = max(begin, low), min(end, high)
        if begin > 0.0 or inside_until != piece.since:
            run = 0.0  # it was out of range before, or nothing is known of it
        inside = max(0.0, end - begin) * piece.seconds
        run, total = run + inside, total + inside
        longest = max(longest, run)
        inside_until = piece.until if end >= 1.0 else None
    return total, longest


def _within(a: float, b: float, low: float | None, most: float | None) -> tuple[float, float]:
    """Which part of the line from a (0) to b (1) lies in a band; (1, 0) where none does."""
    begin, end = 0.0, 1.0
    for bound, sign in ((low, 1), (most, -1)):
        if bound is None:
            continue
        over_a, over_b = sign * (a - bound), sign * (b - bound)
        if over_a < 0 and over_b < 0:
            return 1.0, 0.0
        if over_a < 0:
            begin = max(begin, over_a / (over_a - over_b))
        elif over_b < 0:
            end = min(end, over_a / (over_a - over_b))
    return begin, end
