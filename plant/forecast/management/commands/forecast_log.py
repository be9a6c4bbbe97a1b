"""`manage.py forecast_log FILE.csv`: try the promise on a production's event log.

Prints, by rolling origin, how many promises were kept and how long they were, beside a fixed number
of days and the past's quantile. Nothing is stored. The path `-` reads standard input.
"""

import sys
from argparse import ArgumentParser
from collections.abc import Iterable
from datetime import UTC, date, datetime, time, timedelta
from itertools import pairwise
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from django.core.management.base import BaseCommand, CommandError

from plant.dock.rules import Shift
from plant.forecast import calibration, hours, outside, rolling
from plant.forecast.outside import Log

SHOWN = 20
"""Bad rows that are printed; the rest is counted."""
NAMES = {
    "ours": "simulated and corrected",
    "raw": "simulated, not corrected",
    "days": "(a) fixed number of days",
    "past": "(b) the past's quantile",
}
WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


class Command(BaseCommand):
    help = "Try the promise on an event log: coverage and length beside two simple ways."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", metavar="FILE.csv", help="with a header; - reads what is piped")
        parser.add_argument(
            "--columns",
            default="",
            help="case=..,activity=..,resource=..,start=..,end=.. (resource and start may be left"
            " out); without it the columns have these names",
        )
        parser.add_argument("--zone", default="UTC", help="of times without an offset")
        parser.add_argument("--finished-by", action="append", default=[], metavar="ACTIVITY",
                            help="closes a case; without it a case's last row does")  # fmt: skip
        parser.add_argument("--open", default="", metavar="mon-fri=06:00-22:00",
                            help="when work goes on; without it always")  # fmt: skip
        parser.add_argument("--asked", type=float, default=0.9, help="from 0.5 to 0.99")
        parser.add_argument("--most", type=int, default=rolling.MOST, help="cases to promise")
        parser.add_argument("--leave-bad-rows-out", action="store_true",
                            help="go on without the cases that have bad rows")  # fmt: skip

    def handle(self, *args: Any, **options: Any) -> None:
        if not 0.5 <= options["asked"] <= 0.99:
            raise CommandError(f"asked is {options['asked']}; allowed: 0.5 to 0.99.")
        if options["most"] < 1:
            raise CommandError(f"most is {options['most']}; allowed: 1 or more.")
        try:
            zone = ZoneInfo(options["zone"])
            shifts = opened(options["open"])
            log = outside.read(
                _lines(options["file"]), options["columns"], zone, options["finished_by"]
            )
        except ZoneInfoNotFoundError as e:
            raise CommandError(
                f"zone is {options['zone']!r}; allowed: a name like America/Chicago."
            ) from e
        except (OSError, UnicodeDecodeError, ValueError) as e:
            raise CommandError(str(e)) from e
        self._said(log, leave_out=options["leave_bad_rows_out"])
        if not log.cases:
            raise CommandError("The log has no case that could be read.")
        origin, open_hours = _calendar(log, shifts, zone)
        found = rolling.tried(
            log, origin, open_hours, asked=options["asked"], most=options["most"], told=self._told
        )
        if not found:
            raise CommandError(
                f"Too few cases: {rolling.LEARN} have to be finished before the first is promised."
            )
        self._table(found, options["asked"])

    def _said(self, log: Log, *, leave_out: bool) -> None:
        for bad in log.bad[:SHOWN]:
            self.stderr.write(bad.says())
        if len(log.bad) > SHOWN:
            self.stderr.write(f"{len(log.bad) - SHOWN} more rows are bad.")
        if log.bad and not leave_out:
            raise CommandError(
                f"{len(log.bad)} faults in {log.rows} rows. Put them right, or go on without their"
                " cases: --leave-bad-rows-out."
            )
        if log.twice:
            lines = ", ".join(map(str, log.twice[:SHOWN]))
            more = f" and {len(log.twice) - SHOWN} more" if len(log.twice) > SHOWN else ""
            self.stdout.write(f"There before and counted once: lines {lines}{more}.")
        still = sum(case.finished is None for case in log.cases)
        self.stdout.write(
            f"{log.rows:,} rows, {len(log.cases):,} cases, {still:,} of them not finished,"
            f" {len(log.activities)} activities."
        )

    def _told(self, done: int, of: int) -> None:
        if self.stderr.isatty():
            self.stderr.write(f"\r{done} of {of}", ending="\n" if done == of else "")

    def _table(self, found: list[rolling.Tried], asked: float) -> None:
        corrected = sum(one.corrected for one in found)
        self.stdout.write(
            f"{len(found):,} promises at {asked:.0%}, {corrected:,} of them corrected (from"
            f" {calibration.LEAST} finished on). Hours are open hours.\n"
        )
        self.stdout.write(f"{'':28}{'kept':>8}{'mean h':>10}{'at equal coverage':>20}")
        for line in rolling.lines(found, asked):
            self.stdout.write(
                f"{NAMES[line.name]:28}{line.kept:8.1%}{line.mean_h:10.1f}{line.equal_h:20.1f}"
            )


def _lines(path: str) -> Iterable[str]:
    if path == "-":
        return sys.stdin
    return Path(path).read_text(encoding="utf-8-sig").splitlines(keepends=True)


def opened(told: str) -> list[Shift]:
    """`mon-fri=06:00-22:00,sat=06:00-12:00` as shifts; ValueError names what is wrong."""
    found = []
    for part in filter(None, told.split(",")):
        days, _, times = part.partition("=")
        try:
            first, last = (WEEKDAYS.index(d) for d in (days.strip().split("-") * 2)[:2])
            begins, ends = (time.fromisoformat(t.strip()) for t in times.split("-"))
        except ValueError as e:
            raise ValueError(
                f"open is {part!r}; allowed: days and times like mon-fri=06:00-22:00."
            ) from e
        found += [Shift(day, begins, ends) for day in range(first, last + 1)]
    for one, other in pairwise(sorted(found)):
        if one.weekday == other.weekday and other.begins < one.ends:
            raise ValueError(f"open is {told!r}; allowed: times that do not overlap.")
    return found


def _calendar(log: Log, shifts: list[Shift], zone: ZoneInfo) -> tuple[datetime, hours.Hours]:
    """The midnight before the first case, and the open hours from there until long after the last
    end."""
    first: date = min(case.came for case in log.cases).astimezone(zone).date()
    last = max(step.end for case in log.cases for step in case.steps)
    origin = datetime.combine(first, time(0), tzinfo=zone).astimezone(UTC)
    if not shifts:
        return origin, hours.ALWAYS
    weeks = (last - origin) // timedelta(weeks=1) + 60
    return origin, hours.week(shifts, (), zone, origin, weeks)
