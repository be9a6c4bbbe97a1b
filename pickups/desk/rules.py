"""Who may see the office and who decides in it; when a clock and a message are late. Pure."""

from collections.abc import Mapping
from datetime import date, timedelta
from enum import StrEnum
from typing import Any

SEES = frozenset({"dispatcher", "sales", "admin"})
DECIDES = frozenset({"dispatcher", "admin"})

CLOCK_RIGHT_MS = 60_000
"""A clock less than a minute off is called right."""

DUE_WITHIN = timedelta(days=366)
"""A case is settled within a year; a later day is a slip of the hand."""

SETTLED_SHOWN = 20
"""How many of the questions settled last are shown."""

ECHO_MOST = 40
"""How much of a text that is no label is shown again."""

LATE_S = 300
"""What was recorded later than this after it happened is shown with both times."""


class Ended(StrEnum):
    """How a casing that a plant decided about counts in its fleet's yield; in the order shown."""

    FINISHED = "finished"
    REJECTED = "rejected"  # by its own condition, or by the customer's rules or use
    PLANT = "plant"
    ROAD = "road_or_dock"


CAUSES = {
    "casing": Ended.REJECTED,
    "customer": Ended.REJECTED,
    "plant": Ended.PLANT,
    "road_or_dock": Ended.ROAD,
}


def ended(rejection: Mapping[str, Any] | None) -> Ended:
    """How it counts, by what its rejection told, which always has a cause; None where it was
    finished."""
    return Ended.FINISHED if rejection is None else CAUSES[str(rejection["cause"])]


def fleet_yield(counts: Mapping[Ended, int]) -> tuple[int, int]:
    """How many were finished, of how many that count."""
    finished = counts.get(Ended.FINISHED, 0)
    return finished, finished + counts.get(Ended.REJECTED, 0)


def due_ok(due_on: date, *, today: date, was: date | None) -> bool:
    """Whether a case can be due on this day; one that is overdue may be given to somebody as it
    is."""
    return due_on == was or today <= due_on <= today + DUE_WITHIN


def may_decide(role: str, owner: str) -> bool:
    """A question is decided by the role that owns it; an administrator decides any."""
    return role in DECIDES and role in (owner, "admin")
