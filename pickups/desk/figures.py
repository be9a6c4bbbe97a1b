"""Geometry of the pictures on the account of promises: places in a drawing, no words. Pure."""

from collections.abc import Sequence
from dataclasses import dataclass

from pickups.promises.rules import Bin, Share

WIDE, HIGH = 360, 310
LEFT, RIGHT, TOP, BOTTOM = 46, 14, 34, 42
"""A drawing's size and its margins, in units of its own (about a CSS pixel on a phone)."""
STEP = 10
"""Percent between two lines across."""
ROUND, SQUARE = 5.0, 8.0
"""How big the marks are where there is room: a radius, a side."""
BESIDE = 8.0
"""How far apart the two marks of a month stand where there is room."""
LABEL = 32
"""What a label with a year takes along, with a space: months are named no closer."""


@dataclass(frozen=True, slots=True)
class Tick:
    """A line at a place, with what stands beside it."""

    at: float
    said: str


@dataclass(frozen=True, slots=True)
class Point:
    """A share at its place, with its interval, and how big its mark is against the usual."""

    x: float
    y: float
    low: float
    high: float
    scale: float = 1.0

    @property
    def radius(self) -> float:
        """Of a round mark."""
        return round(ROUND * self.scale, 1)

    @property
    def side(self) -> float:
        """Of a square mark."""
        return round(SQUARE * self.scale, 1)

    @property
    def left(self) -> float:
        """Where that square begins."""
        return round(self.x - self.side / 2, 1)

    @property
    def top(self) -> float:
        """Where that square begins from above."""
        return round(self.y - self.side / 2, 1)


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


def by_month(months: Sequence[tuple[int, str, Share, Share]]) -> Picture:
    """A column a month, in their order, each with its number in the year and its name: the share
    kept of what was told first with its interval, and beside it that of what was told last in time;
    a month of which nothing counts is empty. Of many those are named that divide the year evenly.
    """
    told = [share for *_, first, last in months for share in (first, last) if share.of]
    lows = [int(100 * share.interval[0] // STEP) * STEP for share in told]
    least = min([50, *lows])
    width = (WIDE - LEFT - RIGHT) / max(1, len(months))
    each = next((n for n in (1, 2, 3, 4, 6) if n * width >= LABEL), 12)
    apart = min(BESIDE, width / 4)
    scale = apart / BESIDE
    middles = [round(LEFT + width * (i + 0.5), 1) for i in range(len(months))]
    columns = list(zip(middles, months, strict=True))
    along = [Tick(x, said) for x, (number, said, *_) in columns if (number - 1) % each == 0]
    points = [_point(x - apart / 2, one[2], least, scale) for x, one in columns if one[2].of]
    others = [_point(x + apart / 2, one[3], least, scale) for x, one in columns if one[3].of]
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


def _point(x: float, share: Share, least: int, scale: float = 1.0) -> Point:
    low, high = share.interval
    seen = share.share or 0.0
    y, top, foot = (_y(100 * told, least) for told in (seen, low, high))
    return Point(round(x, 1), y, top, foot, scale)


def _x(percent: float, least: int) -> float:
    return round(LEFT + (percent - least) / (100 - least) * (WIDE - LEFT - RIGHT), 1)


def _y(percent: float, least: int) -> float:
    return round(HIGH - BOTTOM - (percent - least) / (100 - least) * (HIGH - TOP - BOTTOM), 1)
