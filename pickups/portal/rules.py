"""How a work order counts for its owner. Pure.

A rejected casing stays rejected on its way home, and one on hold is neither finished nor ready.
"""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from pickups.casings.rules import Progress

SEARCH_LEAST = 4
"""How much of a label or TIN has to be typed: four symbols are a date code."""


@dataclass(frozen=True)
class Way:
    """Pages that are opened by a secret link: the name of the first, of the one that switches the
    language, of the one that signs out; the session's cookie, sent to `path` and nowhere else."""

    first: str
    speak: str
    leave: str
    cookie: str
    path: str


MAILED = Way("casings", "casings-language", "casings-sign-out", "yardloop_casings", "/casings/")
"""By the link in a mail: all that is a contact's customer's."""
SCANNED = Way("receipt", "receipt-language", "receipt-leave", "yardloop_receipt", "/receipt/")
"""By the square on a driver's screen: one receipt."""
COOKIE = MAILED.cookie

_HOMEWARD = frozenset({Progress.SHIPPED, Progress.RETURNED})


class Group(StrEnum):
    """What a customer counts, in the order in which it is shown: what needs their word first."""

    REJECTED = "rejected"
    READY = "ready"
    FINISHED = "finished"
    WORKING = "working"
    ON_THE_WAY = "on_the_way"
    BACK = "back"
    OURS = "ours"  # the dealer's now: sold, or given in exchange


def is_rejected(progress: str, reason: str) -> bool:
    """Whether it was rejected, however far it has come since on its way home."""
    return progress == Progress.REJECTED or (bool(reason) and progress in _HOMEWARD)


def is_ready(progress: str, *, reason: str, on_hold: bool, at: str) -> bool:
    """Finished, and where its last way starts from or it is fetched: `at` as notices.rules says
    it in at_start."""
    done = progress in (Progress.FINISHED, Progress.SHIPPED)
    return bool(at) and done and not on_hold and not reason


def group(
    progress: str, *, reason: str = "", on_hold: bool = False, at: str = "", dealers: str = ""
) -> Group:
    """Where it counts. dealers: what made it the dealer's, where something did."""
    if dealers:
        return Group.OURS
    if progress == Progress.RETURNED:
        return Group.BACK
    if is_rejected(progress, reason):
        return Group.REJECTED
    if is_ready(progress, reason=reason, on_hold=on_hold, at=at):
        return Group.READY
    if progress == Progress.SHIPPED or (progress == Progress.FINISHED and not on_hold):
        return Group.FINISHED
    return Group.ON_THE_WAY if progress == Progress.PICKED_UP else Group.WORKING


def state(progress: str, *, reason: str = "", on_hold: bool = False, at: str = "") -> str:
    """The key of the word for where it stands."""
    if is_rejected(progress, reason):
        return progress if progress == Progress.REJECTED else f"rejected_{progress}"
    if is_ready(progress, reason=reason, on_hold=on_hold, at=at):
        return "ready"
    if on_hold and progress in (Progress.RECEIVED, Progress.IN_WORK, Progress.FINISHED):
        return "on_hold"
    return progress


class Kept(StrEnum):
    """How a promise stands."""

    OPEN = "promised"
    MAY_BE_LATE = "may_be_late"
    AT_RISK = "will_be_late"
    LATE = "was_promised"


def kept(promised: date, *, today: date, comes: date | None, at: str, risky: bool = False) -> Kept:
    """How the promise of a casing that is not back stands; comes: the day on which it does; risky:
    whether the plant's forecast says that it is at risk.

    What lies where it is fetched waits for its owner: since when is not looked at.
    """
    if at.startswith("store"):
        return Kept.OPEN
    if today > promised:
        return Kept.LATE
    if comes is not None and comes > promised:
        return Kept.AT_RISK
    return Kept.MAY_BE_LATE if risky and comes is None else Kept.OPEN


def sought(text: str) -> str:
    """A typed piece of a TIN as it is looked for: capitals and digits alone."""
    return "".join(c for c in text.upper() if c.isascii() and c.isalnum())
