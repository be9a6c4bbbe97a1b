"""Reads of what is owed and of claims."""

from uuid import UUID

from plant.adjustments.models import Claim, ClaimDecision, Owed, Settled

What = ClaimDecision.What
SHOWN = 200
"""Rows of each list; the open ones come first. Our own figure."""


def owed(plant: UUID) -> list[Owed]:
    """What is owed, the open first, the newest of the settled behind."""
    rows = Owed.objects.filter(plant=plant).select_related("settled")
    waiting = list(rows.filter(settled=None).order_by("since"))
    return waiting + list(rows.exclude(settled=None).order_by("-since")[:SHOWN])


def settled(row: Owed) -> Settled | None:
    """How it was settled."""
    return getattr(row, "settled", None)


def how_settled(uid: UUID) -> str | None:
    """How a row was settled, "" while it is owed; None where there is none."""
    row = Owed.objects.filter(uid=uid).select_related("settled").first()
    found = settled(row) if row is not None else None
    return (found.how if found else "") if row is not None else None


def claims(plant: UUID) -> list[Claim]:
    """Claims, the open first."""
    rows = Claim.objects.filter(plant=plant).select_related("decision")
    waiting = list(rows.filter(decision=None).order_by("opened_at"))
    return waiting + list(rows.exclude(decision=None).order_by("-opened_at")[:SHOWN])


def claim(plant: UUID, uid: UUID) -> Claim | None:
    """One claim with its decision."""
    return Claim.objects.filter(plant=plant, uid=uid).select_related("decision").first()


def decision(row: Claim) -> ClaimDecision | None:
    """What was decided about it."""
    return getattr(row, "decision", None)


def open_claim(plant: UUID, label: str) -> Claim | None:
    """The claim about this tire that waits for a decision."""
    return Claim.objects.filter(plant=plant, label=label, decision=None).first()
