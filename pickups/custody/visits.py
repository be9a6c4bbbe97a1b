"""Pickups and deliveries that are over. Every end is a fact; the first one makes the row.

The caller holds the lock key of the pickup, so lines and end never pass each other unseen.
"""

from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import Any, NamedTuple
from uuid import UUID

from django.db.models.fields.json import KeyTextTransform

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.custody import doubts, ledger, trailers
from pickups.custody.fold import Kind
from pickups.custody.ledger import Told
from pickups.custody.models import Delivery, Fact, Pickup, Signature, VisitLine
from pickups.customers import queries as customers
from pickups.customers.services import scope
from pickups.journal import services as journal
from pickups.kernel import clock
from pickups.questions import services as questions
from pickups.questions.rules import Kind as Question
from pickups.questions.services import Ask
from pickups.sync import services as sync
from pickups.sync.rules import Change


def first_unseen(casings: Sequence[UUID]) -> UUID | None:
    """The first operation named that has not arrived."""
    here = set(Fact.objects.filter(uid__in=casings).values_list("uid", flat=True))
    return next((uid for uid in casings if uid not in here), None)


class Signed(NamedTuple):
    """Who signed for a visit, as they gave their name, and the drawing's hash; kept apart from the
    facts, so that it can be erased."""

    name: str = ""
    image: str = ""


UNSIGNED = Signed()


def finish(end: Told, *, signed: Signed, site: UUID, at: datetime) -> str:
    """The visit is over: its receipt is owed. Returns the kind of the question raised, or "".

    end: a fact of kind pickup_end; told holds `visit`, `yard`, `store`, `casings`, `scrap`, `left`,
    `customer_count`, `trailer`, `nobody_there`, `signed`, `signed_in`, `refused`, `unsigned`,
    `shown`, `deposit_cents`, `deposit_note`, `note` and `photos` as they were told. Every
    end is kept; the first by (stamp, uid) makes the row that pages show, whatever came first; the
    signature is that of the first that was signed. A list that is not what was picked up, a count
    that differs, a second end: each is a question, and while the list differs no receipt leaves.
    An end that lists nothing is an empty visit; a line that comes late asks as for any other.
    """
    uid, yard = UUID(end.fact.told["visit"]), UUID(end.fact.told["yard"])
    ends = _keep(Pickup, end, signed, site, at)
    asks = list(doubts.about_teller(end, at))
    if not customers.owners([yard]):
        asks.append(Ask(Question.YARD_UNKNOWN, f"yard:{yard}", {"fact": str(end.fact.uid)}))
    others = _otherwise(ends, end)
    asks += [Ask(Question.PICKUP_DIFFERS, f"fact:{o}", {"pickup": str(uid)}) for o in others]
    kinds, subjects = [Question.PICKUP_OPEN], [f"pickup:{uid}"]
    questions.settle(kinds=kinds, subjects=subjects, how="finished now", at=at)
    questions.ask(asks, at=at)
    odd = trailers.ask_about(uid, end.fact.uid, at=at)
    found = review({uid}, at=at)
    journal.record([journal.Note("pickup.finished", f"pickup:{uid}", {})], at=at)
    return asks[0].kind.value if asks else odd or found.get(uid, "")


def finish_delivery(end: Told, *, signed: Signed, site: UUID, at: datetime) -> str:
    """The delivery is over: its proof is owed. Returns the kind of the question raised, or "".

    end: a fact of kind delivery_end, told as a pickup's; kept, shown, signed and held against what
    was handed back by the same rules.
    """
    uid = UUID(end.fact.told["visit"])
    ends = _keep(Delivery, end, signed, site, at)
    asks = list(doubts.about_teller(end, at))
    others = _otherwise(ends, end)
    asks += [Ask(Question.DELIVERY_DIFFERS, f"fact:{o}", {"delivery": str(uid)}) for o in others]
    kinds, subjects = [Question.DELIVERY_OPEN], [f"delivery:{uid}"]
    questions.settle(kinds=kinds, subjects=subjects, how="finished now", at=at)
    if ends[0].uid == end.fact.uid:
        journal.record([journal.Note("delivery.finished", f"delivery:{uid}", {})], at=at)
    questions.ask(asks, at=at)
    found = review_deliveries({uid}, at=at)
    return asks[0].kind.value if asks else found.get(uid, "")


_ENTITY: dict[type[Pickup] | type[Delivery] | type[VisitLine], str] = {
    Pickup: "pickup",
    Delivery: "delivery",
    VisitLine: "visit_line",
}


def _keep(
    model: type[Pickup] | type[Delivery], end: Told, signed: Signed, site: UUID, at: datetime
) -> list[Fact]:
    """Keep an end; returns every end of its visit, the one that counts first.

    One that came late and was told first makes the row anew.
    """
    told = end.fact.told
    ledger.append([end], at=at, work_orders={})
    ends = _ends(end.fact.kind, UUID(told["visit"]))
    if ends[0].uid == end.fact.uid:
        _make(model, end, site, at)
    # Who came to sign after all has signed: an end without a signature takes none away.
    first_signed = next((e for e in ends if e.told.get("signed")), None)
    if first_signed is not None and first_signed.uid == end.fact.uid:
        kept = {"name": signed.name, "image": signed.image, "shown": told.get("shown", "")}
        Signature.objects.update_or_create(visit=UUID(told["visit"]), defaults=kept)
    return ends


def _make(model: type[Pickup] | type[Delivery], end: Told, site: UUID, at: datetime) -> None:
    """The row that pages show, by the end that was told first; `site` sees it where the yard is
    not known."""
    told = end.fact.told
    assert end.by is not None  # an operation always says who entered it
    uid, yard = UUID(told["visit"]), UUID(told["yard"])
    customer, home = customers.owners([yard]).get(yard, (None, site))
    known = model.objects.filter(uid=uid).first()
    row = model(
        uid=uid,
        yard=yard,
        customer=customer,
        site=home,
        store=told.get("store"),
        casings=told.get("casings", []),
        shown=told.get("shown", ""),
        unsigned=told.get("unsigned", ""),
        refused=told.get("refused", ""),
        nobody_there=told.get("nobody_there", False),
        signed_in=told.get("signed_in", ""),
        note=told.get("note", ""),
        finished_at=end.happened_at,
        recorded_at=at,
        by=end.by,
        version=known.version + 1 if known else 1,
    )
    if isinstance(row, Pickup):
        row.customer_count = told.get("customer_count")
        row.scrap, row.left = told.get("scrap", []), told.get("left", [])
        row.trailer = told.get("trailer")
        row.emptied = trailers.emptied(row)
        row.deposit_cents = told.get("deposit_cents")
        row.deposit_note = told.get("deposit_note", "")
    row.save(force_insert=known is None, force_update=known is not None)
    changes = [Change(scope(home), _ENTITY[model], uid, row.version)]
    if known and known.site != home:
        changes.append(Change(scope(known.site), _ENTITY[model], uid, row.version, gone=True))
    sync.put(changes)


def _ends(kind: Kind, visit: UUID) -> list[Fact]:
    """Every end told of a visit, in the order of the fold."""
    named = Fact.objects.annotate(visit=KeyTextTransform("visit", "told"))
    kinds = [Kind.PICKUP_END.value, Kind.DELIVERY_END.value]  # as the index has it
    return list(named.filter(kind__in=kinds, visit=str(visit), kind=kind).order_by("stamp", "uid"))


def _otherwise(ends: Sequence[Fact], end: Told) -> list[UUID]:
    """The ends that say otherwise than the one that counts, where `end` is one of the two: one
    question each, since the facts of an open question are never another's."""
    first = ends[0]
    mine = [e for e in ends[1:] if end.fact.uid in (e.uid, first.uid)]
    return [e.uid for e in mine if _said(e) != _said(first)]


def _said(end: Fact) -> dict[str, Any]:
    """What an end says, but for when."""
    return {k: v for k, v in end.told.items() if k != "at"}


def review(pickups: Iterable[UUID], *, at: datetime) -> dict[UUID, str]:
    """Hold finished pickups against what was told in them; returns the question of each.

    Called for every pickup that facts have touched, under its lock key: a line that comes late, is
    withdrawn or corrected may make a list right or wrong. What is right again is settled, and its
    receipt is owed again. The customer counts casings: no loose wheels, no scrap, not what stays.
    """
    found: dict[UUID, str] = {}
    for row in Pickup.objects.filter(uid__in=list(pickups)).order_by("uid"):
        orders = casings.of_pickup(row.uid)
        stand = [w for w in orders if not w.withdrawn]
        subject = f"pickup:{row.uid}"
        if row.trailer is not None and row.emptied is None:
            # What is in it is on no list yet, and nobody of ours has counted it.
            _settled(Question.PICKUP_DIFFERS, subject, at)
            _settled(Question.COUNT_DIFFERS, subject, at)
            continue
        if facts := _differs(row, orders):
            questions.ask([Ask(Question.PICKUP_DIFFERS, subject, facts)], at=at)
            found[row.uid] = Question.PICKUP_DIFFERS.value
        elif _settled(Question.PICKUP_DIFFERS, subject, at):
            journal.record([journal.Note("pickup.cleared", subject, {})], at=at)
        ours = sum(w.told.get("line") != "wheel" for w in stand)
        if row.customer_count is not None and row.customer_count != ours:
            counts = {"ours": ours, "theirs": row.customer_count}
            questions.ask([Ask(Question.COUNT_DIFFERS, subject, counts)], at=at)
            found.setdefault(row.uid, Question.COUNT_DIFFERS.value)
        else:
            _settled(Question.COUNT_DIFFERS, subject, at)
    return found


def _differs(row: Pickup, orders: Sequence[WorkOrder]) -> dict[str, Any]:
    """What its end listed beside what stands, where the two are not the same; empty where they
    are. What was taken back since is missed on no list."""
    lines = VisitLine.objects.filter(pickup=row.uid).order_by("told_at", "uid")
    every: list[WorkOrder | VisitLine] = [*orders, *lines]
    stand = [one for one in every if not one.withdrawn]
    gone = {str(one.uid) for one in every if one.withdrawn}
    told: dict[str, list[str]] = {"picked_up": [], "scrap_counted": [], "left_there": []}
    for one in stand:
        told[_TOLD_AS[one.kind] if isinstance(one, VisitLine) else "picked_up"].append(str(one.uid))
    lists = dict(zip(("listed", "scrap_listed", "left_listed"), trailers.listed(row), strict=True))
    said = {k: [u for u in dict.fromkeys(uids) if u not in gone] for k, uids in lists.items()}
    same = [set(uids) for uids in said.values()] == [set(uids) for uids in told.values()]
    foreign = _foreign(row, stand)
    return {} if same and not foreign else {**said, **told, "of_another": foreign}


def _foreign(row: Pickup, stand: Sequence[WorkOrder | VisitLine]) -> list[str]:
    """What was taken in it and is another customer's; a mix-up that was settled is no doubt."""
    others = [one for one in stand if one.customer != row.customer]
    orders = {one.uid: one.casing_id for one in others if not isinstance(one, VisitLine)}
    settled = {c.uid for c in casings.owned_otherwise(orders.values()) if c.yard} if orders else ()
    return [str(one.uid) for one in others if orders.get(one.uid) not in settled]


_TOLD_AS = {"scrap": "scrap_counted", "left": "left_there"}


def review_deliveries(deliveries: Iterable[UUID], *, at: datetime) -> dict[UUID, str]:
    """Hold finished deliveries against what was handed back in them; returns the question of each.

    Called for every delivery that facts have touched, under its lock key, as `review` is.
    """
    uids = list(deliveries)
    rows = list(Delivery.objects.filter(uid__in=uids).order_by("uid")) if uids else []
    if not rows:
        return {}  # the common case: casings are handed back before the visit is over
    told = _delivered([row.uid for row in rows])
    yards = {UUID(f.told["yard"]) for facts in told.values() for f in facts}
    whose = customers_of(yards | {row.yard for row in rows})
    found: dict[UUID, str] = {}
    for row in rows:
        handed, subject = told.get(row.uid, []), f"delivery:{row.uid}"
        owner = whose.get(row.yard)
        foreign = [str(f.uid) for f in handed if whose.get(UUID(f.told["yard"])) != owner]
        delivered = [str(f.uid) for f in handed]
        if foreign or set(row.casings) != set(delivered):
            facts = {"listed": row.casings, "delivered": delivered, "of_another": foreign}
            questions.ask([Ask(Question.DELIVERY_DIFFERS, subject, facts)], at=at)
            found[row.uid] = Question.DELIVERY_DIFFERS.value
        elif _settled(Question.DELIVERY_DIFFERS, subject, at):
            journal.record([journal.Note("delivery.cleared", subject, {})], at=at)
    return found


def _delivered(deliveries: Sequence[UUID]) -> dict[UUID, list[Fact]]:
    """Every casing told to have been handed back in each delivery, in the order of the fold."""
    named = Fact.objects.annotate(delivery=KeyTextTransform("delivery", "told"))
    rows = named.filter(kind=Kind.RETURNED.value, delivery__in=[str(d) for d in deliveries])
    found: dict[UUID, list[Fact]] = {}
    for f in rows.order_by("stamp", "uid"):
        found.setdefault(UUID(f.told["delivery"]), []).append(f)
    return found


def _settled(kind: Question, subject: str, at: datetime) -> bool:
    how = "settled by a later fact"
    return questions.settle(kinds=[kind], subjects=[subject], how=how, at=at) > 0


def customers_of(yards: Iterable[UUID]) -> dict[UUID, UUID]:
    """Whose each known yard is."""
    return {yard: customer for yard, (customer, _) in customers.owners(yards).items()}


def delivery_bodies(uids: Sequence[UUID]) -> dict[UUID, dict[str, object]]:
    """Deliveries as the feed gives them to a phone; who signed stays here."""
    return {
        d.uid: {
            "yard": str(d.yard),
            "store": str(d.store) if d.store else None,
            "casings": d.casings,
            "count": len(d.casings),
            "finished_at": clock.rfc3339(d.finished_at),
        }
        for d in Delivery.objects.filter(uid__in=list(uids))
    }


def move_customer(*, customer: UUID, site: UUID) -> list[tuple[str, UUID, UUID, int]]:
    """A customer's visits and their lines are seen at another store: (entity, uid, old store, new
    version)."""
    moved = []
    for model, entity in _ENTITY.items():
        rows = model.objects.filter(customer=customer).exclude(site=site).order_by("uid")
        for row in rows.select_for_update(no_key=True):
            moved.append((entity, row.uid, row.site, row.version + 1))
            row.site, row.version = site, row.version + 1
            row.save(update_fields=["site", "version"])
    return moved


def bodies(uids: Sequence[UUID]) -> dict[UUID, dict[str, object]]:
    """Pickups as the feed gives them to a phone."""
    return {
        p.uid: {
            "yard": str(p.yard),
            "store": str(p.store) if p.store else None,
            "count": len(trailers.listed(p)[0]),
            "customer_count": p.customer_count,
            "trailer": p.trailer,
            "emptied_at": p.emptied["at"] if p.emptied else None,
            "nobody_there": p.nobody_there,
            "deposit_cents": p.deposit_cents,
            "deposit_note": p.deposit_note,
            "finished_at": clock.rfc3339(p.finished_at),
        }
        for p in Pickup.objects.filter(uid__in=list(uids))
    }
