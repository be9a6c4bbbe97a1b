"""A store's rack: what was scanned to it and to nobody since, the longest there first."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.casings.rules import DONE
from pickups.custody import queries as custody
from pickups.customers import queries as customers
from pickups.desk import words
from pickups.desk.queries.loose import Line, Lines, names_for
from pickups.desk.queries.names import Names
from pickups.kernel import clock
from pickups.kernel.languages import day_in_words
from pickups.people.models import Site
from pickups.runs import queries as runs
from pickups.runs import rules
from pickups.runs.models import Run

Rejects = Mapping[tuple[UUID, UUID], str]
"""What is done with rejects, by customer and yard."""


@dataclass(frozen=True)
class Lying:
    """One casing on the rack; sheet is the sheet that takes it, where one does and the reader may
    see it."""

    line: Line
    owner: str
    waits: str
    since: str
    sheet: UUID | None
    sheet_said: str


@dataclass(frozen=True)
class Rack:
    """The whole rack."""

    title: str
    count: str
    casings: Sequence[Lying]


def rack(language: str, store: Site, *, at: datetime) -> Rack:
    """What lies on a store's rack at this moment."""
    holder = f"site:{store.uid}"
    orders = casings.held_by(holder)
    names = names_for(language, orders)
    since = {
        uid: [f.happened_at for f in told if f.holder == holder][-1]
        for uid, told in custody.holdings(w.uid for w in orders).items()
        if any(f.holder == holder for f in told)
    }
    orders.sort(key=lambda w: since.get(w.uid, w.picked_up_at))
    sheets = runs.on_sheets(w.uid for w in orders)
    lines = Lines(names, orders, site=store.uid, at=at)
    rejects = customers.rejects((w.customer, w.yard) for w in orders if w.customer and w.reason)
    made = [
        _lying(w, since.get(w.uid, w.picked_up_at), sheets.get(w.uid), store.uid, lines, rejects)
        for w in orders
    ]
    n = len(made)
    key = "rack_one" if n == 1 else "rack_n"
    return Rack(
        names.say("rack_of", store=store.name),
        names.say(key, n=n, kg=n * rules.KG_A_CASING) if n else "",
        made,
    )


def _lying(
    w: WorkOrder, since: datetime, sheet: Run | None, store: UUID, lines: Lines, rejects: Rejects
) -> Lying:
    names = lines.names
    local = clock.local(since, ZoneInfo(settings.DEALER_TIME_ZONE))
    age = words.span(names.language, (lines.at - since).total_seconds())
    return Lying(
        line=lines.line(w),
        owner=settings.DEALER_NAME if w.casing.dealers else names.place(w.yard),
        waits=_waits(w, names, rejects),
        since=names.say("rack_since_ago", when=words.day_and_time(names.language, local), age=age),
        sheet=sheet.uid if sheet and sheet.site_id == store else None,
        sheet_said=_on(sheet, names),
    )


def _waits(w: WorkOrder, names: Names, rejects: Rejects) -> str:
    if w.progress not in DONE:
        return names.say("rack_for_plant")
    if w.casing.dealers:
        return names.say("rack_for_nobody")
    if w.reason:
        what = rejects[w.customer, w.yard] if w.customer else "ask"
        return names.say(f"rack_rejected_{what}")
    counter = w.told.get("back_to") == "store"
    return names.say("rack_for_counter" if counter else "rack_for_home")


def _on(sheet: Run | None, names: Names) -> str:
    if sheet is None:
        return names.say("rack_loose")
    vehicle = sheet.vehicle or names.say("sheet_no_vehicle")
    return names.say("rack_on_sheet", day=day_in_words(names.language, sheet.on), vehicle=vehicle)
