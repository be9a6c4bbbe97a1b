"""The page of the load sheets: which there are, by day, with how far each has come; whose stores
a reader sees; and what the forms of a sheet's head offer.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from uuid import UUID

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.desk.queries.loose import today_of
from pickups.desk.queries.names import Names
from pickups.desk.queries.on_the_way import given_elsewhere
from pickups.kernel.languages import day_in_words
from pickups.people import queries as people
from pickups.people.models import Site, User
from pickups.runs import queries as runs
from pickups.runs.models import Run
from pickups.runs.rules import Head

AHEAD = timedelta(days=6)
"""How far the list looks ahead."""


@dataclass(frozen=True)
class Row:
    """One sheet in the list."""

    uid: UUID
    vehicle: str
    driver: str
    trip: str
    counts: str
    state: str
    state_said: str


@dataclass(frozen=True)
class Day:
    """The sheets of one day; none where today has none."""

    title: str
    sheets: Sequence[Row]


@dataclass(frozen=True)
class Offered:
    """What the head of a sheet can say: the drivers of the store, where it can load."""

    drivers: Sequence[tuple[str, str]]
    sites: Sequence[Site]
    kinds: Sequence[tuple[str, str]]


def stores_of(user: User) -> list[Site]:
    """The stores whose sheets a person sees: their own; every one for an administrator or sales
    manager who belongs to none."""
    stores = [s for s in people.sites() if s.kind == "store"]
    own = [s for s in stores if s.uid == user.site_id]
    return own or (stores if user.role in ("admin", "sales") else [])


def days(language: str, site: UUID, *, at: datetime, on: date | None = None) -> list[Day]:
    """Today and the next days that have sheets, after those of earlier days that are not over; or
    one day alone."""
    names, today = Names(language), today_of(at)
    if on is not None:
        rows = runs.sheets(site, since=on, until=on)
        return [Day(day_in_words(language, on), _rows(rows, names))] if rows else []
    found = []
    if left := runs.left_over(site, before=today):
        found.append(Day(names.say("sheets_left"), _rows(left, names, dated=True)))
    by_day: dict[date, list[Run]] = {today: []}
    for run in runs.sheets(site, since=today, until=today + AHEAD):
        by_day.setdefault(run.on, []).append(run)
    for day, sheets in by_day.items():
        said = day_in_words(language, day)
        title = names.say("sheets_today", day=said) if day == today else said
        found.append(Day(title, _rows(sheets, names)))
    return found


def _rows(sheets: Iterable[Run], names: Names, *, dated: bool = False) -> list[Row]:
    sheets = list(sheets)
    drops = runs.dropped(run.uid for run in sheets)
    orders = casings.work_orders(uid for uids in drops.values() for uid in uids)
    return [
        _row(run, [orders[u] for u in drops.get(run.uid, ()) if u in orders], names, dated=dated)
        for run in sheets
    ]


def _row(run: Run, drops: Sequence[WorkOrder], names: Names, *, dated: bool) -> Row:
    stops = run.stop_count  # type: ignore[attr-defined]  # counted by the query
    elsewhere = given_elsewhere(drops, out=run.state != run.State.WRITTEN)
    vehicle = run.vehicle or names.say("sheet_no_vehicle")
    key = "sheet_counts_one" if stops == 1 else "sheet_counts"
    return Row(
        run.uid,
        f"{day_in_words(names.language, run.on)}, {vehicle}" if dated else vehicle,
        str(run.driver) if run.driver else names.say("sheet_no_driver"),
        names.say(f"sheet_kind_{run.kind}"),
        names.say(key, stops=stops, drops=len(drops) - len(elsewhere)),
        run.state,
        names.say(f"sheet_short_{run.state}"),
    )


def offered(language: str, site: UUID, *, also: User | None = None) -> Offered:
    """The lists of a sheet's head. also: who drives it, if they work here no more."""
    names = Names(language)
    kinds = [(kind, names.say(f"sheet_kind_{kind}")) for kind in ("route", "transfer")]
    drivers = people.drivers(site)
    if also is not None and also not in drivers:
        drivers.append(also)
    return Offered([(str(d.uid), str(d)) for d in drivers], people.sites(), kinds)


def typed_of(head: Head) -> dict[str, str]:
    """A head as the fields of its form hold it."""
    return {
        "on": head.on.isoformat(),
        "start": str(head.start),
        "kind": head.kind,
        "vehicle": head.vehicle,
        "driver": str(head.driver or ""),
        "note": head.note,
    }
