"""Reads of the ledger: the life of a label, a pickup with its casings."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from django.db.models import Max, Q

from pickups.custody import fold
from pickups.custody.fold import Kind
from pickups.custody.models import Fact, Pickup

__all__ = ["Fact", "Outcome", "Pickup", "fact", "facts", "last_told", "life_of", "of_work_order",
           "outcomes", "pickup", "pickups", "told_about"]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Outcome:
    """What the plant has made of a casing.

    rejection: the one whose reason counts, where one stands. again: how many rejections were
    released before it, so that one anew is told from the same one seen by two stations.
    """

    finished: bool
    rejection: Fact | None
    again: int


def life_of(label: str) -> list[Fact]:
    """Every fact under a label, in the order of the fold."""
    return list(Fact.objects.filter(label=label).order_by("stamp", "uid"))


def told_about(label: str) -> list[Fact]:
    """The life of a label with the corrections that moved a fact of it to another label."""
    mine = Fact.objects.filter(label=label).values("uid")
    concerned = Q(label=label) | Q(corrects__in=mine)
    return list(Fact.objects.filter(concerned).order_by("stamp", "uid"))


def facts(uids: Iterable[UUID]) -> dict[UUID, Fact]:
    """These facts, by their uid."""
    return {f.uid: f for f in Fact.objects.filter(uid__in=list(uids))}


def of_work_order(uid: UUID) -> list[Fact]:
    """A work order's facts with the corrections of its pick_up, in the order of the fold."""
    own = Q(work_order=uid) | Q(uid=uid) | Q(corrects=uid)
    return list(Fact.objects.filter(own).order_by("stamp", "uid"))


def last_told(work_orders: Iterable[UUID]) -> dict[UUID, datetime]:
    """When the last thing happened that is told of each; one of which nothing is, is absent."""
    rows = Fact.objects.filter(work_order__in=list(work_orders)).values("work_order")
    told = rows.annotate(at=Max("happened_at")).values_list("work_order", "at")
    return {uid: at for uid, at in told if uid is not None}


def pickups(uids: Iterable[UUID]) -> dict[UUID, Pickup]:
    """These pickups, by their uid; one that is not over yet is absent."""
    return {p.uid: p for p in Pickup.objects.filter(uid__in=list(uids))}


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


def fact(uid: UUID) -> Fact | None:
    """One fact, if it is there."""
    return Fact.objects.filter(uid=uid).first()


def pickup(uid: UUID) -> Pickup | None:
    """One pickup that is over, if it is there."""
    return Pickup.objects.filter(uid=uid).first()
