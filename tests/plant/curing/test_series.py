"""A recorder's table: read whole, or told cell by cell what is wrong with it."""

from datetime import UTC, datetime, timedelta
from fractions import Fraction
from zoneinfo import ZoneInfo

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from plant.curing import series, units
from plant.curing.series import ALLOWED, Unreadable, Wrong, parse

UNHURRIED = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
"""How fast a machine draws examples says nothing of the rule."""

ZONE = ZoneInfo("America/Chicago")
START = datetime(2026, 7, 14, 11, tzinfo=UTC)


def read(text: str, start: datetime | None = START) -> series.Series:
    return parse(text.encode(), zone=ZONE, start=start)


def wrong(text: str | bytes, start: datetime | None = START) -> list[tuple[int, str, str, Wrong]]:
    raw = text if isinstance(text, bytes) else text.encode()
    with pytest.raises(Unreadable) as caught:
        parse(raw, zone=ZONE, start=start)
    return [(f.row, f.column, f.value, f.wrong) for f in caught.value.faults]


def test_a_table_with_time_in_the_plants_own_zone_and_other_columns() -> None:
    made = read(
        "\ufeffTime,Temperature_F,Pressure_psi,Door\n"
        "2026-07-14 06:00:00,210,85,shut\n\n2026-07-14T11:10:00Z,212,,shut\n"
    )
    assert made.left_out == ("Door",)
    assert [r.at for r in made.readings] == [START, START + timedelta(minutes=10)]
    assert made.readings[0].celsius == pytest.approx(98.888, abs=0.001)
    assert made.readings[1].celsius == 100
    assert made.readings[0].kpa == pytest.approx(586.054, abs=0.001)
    assert made.readings[1].kpa is None


def test_minutes_since_the_start_with_decimal_commas() -> None:
    made = read("minutes;temperature_c;pressure_bar\n0;20,5;0\n1,5;98,25;5,9\n")
    assert made.readings[1] == series.Reading(START + timedelta(seconds=90), 98.25, 590.0)
    assert wrong("minutes,temperature_c\n0,20\n1,21\n", None) == [
        (1, "minutes", "", Wrong.NO_START)
    ]


def test_each_fault_names_row_column_value_and_what_is_allowed() -> None:
    faults = wrong(
        "time,temperature_c,pressure_kpa\n"
        "yesterday,20,0\n"
        "2026-07-14 06:01,hot,0\n"
        "2026-07-14 06:02,400,0\n"
        "2026-07-14 06:03,99,99999\n"
        "2026-07-14 06:04,99\n"
        "2026-07-14 06:05,99,586\n"
        "2026-07-14 06:05,99,586\n"
        "2026-07-14 06:06,1e2,586\n"
    )
    assert faults == [
        (2, "time", "yesterday", Wrong.NOT_A_TIME),
        (3, "temperature", "hot", Wrong.NOT_A_NUMBER),
        (4, "temperature_c", "400", Wrong.TOO_COLD_OR_HOT),
        (5, "pressure_kpa", "99999", Wrong.PRESSURE_BEYOND),
        (6, "", "2026-07-14 06:04,99", Wrong.CELLS),
        (8, "time", "2026-07-14 06:05", Wrong.NOT_LATER),
        (9, "temperature", "1e2", Wrong.NOT_A_NUMBER),
    ]
    assert set(ALLOWED) == set(Wrong)


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("", (1, "", "", Wrong.NO_HEAD)),
        ("a,b\n1,2\n", (1, "", "a, b", Wrong.NO_TIME)),
        ("time,heat\n1,2\n", (1, "", "time, heat", Wrong.NO_TEMPERATURE)),
        ("time,minutes,temperature_c\n", (1, "time", "minutes", Wrong.TWICE)),
        ("minutes,temperature_c\n1,20\n2,\n", (0, "", "2", Wrong.NO_ROWS)),
        (b"\xff\xfe", (0, "", "", Wrong.NO_TEXT)),
        ("minutes,temperature_c\n0,\x00\n", (0, "", "", Wrong.NO_TEXT)),
        ("minutes,temperature_c\n99999999,20\n", (2, "minutes", "99999999", Wrong.NOT_A_NUMBER)),
    ],
    ids=["empty", "no-time", "no-heat", "twice", "one", "bytes", "nul", "far"],
)
def test_a_table_that_is_none(text: str | bytes, fault: tuple[int, str, str, Wrong]) -> None:
    assert wrong(text) == [fault]


def test_no_more_than_twenty_faults_and_twenty_thousand_readings() -> None:
    head = "minutes,temperature_c\n"
    assert len(wrong(head + "x,1\n" * 50)) == series.MOST_FAULTS
    many = head + "".join(f"{i},99\n" for i in range(series.MOST_READINGS + 1))
    assert wrong(many) == [(0, "", "20001", Wrong.TOO_MANY)]


@UNHURRIED
@given(st.binary(max_size=200) | st.text(max_size=200).map(str.encode))
def test_whatever_comes_is_read_or_refused(raw: bytes) -> None:
    for head in (b"", b"time,temperature_c\n", b"minutes;temperature_f;pressure_psi\n"):
        faults: tuple[series.Fault, ...] = ()
        made: tuple[series.Reading, ...] = ()
        try:
            made = parse(head + raw, zone=ZONE, start=START).readings
        except Unreadable as e:
            faults = e.faults
        assert bool(faults) != (len(made) >= 2)


@UNHURRIED
@given(st.integers(-400, 5720), st.integers(0, 4000))
def test_units_are_what_the_standard_says_they_are(tenths_f: int, tenths_psi: int) -> None:
    fahrenheit = Fraction(tenths_f, 10)
    assert units.celsius(float(fahrenheit), "f") == pytest.approx(
        float((fahrenheit - 32) * 5 / 9), abs=1e-9
    )
    psi = Fraction(tenths_psi, 10)
    pascal = Fraction("4.4482216152605") / Fraction("0.0254") ** 2
    assert units.kpa(float(psi), "psi") == pytest.approx(float(psi * pascal / 1000), abs=1e-9)
    assert units.psi(units.kpa(float(psi), "psi")) == pytest.approx(float(psi), abs=1e-9)
    assert units.fahrenheit(units.celsius(float(fahrenheit), "f")) == pytest.approx(
        float(fahrenheit), abs=1e-9
    )
