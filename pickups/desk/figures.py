"""Geometry of the pictures on the account of promises: places in a drawing, no words. Pure."""

from collections.abc import Sequence
from dataclasses import dataclass

from pickups.promises.rules import Bin, Share

WIDE, HIGH = 360, 310
LEFT, RIGHT, TOP, BOTTOM = 46, 14, 34, 42
"""A drawing's size and its margins, in units of its own (about a CSS pixel on a phone)."""
STEP = 10
"""Percent between two lines across."""
SQUARE = 8


@dataclass(frozen=True, slots=True)
class Tick:
    """A line at a place, with what stands beside it."""

    at: float
    said: str


@dataclass(frozen=True, slots=True)
class Point:
    """A share at its place, with its interval."""

    x: float
    y: float
    low: float
    high: float

    @property
    def left(self) -> float:
        """Where a square around it begins."""
        return round(self.x - SQUARE / 2, 1)

    @property
    def top(self) -> float:
        """Where that square begins from above."""
        return round(self.y - SQUARE / 2, 1)


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing: its frame, lines across and along, what was seen; `diagonal` from one corner of
    what is drawn to the other, where stated and seen agree, as x1, y1, x2, y2."""

    wide: int
    high: int
    left: int
    right: int
    top: int
    bottom: int
    across: Sequence[Tick]
    along: Sequence[Tick]
    points: Sequence[Point]
    diagonal: tuple[float, float, float, float] | None = None
    others: Sequence[Point] = ()


def reliability(bins: Sequence[Bin]) -> Picture:
    """Promised probability along, the share kept up; both begin at the same percent, so that the
    diagonal is where they agree."""
    lows = [min(b.promised, 100 * b.kept.interval[0]) for b in bins]
    least = min([50, *(int(low // STEP) * STEP for low in lows)])
    points = [_point(_x(b.promised, least), b.kept, least) for b in bins]
    ends = (_x(least, least), _y(least, least), _x(100, least), _y(100, least))
    along = [Tick(_x(p, least), str(p)) for p in range(least, 101, STEP)]
    return _picture(least, along, points, ends)


def by_month(
    months: Sequence[tuple[str, Share, Share]],
) -> Picture:
    """A column a month, in their order: the share kept of what was told first with its interval,
    and beside it that of what was told last in time; a month of which nothing counts is empty."""
    told = [share for _, first, last in months for share in (first, last) if share.of]
    lows = [int(100 * share.interval[0] // STEP) * STEP for share in told]
    least = min([50, *lows])
    width = (WIDE - LEFT - RIGHT) / max(1, len(months))
    apart = min(8.0, width / 4)
    middles = [LEFT + width * (i + 0.5) for i in range(len(months))]
    along = [Tick(x, said) for x, (said, _, _) in zip(middles, months, strict=True)]
    columns = list(zip(middles, months, strict=True))
    points = [_point(x - apart / 2, first, least) for x, (_, first, _) in columns if first.of]
    others = [_point(x + apart / 2, last, least) for x, (_, _, last) in columns if last.of]
    return _picture(least, along, points, None, others)


def _picture(
    least: int,
    along: Sequence[Tick],
    points: Sequence[Point],
    diagonal: tuple[float, float, float, float] | None,
    others: Sequence[Point] = (),
) -> Picture:
    return Picture(
        WIDE,
        HIGH,
        LEFT,
        WIDE - RIGHT,
        TOP,
        HIGH - BOTTOM,
        [Tick(_y(p, least), str(p)) for p in range(least, 101, STEP)],
        along,
        points,
        diagonal,
        others,
    )


def _point(x: float, share: Share, least: int) -> Point:
    low, high = share.interval
    seen = share.share or 0.0
    return Point(x, _y(100 * seen, least), _y(100 * low, least), _y(100 * high, least))


def _x(percent: float, least: int) -> float:
    return round(LEFT + (percent - least) / (100 - least) * (WIDE - LEFT - RIGHT), 1)


def _y(percent: float, least: int) -> float:
    return round(HIGH - BOTTOM - (percent - least) / (100 - least) * (HIGH - TOP - BOTTOM), 1)
