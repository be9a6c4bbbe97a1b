"""What of a receipt was corrected after its list was signed, or after the visit where nobody did.

A settled mix-up says that a casing came from another yard than was told: it leaves the receipt of
the visit in which it was taken, and the one that it was taken for stands on it instead. The facts
and the signature stay; the hash that was signed is that of the list as it was then.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from uuid import UUID

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.custody import owning
from pickups.custody import queries as custody
from pickups.custody.queries import Pickup


@dataclass(frozen=True)
class Swapped:
    """A casing that was taken for another: `gone` is off the receipt, `instead` stands on it, none
    where that casing is not known any more."""

    gone: WorkOrder
    instead: WorkOrder | None


def swapped(pickup: Pickup, orders: Sequence[WorkOrder]) -> list[Swapped]:
    """Those of a pickup's work orders that a settled mix-up says came from elsewhere."""
    gone = [w for w in orders if not w.withdrawn and w.yard != pickup.yard and _settled(w)]
    return [Swapped(w, _instead(w, pickup)) for w in gone]


def _settled(order: WorkOrder) -> bool:
    return any(c.yard for c in casings.owned_otherwise([order.casing_id]))


def _instead(order: WorkOrder, pickup: Pickup) -> WorkOrder | None:
    """The casing that came from this pickup's yard: of those that were mixed up with this one, by
    settlements in force, the trip begun next to it in time."""
    known: set[UUID] = {order.casing_id}
    while True:
        changes = custody.owner_changes(known)
        undone = {c.undoes for c in changes if c.undoes}
        pairs = [c for c in changes if c.kind == owning.Kind.SETTLED and c.uid not in undone]
        further = {one for c in pairs for one in (c.casing, c.other) if one} - known
        if not further:
            break
        known |= further
    trips = [
        w
        for w in casings.of_casings(known - {order.casing_id})
        if w.yard == pickup.yard and w.customer == pickup.customer and not w.withdrawn
        and w.pickup != pickup.uid
    ]  # fmt: skip
    apart = {w.uid: abs((w.picked_up_at - order.picked_up_at).total_seconds()) for w in trips}
    return min(trips, key=lambda w: (apart[w.uid], w.uid), default=None)


def changed(casing: UUID) -> bool:
    """Whether the last word on whose a casing is was that it was mixed up with another, or that it
    was not after all: what a receipt lists hangs on that, on a sale it does not."""
    changes = custody.owner_changes([casing])
    settled = {c.uid for c in changes if c.kind == owning.Kind.SETTLED}
    return bool(changes) and bool({changes[-1].uid, changes[-1].undoes} & settled)
