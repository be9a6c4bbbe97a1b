"""A record as a drawing: points of a line in a box of fixed size, and the band behind it. Pure.

What was read at a moment is drawn; of many readings the lowest and highest of each small piece, so
that no peak is lost. The line is broken where a gap is.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

WIDE, HIGH = 640, 180
PIECES = 300


@dataclass(frozen=True, slots=True)
class Drawing:
    """lines: "x,y x,y ..." a stretch. band: top and height of what was entered, if anything.
    ticks: (y, value) of the scale."""

    lines: list[str]
    band: tuple[float, float] | None
    ticks: list[tuple[float, float]]


def draw(
    points: Sequence[tuple[datetime, float]],
    *,
    low: float | None,
    most: float | None,
    gap_s: float,
) -> Drawing | None:
    """None where there is nothing to draw."""
    if len(points) < 2:
        return None
    values = [v for _, v in points] + [v for v in (low, most) if v is not None]
    floor, top = min(values), max(values)
    pad = max((top - floor) * 0.08, 1.0)
    floor, top = floor - pad, top + pad
    since, whole = points[0][0], (points[-1][0] - points[0][0]).total_seconds()

    def y(value: float) -> float:
        return round(HIGH - (value - floor) / (top - floor) * HIGH, 1)

    def x(at: datetime) -> float:
        return round((at - since).total_seconds() / whole * WIDE, 1)

    lines = [" ".join(f"{x(at)},{y(v)}" for at, v in part) for part in _parts(points, gap_s)]
    band = None
    if low is not None or most is not None:
        head = 0.0 if most is None else y(most)
        foot = float(HIGH) if low is None else y(low)
        band = (head, max(foot - head, 1.0))
    step = (top - floor) / 4
    return Drawing(lines, band, [(y(floor + step * i), floor + step * i) for i in (1, 2, 3)])


def _parts(
    points: Sequence[tuple[datetime, float]], gap_s: float
) -> Iterator[list[tuple[datetime, float]]]:
    part = [points[0]]
    for one in points[1:]:
        if (one[0] - part[-1][0]).total_seconds() > gap_s:
            yield _thinned(part)
            part = []
        part.append(one)
    yield _thinned(part)


def _thinned(part: list[tuple[datetime, float]]) -> list[tuple[datetime, float]]:
    size = len(part) // PIECES
    if size < 2:
        return part
    kept: set[tuple[datetime, float]] = {part[0], part[-1]}
    for i in range(0, len(part), size):
        piece = part[i : i + size]
        kept |= {min(piece, key=lambda p: p[1]), max(piece, key=lambda p: p[1])}
    return sorted(kept)
