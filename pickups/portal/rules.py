"""How a work order counts for its owner. Pure.

A rejected casing stays rejected on its way home, and one on hold is not finished yet.
"""

from enum import StrEnum

from pickups.casings.rules import Progress

SEARCH_LEAST = 4
"""How much of a label or TIN has to be typed: four symbols are a date code."""

COOKIE = "yardloop_casings"
COOKIE_PATH = "/casings/"
"""The session's cookie is sent to the customer's own pages and nowhere else."""

_HOMEWARD = frozenset({Progress.SHIPPED, Progress.RETURNED})


class Group(StrEnum):
    """What a customer counts, in the order in which it is shown: what needs their word first."""

    REJECTED = "rejected"
    FINISHED = "finished"
    WORKING = "working"
    ON_THE_WAY = "on_the_way"
    BACK = "back"


def is_rejected(progress: str, reason: str) -> bool:
    """Whether it was rejected, however far it has come since on its way home."""
    return progress == Progress.REJECTED or (bool(reason) and progress in _HOMEWARD)


def group(progress: str, *, reason: str = "", on_hold: bool = False) -> Group:
    """Where it counts."""
    if progress == Progress.RETURNED:
        return Group.BACK
    if is_rejected(progress, reason):
        return Group.REJECTED
    if progress == Progress.SHIPPED or (progress == Progress.FINISHED and not on_hold):
        return Group.FINISHED
    return Group.ON_THE_WAY if progress == Progress.PICKED_UP else Group.WORKING


def state(progress: str, *, reason: str = "", on_hold: bool = False) -> str:
    """The key of the word for where it stands."""
    if is_rejected(progress, reason):
        return progress if progress == Progress.REJECTED else f"rejected_{progress}"
    if on_hold and progress in (Progress.RECEIVED, Progress.IN_WORK, Progress.FINISHED):
        return "on_hold"
    return progress


def sought(text: str) -> str:
    """A typed piece of a TIN as it is looked for: capitals and digits alone."""
    return "".join(c for c in text.upper() if c.isascii() and c.isalnum())
