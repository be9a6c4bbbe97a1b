"""Pickups and deliveries that are over. Every end is a fact; the first one makes the row.

The caller holds the lock key of the pickup, so lines and end never pass each other unseen.
"""

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime, timedelta
from typing import Any, NamedTuple
from uuid import UUID

from django.db import connection, transaction
from django.db.models.fields.json import KeyTextTransform

from pickups.casings import queries as casings
from pickups.custody import doubts, ledger
from pickups.custody.fold import Kind
from pickups.custody.ledger import Told
from pickups.custody.models import Delivery, Fact, Pickup, Signature
from pickups.customers import queries as customers
from pickups.customers.services import scope
from pickups.journal import services as journal
from pickups.kernel import clock
from pickups.people import queries as people
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

    end: a fact of kind pickup_end; told holds `visit`, `yard`, `store`, `casings`,
    `customer_count`, `unsigned`, `shown`, `note` and `photos` as they were told. Every end is kept;
    the first by (stamp, uid) makes the row that pages show, whatever came first. A list that is not
    what was picked up, a count that differs, a second end: each is a question, and while the list
    differs no receipt leaves.
    """
    told = end.fact.told
    uid, yard = UUID(told["visit"]), UUID(told["yard"])
    ledger.append([end], at=at, work_orders={})
    asks = list(_about_end(end, at))
    customer, home = customers.owners([yard]).get(yard, (None, site))
    if customer is None:
        asks.append(Ask(Question.YARD_UNKNOWN, f"yard:{yard}", {"fact": str(end.fact.uid)}))
    ends = _ends(Kind.PICKUP_END, uid)
    first = ends[0].uid == end.fact.uid  # also one that came late and was told first
    if first:
        _make(uid, end, customer, home, at)
        _sign(uid, signed)
    asks += [
        # One question an end: the facts of an open question are never another's.
        Ask(Question.PICKUP_DIFFERS, f"fact:{e.uid}", {"pickup": str(uid)})
        for e in ends[1:]
        if (first or e.uid == end.fact.uid) and _said(e) != _said(ends[0])
    ]
    kinds, subjects = [Question.PICKUP_OPEN], [f"pickup:{uid}"]
    questions.settle(kinds=kinds, subjects=subjects, how="finished now", at=at)
    questions.ask(asks, at=at)
    found = review({uid}, at=at)
    journal.record([journal.Note("pickup.finished", f"pickup:{uid}", {})], at=at)
    return asks[0].kind.value if asks else found.get(uid, "")


def _make(uid: UUID, end: Told, customer: UUID | None, site: UUID, at: datetime) -> None:
    """The row that pages show, by the end that was told first."""
    told = end.fact.told
    assert end.by is not None  # an operation always says who entered it
    known = Pickup.objects.filter(uid=uid).first()
    row, _ = Pickup.objects.update_or_create(
        uid=uid,
        defaults={
            "yard": UUID(told["yard"]),
            "customer": customer,
            "site": site,
            "casings": told["casings"],
            "store": told.get("store"),
            "customer_count": told.get("customer_count"),
            "shown": told.get("shown", ""),
            "unsigned": told.get("unsigned", ""),
            "note": told.get("note", ""),
            "finished_at": end.happened_at,
            "recorded_at": at,
            "by": end.by,
            "version": known.version + 1 if known else 1,
        },
    )
    sync.put([Change(scope(site), "pickup", uid, row.version)])
    if known and known.site != site:
        sync.put([Change(scope(known.site), "pickup", uid, row.version, gone=True)])


def _sign(visit: UUID, signed: Signed) -> None:
    if signed != UNSIGNED:
        kept = {"name": signed.name, "image": signed.image}
        Signature.objects.update_or_create(visit=visit, defaults=kept)


def _ends(kind: Kind, visit: UUID) -> list[Fact]:
    """Every end told of a visit, in the order of the fold."""
    named = Fact.objects.annotate(visit=KeyTextTransform("visit", "told"))
    kinds = [Kind.PICKUP_END.value, Kind.DELIVERY_END.value]  # as the index has it
    return list(named.filter(kind__in=kinds, visit=str(visit), kind=kind).order_by("stamp", "uid"))


def _said(end: Fact) -> dict[str, Any]:
    """What an end says, but for when."""
    return {k: v for k, v in end.told.items() if k != "at"}


def _about_end(end: Told, at: datetime) -> Iterator[Ask]:
    if end.by is not None and people.unknown_people([end.by]):
        yield Ask(Question.PERSON_UNKNOWN, f"person:{end.by}", {"fact": str(end.fact.uid)})
    if doubts.ahead(end, at):
        facts = {"happened_at": end.happened_at.isoformat(), "device": str(end.device)}
        yield Ask(Question.FROM_THE_FUTURE, f"fact:{end.fact.uid}", facts)


def review(pickups: Iterable[UUID], *, at: datetime) -> dict[UUID, str]:
    """Hold finished pickups against what was picked up in them; returns the question of each.

    Called for every pickup that facts have touched, under its lock key: a line that comes late, is
    withdrawn or corrected may make a list right or wrong. What is right again is settled, and its
    receipt is owed again.
    """
    found: dict[UUID, str] = {}
    for row in Pickup.objects.filter(uid__in=list(pickups)).order_by("uid"):
        orders = casings.of_pickup(row.uid)
        stand = [w for w in orders if not w.withdrawn]
        gone = {str(w.uid) for w in orders if w.withdrawn}
        listed = [uid for uid in dict.fromkeys(row.casings) if uid not in gone]
        subject = f"pickup:{row.uid}"
        foreign = [str(w.uid) for w in stand if w.customer != row.customer]
        if foreign or set(listed) != {str(w.uid) for w in stand}:
            facts: dict[str, Any] = {
                "listed": listed,
                "picked_up": [str(w.uid) for w in stand],
                "of_another": foreign,
            }
            questions.ask([Ask(Question.PICKUP_DIFFERS, subject, facts)], at=at)
            found[row.uid] = Question.PICKUP_DIFFERS.value
        elif _settled(Question.PICKUP_DIFFERS, subject, at):
            journal.record([journal.Note("pickup.cleared", subject, {})], at=at)
        if row.customer_count is not None and row.customer_count != len(stand):
            counts = {"ours": len(stand), "theirs": row.customer_count}
            questions.ask([Ask(Question.COUNT_DIFFERS, subject, counts)], at=at)
            found.setdefault(row.uid, Question.COUNT_DIFFERS.value)
        else:
            _settled(Question.COUNT_DIFFERS, subject, at)
    return found


def _settled(kind: Question, subject: str, at: datetime) -> bool:
    how = "settled by a later fact"
    return questions.settle(kinds=[kind], subjects=[subject], how=how, at=at) > 0


_UNFINISHED = """
SELECT w.pickup, (array_agg(w.uid ORDER BY w.picked_up_at))[1], count(*)
FROM casings_work_order w
WHERE NOT w.withdrawn AND w.picked_up_at BETWEEN %s AND %s
  AND NOT EXISTS (SELECT 1 FROM custody_pickup p WHERE p.uid = w.pickup)
GROUP BY w.pickup ORDER BY w.pickup
"""
OPEN_FOR = timedelta(days=1)
LOOK_BACK = timedelta(days=60)


def ask_unfinished(*, at: datetime) -> int:
    """Ask about pickups that were begun more than a day ago and never finished (the phone may be
    lost, closed or forgotten): their customers have no receipt. Returns how many there are."""
    with connection.cursor() as c:
        c.execute(_UNFINISHED, [at - LOOK_BACK, at - OPEN_FOR])
        rows = c.fetchall()
    asks = [
        Ask(Question.PICKUP_OPEN, f"pickup:{uid}", {"fact": str(first), "ours": count})
        for uid, first, count in rows
    ]
    with transaction.atomic():
        questions.ask(asks, at=at)
    return len(asks)


def customers_of(yards: Iterable[UUID]) -> dict[UUID, UUID]:
    """Whose each known yard is."""
    return {yard: customer for yard, (customer, _) in customers.owners(yards).items()}


def finish_delivery(end: Told, *, signed: Signed, site: UUID, at: datetime) -> str:
    """The delivery is over: its proof is owed. Returns the kind of the question raised, or "".

    end: a fact of kind delivery_end, without the signer's name, which is kept apart so that it can
    be erased. Every end is kept; the first of a delivery makes the row that pages show.
    """
    told = end.fact.told
    uid, yard = UUID(told["visit"]), UUID(told["yard"])
    assert end.by is not None  # an operation always says who entered it
    ledger.append([end], at=at, work_orders={})
    asks = list(_about_end(end, at))
    if not Delivery.objects.filter(uid=uid).exists():
        customer, home = customers.owners([yard]).get(yard, (None, site))
        row = Delivery.objects.create(
            uid=uid,
            yard=yard,
            customer=customer,
            site=home,
            store=told.get("store"),
            casings=told["casings"],
            shown=told.get("shown", ""),
            unsigned=told.get("unsigned", ""),
            note=told.get("note", ""),
            finished_at=end.happened_at,
            recorded_at=at,
            by=end.by,
        )
        _sign(uid, signed)
        sync.put([Change(scope(home), "delivery", uid, row.version)])
        journal.record([journal.Note("delivery.finished", f"delivery:{uid}", {})], at=at)
    questions.ask(asks, at=at)
    return asks[0].kind.value if asks else ""


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


def move_customer(*, customer: UUID, site: UUID) -> list[tuple[UUID, UUID, int]]:
    """A customer's pickups are seen at another store: (uid, old store, new version) of each."""
    rows = Pickup.objects.filter(customer=customer).exclude(site=site).order_by("uid")
    moved = []
    for row in rows.select_for_update(no_key=True):
        moved.append((row.uid, row.site, row.version + 1))
        row.site, row.version = site, row.version + 1
        row.save(update_fields=["site", "version"])
    return moved


def bodies(uids: Sequence[UUID]) -> dict[UUID, dict[str, object]]:
    """Pickups as the feed gives them to a phone."""
    return {
        p.uid: {
            "yard": str(p.yard),
            "store": str(p.store) if p.store else None,
            "count": len(p.casings),
            "customer_count": p.customer_count,
            "finished_at": clock.rfc3339(p.finished_at),
        }
        for p in Pickup.objects.filter(uid__in=list(uids))
    }
