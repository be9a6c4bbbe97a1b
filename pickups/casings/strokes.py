"""The strokes: how the sign of a casing's way is drawn. Pure; a page turns the paths into SVG.

Picked up, at the plant, worked on, finished, back with its owner. Done strokes are full, the one
now is broad and long (split while on hold), those to come are short outlines; rejected is a bar
across, an open question a ring around.
"""

from collections.abc import Sequence
from dataclasses import dataclass

_PLACE = {"picked_up": 0, "received": 1, "in_work": 2, "rejected": 2,
          "finished": 3, "shipped": 3, "returned": 4}  # fmt: skip
_LEAN = (1.2, -0.8, 0.6, 1.4, -1.1)
"""Each stroke leans and wavers a little differently, as a hand draws."""


@dataclass(frozen=True)
class Stroke:
    """One stroke: the path, or for one still to come where its outline stands and how it leans.

    Figures are text: a page in Spanish would write them with a comma.
    """

    kind: str
    path: str = ""
    x: str = ""
    turn: str = ""


@dataclass(frozen=True)
class Sign:
    """The five strokes, with bar and ring."""

    strokes: Sequence[Stroke]
    rejected: bool
    in_question: bool


def sign(
    progress: str, *, on_hold: bool = False, in_question: bool = False, rejected: bool = False
) -> Sign:
    """The strokes of a work order; the word has to stand beside them.

    rejected: it was, however far it has come since on its way home.
    """
    now = _PLACE.get(progress, 0)
    strokes = []
    for i, lean in enumerate(_LEAN):
        x = 14.0 + i * 17
        if i > now:
            strokes.append(Stroke("to_come", x=f"{x - 3:g}", turn=f"{lean * 2:g}"))
        elif i < now:
            strokes.append(Stroke("done", _waver(x, lean, 18, 48)))
        elif on_hold:
            halves = _waver(x - 1.5, lean, 6, 26) + _waver(x + 1.5, lean, 38, 58)
            strokes.append(Stroke("split", halves))
        else:
            strokes.append(Stroke("now", _waver(x, lean, 6, 58)))
    return Sign(strokes, rejected or progress == "rejected", in_question)


def _waver(x: float, lean: float, top: float, foot: float) -> str:
    third = (foot - top) / 3
    points = (x + lean, top, x - lean, top + third, x + lean * 1.6, foot - third, x - lean, foot)
    a, b, c, d, e, f, g, h = (round(p, 1) for p in points)
    return f"M{a} {b}C{c} {d} {e} {f} {g} {h}"
