"""The door for outside event logs: every bad row is named, and the promise is tried on the rest."""

import io
import random
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from django.core.management import CommandError, call_command

from plant.forecast import hours, outside, rolling
from plant.forecast.management.commands.forecast_log import opened
from plant.forecast.outside import Log

CHICAGO = ZoneInfo("America/Chicago")
ROWS = Path(__file__).with_name("log.csv")
TOLD = "case=Order,activity=Step,resource=Machine,start=From,end=To"


def read(text: str, *, zone: ZoneInfo = CHICAGO, by: tuple[str, ...] = ()) -> Log:
    return outside.read(io.StringIO(text), "", zone, by)


def told(*rows: str) -> str:
    return "\n".join(("case,activity,resource,start,end", *rows)) + "\n"


def small(by: tuple[str, ...] = ("ship",)) -> Log:
    return outside.read(ROWS.read_text().splitlines(), TOLD, CHICAGO, by)


def test_a_small_log_is_read() -> None:
    log = small()
    assert [case.name for case in log.cases] == ["A-1", "A-2", "A-3", "A-4"]
    assert (log.bad, log.rows, log.activities) == ((), 10, ("buff", "build", "ship"))
    first = log.cases[0]
    assert first.came == datetime(2026, 3, 2, 13, 0, tzinfo=UTC)
    assert first.finished == datetime(2026, 3, 2, 15, 0, tzinfo=UTC)
    assert [step.start is None for step in first.steps] == [False, False, True]


def test_a_row_that_is_there_twice_counts_once_and_is_named() -> None:
    """The same end, once with the zone's offset and once in UTC."""
    log = small()
    assert log.twice == (7,)
    assert [step.activity for step in log.cases[1].steps] == ["buff", "build", "ship"]


def test_a_case_that_was_not_closed_is_not_finished() -> None:
    assert [case.name for case in small().cases if case.finished is None] == ["A-3"]
    assert all(case.finished is not None for case in small(()).cases)


def test_a_night_without_an_hour_is_an_hour_shorter() -> None:
    """On 8 March 2026 clocks in Chicago go from 2 to 3: from 1:30 to 3:30 is one hour."""
    step = small().cases[3].steps[0]
    assert step.start is not None
    assert step.end - step.start == timedelta(hours=1)


@pytest.mark.parametrize(
    ("row", "field", "value"),
    [
        ("A,buff,,,2026-02-30 07:00", "end", "2026-02-30 07:00"),
        ("A,buff,,,", "end", ""),
        ("A,buff,,,soon", "end", "soon"),
        ("A,buff,,,0001-01-01", "end", "0001-01-01"),
        ("A,buff,,yesterday,2026-03-02 07:00", "start", "yesterday"),
        ("A,buff,,2026-03-02 08:00,2026-03-02 07:00", "start", "2026-03-02 08:00"),
        (",buff,,,2026-03-02 07:00", "case", ""),
        ("A,,,,2026-03-02 07:00", "activity", ""),
        ("A,buff", "end", ""),
    ],
)
def test_a_bad_row_is_named_and_its_case_left_out(row: str, field: str, value: str) -> None:
    log = read(told("A,build,,,2026-03-02 06:00", "B,buff,,,2026-03-02 06:00", row))
    (bad,) = log.bad
    assert (bad.line, bad.field, bad.value) == (4, field, value)
    assert bad.says().startswith(f"Line 4: {field} is {value!r}; allowed: ")
    assert [case.name for case in log.cases] == ["A", "B"][field != "case" :]


def test_a_line_break_inside_quotes_does_not_shift_the_lines() -> None:
    log = read(told('A,"buff\nagain",,,2026-03-02 06:00', "A,build,,,never"))
    assert [bad.line for bad in log.bad] == [4]


def test_empty_lines_are_no_rows() -> None:
    assert read(told("A,buff,,,2026-03-02 06:00", "", ",,,,")).rows == 1


@pytest.mark.parametrize(
    ("columns", "said"),
    [
        ("case=Order", "columns: activity is missing"),
        ("case=Order,activity=Step,end=Finish", "no column 'Finish'; allowed: Order, Step"),
        ("box=Order,activity=Step,end=To", "'box' is none; allowed: case, activity"),
    ],
)
def test_wrong_columns_are_named(columns: str, said: str) -> None:
    with pytest.raises(ValueError, match=said):
        outside.columns(columns, ["Order", "Step", "Machine", "From", "To"])


def test_what_closes_a_case_has_to_be_in_the_log() -> None:
    with pytest.raises(ValueError, match="no row has the activity 'sell'"):
        small(("sell",))


def a_shop(n: int, seed: int = 7, *, starts: bool = True) -> str:
    """A job shop of two stations and one optional, in working hours, as a CSV."""
    luck = random.Random(seed)
    begun = datetime(2026, 1, 5, 6, tzinfo=UTC)
    days = hours.of([(d * 24.0, d * 24.0 + 16) for d in range(400) if d % 7 < 5])
    free = {"buff": 0.0, "mend": 0.0, "build": 0.0}
    at, rows = 0.0, []
    for case in range(n):
        at += luck.expovariate(1 / 0.5)
        ready = at
        for step, mean in (("buff", 0.4), ("mend", 1.2), ("build", 0.35)):
            if step == "mend" and luck.random() > 0.3:
                continue
            start = max(ready, free[step])
            ready = free[step] = start + luck.gammavariate(3, mean / 3)
            when = [begun + timedelta(hours=hours.at_worked(days, x)) for x in (start, ready)]
            first = f"{when[0]:%Y-%m-%d %H:%M:%S}" if starts else ""
            rows.append(f"C{case},{step},{step}-1,{first},{when[1]:%Y-%m-%d %H:%M:%S}")
    return told(*rows)


@pytest.mark.parametrize("starts", [True, False])
def test_the_promise_is_tried_by_rolling_origin(starts: bool) -> None:
    log = read(a_shop(450, starts=starts), zone=ZoneInfo("UTC"))
    origin = datetime(2026, 1, 5, 6, tzinfo=UTC)
    days = hours.of([(d * 24.0, d * 24.0 + 16) for d in range(400) if d % 7 < 5])
    found = rolling.tried(log, origin, days, asked=0.9, most=130)
    assert 90 <= len(found) <= 130
    by = {line.name: line for line in rolling.lines(found, 0.9)}
    assert 0.8 <= by["ours"].kept <= 0.97
    assert by["ours"].equal_h < by["past"].equal_h
    assert by["ours"].equal_h < 0.7 * by["days"].equal_h


def an_oven(n: int, seed: int = 3) -> str:
    """Lumps of cases, a few minutes of work each, then an oven that takes up to eight at
    once for three hours whenever it is empty."""
    luck = random.Random(seed)
    begun = datetime(2026, 1, 5, tzinfo=UTC)
    at, bench, waiting, rows = 0.0, 0.0, [], []
    for case in range(n):
        at += luck.expovariate(1 / 3.0) if case % 6 == 0 else 0.0
        bench = max(at, bench) + luck.uniform(0.02, 0.06)
        waiting.append((bench, case))
        rows.append((case, "prepare", bench))
    free = 0.0
    while waiting:
        start = max(free, waiting[0][0])
        load = [one for one in waiting[:8] if one[0] <= start]
        waiting, free = waiting[len(load) :], start + 3.0
        rows += [(case, "bake", free) for _, case in load]
        rows += [(case, "check", free + 0.05 * (i + 1)) for i, (_, case) in enumerate(load)]
    return told(*(f"C{c},{step},,,{begun + timedelta(hours=h):%Y-%m-%d %H:%M}"
                  for c, step, h in rows))  # fmt: skip


def test_an_activity_that_does_several_at_once_is_simulated_so() -> None:
    log = read(an_oven(420), zone=ZoneInfo("UTC"))
    found = rolling.tried(log, datetime(2026, 1, 5, tzinfo=UTC), hours.ALWAYS, asked=0.9, most=120)
    by = {line.name: line for line in rolling.lines(found, 0.9)}
    assert by["ours"].kept >= 0.8
    assert by["ours"].equal_h < 0.7 * by["past"].equal_h


def test_what_comes_later_changes_no_earlier_promise() -> None:
    """The log cut off after a case was promised promises it the same."""
    text = a_shop(120).splitlines()
    origin = datetime(2026, 1, 5, tzinfo=UTC)
    whole = read("\n".join(text), zone=ZoneInfo("UTC"))
    promised = rolling.tried(whole, origin, hours.ALWAYS, asked=0.9, most=1000)
    some = {case.name: case for case in whole.cases[:90]}
    known = Log(tuple(some.values()), activities=whole.activities)
    again = rolling.tried(known, origin, hours.ALWAYS, asked=0.9, most=1000)
    assert len(again) > 10
    late = again[-1].case
    assert [one for one in promised if one.case == late] == again[-1:]


def test_how_long_open_cases_still_take_is_not_known() -> None:
    """What ends after a case came ends ten hours later: it is promised the same."""
    log = read(a_shop(90), zone=ZoneInfo("UTC"))
    origin = datetime(2026, 1, 5, tzinfo=UTC)
    last = rolling.tried(log, origin, hours.ALWAYS, asked=0.9, most=1000)[-1]
    came = next(case.came for case in log.cases if case.name == last.case)

    def later(at: datetime) -> datetime:
        return at + timedelta(hours=10) if at > came else at

    cases = tuple(
        replace(
            case,
            steps=tuple(replace(step, end=later(step.end)) for step in case.steps),
            finished=None if case.finished is None else later(case.finished),
        )
        for case in log.cases
    )
    slower = replace(log, cases=cases)
    again = rolling.tried(slower, origin, hours.ALWAYS, asked=0.9, most=1000)[-1]
    assert again.took > last.took
    assert replace(again, took=last.took) == last


def run(*arguments: str) -> tuple[str, str]:
    out, errors = io.StringIO(), io.StringIO()
    call_command("forecast_log", *arguments, stdout=out, stderr=errors)
    return out.getvalue(), errors.getvalue()


def test_the_command_prints_what_was_kept(tmp_path: Path) -> None:
    file = tmp_path / "log.csv"
    file.write_text("\ufeff" + a_shop(200))
    said, _ = run(str(file), "--open", "mon-fri=06:00-22:00", "--most", "40")
    assert "200 cases, 0 of them not finished, 3 activities." in said
    for name in ("simulated and corrected", "(a) fixed number of days", "(b) the past's quantile"):
        assert name in said


def test_the_command_stops_at_bad_rows_and_goes_on_without_them(tmp_path: Path) -> None:
    file = tmp_path / "log.csv"
    file.write_text(a_shop(150) + "C3,build,,,tomorrow\n" * 25)
    errors = io.StringIO()
    with pytest.raises(CommandError, match="25 faults in"):
        call_command("forecast_log", str(file), stdout=io.StringIO(), stderr=errors)
    assert errors.getvalue().count("end is 'tomorrow'; allowed: a date and time like") == 20
    assert "5 more rows are bad." in errors.getvalue()
    said, _ = run(str(file), "--leave-bad-rows-out", "--most", "10")
    assert "149 cases" in said


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--zone", "Mars/North"], "zone is 'Mars/North'; allowed: a name like America/Chicago"),
        (["--asked", "1.5"], "asked is 1.5; allowed: 0.5 to 0.99"),
        (["--most", "0"], "most is 0; allowed: 1 or more"),
        (["--open", "mon=6-22"], "open is 'mon=6-22'; allowed: days and times like"),
        (["--open", "mon=06:00-12:00,mon=11:00-14:00"], "allowed: times that do not overlap"),
        (["--columns", "case=No"], "the file has no column 'No'"),
        (["--finished-by", "sell"], "no row has the activity 'sell'"),
        ([], "Too few cases: 50 have to be finished"),
    ],
)
def test_a_wrong_option_is_named(arguments: list[str], said: str, tmp_path: Path) -> None:
    file = tmp_path / "log.csv"
    file.write_text(a_shop(20))
    with pytest.raises(CommandError, match=said):
        run(str(file), *arguments)


def test_a_file_that_is_not_there_is_named() -> None:
    with pytest.raises(CommandError, match=r"nowhere\.csv"):
        run("/nowhere.csv")


def test_open_hours_are_read() -> None:
    assert [s.weekday for s in opened("mon-wed=06:00-14:00,sat=22:00-02:00")] == [0, 1, 2, 5]
