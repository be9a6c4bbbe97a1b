"""Reads of the ledger: the life of a label, a pickup with its casings."""

from collections.abc import Iterable
from uuid import UUID

from django.db.models import Q

from pickups.custody.models import Fact, Pickup

__all__ = ["Fact", "Pickup", "fact", "facts", "life_of", "pickup", "pickups", "told_about"]


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


def pickups(uids: Iterable[UUID]) -> dict[UUID, Pickup]:
    """These pickups, by their uid; one that is not over yet is absent."""
    return {p.uid: p for p in Pickup.objects.filter(uid__in=list(uids))}


def fact(uid: UUID) -> Fact | None:
    """One fact, if it is there."""
    return Fact.objects.filter(uid=uid).first()


def pickup(uid: UUID) -> Pickup | None:
    """One pickup that is over, if it is there."""
    return Pickup.objects.filter(uid=uid).first()
