"""Instants at the ends of the calendar are written, read and told like any other, or named."""

from datetime import UTC, datetime, timedelta, timezone
from typing import Any
from zoneinfo import ZoneInfo

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pickups.kernel import clock
from pickups.kernel.wire import Malformed, instant, read
from pickups.sync.wire import Instant

OFFSETS = st.integers(-23 * 60 - 59, 23 * 60 + 59).map(lambda m: timezone(timedelta(minutes=m)))
ANY_MOMENT = st.datetimes(timezones=OFFSETS)


class Shaped(msgspec.Struct):
    """A message with a moment."""

    at: Instant


@pytest.mark.parametrize(
    ("at", "written"),
    [
        (datetime(1, 1, 1, tzinfo=UTC), "0001-01-01T00:00:00.000Z"),
        (datetime(700, 2, 3, 4, 5, 6, 7999, UTC), "0700-02-03T04:05:06.007Z"),
        (datetime(2026, 5, 4, 1, tzinfo=ZoneInfo("Asia/Tokyo")), "2026-05-03T16:00:00.000Z"),
        (datetime(9999, 12, 31, 23, 59, 59, 999999, UTC), "9999-12-31T23:59:59.999Z"),
    ],
)
def test_an_instant_is_written_with_four_digits_a_year(at: datetime, written: str) -> None:
    assert clock.rfc3339(at) == written


@given(ANY_MOMENT)
def test_a_moment_is_read_in_utc_and_written_so_that_it_is_read_again_or_it_is_named(
    at: datetime,
) -> None:
    if not clock.on_calendar(at):
        with pytest.raises(Malformed) as e:
            instant(at, "at")
        assert (e.value.fault.field, e.value.fault.value) == ("at", at.isoformat())
        return
    told = instant(at, "at")
    assert told == at
    assert told.utcoffset() == timedelta()
    assert read({"at": clock.rfc3339(told)}, Shaped).at <= told
    assert clock.to_ms(told) >= 0
    for zone in ("Pacific/Kiritimati", "Etc/GMT+12"):
        assert clock.local(told, ZoneInfo(zone)) == told


@pytest.mark.parametrize("at", [datetime.min.replace(tzinfo=UTC), datetime.max.replace(tzinfo=UTC)])
@pytest.mark.parametrize("zone", ["America/Chicago", "Asia/Tokyo"])
def test_a_moment_that_a_zone_would_move_off_the_calendar_is_told_all_the_same(
    at: datetime, zone: str
) -> None:
    assert clock.local(at, ZoneInfo(zone)) == at


@given(ANY_MOMENT.filter(clock.on_calendar), st.integers(-(2**63), 2**63 - 1))
def test_a_clock_is_set_right_where_that_leads_anywhere(at: datetime, skew_ms: int) -> None:
    told = clock.set_right(at, skew_ms)
    off = clock.to_ms(at) - clock.to_ms(told)
    assert off == skew_ms or told == at


@pytest.mark.parametrize("value", ["2026-05-04T01:00:00", "yesterday", None, [1]])
def test_what_is_no_moment_is_said_in_words(value: Any) -> None:
    with pytest.raises(Malformed) as e:
        read({"at": value}, Shaped)
    said = (e.value.fault.field, e.value.fault.allowed)
    assert said == ("at", "a time with its zone (RFC 3339)")
