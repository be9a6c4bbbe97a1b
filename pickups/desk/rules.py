"""Who may see the office and who decides in it; when a clock and a message are late. Pure."""

SEES = frozenset({"dispatcher", "sales", "admin"})
DECIDES = frozenset({"dispatcher", "admin"})

CLOCK_RIGHT_MS = 60_000
"""A clock less than a minute off is called right."""

SETTLED_SHOWN = 20
"""How many of the questions settled last are shown."""

ECHO_MOST = 40
"""How much of a text that is no label is shown again."""

LATE_S = 300
"""What was recorded later than this after it happened is shown with both times."""


def may_decide(role: str, owner: str) -> bool:
    """A question is decided by the role that owns it; an administrator decides any."""
    return role in DECIDES and role in (owner, "admin")
