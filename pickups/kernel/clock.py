"""The one place that reads the clock. A service reads it once a call and then only compares.

Instants are aware datetimes in UTC; stamps and skews are whole milliseconds.
"""

from datetime import UTC, datetime, timedelta, tzinfo

EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
END = datetime(9999, 12, 31, tzinfo=UTC)
CALENDAR = "a moment from 1970-01-01 to 9999-12-30"
"""What a clock can have said. Whatever zone it is told in, it stays in the years 1 to 9999."""


def now() -> datetime:
    """The current instant, in UTC."""
    return datetime.now(UTC)


def to_ms(at: datetime) -> int:
    """Whole milliseconds since 1970-01-01T00:00Z, rounded down."""
    return (at - EPOCH) // timedelta(milliseconds=1)


def from_ms(ms: int) -> datetime:
    """The instant of a count of milliseconds since 1970-01-01T00:00Z."""
    return EPOCH + timedelta(milliseconds=ms)


def on_calendar(at: datetime) -> bool:
    """Whether an instant is one that a clock can have said: see CALENDAR."""
    return EPOCH <= at < END


def rfc3339(at: datetime) -> str:
    """An instant as the wire writes it: UTC, milliseconds, `Z`, four digits a year (RFC 3339)."""
    return at.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


def set_right(at: datetime, skew_ms: int) -> datetime:
    """An instant told by a clock that was so far ahead of ours; where that leads off the calendar
    the clock was as wrong when it was measured, and the instant stays as it was told."""
    try:
        return at - timedelta(milliseconds=skew_ms)
    except OverflowError:
        return at


def local(at: datetime, zone: tzinfo) -> datetime:
    """An instant in a zone; one that the zone would move off the calendar stays as it is."""
    try:
        return at.astimezone(zone)
    except OverflowError:
        return at
