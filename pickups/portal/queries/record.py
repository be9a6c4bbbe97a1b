"""A casing's record, read for its owner: what of it is told, the photos, the hand-overs."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from pickups.casings.models import WorkOrder
from pickups.custody import fold, handing
from pickups.custody import queries as custody
from pickups.custody.fold import Kind
from pickups.custody.handing import HandOver
from pickups.custody.queries import Fact
from pickups.customers import queries as customers
from pickups.kernel import clock
from pickups.portal import rules, words

CLOCK_RIGHT_MS = 60_000
HANDED = frozenset({Kind.HANDED_IN, Kind.HANDED_OUT})


@dataclass(frozen=True)
class Told:
    """A record whose facts were read: what of it is told, every photo with its number, and by the
    fact that told of it first each hand-over; the facts of its other witnesses are not told again.
    """

    order: WorkOrder
    facts: Sequence[Fact]
    photos: Mapping[UUID, Sequence[tuple[int, str]]]
    handed: Mapping[UUID, HandOver]

    @property
    def last(self) -> HandOver | None:
        """The hand-over after which it is where it is."""
        return list(self.handed.values())[-1] if self.handed else None

    @property
    def owner(self) -> str:
        """Who it is back with when it is back."""
        return f"customer:{self.order.customer}"


def read(order: WorkOrder) -> Told:
    """What is told of a record, in order: while it stands rejected, no "finished"; nothing that
    happened after it became the dealer's. Photos taken at another customer's are not shown."""
    rejected = rules.is_rejected(order.progress, order.reason)
    hidden = {Kind.FINISHED} if rejected else set()
    until = order.casing.owned_since if order.casing.dealers else None
    facts = [
        f
        for f in custody.of_work_order(order.uid)
        if (until is None or when(f) <= until)
        and (f.kind in HANDED or f"fact_{f.kind}" in words.of("en"))
        and f.kind not in hidden
    ]
    # What a work order keeps of its pick_up is its owner's already.
    yards = {
        f.uid: UUID(f.told["yard"]) for f in facts if f.uid != order.uid and f.told.get("yard")
    }
    whose = customers.owners(yards.values())
    theirs = {yard for yard, (customer, _) in whose.items() if customer == order.customer}
    elsewhere = {uid for uid, yard in yards.items() if yard not in theirs}
    photos, number = {}, 0
    for fact in facts:
        # What stands counts: a correction replaces what was told at first.
        first = fact.uid == order.uid
        hashes = order.told.get("photos", []) if first else fact.told.get("photos", [])
        hashes = [] if fact.corrects or fact.uid in elsewhere else hashes
        photos[fact.uid] = list(enumerate(hashes, number + 1))
        number += len(hashes)
    told = [
        fold.Fact(f.uid, Kind(f.kind), f.label, f.stamp, f.corrects, f.holder, f.told)
        for f in facts
    ]
    handed = handing.hand_overs(told, owner=f"customer:{order.customer}")
    return Told(order, facts, photos, {h.witnesses[0].uid: h for h in handed})


def first(h: HandOver, told: Told) -> Fact:
    """The fact that told of a hand-over first."""
    return next(f for f in told.facts if f.uid == h.witnesses[0].uid)


def when(f: Fact) -> datetime:
    """When it was, by a clock put right where it was off."""
    skew_ms = f.skew_ms or 0
    return (
        clock.set_right(f.happened_at, skew_ms) if abs(skew_ms) >= CLOCK_RIGHT_MS else f.happened_at
    )
