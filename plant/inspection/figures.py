"""Buffing and building figures: what was measured beside what is wanted; plain arithmetic. Pure.

Every length is in millimetres. What is wanted is entered by the plant, from its rubber and tread
suppliers' instructions; nothing is wanted by itself and no figure has a default here. The tread's
length is arithmetic, no maker's instruction: how far a tread may be stretched or pushed together
only its maker says. The software advises and certifies nothing.
frontend/src/domain/figures.ts is the twin; fixtures/vectors/figures.json holds both together.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Protocol


class Gauged(Protocol):
    """What a gauge said, as a station tells it; None where it said nothing."""

    @property
    def circumference_mm(self) -> float | None: ...
    @property
    def crown_width_mm(self) -> float | None: ...
    @property
    def buffed_radius_mm(self) -> float | None: ...
    @property
    def texture(self) -> float | None: ...
    @property
    def tread_width_mm(self) -> float | None: ...
    @property
    def tread_length_mm(self) -> float | None: ...


@dataclass(frozen=True, slots=True)
class Target:
    """What a plant wants of this size and tread design; None where it has entered nothing.

    `_off_mm`: how far from it a figure may be before somebody is warned. pitch_mm: the length after
    which the design repeats. gum_mm: the cushion gum between casing and tread.
    """

    radius_mm: float | None = None
    radius_off_mm: float | None = None
    texture_least: float | None = None
    texture_most: float | None = None
    pitch_mm: float | None = None
    gum_mm: float = 0.0
    length_off_mm: float | None = None
    tread_width_mm: float | None = None
    width_off_mm: float | None = None


@dataclass(frozen=True, slots=True)
class TreadLength:
    """A tread cut to whole pitches for a ring. stretch_mm: how much longer the ring is than the
    tread; below nothing the tread is pushed together."""

    ring_mm: float
    pitches: int
    length_mm: float
    stretch_mm: float


@dataclass(frozen=True, slots=True)
class Remark:
    """A figure that is not as wanted. off: measured less wanted (or less the nearer end of the
    range), in the figure's own unit; allowed: how far off it may be."""

    figure: str
    measured: float
    wanted: float
    off: float
    allowed: float


def tread_length(circumference_mm: float, pitch_mm: float, *, gum_mm: float = 0.0) -> TreadLength:
    """How long a tread closes the ring over a buffed casing with the pattern unbroken.

    The ring is the measured circumference and, where the gum lies under the tread, 2 pi times its
    thickness; the tread is the nearest whole number of pitches, of two as near the longer.
    Arithmetic of the circle. Raises ValueError for a length that is not above zero.
    """
    if not (circumference_mm > 0 and pitch_mm > 0 and gum_mm >= 0):
        raise ValueError("circumference and pitch are above zero, gum is not below")
    ring = circumference_mm + 2 * math.pi * gum_mm
    pitches = max(1, math.floor(ring / pitch_mm + 0.5))
    length = pitches * pitch_mm
    return TreadLength(ring, pitches, length, ring - length)


def remarks(measured: Gauged, target: Target) -> tuple[Remark, ...]:
    """Where measured and wanted differ by more than the plant allows.

    A figure that was not measured, or for which nothing was entered, is not spoken of: silence is
    no approval.
    """
    return tuple(_remarks(measured, target))


def _remarks(m: Gauged, t: Target) -> Iterator[Remark]:
    yield from _off("buffed_radius_mm", m.buffed_radius_mm, t.radius_mm, t.radius_off_mm)
    if m.texture is not None:
        if t.texture_least is not None and m.texture < t.texture_least:
            off = m.texture - t.texture_least
            yield Remark("texture", m.texture, t.texture_least, off, 0.0)
        if t.texture_most is not None and m.texture > t.texture_most:
            off = m.texture - t.texture_most
            yield Remark("texture", m.texture, t.texture_most, off, 0.0)
    yield from _off("tread_width_mm", m.tread_width_mm, t.tread_width_mm, t.width_off_mm)
    # The crown was buffed to be covered: the tread that was laid, else the one that is wanted.
    tread = m.tread_width_mm if m.tread_width_mm is not None else t.tread_width_mm
    yield from _off("crown_width_mm", m.crown_width_mm, tread, t.width_off_mm)
    if m.circumference_mm is not None and t.pitch_mm is not None:
        wanted = tread_length(m.circumference_mm, t.pitch_mm, gum_mm=t.gum_mm).length_mm
        yield from _off("tread_length_mm", m.tread_length_mm, wanted, t.length_off_mm)


def _off(
    figure: str, measured: float | None, wanted: float | None, allowed: float | None
) -> Iterator[Remark]:
    if measured is None or wanted is None or allowed is None:
        return
    off = measured - wanted
    if abs(off) > allowed:
        yield Remark(figure, measured, wanted, off, allowed)
