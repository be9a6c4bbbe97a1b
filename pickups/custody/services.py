"""Record facts and fold them: the only door to the ledger.

The caller of `record` has an open transaction and holds the lock keys of every label and pickup
concerned; `withdraw`, the office's own verb, sees to that itself.
Facts are folded with what is known of their labels, work orders are locked, then all is written:
facts, work orders, feed, questions, journal. A fact recorded before is skipped, so everything
here is safe to repeat. Nothing here can refuse a fact; what cannot be true becomes a question.
"""

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID

from django.db import OperationalError, transaction

from pickups.casings import queries as casings_read
from pickups.casings import services as casings
from pickups.casings.models import WorkOrder
from pickups.casings.services import Standing
from pickups.custody import fold, ledger
from pickups.custody.fold import Claim, Fact, Kind, LabelView
from pickups.custody.ledger import Kept, Told
from pickups.customers import queries as customers
from pickups.customers.services import scope
from pickups.journal import services as journal
from pickups.kernel import clock, ids, locks
from pickups.kernel.locks import label_key
from pickups.labels import queries as labels
from pickups.people import queries as people
from pickups.questions import services as questions
from pickups.questions.rules import Kind as Question
from pickups.questions.services import Ask
from pickups.sync import services as sync
from pickups.sync.rules import Change

AHEAD = timedelta(minutes=5)
"""How far ahead of our clock a fact may be, its sender's skew taken off, before we ask."""

Owners = Mapping[UUID, tuple[UUID, UUID]]


def record(told: Sequence[Told], *, site: UUID, at: datetime) -> dict[UUID, str]:
    """Record facts; returns, for each that raised a question, the question's kind.

    site: the store that sees the work where the yard is unknown. told may repeat what is known.
    """
    touched, kept = _reach(told)
    known = {k.fact.uid for k in kept}
    new = list({t.fact.uid: t for t in told if t.fact.uid not in known}.values())
    facts = [*(k.fact for k in kept), *(t.fact for t in new)]
    views = fold.labels(facts, touched)
    claims = fold.claims(facts)
    orders = {w.uid: w for w in casings_read.locked(labels=touched, uids=[c.uid for c in claims])}
    owners = customers.owners({UUID(c.fact.told["yard"]) for c in claims})
    first = {f.uid: f.told["at"] for f in facts if f.kind is Kind.PICKED_UP and not f.corrects}
    standings = [
        _standing(c, views[c.fact.label], first[c.uid], owners, orders.get(c.uid), site)
        for c in claims
    ]
    whose = _whose(views, claims)
    ledger.append(new, at=at, work_orders=whose)
    ledger.adopt(_moved(kept, whose, touched))
    _project(standings, orders)
    codes = _ask(new, claims, views, owners, at)
    _settle(views, standings, orders, at)
    journal.record(_notes(new, whose, codes), at=at)
    return codes


def withdraw(*, work_order: UUID, reason: str, by: UUID) -> bool:
    """The office takes a pick_up back as a mistake; returns False where none of that id stands.

    Opens a transaction and takes the lock keys itself. The stamp is later than that of every
    correction known, so that a phone whose clock runs ahead does not win over the office. Safe to
    repeat. Raises OperationalError where the casing is moved to another label just then.
    """
    at = clock.now()
    with transaction.atomic():
        known = casings_read.work_order(work_order)
        if known is None:
            return False
        locks.take([locks.pickup_key(known.pickup), label_key(known.label)])
        order = casings_read.work_order(work_order)
        if order is None or order.withdrawn:
            return False
        if (order.pickup, order.label) != (known.pickup, known.label):
            raise OperationalError("the casing was moved meanwhile")
        kept = ledger.under([order.label], [work_order])
        stamps = [k.fact.stamp for k in kept if work_order in (k.fact.uid, k.fact.corrects)]
        fact = Fact(
            uid=ids.uuid7(),
            kind=Kind.WITHDRAWN,
            label=order.label,
            stamp=max([clock.to_ms(at), *(stamp + 1 for stamp in stamps)]),
            corrects=work_order,
            told={"at": clock.rfc3339(at), "reason": reason},
        )
        told = Told(fact, happened_at=at, by=by, device=None, skew_ms=None)
        record([told], site=order.site, at=at)
    return True


def _reach(told: Sequence[Told]) -> tuple[list[str], list[Kept]]:
    """Every label that these facts touch, and what is known under them.

    A correction of a correction may reach labels that the caller could not know; their keys are
    tried, never waited for, so that the order of locks stands. Raises OperationalError where one
    is busy: the sender tries again.
    """
    touched = {t.fact.label for t in told}
    touched |= {t.fact.told["original_label"] for t in told if "original_label" in t.fact.told}
    # An original that is new here may find corrections of it that came before, under any label.
    originals = sorted({t.fact.corrects or t.fact.uid for t in told})
    while True:
        kept = ledger.under(sorted(touched), originals)
        further = {k.fact.label for k in kept} - touched
        if not further:
            return sorted(touched), kept
        if not locks.try_take(label_key(label) for label in further):
            raise OperationalError("a label of an earlier correction is busy")
        touched |= further


def _standing(
    claim: Claim,
    view: LabelView,
    at: str,
    owners: Owners,
    order: WorkOrder | None,
    site: UUID,
) -> Standing:
    """A work order as the facts have it; a contested one hears nothing of its label."""
    told = claim.fact.told
    contested = view.contested and not claim.withdrawn
    state = fold.progress(claim.fact, () if contested or claim.withdrawn else view.facts)
    yard = UUID(told["yard"])
    customer, home = owners.get(yard, (None, order.site if order else site))
    return Standing(
        uid=claim.uid,
        casing=order.casing_id if order else claim.uid,
        pickup=UUID(told["pickup"]),
        yard=yard,
        customer=customer,
        site=home,
        label=claim.fact.label,
        progress=state.progress,
        station=state.station,
        reason=state.reason,
        on_hold=state.on_hold,
        contested=contested,
        withdrawn=claim.withdrawn,
        holder=state.holder,
        picked_up_at=datetime.fromisoformat(at),
        told={k: told[k] for k in ("tin", "size", "tread_32nds", "note", "photos") if told.get(k)},
    )


def _whose(views: Mapping[str, LabelView], claims: Sequence[Claim]) -> dict[UUID, UUID]:
    """For each fact that is somebody's: the work order. A contested label's are nobody's."""
    whose = {claim.uid: claim.uid for claim in claims}
    for view in views.values():
        if len(view.claims) == 1:
            for fact in view.facts:
                whose[fact.uid] = view.claims[0].uid
    return whose


def _moved(
    kept: Sequence[Kept], whose: Mapping[UUID, UUID], touched: Sequence[str]
) -> dict[UUID, UUID | None]:
    """Facts recorded before that belong to somebody else now, or to nobody."""
    return {
        k.fact.uid: whose.get(k.fact.uid)
        for k in kept
        if k.fact.label in touched
        and k.fact.corrects is None
        and whose.get(k.fact.uid) != k.work_order
    }


def _project(standings: Sequence[Standing], orders: Mapping[UUID, WorkOrder]) -> None:
    begun = [s for s in standings if s.uid not in orders]
    moved = [s for s in standings if s.uid in orders and _differs(s, orders[s.uid])]
    fresh = [s for s in begun if s.casing == s.uid]
    casings.begin(
        begun, casings=[(s.casing, s.told.get("tin", ""), s.told.get("size", "")) for s in fresh]
    )
    versions = casings.advance(moved)
    changes = [Change(scope(s.site), "work_order", s.uid, versions.get(s.uid, 1)) for s in begun]
    for s in moved:
        changes.append(Change(scope(s.site), "work_order", s.uid, versions[s.uid]))
        old = orders[s.uid].site
        if old != s.site:
            changes.append(Change(scope(old), "work_order", s.uid, versions[s.uid], gone=True))
    sync.put(changes)


_SEEN = ("pickup", "yard", "customer", "site", "label", "progress", "station", "reason",
         "on_hold", "contested", "withdrawn", "holder", "picked_up_at", "told")  # fmt: skip


def _differs(standing: Standing, order: WorkOrder) -> bool:
    return any(getattr(standing, name) != getattr(order, name) for name in _SEEN)


def _ask(
    new: Sequence[Told],
    claims: Sequence[Claim],
    views: Mapping[str, LabelView],
    owners: Owners,
    at: datetime,
) -> dict[UUID, str]:
    """Open what a person has to decide; the first question that a fact raised is its code."""
    asks: list[Ask] = []
    codes: dict[UUID, str] = {}

    def raise_question(uid: UUID, kind: Question, subject: str, facts: Mapping[str, Any]) -> None:
        codes.setdefault(uid, kind.value)
        asks.append(Ask(kind, subject, facts))

    for view in views.values() if new else ():
        subject = f"label:{view.label}"
        if view.contested:
            rivals = {"work_orders": [str(c.uid) for c in view.claims]}
            asks.append(Ask(Question.LABEL_CONTESTED, subject, rivals))
        for conflict in _conflicts(view):
            named = {"conflict": conflict, "label": view.label}
            asks.append(Ask(Question.IMPOSSIBLE_ORDER, subject, named))
    standing = {c.uid for c in claims}
    printed = labels.printed({t.fact.label for t in new if t.fact.kind is Kind.PICKED_UP})
    strangers = people.unknown_people({t.by for t in new if t.by is not None})
    for t in new:
        fact, uid = t.fact, t.fact.uid
        view = views[fact.label]
        if view.contested:
            codes[uid] = Question.LABEL_CONTESTED.value
        elif _conflicts(view):
            codes[uid] = Question.IMPOSSIBLE_ORDER.value
        if fact.kind is Kind.PICKED_UP:
            if fact.label not in printed:
                said = {"work_order": str(fact.corrects or uid)}
                raise_question(uid, Question.LABEL_NOT_PRINTED, f"label:{fact.label}", said)
            yard = fact.told["yard"]
            if (fact.corrects or uid) in standing and UUID(yard) not in owners:
                raise_question(uid, Question.YARD_UNKNOWN, f"yard:{yard}", {"fact": str(uid)})
        if t.by in strangers:
            raise_question(uid, Question.PERSON_UNKNOWN, f"person:{t.by}", {"fact": str(uid)})
        if clock.to_ms(t.happened_at) - (t.skew_ms or 0) > clock.to_ms(at + AHEAD):
            ahead = {"happened_at": t.happened_at.isoformat(), "device": str(t.device)}
            raise_question(uid, Question.FROM_THE_FUTURE, f"fact:{uid}", ahead)
    questions.ask(asks, at=at)
    return codes


def _conflicts(view: LabelView) -> tuple[str, ...]:
    if len(view.claims) != 1 or not view.facts:
        return ()
    return fold.progress(view.claims[0].fact, view.facts).conflicts


def _settle(
    views: Mapping[str, LabelView],
    standings: Sequence[Standing],
    orders: Mapping[UUID, WorkOrder],
    at: datetime,
) -> None:
    """Close questions that later facts have answered, and say so: a receipt may wait for it."""
    clear = {w.label for w in orders.values() if w.contested} - {
        label for label, view in views.items() if view.contested
    }
    if clear:
        subjects = [f"label:{label}" for label in clear]
        questions.settle(
            kinds=[Question.LABEL_CONTESTED],
            subjects=subjects,
            how="settled by a later fact",
            at=at,
        )
        pickups = {s.pickup for s in standings} | {w.pickup for w in orders.values()}
        notes = [journal.Note("pickup.cleared", f"pickup:{p}", {}) for p in sorted(pickups)]
        journal.record(notes, at=at)
    calm = [f"label:{v.label}" for v in views.values() if v.facts and not _conflicts(v)]
    if calm:
        questions.settle(
            kinds=[Question.IMPOSSIBLE_ORDER], subjects=calm, how="settled by a later fact", at=at
        )


def _notes(
    new: Sequence[Told], whose: Mapping[UUID, UUID], codes: Mapping[UUID, str]
) -> list[journal.Note]:
    """One entry for each kind of fact in the batch, naming every fact of it."""
    by_kind: dict[Kind, list[dict[str, str | None]]] = {}
    for t in new:
        owner = whose.get(t.fact.corrects or t.fact.uid)
        said = {"fact": str(t.fact.uid), "label": t.fact.label}
        said |= {"work_order": str(owner)} if owner else {}
        said |= {"question": codes[t.fact.uid]} if t.fact.uid in codes else {}
        by_kind.setdefault(t.fact.kind, []).append({**said})
    return [
        journal.Note(f"casing.{kind}", f"fact:{facts[0]['fact']}", {"facts": facts})
        for kind, facts in sorted(by_kind.items())
    ]
