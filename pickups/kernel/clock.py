"""The one place that reads the clock. A service reads it once a call and then only compares.

Instants are aware datetimes in UTC; stamps and skews are whole milliseconds.
"""

from datetime import UTC, datetime, timedelta

EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


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
    """Whether an instant lies, in UTC, in the years 1 to 9999: tables and messages hold those."""
    try:
        at.astimezone(UTC)
    except OverflowError:
        return False
    return True


def rfc3339(at: datetime) -> str:
    """An instant as the wire writes it: UTC, milliseconds, `Z` (RFC 3339)."""
    return at.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.") + f"{at.microsecond // 1000:03d}Z"
