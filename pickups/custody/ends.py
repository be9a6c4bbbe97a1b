"""Reads of how visits ended: who signed or why nobody did, what list was shown, what it is held
against."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from uuid import UUID

from django.db.models.fields.json import KeyTextTransform

from pickups.custody.fold import Kind
from pickups.custody.models import Delivery, Fact, Pickup, Signature, VisitLine
from pickups.custody.shown import shown


@dataclass(frozen=True, slots=True)
class Signed:
    """Who signed for a visit, as they gave their name, or why nobody did: nobody_there, or refused
    with the key of why, and in words; drawn: there is a signature, with or without a name. read_in:
    the language of the list that was signed. customer: whose visit it was."""

    customer: UUID | None = None
    name: str = ""
    drawn: bool = False
    unsigned: str = ""
    refused: str = ""
    nobody_there: bool = False
    read_in: str = ""


def signed(visits: Iterable[UUID]) -> dict[UUID, Signed]:
    """Who signed for these pickups and deliveries; one that is not over yet is absent."""
    uids = list(visits)
    over: list[Pickup | Delivery] = list(Pickup.objects.filter(uid__in=uids))
    over += Delivery.objects.filter(uid__in=uids)
    names = {s.visit: s for s in Signature.objects.filter(visit__in=uids)}
    return {
        v.uid: Signed(v.customer, s.name, bool(s.image), read_in=v.signed_in)
        if (s := names.get(v.uid))
        else Signed(v.customer, "", False, v.unsigned, v.refused, v.nobody_there)
        for v in over
    }


def were_signed(visits: Iterable[UUID]) -> set[UUID]:
    """Those of these pickups and deliveries that somebody signed, also where it was erased."""
    ends = Fact.objects.annotate(visit=KeyTextTransform("visit", "told"))
    kinds = [Kind.PICKUP_END, Kind.DELIVERY_END]  # as the index has it
    rows = ends.filter(kind__in=kinds, visit__in=[str(v) for v in visits], told__signed=True)
    return {UUID(visit) for visit in rows.values_list("visit", flat=True)}


def photos_of(visit: UUID) -> list[str]:
    """Hashes of the photos told at the end of a visit, by the end that counts, in the order told;
    where nobody was there the first is of the pile before, the last of what was left after."""
    end = end_of(visit)
    return list(end.told.get("photos", [])) if end else []


def end_of(visit: UUID) -> Fact | None:
    """The end of a visit that counts, if it is over."""
    ends = Fact.objects.annotate(visit=KeyTextTransform("visit", "told"))
    kinds = [Kind.PICKUP_END, Kind.DELIVERY_END]  # as the index has it
    return ends.filter(kind__in=kinds, visit=str(visit)).order_by("stamp", "uid").first()


def drawing(visit: UUID) -> str:
    """The hash of the signature that was drawn at a visit; empty where there is none."""
    images = Signature.objects.filter(visit=visit).values_list("image", flat=True)
    return images.first() or ""


def as_signed(
    pickup: Pickup, lines: Sequence[tuple[str, str, str]], counted: Sequence[VisitLine]
) -> bool:
    """Whether these lines with what was counted and left there are the list that was signed; true
    where none was shown to who signed, or nobody did; and for a trailer taken closed: its number,
    its seal and a count were signed for, of what is in it there was no list.

    A line is the label picked up under, the one worn now, and the promised day or "". A label that
    was replaced is no correction, whether that was before the list was signed or after.
    """
    kept = Signature.objects.filter(visit=pickup.uid).values_list("shown", flat=True).first()
    if not kept or pickup.trailer:
        return True
    counts = [v.told.get("count", 0) if v.kind == Kind.SCRAP else 0 for v in counted]
    left = sum(1 for v in counted if v.kind == Kind.LEFT)
    either = ([(first, on) for first, _, on in lines], [(now, on) for _, now, on in lines])
    return kept in [shown(told, scrap=sum(counts), left=left) for told in either]


def handed_back(delivery: UUID) -> list[Fact]:
    """What was handed back in a delivery, a casing each, in the order told."""
    rows = Fact.objects.annotate(delivery=KeyTextTransform("delivery", "told"))
    told = rows.filter(kind=Kind.RETURNED, delivery=str(delivery)).order_by("stamp", "uid")
    return list({row.label: row for row in told}.values())


def handed_back_as_signed(delivery: UUID, labels: Iterable[tuple[str, str]]) -> bool:
    """Whether these casings, each by the label it was told and the one it wears, are the list that
    was signed; true where none was shown to who signed, or nobody did."""
    kept = Signature.objects.filter(visit=delivery).values_list("shown", flat=True).first()
    told, worn = zip(*labels, strict=True) if (labels := list(labels)) else ((), ())
    return not kept or kept in [shown([(one, "") for one in either]) for either in (told, worn)]
