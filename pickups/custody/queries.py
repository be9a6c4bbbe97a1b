"""Reads of the ledger: the life of a label, a pickup with its casings."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from django.db import connection
from django.db.models import Max, Q
from django.db.models.fields.json import KeyTextTransform

from pickups.custody import fold, handing, homeward, owning
from pickups.custody.ends import (
    Signed,
    as_signed,
    drawing,
    end_of,
    handed_back,
    handed_back_as_signed,
    photos_of,
    signed,
    were_signed,
)
from pickups.custody.fold import Kind
from pickups.custody.handing import HandOver
from pickups.custody.models import Acceptance, Delivery, Fact, OwnerChange, Pickup, VisitLine
from pickups.custody.names import Names, alone, joined

__all__ = ["Decided", "Delivery", "Fact", "HandOver", "Outcome", "OwnerChange", "Pickup", "Signed",
           "VisitLine", "accepted_by", "as_change", "as_signed", "decided", "deliveries",
           "drawing", "end_of", "fact", "facts", "hand_overs", "handed_back",
           "handed_back_as_signed", "holdings", "homeward", "last_told", "lies_since", "lines",
           "lines_of", "named_with", "names_of", "names_of_each", "of_work_order", "one_sided",
           "outcomes", "owner_change", "owner_changes", "photos_of", "pick_ups", "pickup",
           "pickups", "reminded", "replaced", "signed", "swaps_of", "told_about", "visit",
           "visit_lines", "were_signed"]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Outcome:
    """What the plant has made of a casing.

    rejection: the one whose reason counts, where one stands. again: how many rejections were
    released before it, so that one anew is told from the same one seen by two stations.
    """

    finished: bool
    rejection: Fact | None
    again: int


@dataclass(frozen=True, slots=True)
class Decided:
    """When a plant decided about a casing, by its own clock; what its rejection said, where one
    stands, else it was finished."""

    at: datetime
    rejection: Mapping[str, Any] | None


def names_of(label: str) -> Names:
    """The labels that name the same casing as this one, and which of them it wears."""
    swaps = _swaps(named_with([label]))
    return joined(map(fold.swap, swaps)).get(label) or alone(label)


_RELABELLED = """
SELECT EXISTS (SELECT FROM custody_fact WHERE kind = 'relabelled'
                 AND (label = ANY(%s) OR (told ->> 'now') = ANY(%s)))
"""


def names_of_each(labels: Collection[str]) -> dict[str, Names]:
    """The names of the casing under each of these labels; see `names_of`."""
    with connection.cursor() as c:
        c.execute(_RELABELLED, [list(labels), list(labels)])
        if not c.fetchone()[0]:  # the common case
            return {label: alone(label) for label in labels}
    known = joined(map(fold.swap, _swaps(named_with(labels))))
    return {label: known.get(label) or alone(label) for label in labels}


def named_with(labels: Iterable[str]) -> set[str]:
    """These labels and all that name the same casings."""
    reached = set(labels)
    while True:
        further = {name for f in _swaps(reached) for name in (f.label, f.told["now"])} - reached
        if not further:
            return reached
        reached |= further


def _swaps(labels: Collection[str]) -> list[fold.Fact]:
    """The relabellings that begin or end in these labels and were not taken back."""
    told = Fact.objects.annotate(now=KeyTextTransform("now", "told"))
    either = Q(label__in=labels) | Q(now__in=labels)
    rows = told.filter(either, kind=Kind.RELABELLED.value)
    back = Fact.objects.filter(corrects__in=rows.values("uid"), kind=Kind.WITHDRAWN)
    return [_folded(f) for f in rows.exclude(uid__in=back.values("corrects"))]


def swaps_of(labels: Collection[str]) -> dict[str, list[Fact]]:
    """The relabellings that join the labels of each one's casing, in the order of the fold."""
    swaps = _swaps(named_with(labels))
    names = joined(map(fold.swap, swaps))
    told = facts(f.uid for f in swaps).values()
    found: dict[str, list[Fact]] = {label: [] for label in labels}
    for label in names.keys() & found.keys():
        own = [f for f in told if f.label in names[label].every]
        found[label] = sorted(own, key=lambda f: (f.stamp, f.uid))
    return found


def replaced(labels: Collection[str]) -> set[str]:
    """Which of these labels gave way to another on their casing."""
    return {f.label for f in _swaps(labels)} & set(labels)


def told_about(labels: Collection[str]) -> list[Fact]:
    """The life of these labels: also what put them in another's place, and the corrections that
    moved a fact of it to another label."""
    told = Fact.objects.annotate(now=KeyTextTransform("now", "told"))
    own = Q(label__in=labels) | Q(now__in=labels, kind=Kind.RELABELLED.value)
    mine = told.filter(own).values("uid")
    concerned = Q(uid__in=mine) | Q(corrects__in=mine)
    return list(Fact.objects.filter(concerned).order_by("stamp", "uid"))


def told_at(plant: UUID, labels: Collection[str]) -> set[str]:
    """Of these labels those that a person told to be at a plant, not a system by its key."""
    rows = Fact.objects.filter(label__in=list(labels), holder=f"plant:{plant}", by__isnull=False)
    return set(rows.exclude(told__has_key="key").values_list("label", flat=True))


def facts(uids: Iterable[UUID]) -> dict[UUID, Fact]:
    """These facts, by their uid."""
    return {f.uid: f for f in Fact.objects.filter(uid__in=list(uids))}


def of_work_order(uid: UUID) -> list[Fact]:
    """A work order's facts with the corrections of its pick_up, in the order of the fold."""
    own = Q(work_order=uid) | Q(uid=uid) | Q(corrects=uid)
    return list(Fact.objects.filter(own).order_by("stamp", "uid"))


def changed_since(visit: UUID, work_orders: Iterable[UUID], at: datetime) -> list[Fact]:
    """Facts recorded after a moment that speak of a pickup's lines or of these work orders."""
    lines = VisitLine.objects.filter(pickup=visit).values_list("uid", flat=True)
    uids = [*work_orders, *lines]
    own = Q(work_order__in=uids) | Q(uid__in=uids) | Q(corrects__in=uids)
    return list(Fact.objects.filter(own, recorded_at__gt=at).order_by("stamp", "uid"))


def reminded(work_orders: Collection[UUID], *, since: datetime) -> list[Fact]:
    """What was done from then on, by our clock, so that these are fetched."""
    told = Fact.objects.filter(work_order__in=work_orders, kind=Kind.REMINDED.value)
    return list(told.filter(recorded_at__gte=since).order_by("recorded_at", "uid"))


def hand_overs(rows: Iterable[Fact], *, owner: UUID | None = None) -> list[HandOver]:
    """The hand-overs that a work order's facts tell of, or those under a label that nobody claims:
    each once, in order, with its witnesses (by uid among the rows). owner: the customer."""
    return handing.hand_overs(map(_folded, rows), owner=f"customer:{owner}" if owner else "")


def one_sided(rows: Iterable[Fact]) -> set[UUID]:
    """The witnesses of hand-overs that the other side has not told of, and that nothing answers."""
    return {f.uid for h in handing.one_sided(map(_folded, rows)) for f in h.witnesses}


def _folded(f: Fact) -> fold.Fact:
    return fold.Fact(f.uid, Kind(f.kind), f.label, f.stamp, f.corrects, f.holder, f.told)


def pick_ups(work_orders: Collection[UUID]) -> dict[UUID, list[Fact]]:
    """The pick_up of each work order and what told it again, in the order of the fold."""
    own = Q(uid__in=work_orders) | Q(corrects__in=work_orders)
    made: dict[UUID, list[Fact]] = {}
    for f in Fact.objects.filter(own, kind=Kind.PICKED_UP).order_by("stamp", "uid"):
        made.setdefault(f.corrects or f.uid, []).append(f)
    return made


def last_told(work_orders: Iterable[UUID]) -> dict[UUID, datetime]:
    """When the last thing happened that is told of each; one of which nothing is, is absent."""
    rows = Fact.objects.filter(work_order__in=list(work_orders)).values("work_order")
    told = rows.annotate(at=Max("happened_at")).values_list("work_order", "at")
    return {uid: at for uid, at in told if uid is not None}


_COMES_TO_LIE = (Kind.RECEIVED, Kind.FINISHED, Kind.REJECTED, Kind.RELEASED, Kind.SHIPPED,
                 Kind.HANDED_IN, Kind.HANDED_OUT, Kind.RETURNED)  # fmt: skip


def lies_since(work_orders: Iterable[UUID]) -> dict[UUID, datetime]:
    """When each came to where it is, or was finished, rejected or released there, whichever was
    last; absent where nothing of the kind is told. What is only told again moves no casing."""
    rows = Fact.objects.filter(work_order__in=list(work_orders), kind__in=_COMES_TO_LIE)
    told = rows.values("work_order").annotate(at=Max("happened_at"))
    return {uid: at for uid, at in told.values_list("work_order", "at") if uid is not None}


def pickups(uids: Iterable[UUID]) -> dict[UUID, Pickup]:
    """These pickups, by their uid; one that is not over yet is absent."""
    return {p.uid: p for p in Pickup.objects.filter(uid__in=list(uids))}


def visit(uid: UUID) -> Pickup | Delivery | None:
    """A visit that is over."""
    return pickup(uid) or deliveries([uid]).get(uid)


def deliveries(uids: Iterable[UUID]) -> dict[UUID, Delivery]:
    """These deliveries, by their uid; one that is not over yet is absent."""
    return {d.uid: d for d in Delivery.objects.filter(uid__in=list(uids))}


def outcomes(work_orders: Iterable[UUID]) -> dict[UUID, Outcome]:
    """What the plant has made of these work orders; one that it told nothing of is absent."""
    kinds = (Kind.FINISHED, Kind.REJECTED, Kind.RELEASED)
    rows = {f.uid: f for f in Fact.objects.filter(work_order__in=list(work_orders), kind__in=kinds)}
    told: dict[UUID, list[fold.Fact]] = {}
    for f in rows.values():
        assert f.work_order is not None
        one = fold.Fact(f.uid, Kind(f.kind), f.label, f.stamp, told=f.told)
        told.setdefault(f.work_order, []).append(one)
    made = {}
    for work_order, facts in told.items():
        stand, again = fold.standing_rejections(facts)
        last = rows[stand[-1].uid] if stand else None
        made[work_order] = Outcome(any(f.kind is Kind.FINISHED for f in facts), last, again)
    return made


def decided(*, since: datetime, until: datetime) -> dict[UUID, Decided]:
    """The work orders that a plant finished or rejected in this time (since is in, until out), as
    it stands now: a rejection that stands decides, else the last finish."""
    kinds = (Kind.FINISHED, Kind.REJECTED)
    told = Fact.objects.filter(kind__in=kinds, happened_at__gte=since, happened_at__lt=until)
    uids = {uid for uid in told.values_list("work_order", flat=True) if uid}
    made = outcomes(uids)
    finished: dict[UUID, Fact] = {}
    for f in Fact.objects.filter(work_order__in=uids, kind=Kind.FINISHED).order_by("stamp", "uid"):
        assert f.work_order is not None
        finished[f.work_order] = f
    found = {}
    for uid, outcome in made.items():
        last = outcome.rejection or finished.get(uid)
        if last is not None and since <= last.happened_at < until:
            found[uid] = Decided(last.happened_at, last.told if outcome.rejection else None)
    return found


def fact(uid: UUID) -> Fact | None:
    """One fact, if it is there."""
    return Fact.objects.filter(uid=uid).first()


def pickup(uid: UUID) -> Pickup | None:
    """One pickup that is over, if it is there."""
    return Pickup.objects.filter(uid=uid).first()


def holdings(work_orders: Iterable[UUID]) -> dict[UUID, list[Fact]]:
    """Of each work order the facts that say who holds it, in the order of the fold."""
    rows = Fact.objects.filter(work_order__in=list(work_orders)).exclude(holder="")
    found: dict[UUID, list[Fact]] = {}
    for f in rows.order_by("stamp", "uid"):
        assert f.work_order is not None
        found.setdefault(f.work_order, []).append(f)
    return found


def lines_of(customer: UUID, *, most: int) -> list[VisitLine]:
    """What was counted as scrap and left with a customer, as it stands, the latest first."""
    rows = VisitLine.objects.filter(customer=customer, withdrawn=False)
    return list(rows.order_by("-told_at", "uid")[:most])


def lines(uids: Iterable[UUID]) -> dict[UUID, VisitLine]:
    """These lines of pickups as they stand, by their uid; taken back ones too."""
    return {v.uid: v for v in VisitLine.objects.filter(uid__in=list(uids))}


def visit_lines(pickups: Iterable[UUID]) -> dict[UUID, list[VisitLine]]:
    """What was counted as scrap and what was left there in these pickups, as it stands, in the
    order told; what was taken back is absent."""
    rows = VisitLine.objects.filter(pickup__in=list(pickups), withdrawn=False)
    found: dict[UUID, list[VisitLine]] = {}
    for v in rows.order_by("told_at", "uid"):
        found.setdefault(v.pickup, []).append(v)
    return found


def counted_scrap(
    *, customer: UUID | None, since: datetime | None, until: datetime | None
) -> Iterable[VisitLine]:
    """Scrap that was counted, in the order told; of one customer, in a span of time where asked.
    Read in portions: a long history is never all in memory."""
    rows = VisitLine.objects.filter(kind="scrap", withdrawn=False)
    rows = rows.filter(customer=customer) if customer else rows
    rows = rows.filter(told_at__gte=since) if since else rows
    rows = rows.filter(told_at__lt=until) if until else rows
    return rows.order_by("told_at", "uid").iterator(chunk_size=500)


def owner_changes(casings: Iterable[UUID]) -> list[OwnerChange]:
    """Every fact of ownership that speaks of these casings, in the order of its fold."""
    uids = list(casings)
    either = Q(casing__in=uids) | Q(other__in=uids)
    return list(OwnerChange.objects.filter(either).order_by("stamp", "uid"))


def owner_change(uid: UUID) -> OwnerChange | None:
    """One fact of ownership, if it is there."""
    return OwnerChange.objects.filter(uid=uid).first()


def as_change(row: OwnerChange) -> owning.Change:
    """A fact of ownership as it is folded."""
    owners = {UUID(casing): owner for casing, owner in row.told["owners"].items()}
    kind = owning.Kind(row.kind)
    return owning.Change(row.uid, kind, row.stamp, row.happened_at, owners, row.undoes)


def accepted_by(changes: Iterable[UUID]) -> dict[UUID, str]:
    """Who accepted these sales, as far as it was not erased."""
    rows = Acceptance.objects.filter(change__in=list(changes))
    return dict(rows.values_list("change", "name"))
