"""What was scanned for a truck's list, and its closing: by a person, or when the truck is back.

What comes in later, from tablets that were offline, is held against the closed list again.
"""

from collections.abc import Sequence
from datetime import datetime, timedelta
from uuid import UUID

from pickups.custody import queries as custody
from pickups.journal.models import Entry
from plant.dock import consigning, consignments
from plant.dock.models import Consignment
from plant.inspection import daily

LATE = timedelta(days=3)
"""How long after its closing what comes in is held against a list. Our own figure."""


def scanned(row: Consignment) -> set[str]:
    """Labels scanned for one list, see `scanned_of`."""
    return scanned_of([row])[row.uid]


def scanned_of(rows: Sequence[Consignment]) -> dict[UUID, set[str]]:
    """Labels scanned for lists of one plant: received or shipped there since the run was handed
    out, until the list was closed, and not taken back; one that is not on a list only since it was
    counted, and where it is on no other. Each is the one that its casing wears now."""
    near = consignments.beside(rows)
    listed = {uid: {one["label"] for one in body["labels"]}
              for uid, body in consignments.bodies([row.uid for row in near]).items()}  # fmt: skip
    counts = consignments.counted([row.uid for row in rows])
    told = {way: _told(way, [row for row in rows if row.way == way]) for way in ("in", "out")}
    found = {}
    for row in rows:
        others = {label for other in near if other.uid != row.uid and _together(row, other)
                  for label in listed[other.uid]}  # fmt: skip
        own, count = listed[row.uid], counts.get(row.uid)
        found[row.uid] = {
            label
            for label, at in told[row.way]
            if at >= row.opened_at and (row.closed_at is None or at <= row.closed_at)
            if label in own or (count and at >= count.happened_at and label not in others)
        }
    return found


def _told(way: str, rows: Sequence[Consignment]) -> list[tuple[str, datetime]]:
    if not rows:
        return []
    first = min(row.opened_at for row in rows)
    outcome = "received" if way == "in" else "shipped"
    told = daily.scanned(rows[0].plant_id, outcome, first)
    names = custody.names_of_each(sorted({label for label, _ in told})) if told else {}
    return [(names[label].worn, at) for label, at in told]


def _together(row: Consignment, other: Consignment) -> bool:
    return other.way == row.way and (other.closed_at is None or other.closed_at >= row.opened_at)


def close(*, row: Consignment, at: datetime, by: UUID | None) -> bool:
    """A list is done with; False where it was already."""
    return consigning.close(uid=row.uid, scanned=scanned(row), at=at, by=by)


def run_back(entry: Entry) -> None:
    """Reaction: the truck is back, so its lists are done with. Safe to run twice."""
    for row in consignments.open_of(UUID(entry.subject.partition(":")[2])):
        close(row=row, at=entry.recorded_at, by=None)


def told_late(entry: Entry) -> None:
    """Reaction: stations told of casings that came or went, or took it back; lists that were closed
    lately are held against it. Safe to run twice."""
    facts = custody.facts(UUID(fact["fact"]) for fact in entry.body["facts"])
    holders = {fact.holder.partition(":")[::2] for fact in facts.values()}
    for plant in sorted(UUID(uid) for kind, uid in holders if kind == "plant"):
        _again(consignments.closed_lately(plant, entry.recorded_at - LATE), entry.recorded_at)


def counted_late(entry: Entry) -> None:
    """Reaction: a list was counted after it was closed. Safe to run twice."""
    row = consignments.known(UUID(entry.subject.partition(":")[2]))
    _again([row] if row is not None and row.closed_at else [], entry.recorded_at)


def _again(rows: Sequence[Consignment], at: datetime) -> None:
    for uid, labels in scanned_of(rows).items():
        consigning.compare_again(uid=uid, scanned=labels, at=at)
