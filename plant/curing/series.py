"""A chamber's record as its recorder wrote it, read into readings in °C and kPa. Pure.

A table has a head that names each column and its unit: `time` (RFC 3339; without a zone it is the
plant's own time) or `minutes` (since the load's start), `temperature_c` or `temperature_f`, and
where there is one `pressure_kpa`, `pressure_psi` or `pressure_bar`. Columns of other names are left
out and named. Between columns stands a comma, a semicolon or a tab; beside the latter two a decimal
comma is read. An empty cell is no reading of that gauge. Nothing is put right by guessing: what
cannot be read is a fault that names row, column, value and what is allowed.
"""

import csv
import io
import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, tzinfo
from enum import StrEnum

from pickups.kernel.clock import on_calendar
from plant.curing import units

MOST_BYTES = 2 * 1024 * 1024
MOST_READINGS = 20_000
"""Five and a half hours at one a second. Our own figure."""
MOST_FAULTS = 20
COLDEST_C, HOTTEST_C = -40.0, 300.0
LOWEST_KPA, HIGHEST_KPA = -101.325, 3000.0
"""Beyond these a gauge or a unit is wrong. Our own figures; the lowest is an empty vessel's."""

_COLUMN = re.compile("(temperature)_(c|f)|(pressure)_(kpa|psi|bar)|(time)|(minutes)")
_NUMBER = re.compile(r"[+-]?\d{1,7}([.]\d{1,9})?")


class Wrong(StrEnum):
    """What can be wrong with a record; a page has its words by this key."""

    NO_TEXT = "no_text"
    NO_HEAD = "no_head"
    NO_TIME = "no_time"
    NO_TEMPERATURE = "no_temperature"
    TWICE = "twice"
    NO_START = "no_start"
    NO_ROWS = "no_rows"
    TOO_MANY = "too_many"
    NOT_A_TIME = "not_a_time"
    NOT_A_NUMBER = "not_a_number"
    TOO_COLD_OR_HOT = "too_cold_or_hot"
    PRESSURE_BEYOND = "pressure_beyond"
    NOT_LATER = "not_later"
    CELLS = "cells"


ALLOWED: dict[Wrong, str] = {
    Wrong.NO_TEXT: "text in UTF-8",
    Wrong.NO_HEAD: "a first row that names the columns",
    Wrong.NO_TIME: "one column named time or minutes",
    Wrong.NO_TEMPERATURE: "a column named temperature_c or temperature_f",
    Wrong.TWICE: "each gauge in one column",
    Wrong.NO_START: "a time column, or a load whose start was told",
    Wrong.NO_ROWS: "at least two readings",
    Wrong.TOO_MANY: f"at most {MOST_READINGS} readings",
    Wrong.NOT_A_TIME: "a time such as 2026-07-14T06:05:00-05:00 or 2026-07-14 06:05:00",
    Wrong.NOT_A_NUMBER: "a number such as 98.5, or nothing",
    Wrong.TOO_COLD_OR_HOT: f"{COLDEST_C:g} to {HOTTEST_C:g} °C",
    Wrong.PRESSURE_BEYOND: f"{LOWEST_KPA:g} to {HIGHEST_KPA:g} kPa on the gauge",
    Wrong.NOT_LATER: "a time later than the row before",
    Wrong.CELLS: "as many cells as the first row",
}


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong. row: as a spreadsheet counts, the head is 1; 0 is the whole of it."""

    row: int
    column: str
    value: str
    wrong: Wrong

    @property
    def allowed(self) -> str:
        """What may stand there, in English."""
        return ALLOWED[self.wrong]


class Unreadable(ValueError):
    """A record that cannot be read; carries its first faults."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        super().__init__("; ".join(f"{f.row} {f.column} {f.wrong}" for f in faults))
        self.faults = tuple(faults)


@dataclass(frozen=True, slots=True)
class Reading:
    """What the gauges showed at one moment; None where one showed nothing. °C and kPa (gauge)."""

    at: datetime
    celsius: float | None
    kpa: float | None = None


@dataclass(frozen=True, slots=True)
class Series:
    """Readings, each later than the one before; columns that were left out, by name."""

    readings: tuple[Reading, ...]
    left_out: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Columns:
    time: int
    minutes: bool
    temperature: int
    temperature_unit: str
    pressure: int | None
    pressure_unit: str
    left_out: tuple[str, ...]


def parse(raw: bytes, *, zone: tzinfo, start: datetime | None) -> Series:
    """Read a table. zone: of times without one. start: the load's, for a column of minutes.

    Raises Unreadable with at most MOST_FAULTS faults.
    """
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise Unreadable([Fault(0, "", "", Wrong.NO_TEXT)]) from None
    if "\x00" in text:
        raise Unreadable([Fault(0, "", "", Wrong.NO_TEXT)])
    head = text.lstrip().partition("\n")[0]
    between = max("\t;,", key=head.count)
    try:
        lines = enumerate(csv.reader(io.StringIO(text), delimiter=between), 1)
        rows = [(n, row) for n, row in lines if any(cell.strip() for cell in row)]
    except csv.Error:
        raise Unreadable([Fault(0, "", "", Wrong.NO_TEXT)]) from None
    if not rows:
        raise Unreadable([Fault(1, "", "", Wrong.NO_HEAD)])
    columns = _columns(rows[0][1])
    if columns.minutes and start is None:
        raise Unreadable([Fault(1, "minutes", "", Wrong.NO_START)])
    if len(rows) - 1 > MOST_READINGS:
        raise Unreadable([Fault(0, "", str(len(rows) - 1), Wrong.TOO_MANY)])
    width = len(rows[0][1])
    reading, faults = [], []
    for number, row in rows[1:]:
        try:
            if len(row) != width:
                raise _Bad("", between.join(row), Wrong.CELLS)
            reading.append(_reading(row, columns, zone, start, between != ","))
            if len(reading) > 1 and reading[-1].at <= reading[-2].at:
                raise _Bad("time", row[columns.time], Wrong.NOT_LATER)
        except _Bad as bad:
            faults.append(Fault(number, bad.column, bad.value.strip()[:80], bad.wrong))
            if len(faults) == MOST_FAULTS:
                break
    return Series(_checked(reading, faults), columns.left_out)


def of_values(
    rows: Sequence[tuple[datetime, float | None, float | None]],
    *,
    temperature_unit: str,
    pressure_unit: str,
) -> Series:
    """Read a posted series of (moment, temperature, pressure). Row 1 is the first reading.

    Raises Unreadable.
    """
    if len(rows) > MOST_READINGS:
        raise Unreadable([Fault(0, "", str(len(rows)), Wrong.TOO_MANY)])
    reading: list[Reading] = []
    faults: list[Fault] = []
    for number, (at, temperature, pressure) in enumerate(rows, 1):
        try:
            heat = _heat(temperature, temperature_unit, "temperature")
            force = _force(pressure, pressure_unit, "pressure")
            reading.append(Reading(at, heat, force))
            if len(reading) > 1 and reading[-1].at <= reading[-2].at:
                raise _Bad("at", at.isoformat(), Wrong.NOT_LATER)
        except _Bad as bad:
            faults.append(Fault(number, bad.column, bad.value, bad.wrong))
            if len(faults) == MOST_FAULTS:
                break
    return Series(_checked(reading, faults))


class _Bad(Exception):
    def __init__(self, column: str, value: str, wrong: Wrong) -> None:
        super().__init__(wrong)
        self.column, self.value, self.wrong = column, value, wrong


def _checked(reading: Sequence[Reading], faults: list[Fault]) -> tuple[Reading, ...]:
    if not faults and sum(r.celsius is not None for r in reading) < 2:
        faults.append(Fault(0, "", str(len(reading)), Wrong.NO_ROWS))
    if faults:
        raise Unreadable(faults)
    return tuple(reading)


def _columns(head: Sequence[str]) -> _Columns:
    found: dict[str, tuple[int, str]] = {}
    left_out = []
    for place, name in enumerate(head):
        fits = _COLUMN.fullmatch(name.strip().lower())
        if fits is None:
            left_out.append(name.strip()[:40])
            continue
        gauge = fits[1] or fits[3] or "time"
        if gauge in found:
            raise Unreadable([Fault(1, gauge, name.strip(), Wrong.TWICE)])
        found[gauge] = (place, fits[2] or fits[4] or fits[5] or fits[6])
    for gauge, wrong in (("time", Wrong.NO_TIME), ("temperature", Wrong.NO_TEMPERATURE)):
        if gauge not in found:
            raise Unreadable([Fault(1, "", ", ".join(head)[:80], wrong)])
    (time, kind), (temperature, unit) = found["time"], found["temperature"]
    pressure, pressure_unit = found.get("pressure", (None, "kpa"))
    return _Columns(time, kind == "minutes", temperature, unit, pressure, pressure_unit,
                    tuple(filter(None, left_out)))  # fmt: skip


def _reading(
    row: Sequence[str], c: _Columns, zone: tzinfo, start: datetime | None, comma: bool
) -> Reading:
    heat = _heat(_number(row[c.temperature], "temperature", comma), c.temperature_unit,
                 "temperature")  # fmt: skip
    force = None
    if c.pressure is not None:
        force = _force(_number(row[c.pressure], "pressure", comma), c.pressure_unit, "pressure")
    return Reading(_moment(row[c.time], c.minutes, zone, start, comma), heat, force)


def _moment(
    cell: str, minutes: bool, zone: tzinfo, start: datetime | None, comma: bool
) -> datetime:
    if minutes:
        value = _number(cell, "minutes", comma)
        if value is None:
            raise _Bad("minutes", cell, Wrong.NOT_A_NUMBER)
        assert start is not None  # asked before the first row was read
        return start + timedelta(minutes=value)
    try:
        at = datetime.fromisoformat(cell.strip())
        at = (at if at.tzinfo else at.replace(tzinfo=zone)).astimezone(UTC)
    except (ValueError, OverflowError):
        raise _Bad("time", cell, Wrong.NOT_A_TIME) from None
    if not on_calendar(at):
        raise _Bad("time", cell, Wrong.NOT_A_TIME)
    return at


def _number(cell: str, column: str, comma: bool) -> float | None:
    text = cell.strip()
    if not text:
        return None
    if comma:
        text = text.replace(",", ".", 1)
    if not text.isascii() or _NUMBER.fullmatch(text) is None:
        raise _Bad(column, cell, Wrong.NOT_A_NUMBER)
    return float(text)


def _heat(value: float | None, unit: str, column: str) -> float | None:
    if value is None:
        return None
    told = units.celsius(value, unit)
    if not COLDEST_C <= told <= HOTTEST_C:
        raise _Bad(f"{column}_{unit}", f"{value:g}", Wrong.TOO_COLD_OR_HOT)
    return told


def _force(value: float | None, unit: str, column: str) -> float | None:
    if value is None:
        return None
    told = units.kpa(value, unit)
    if not LOWEST_KPA <= told <= HIGHEST_KPA:
        raise _Bad(f"{column}_{unit}", f"{value:g}", Wrong.PRESSURE_BEYOND)
    return told
