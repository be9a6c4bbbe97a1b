"""Scrap that was counted and casings that were left there, told of a pickup or told again.

Facts under no label; the row of `VisitLine` is what stands of each line. A finished pickup is held
against its lines as it is against its casings, whichever came first. The caller holds the lock key
of the pickup, and what a correction names is here.
"""

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any
from uuid import UUID

from pickups.custody import doubts, ledger, lines, visits
from pickups.custody.fold import Fact
from pickups.custody.ledger import Told
from pickups.custody.lines import Line
from pickups.custody.models import VisitLine
from pickups.customers import queries as customers
from pickups.customers.services import scope
from pickups.journal import services as journal
from pickups.kernel import clock
from pickups.questions import services as questions
from pickups.questions.rules import Kind as Question
from pickups.questions.services import Ask
from pickups.sync import services as sync
from pickups.sync.rules import Change


def tell(told: Told, *, site: UUID, at: datetime) -> str:
    """A line, or one told again. Returns the kind of the question raised, or "".

    told: a fact of kind scrap or left; its `told` holds `visit`, `yard`, `store` and what was
    counted or seen. One that names a correction tells that one's original again. One that names
    what is no line of its kind and pickup is kept, changes nothing and is asked about. site: the
    store that sees the line where the yard is not known.
    """
    known, original = _original(told.fact)
    fact = replace(told.fact, corrects=original.uid) if original else told.fact
    ledger.append([replace(told, fact=fact)], at=at, work_orders={})
    asks = list(doubts.about_teller(told, at))
    found: dict[UUID, str] = {}
    if fact.corrects is not None and (original is None or not lines.fits(original, fact)):
        named = {"fact": str(fact.uid), "corrects": str(told.fact.corrects)}
        asks.append(Ask(Question.CORRECTION_PARKED, f"fact:{fact.uid}", named))
    else:
        line = lines.standing([*known, fact])[fact.corrects or fact.uid]
        asks += _project(line, told, site)
        found = visits.review({line.pickup}, at=at)
    questions.ask(asks, at=at)
    said = {"fact": str(fact.uid)} | ({"question": asks[0].kind.value} if asks else {})
    note = journal.Note(f"pickup.{fact.kind}", f"fact:{fact.uid}", {"facts": [said]})
    journal.record([note], at=at)
    return asks[0].kind.value if asks else next(iter(found.values()), "")


def _original(correction: Fact) -> tuple[list[Fact], Fact | None]:
    """What was told before of the line that is told again, and its first telling."""
    if correction.corrects is None:
        return [], None
    named = ledger.under([], [correction.corrects])
    first = next(k.fact for k in named if k.fact.uid == correction.corrects)
    if first.corrects is not None:
        named = ledger.under([], [first.corrects])
    known = [k.fact for k in named]
    root = first.corrects or first.uid
    return known, next((f for f in known if f.uid == root and f.corrects is None), None)


def _project(line: Line, told: Told, site: UUID) -> list[Ask]:
    """Bring the row of a line up to date; a version rises only where something has changed."""
    known = VisitLine.objects.select_for_update(no_key=True).filter(uid=line.uid).first()
    owner = customers.owners([line.yard]).get(line.yard)
    customer, home = owner or (None, known.site if known else site)
    says: dict[str, Any] = {
        "yard": line.yard,
        "customer": customer,
        "site": home,
        "withdrawn": line.withdrawn,
        "told": dict(line.told),
    }
    if known is None:
        assert told.by is not None  # an operation always says who entered it
        row = VisitLine(uid=line.uid, kind=line.kind.value, pickup=line.pickup, store=line.store,
                        told_at=told.happened_at, by=told.by, **says)  # fmt: skip
        row.save(force_insert=True)
        sync.put([Change(scope(home), "visit_line", line.uid, 1)])
    elif any(getattr(known, name) != value for name, value in says.items()):
        VisitLine.objects.filter(uid=line.uid).update(**says, version=known.version + 1)
        changes = [Change(scope(home), "visit_line", line.uid, known.version + 1)]
        if known.site != home:
            gone = Change(scope(known.site), "visit_line", line.uid, known.version + 1, gone=True)
            changes.append(gone)
        sync.put(changes)
    named = {"fact": str(told.fact.uid)}
    asks = [] if owner else [Ask(Question.YARD_UNKNOWN, f"yard:{line.yard}", named)]
    if known is not None and known.site != site:
        about = {**named, "corrects": str(line.uid), "site": str(site)}
        asks.append(Ask(Question.OTHER_STORE, f"fact:{told.fact.uid}", about))
    return asks


def bodies(uids: Sequence[UUID]) -> dict[UUID, dict[str, Any]]:
    """Lines as the feed gives them to a phone."""
    return {
        v.uid: {
            "kind": v.kind,
            "pickup": str(v.pickup),
            "yard": str(v.yard),
            "store": str(v.store) if v.store else None,
            "withdrawn": v.withdrawn,
            "at": clock.rfc3339(v.told_at),
            "count": v.told.get("count", 0),
            "fee_cents": v.told.get("fee_cents"),
            "manifest": v.told.get("manifest", ""),
            "tins": v.told.get("tins", []),
            "size": v.told.get("size", ""),
            "brand": v.told.get("brand", ""),
            "findings": v.told.get("findings", []),
            "check": v.told.get("check"),
            "note": v.told.get("note", ""),
            "photos": v.told.get("photos", []),
        }
        for v in VisitLine.objects.filter(uid__in=list(uids))
    }
