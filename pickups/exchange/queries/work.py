"""Casings and work orders, and scrap that was counted, as rows for a spreadsheet.

Read in portions of 500 and never all in memory. Days and instants are ISO 8601, instants in UTC.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from itertools import islice
from typing import Any, TypeVar
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.casings import condition, reasons, tread
from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.custody import queries as custody
from pickups.custody.queries import VisitLine
from pickups.customers import queries as customers
from pickups.exchange.queries.files import Table
from pickups.exchange.rules.cells import guarded
from pickups.exchange.words.work import code, say
from pickups.kernel.clock import rfc3339
from pickups.people import queries as people
from pickups.promises import queries as promises

PORTION = 500
CASINGS = ("label", "contested", "tins", "size", "brand", "lowest", "mean", "treads", "line",
           "work", "basis", "promised", "promised_where", "progress", "station", "on_hold",
           "reason", "holder", "owner", "owned_by", "owned_since", "customer", "customer_number",
           "yard", "picked_up_at", "visit", "purchase_order", "unit", "position", "pulled_for",
           "findings", "verdict", "because", "overruled", "note", "work_order",
           "casing")  # fmt: skip
SCRAP = ("counted_at", "customer", "customer_number", "yard", "count", "fee", "manifest", "note",
         "visit")  # fmt: skip
T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Chosen:
    """Which work orders: of one customer, picked up on these days of the dealer's zone, so far."""

    customer: UUID | None = None
    first: date | None = None
    last: date | None = None
    progress: str = ""

    @property
    def span(self) -> tuple[datetime | None, datetime | None]:
        """From the first day's midnight to the one after the last day's end."""
        zone = ZoneInfo(settings.DEALER_TIME_ZONE)
        end = self.last + timedelta(days=1) if self.last and self.last < date.max else None
        return _midnight(self.first, zone), _midnight(end, zone)


def _midnight(day: date | None, zone: ZoneInfo) -> datetime | None:
    return datetime.combine(day, time(), zone) if day else None


def tables(chosen: Chosen, language: str) -> dict[str, Callable[[], Table]]:
    """The lists by name; each is read when it is asked for."""
    return {
        "casings": lambda: _table("casings", CASINGS, _casings(chosen, language), language),
        "scrap": lambda: _table("scrap", SCRAP, _scrap(chosen, language), language),
    }


def _table(
    title: str, keys: Sequence[str], rows: Iterable[Mapping[str, str]], language: str
) -> Table:
    headings = [say(language, key) for key in keys]
    told = ([guarded(row[key]) for key in keys] for row in rows)
    return say(language, title), headings, told


def _portions(rows: Iterable[T]) -> Iterator[list[T]]:
    own = iter(rows)
    while portion := list(islice(own, PORTION)):
        yield portion


def _casings(chosen: Chosen, language: str) -> Iterator[dict[str, str]]:
    since, until = chosen.span
    rows = casings.picked_up(
        customer=chosen.customer, since=since, until=until, progress=chosen.progress
    )
    sites = {s.uid: s.name for s in people.sites()}
    for portion in _portions(rows):
        names = _Names(portion, [w.holder for w in portion], sites, language)
        days = promises.standing([w.uid for w in portion if w.told.get("promised")])
        for w in portion:
            promised = days.get(w.uid)
            yield {
                **_told(w, language),
                **(whose := names.of(w.customer, w.yard)),
                "owner": settings.DEALER_NAME if w.casing.dealers else whose["customer"],
                "holder": names.holder(w.holder),
                "promised": promised.on.isoformat() if promised else "",
            }


def _told(w: WorkOrder, language: str) -> dict[str, str]:
    """What of a row needs nothing but the work order."""
    told = w.told
    check: Mapping[str, Any] = told.get("check") or {}
    return {
        "label": w.label,
        "contested": say(language, "yes") if w.contested else "",
        "tins": " | ".join(t["tin"] for t in told.get("tins", [])) or told.get("tin", ""),
        "size": told.get("size", ""),
        "brand": told.get("brand", ""),
        **_treads(told),
        "line": code(language, "line", told.get("line") or "retread"),
        "work": code(language, "work", told.get("work")),
        "basis": code(language, "basis", told.get("basis")),
        "promised_where": code(language, "to", told.get("promised") and told.get("back_to")),
        "progress": code(language, "progress", w.progress),
        "station": reasons.station(w.station, language),
        "on_hold": say(language, "yes") if w.on_hold else "",
        "reason": reasons.words(w.reason, language) if w.reason else "",
        "owned_by": code(language, "owned", w.casing.dealers),
        "owned_since": rfc3339(w.casing.owned_since) if w.casing.owned_since else "",
        "picked_up_at": rfc3339(w.picked_up_at),
        "visit": str(w.pickup),
        "purchase_order": told.get("purchase_order", ""),
        "unit": told.get("unit", ""),
        "position": code(language, "position", told.get("position")),
        "pulled_for": code(language, "pulled", told.get("pulled_for")),
        "findings": " | ".join(_found(f, language) for f in told.get("findings", [])),
        "verdict": code(language, "verdict", check.get("verdict")),
        "because": " | ".join(check.get("because", [])),
        "overruled": check.get("overruled", ""),
        "note": told.get("note", ""),
        "work_order": str(w.uid),
        "casing": str(w.casing_id),
    }


def _treads(told: Mapping[str, Any]) -> dict[str, str]:
    places = told.get("treads_32nds") or [told.get("tread_32nds", [])]
    measured = tread.measure(places)
    shown = " | ".join(" ".join("-" if d is None else str(d) for d in p) for p in places if p)
    if measured.lowest is None or measured.mean is None:
        return {"lowest": "", "mean": "", "treads": shown}
    return {"lowest": str(measured.lowest), "mean": f"{measured.mean:.1f}", "treads": shown}


def _found(finding: Mapping[str, Any], language: str) -> str:
    kind = condition.kind_in_words(finding["kind"], language)
    more = [condition.zone_in_words(finding["zone"], language)]
    if finding.get("mm"):
        more.append(f"{finding['mm']} mm")
    if finding.get("count", 1) > 1:
        more.append(f"x {finding['count']}")
    return f"{kind} ({', '.join(more)})"


def _scrap(chosen: Chosen, language: str) -> Iterator[dict[str, str]]:
    since, until = chosen.span
    rows = custody.counted_scrap(customer=chosen.customer, since=since, until=until)
    for portion in _portions(rows):
        names = _Names(portion, [], {}, language)
        for line in portion:
            fee = line.told.get("fee_cents")
            yield {
                **names.of(line.customer, line.yard),
                "counted_at": rfc3339(line.told_at),
                "count": str(line.told.get("count", 0)),
                "fee": f"{fee // 100}.{fee % 100:02}" if fee is not None else "",
                "manifest": line.told.get("manifest", ""),
                "note": line.told.get("note", ""),
                "visit": str(line.pickup),
            }


class _Names:
    """What the ids of a portion are called."""

    def __init__(
        self,
        portion: Sequence[WorkOrder | VisitLine],
        holders: Iterable[str],
        sites: Mapping[UUID, str],
        language: str,
    ) -> None:
        held = [_pair(holder) for holder in holders]
        own = {w.customer for w in portion if w.customer}
        own |= {uid for kind, uid in held if kind == "customer" and uid}
        self._customers = customers.called(own)
        self._yards = customers.yard_bodies([w.yard for w in portion])
        self._persons = people.names(uid for kind, uid in held if kind == "person" and uid)
        self._sites, self._language = sites, language

    def of(self, customer: UUID | None, yard: UUID) -> dict[str, str]:
        """From whom and where it came."""
        number, name = self._customers.get(customer, ("", "")) if customer else ("", "")
        known = self._yards.get(yard)
        there = str(known["name"]) if known else say(self._language, "nobody")
        return {"customer": name, "customer_number": number, "yard": there}

    def holder(self, text: str) -> str:
        """Who has it."""
        kind, uid = _pair(text)
        if kind == "road":
            return say(self._language, "road")
        nobody = say(self._language, "nobody")
        if uid is None:
            return nobody
        if kind == "customer":
            return self._customers.get(uid, ("", nobody))[1]
        return (self._persons if kind == "person" else self._sites).get(uid, nobody)


def _pair(holder: str) -> tuple[str, UUID | None]:
    kind, _, key = holder.partition(":")
    try:
        return kind, UUID(key)
    except ValueError:
        return kind, None
