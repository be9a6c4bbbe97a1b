"""Record facts and fold them: the only door to the ledger.

The caller of `record` has an open transaction and holds the lock keys of every label and pickup
concerned; `withdraw`, the office's own verb, sees to that itself.
Facts are folded with what is known of their labels, work orders are locked, then all is written:
facts, work orders, feed, questions, journal. A fact recorded before is skipped, so everything
here is safe to repeat. Nothing here can refuse a fact; what cannot be true becomes a question.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from typing import Any
from uuid import UUID

from django.db import OperationalError, transaction

from pickups.casings import queries as casings_read
from pickups.casings import services as casings
from pickups.casings.models import Casing, WorkOrder
from pickups.casings.services import Standing
from pickups.custody import doubts, fold, ledger, queries, reminding, visits
from pickups.custody.doubts import Owners
from pickups.custody.fold import Claim, Fact, Kind, LabelView
from pickups.custody.ledger import Kept, Told
from pickups.custody.names import Names
from pickups.customers import queries as customers
from pickups.customers.services import scope
from pickups.journal import services as journal
from pickups.kernel import clock, ids, locks
from pickups.kernel.locks import label_key
from pickups.sync import services as sync
from pickups.sync.rules import Change


def record(
    told: Sequence[Told], *, site: UUID, at: datetime, anew: Sequence[str] = ()
) -> dict[UUID, str]:
    """Record facts; returns, for each that raised a question, the question's kind."""
    return recorded(told, site=site, at=at, anew=anew).codes


@dataclass(frozen=True, slots=True)
class Recorded:
    """codes: for each fact that raised a question, the question's kind. names: for every label that
    was touched, the labels of its casing as they are now."""

    codes: dict[UUID, str]
    names: dict[str, Names]


def recorded(
    told: Sequence[Told], *, site: UUID, at: datetime, anew: Sequence[str] = ()
) -> Recorded:
    """Record facts; see `record`.

    site: the store that sees the work where the yard is unknown. told may repeat what is known.
    anew: labels to be folded again though nothing is told, since the owner of their casing changed.
    """
    touched, kept = _reach(told, anew)
    known = {k.fact.uid for k in kept}
    new = list({t.fact.uid: t for t in told if t.fact.uid not in known}.values())
    facts = [*(k.fact for k in kept), *(t.fact for t in new)]
    views = fold.labels(facts, touched)
    claims = fold.claims(facts)
    orders = {w.uid: w for w in casings_read.locked(labels=touched, uids=[c.uid for c in claims])}
    known_casings = {w.casing_id for w in orders.values()}
    otherwise = {c.uid: c for c in casings_read.owned_otherwise(known_casings)}
    yards = _yards(claims, orders, otherwise)
    owners = customers.owners({*yards.values(), *(_uid(c.fact.told["yard"]) for c in claims)})
    first = {f.uid: f.told["at"] for f in facts if f.kind is Kind.PICKED_UP and not f.corrects}
    standings = [
        _standing(
            c, views[c.fact.label], first[c.uid], yards[c.uid], owners, orders.get(c.uid), site
        )
        for c in claims
    ]
    whose = _whose(views, claims)
    ledger.append(new, at=at, work_orders=whose)
    moved = _moved(kept, whose, touched)
    ledger.adopt(moved)
    _project(standings, orders)
    sites = {uid: w.site for uid, w in orders.items()}
    originals = {f.uid: f.kind for f in facts if f.corrects is None}
    sold = {casing.uid for casing in otherwise.values() if casing.dealers}
    dealers = {uid for uid, w in orders.items() if w.casing_id in sold}
    strayed = doubts.astray(views, owners, yards, dealers)
    codes = doubts.raise_all(new, views, owners, strayed, originals, sites, site, at)
    doubts.settle_strayed(strayed, views, at)
    if claims:  # nobody was ever asked about what nobody has picked up
        _settle(views, standings, orders, at)
    doubts.settle_relabelled(new, originals, views, at)
    doubts.settle_parked(facts, new, at)
    doubts.settle_told_by_one(views, new, at)
    if any(t.fact.kind in (Kind.PICKED_UP, Kind.WITHDRAWN) for t in new):
        visits.review({s.pickup for s in standings} | {w.pickup for w in orders.values()}, at=at)
    visits.review_deliveries(_delivered(new), at=at)
    heard = set(moved) | _heard_anew(views, standings, orders)
    notes = [*_notes(new, whose, codes), *_adopted(facts, heard, whose)]
    journal.record(notes, at=at)
    return Recorded(codes, {label: view.names for label, view in views.items()})


def withdraw(*, work_order: UUID, reason: str, by: UUID) -> bool:
    """The office takes one of the pick_ups on a contested label back as a mistake.

    Returns False where none of that id stands, or its label is contested no longer.

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
        if order is None or order.withdrawn or not order.contested:
            return False  # somebody else has decided while this one was read
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


def take_label_back(*, fact: UUID, reason: str, by: UUID) -> None:
    """The office takes a relabelling back as a mistake: each casing keeps the label it had.

    Opens a transaction and takes the lock keys itself. Safe to repeat: what is taken back twice is
    taken back. Raises OperationalError where a further label of its chain is busy.
    """
    at, told = clock.now(), queries.facts([fact])[fact]
    with transaction.atomic():
        locks.take([label_key(told.label), label_key(told.told["now"])])
        orders = casings_read.under(queries.named_with([told.label]))
        back = Fact(
            uid=ids.uuid7(),
            kind=Kind.WITHDRAWN,
            label=told.label,
            stamp=max(clock.to_ms(at), told.stamp + 1),
            corrects=fact,
            told={"at": clock.rfc3339(at), "reason": reason},
        )
        # Labels that are on no casing are seen at no store.
        site = orders[0].site if orders else UUID(int=0)
        record([Told(back, happened_at=at, by=by, device=None, skew_ms=None)], site=site, at=at)


def _reach(told: Sequence[Told], anew: Sequence[str]) -> tuple[list[str], list[Kept]]:
    """Every label that these facts touch, and what is known under them."""
    named = {*anew, *(t.fact.label for t in told)}
    named |= {t.fact.told[key] for t in told for key in ("original_label", "now")
              if key in t.fact.told}  # fmt: skip
    # An original that is new here may find corrections of it that came before, under any label.
    return ledger.reach(named, {t.fact.corrects or t.fact.uid for t in told})


def _yards(
    claims: Sequence[Claim], orders: Mapping[UUID, WorkOrder], otherwise: Mapping[UUID, Casing]
) -> dict[UUID, UUID]:
    """Where each claim came from: as it was told, or as a mix-up was settled."""
    settled = {uid: otherwise[w.casing_id].yard for uid, w in orders.items()
               if w.casing_id in otherwise}  # fmt: skip
    return {c.uid: settled.get(c.uid) or _uid(c.fact.told["yard"]) for c in claims}


_uid = lru_cache(maxsize=10_000)(UUID)
"""The same few yards and visits stand in hundreds of facts."""


_TOLD = ("tin", "size", "tread_32nds", fold.STORE, *fold.WANTED, *fold.SEEN, "note", "photos")
"""What a work order keeps of its pick_up as it was told last."""
_OF_ANOTHER = frozenset({"tread_design", "purchase_order", "unit", "promised", "position", "wheel",
                         "odometer", "odometer_in", "pulled_for", "check", "fleet_brand", "sale",
                         "complaint", "note", "photos"})  # fmt: skip
"""What the customer of the yard told said of it, or was told: it was meant for another casing where
a settled mix-up says that this one came from elsewhere, and is not for its owner to read."""


def _standing(
    claim: Claim,
    view: LabelView,
    at: str,
    yard: UUID,
    owners: Owners,
    order: WorkOrder | None,
    site: UUID,
) -> Standing:
    """A work order as the facts have it; a contested one hears nothing of its label."""
    told = claim.fact.told
    contested = view.contested and not claim.withdrawn
    state = fold.progress(claim.fact, () if contested or claim.withdrawn else view.facts)
    label = claim.fact.label if claim.withdrawn else view.label
    hidden = _OF_ANOTHER if yard != _uid(told["yard"]) else ()
    kept = {k: told[k] for k in _TOLD if told.get(k) and k not in hidden}
    if view.names.void and not claim.withdrawn:
        kept["void_labels"] = list(view.names.void)
    if label != claim.fact.label:
        kept["picked_up_under"] = claim.fact.label
    if not contested and not claim.withdrawn:
        waits = {
            "here_since": reminding.here_since(view.facts, state.holder),
            "reminders": reminding.reminders(view.facts),
        }
        kept |= {key: value for key, value in waits.items() if value}
    customer, home = owners.get(yard, (None, order.site if order else site))
    return Standing(
        uid=claim.uid,
        casing=order.casing_id if order else claim.uid,
        pickup=_uid(told["pickup"]),
        yard=yard,
        customer=customer,
        site=home,
        label=label,
        progress=state.progress,
        station=state.station,
        reason=state.reason,
        on_hold=state.on_hold,
        contested=contested,
        withdrawn=claim.withdrawn,
        holder=state.holder,
        picked_up_at=datetime.fromisoformat(at),
        told=kept,
    )


def _whose(views: Mapping[str, LabelView], claims: Sequence[Claim]) -> dict[UUID, UUID]:
    """For each fact that is somebody's: the work order. A contested label's are nobody's."""
    whose = {claim.uid: claim.uid for claim in claims}
    for view in fold.each(views):
        if len(view.claims) == 1:
            for fact in view.facts:
                whose[fact.uid] = view.claims[0].uid
    return whose


def _delivered(new: Sequence[Told]) -> set[UUID]:
    """The deliveries in which these facts hand casings back."""
    told = [t.fact.told for t in new if t.fact.kind is Kind.RETURNED]
    return {UUID(said["delivery"]) for said in told if "delivery" in said}


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
    casings.begin(begun, casings=[(s.casing, *_described(s.told)) for s in fresh])
    versions = casings.advance(moved)
    casings.describe(
        {
            s.casing: _described(s.told)
            for s in moved
            if s.casing == s.uid and _described(s.told) != _described(orders[s.uid].told)
        }
    )
    changes = [Change(scope(s.site), "work_order", s.uid, versions.get(s.uid, 1)) for s in begun]
    for s in moved:
        changes.append(Change(scope(s.site), "work_order", s.uid, versions[s.uid]))
        old = orders[s.uid].site
        if old != s.site:
            changes.append(Change(scope(old), "work_order", s.uid, versions[s.uid], gone=True))
    sync.put(changes)


def _described(told: Mapping[str, Any]) -> tuple[str, str]:
    """TIN and size of a casing, as they were told."""
    return told.get("tin", ""), told.get("size", "")


_SEEN = ("pickup", "yard", "customer", "site", "label", "progress", "station", "reason",
         "on_hold", "contested", "withdrawn", "holder", "picked_up_at", "told")  # fmt: skip


def _differs(standing: Standing, order: WorkOrder) -> bool:
    return any(getattr(standing, name) != getattr(order, name) for name in _SEEN)


def _settle(
    views: Mapping[str, LabelView],
    standings: Sequence[Standing],
    orders: Mapping[UUID, WorkOrder],
    at: datetime,
) -> None:
    """Close questions that later facts have answered, and say so: a receipt may wait for it."""
    clear = _cleared(views, orders)
    doubts.settle(clear, views, at)
    if clear:
        pickups = {s.pickup for s in standings} | {w.pickup for w in orders.values()}
        facts = [f for label in clear if label in views for f in views[label].facts]
        over = {f.told["delivery"] for f in facts if "delivery" in f.told}
        notes = [journal.Note("pickup.cleared", f"pickup:{p}", {}) for p in sorted(pickups)]
        notes += [journal.Note("delivery.cleared", f"delivery:{d}", {}) for d in sorted(over)]
        journal.record(notes, at=at)


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


def _cleared(views: Mapping[str, LabelView], orders: Mapping[UUID, WorkOrder]) -> set[str]:
    """Labels that were contested before and are not now."""
    return {w.label for w in orders.values() if w.contested} - {
        view.label for view in views.values() if view.contested
    }


def _heard_anew(
    views: Mapping[str, LabelView],
    standings: Sequence[Standing],
    orders: Mapping[UUID, WorkOrder],
) -> set[UUID]:
    """Facts that somebody else is concerned by, although they may stay whose they are: the label
    is no longer contested, or the work order is another customer's."""
    clear = _cleared(views, orders)
    heard = [views[label] for label in clear if label in views]
    found = {f.uid for view in heard if not view.contested for f in view.facts}
    return found | {
        s.uid for s in standings if s.uid in orders and orders[s.uid].customer != s.customer
    }


def _adopted(
    facts: Sequence[Fact], anew: set[UUID], whose: Mapping[UUID, UUID]
) -> list[journal.Note]:
    """One entry for all facts recorded before that concern somebody else now, with whose they
    are; one that is nobody's waits for its label, or for a contest about it to be settled."""
    named = [
        {"fact": str(f.uid), "label": f.label}
        | ({"work_order": str(whose[f.uid])} if f.uid in whose else {})
        for f in sorted(facts, key=lambda f: (f.label, f.uid))
        if f.uid in anew
    ]
    if not named:
        return []
    return [journal.Note("casing.adopted", f"fact:{named[0]['fact']}", {"facts": named})]
