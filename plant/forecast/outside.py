"""An event log of any production, read from a file: cases, their steps, and what is wrong with it.

Pure. A row is one step of one case: which activity, by which resource, when it began and ended. A
begin may be missing (most logs have ends only), a resource too. A time without an offset is in the
zone that the reader was told. Nothing is skipped in silence: a row that cannot be read is named by
line, field, value and what is allowed, and so is a row that is there twice.
"""

import csv
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime
from itertools import groupby
from zoneinfo import ZoneInfo

FIELDS = ("case", "activity", "resource", "start", "end")
NEEDED = ("case", "activity", "end")
FORMATS = ("%Y/%m/%d %H:%M:%S.%f", "%Y/%m/%d %H:%M:%S", "%Y/%m/%d %H:%M")
"""Read beside ISO 8601."""
LIKE = "a date and time like 2012-01-31 14:05 or 2012-01-31T14:05:00+02:00"
EARLIEST, LATEST = datetime(1970, 1, 1, tzinfo=UTC), datetime(2200, 1, 1, tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class Bad:
    """What is wrong with a row. line: in the file, the first is 1."""

    line: int
    field: str
    value: str
    allowed: str

    def says(self) -> str:
        return f"Line {self.line}: {self.field} is {self.value!r}; allowed: {self.allowed}."


@dataclass(frozen=True, slots=True)
class Step:
    """One row that could be read. start: None where the log has none."""

    case: str
    activity: str
    resource: str
    start: datetime | None
    end: datetime

    @property
    def first(self) -> datetime:
        return self.start or self.end


@dataclass(frozen=True, slots=True)
class Case:
    """One case: its steps by their end. finished: None where it is still open."""

    name: str
    steps: tuple[Step, ...]
    came: datetime
    finished: datetime | None


@dataclass(frozen=True, slots=True)
class Log:
    """cases: by when they came. twice: lines of rows that were there before, taken once."""

    cases: tuple[Case, ...] = ()
    bad: tuple[Bad, ...] = ()
    twice: tuple[int, ...] = ()
    rows: int = 0
    activities: tuple[str, ...] = field(default=())


def columns(told: str, header: Iterable[str]) -> dict[str, str]:
    """`case=Case ID,activity=Activity,...` as a mapping from our fields to the file's columns;
    ValueError names what is wrong. Without it the columns are named as our fields."""
    names = list(header)
    pairs = [part.partition("=") for part in told.split(",") if part.strip()]
    found = {ours.strip(): theirs.strip() for ours, _, theirs in pairs} or {
        one: one for one in FIELDS if one in names
    }
    for ours, theirs in found.items():
        if ours not in FIELDS:
            raise ValueError(f"columns: {ours!r} is none; allowed: {', '.join(FIELDS)}.")
        if theirs not in names:
            raise ValueError(
                f"columns: the file has no column {theirs!r}; allowed: {', '.join(names)}."
            )
    for ours in NEEDED:
        if ours not in found:
            raise ValueError(f"columns: {ours} is missing; needed: {', '.join(NEEDED)}.")
    return found


def read(lines: Iterable[str], told: str, zone: ZoneInfo, finished_by: Iterable[str] = ()) -> Log:
    """A log from the lines of a CSV file with a header. finished_by: activities whose end closes a
    case; without any, each case is closed by its last row. A case with a bad row is left out
    whole: what is missing of it would make it look faster."""
    reader = csv.reader(lines)
    header = next(reader, [])
    where = {ours: header.index(theirs) for ours, theirs in columns(told, header).items()}
    steps: list[Step] = []
    bad: list[Bad] = []
    spoiled: set[str] = set()
    twice: list[int] = []
    known: set[Step] = set()
    rows = 0
    for row in reader:
        if not any(cell.strip() for cell in row):
            continue
        rows += 1
        values = {ours: row[i].strip() if i < len(row) else "" for ours, i in where.items()}
        step, wrong = _step(values, reader.line_num, zone)
        bad += wrong
        if step is None:
            spoiled.add(values["case"])
        elif step in known:
            twice.append(reader.line_num)
        else:
            known.add(step)
            steps.append(step)
    closing = frozenset(finished_by)
    activities = tuple(dict.fromkeys(one.activity for one in steps))
    for name in sorted(closing - set(activities)):
        raise ValueError(f"finished by: no row has the activity {name!r}.")
    steps.sort(key=lambda s: (s.case, s.end, s.first))
    cases = [
        _case(name, tuple(its), closing)
        for name, its in groupby(steps, key=lambda s: s.case)
        if name not in spoiled
    ]
    cases.sort(key=lambda c: (c.came, c.name))
    return Log(tuple(cases), tuple(bad), tuple(twice), rows, activities)


def _step(values: Mapping[str, str], line: int, zone: ZoneInfo) -> tuple[Step | None, list[Bad]]:
    bad = [
        Bad(line, one, "", "something, not empty")
        for one in ("case", "activity")
        if not values[one]
    ]
    end = _instant(values["end"], zone)
    start = _instant(values["start"], zone) if values.get("start") else None
    if end is None:
        bad.append(Bad(line, "end", values["end"], LIKE))
    if values.get("start") and start is None:
        bad.append(Bad(line, "start", values["start"], LIKE))
    if end is not None and start is not None and start > end:
        bad.append(Bad(line, "start", values["start"], f"not after the end, {values['end']}"))
    if bad or end is None:
        return None, bad
    step = Step(values["case"], values["activity"], values.get("resource", ""), start, end)
    return step, bad


def _instant(told: str, zone: ZoneInfo) -> datetime | None:
    read = (_by(form, told) for form in (None, *FORMATS))
    at = next((one for one in read if one is not None), None)
    if at is None:
        return None
    try:
        instant = (at if at.tzinfo else at.replace(tzinfo=zone)).astimezone(UTC)
    except OverflowError:
        return None
    return instant if EARLIEST <= instant <= LATEST else None


def _by(form: str | None, told: str) -> datetime | None:
    """ISO 8601 without a form."""
    try:
        if form is None:
            return datetime.fromisoformat(told)
        return datetime.strptime(told, form)  # noqa: DTZ007
    except ValueError:
        return None


def _case(name: str, steps: tuple[Step, ...], closing: frozenset[str]) -> Case:
    came = min(one.first for one in steps)
    ends = [one.end for one in steps if not closing or one.activity in closing]
    return Case(name, steps, came, max(ends) if ends else None)
