"""Who may see the office and who decides in it; when a clock and a message are late. Pure."""

from datetime import date, timedelta

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


def due_ok(due_on: date, *, today: date, was: date | None) -> bool:
    """Whether a case can be due on this day; one that is overdue may be given to somebody as it
    is."""
    return due_on == was or today <= due_on <= today + DUE_WITHIN


def may_decide(role: str, owner: str) -> bool:
    """A question is decided by the role that owns it; an administrator decides any."""
    return role in DECIDES and role in (owner, "admin")
