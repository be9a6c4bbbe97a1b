"""Whose a casing is, folded from the facts of ownership: the second ledger. Pure.

A casing is the customer's from whose yard it came until a sale, an exchange or a settled mix-up
says otherwise. Where it is, who holds it, a rejection and time are the other ledger's and change
no owner. A fact names for each casing that it speaks of whose it is from then on; the last by
(stamp, uid) that was not undone counts. An undoing names one fact, stands for ever, and may come
before it: in any order, told once or often, the same facts end in the same owners.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from uuid import UUID

DEALER = "dealer"


class Kind(StrEnum):
    """What changed an owner."""

    SOLD = "sold"  # the dealer bought it, for a price or casing credit
    EXCHANGED = "exchanged"  # the customer took one from the dealer's stock for it
    SETTLED = "settled"  # a mix-up: it came from another yard than was told
    UNDONE = "undone"  # one of these was a mistake; why is kept


@dataclass(frozen=True, slots=True)
class Change:
    """One fact of ownership. owners: casing to whose it is from then on, DEALER or the id of the
    yard from whose customer it came."""

    uid: UUID
    kind: Kind
    stamp: int
    at: datetime
    owners: Mapping[UUID, str]
    undoes: UUID | None = None


@dataclass(frozen=True, slots=True)
class Owned:
    """Whose a casing is. yard: the one that a settled mix-up named; none, where it was picked up.
    dealers: what made it the dealer's, empty while it is the customer's. since, by: when and by
    which fact it became whose it is; none where nothing has changed."""

    yard: UUID | None = None
    dealers: str = ""
    since: datetime | None = None
    by: UUID | None = None


def owned(casing: UUID, facts: Iterable[Change]) -> Owned:
    """Whose a casing is after all that was told."""
    last = Owned()
    for change in standing(casing, facts):
        owner = change.owners[casing]
        if owner == DEALER:
            last = Owned(last.yard, change.kind.value, change.at, change.uid)
        else:
            last = Owned(UUID(owner), "", change.at, change.uid)
    return last


def standing(casing: UUID, facts: Iterable[Change]) -> list[Change]:
    """The changes of a casing's owner that were not undone, in their order."""
    known = {change.uid: change for change in facts}
    undone = {change.undoes for change in known.values() if change.kind is Kind.UNDONE}
    stand = [c for c in known.values() if casing in c.owners and c.uid not in undone]
    return sorted(stand, key=lambda change: (change.stamp, change.uid))
