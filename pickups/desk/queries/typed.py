"""A text as a label; where it is none, what is wrong with it, and which printed ones it may be."""

from dataclasses import dataclass

from pickups.desk import rules, words
from pickups.labels import queries as labels
from pickups.labels import rules as grammar


def label_of(text: str, language: str) -> tuple[str, str]:
    """A typed or scanned text as a label, and, where it is none, what is wrong with it in words."""
    code = grammar.tidy(text)
    fault = grammar.fault(code)
    if fault is None:
        return code, ""
    said = words.say(language, f"fault_{fault}", text=_as_typed(text), n=len(code))
    if _bare(text) != code and fault != grammar.LabelFault.EMPTY:
        said += words.say(language, "read_as", code=_as_typed(code))
    return "", said


@dataclass(frozen=True)
class Meant:
    """A label that we printed and that a mistyped text may stand for, and which slip makes it."""

    code: str
    grouped: str
    slip: str


def meant(text: str, language: str) -> list[Meant]:
    """The printed labels one slip of a hand away from a text that is none; never taken for it."""
    code = grammar.tidy(text)
    known = labels.printed(grammar.one_slip_away(code))
    return [
        Meant(near, words.grouped(near), words.say(language, f"slip_{slip}"))
        for near, slip in grammar.meant(code, known)
    ]


def _as_typed(text: str) -> str:
    """A text to be shown again: what has no shape as a sign that something stood there."""
    shown = "".join(c if c.isprintable() else "\ufffd" for c in text.strip())
    return shown if len(shown) <= rules.ECHO_MOST else f"{shown[: rules.ECHO_MOST]}…"


def _bare(text: str) -> str:
    """Capitals without gaps and dashes: what means the same however it is written."""
    return "".join(c for c in text.upper() if not c.isspace() and c not in "-._")
