"""What stands of a pickup whose trailer was taken closed: its list once it was emptied, and doubts.

The caller holds the lock key of the pickup.
"""

from datetime import datetime
from typing import Any
from uuid import UUID

from django.db.models.fields.json import KeyTextTransform

from pickups.custody.fold import Kind
from pickups.custody.models import Fact, Pickup
from pickups.customers.services import scope
from pickups.questions import services as questions
from pickups.questions.rules import Kind as Question
from pickups.questions.services import Ask
from pickups.sync import services as sync
from pickups.sync.rules import Change


def emptied(row: Pickup) -> dict[str, Any] | None:
    """What was told first of the emptying of its trailer, with by whom and as which fact; None
    where it has none or is still shut."""
    told = _emptyings(row.uid)[:1] if row.trailer else []
    return {**told[0].told, "by": str(told[0].by), "fact": str(told[0].uid)} if told else None


def lay_open(pickup: UUID) -> None:
    """Its row says what was told first of the emptying of its trailer, once it has ended."""
    row = Pickup.objects.filter(uid=pickup).first()
    told = emptied(row) if row else None
    if row is None or told == row.emptied:
        return
    row.emptied, row.version = told, row.version + 1
    row.save(update_fields=["emptied", "version"])
    sync.put([Change(scope(row.site), "pickup", row.uid, row.version)])


def listed(row: Pickup) -> tuple[list[str], list[str], list[str]]:
    """Casings, scrap and what was left, as a pickup's end has them and as they came out of its
    trailer."""
    out = row.emptied or {}
    return (
        [*row.casings, *out.get("casings", [])],
        [*row.scrap, *out.get("scrap", [])],
        [*row.left, *out.get("left", [])],
    )


def ask_about(pickup: UUID, new: UUID, *, at: datetime) -> str:
    """Ask about the emptying of its trailer, once it has ended; returns the first question's kind.

    new: the end or emptying that came now; what was asked before is not asked again by another.
    Another word beside the first, or a word about a trailer that was never taken; a seal that is
    not the one told, or was not whole. What no longer holds is settled.
    """
    row, every = Pickup.objects.filter(uid=pickup).first(), _emptyings(pickup)
    if row is None or not every:
        return ""
    first = every[0] if row.trailer else None
    anew = first is None or new == first.uid or new not in {e.uid for e in every}
    asks, settled = [], []
    for e in every:
        if first is not None and _said(e) == _said(first):
            settled.append(f"fact:{e.uid}")
        elif anew or e.uid == new:
            asks.append(Ask(Question.PICKUP_DIFFERS, f"fact:{e.uid}", {"pickup": str(pickup)}))
    seal = _seal_differs(row, first) if first else {}
    if not seal:
        settled.append(f"pickup:{pickup}")
    elif first and anew:
        facts = {**seal, "fact": str(first.uid)}
        asks.append(Ask(Question.SEAL_DIFFERS, f"pickup:{pickup}", facts))
    questions.ask(asks, at=at)
    for subject in settled:
        kind = Question.SEAL_DIFFERS if subject.startswith("pickup:") else Question.PICKUP_DIFFERS
        questions.settle(kinds=[kind], subjects=[subject], how="settled by a later fact", at=at)
    return asks[0].kind.value if asks else ""


def _emptyings(visit: UUID) -> list[Fact]:
    """Every emptying told of a pickup's trailer, in the order of the fold."""
    named = Fact.objects.annotate(visit=KeyTextTransform("visit", "told"))
    told = named.filter(kind=Kind.EMPTIED.value, visit=str(visit))
    return list(told.order_by("stamp", "uid"))


def _said(emptying: Fact) -> dict[str, Any]:
    """What it says, but for when."""
    return {k: v for k, v in emptying.told.items() if k != "at"}


def _seal_differs(row: Pickup, emptying: Fact) -> dict[str, str]:
    """The seal as it was told and as it was found; empty where they agree or nobody read it."""
    told, found = (row.trailer or {}).get("seal", ""), emptying.told.get("seal", "")
    state = emptying.told.get("seal_state", "")
    same = "".join(told.split()).casefold() == "".join(found.split()).casefold()
    if state in ("", "whole") and (not found or same):
        return {}
    return {"seal_told": told, "seal_found": found, "seal_state": state}
