"""Write down a casing without a label, and whose it turned out to be. Safe to repeat.

A recognised casing gets its new label by a station event of this plant, told in the same
transaction: custody then knows both labels for one casing, and who told how it was recognised.
What was done to the casing nobody knows by that, so the event moves it nowhere; one of which the
plant had told nothing has been received, since it lies there.
"""

from datetime import datetime
from uuid import UUID

from django.db import transaction

from pickups.casings import queries as casings
from pickups.kernel import clock, ids, locks
from pickups.questions import services as questions
from pickups.questions.rules import Kind
from pickups.questions.services import Ask
from plant.dock import queries as dock
from plant.inspection import queries as stations
from plant.inspection import services as inspection
from plant.inspection.services import Told
from plant.inspection.wire import StationEvent
from plant.unlabelled.models import Unlabelled
from plant.unlabelled.rules import Seen


class Worn(Exception):
    """A casing wears this label already."""


def find(
    *, plant: UUID, seen: Seen, note: str, rack: str, by: UUID, uid: UUID, at: datetime
) -> Unlabelled:
    """A casing without a label was found. uid: made where it was told. rack: its place on the
    owner-unknown rack, empty while somebody still searches; on the rack a question is open."""
    with transaction.atomic():
        found, _ = Unlabelled.objects.get_or_create(
            uid=uid,
            defaults={
                "plant_id": plant,
                "station": seen.station,
                "size": seen.size,
                "brand": seen.brand,
                "date_code": seen.date_code,
                "tread_32nds": seen.tread_32nds,
                "note": note,
                "found_at": at,
                "found_by": by,
            },
        )
        if rack:
            put_on_rack(found=found, rack=rack, at=at)
    return found


def put_on_rack(*, found: Unlabelled, rack: str, at: datetime) -> None:
    """Nobody recognises it: it lies at this place of the owner-unknown rack."""
    with transaction.atomic():
        row = Unlabelled.objects.select_for_update().get(uid=found.uid)
        if row.settled_at is not None:
            return
        row.rack = rack
        row.save(update_fields=["rack"])
        facts = {"rack": rack, "size": row.size, "brand": row.brand, "plant": str(row.plant_id)}
        questions.ask([Ask(Kind.OWNER_UNKNOWN, f"unlabelled:{row.uid}", facts)], at=at)


def recognise(
    *,
    found: Unlabelled,
    work_order: UUID,
    old: str,
    new: str,
    station: str,
    told_by: str,
    by: UUID,
    at: datetime,
) -> bool:
    """It is this casing, told by so and so: the new label goes on, the old one is void.

    Returns False where somebody else has recognised it, or found the other, meanwhile. Raises Worn
    where a casing wears the new label by now, Malformed for a label that is none.
    """
    with transaction.atomic():
        locks.take(locks.label_key(label) for label in (old, new))
        row = Unlabelled.objects.select_for_update().get(uid=found.uid)
        if row.settled_at is not None:
            return row.work_order == work_order and row.label == new
        if casings.worn([new]):
            raise Worn(new)
        order = casings.work_orders([work_order]).get(work_order)
        if order is None or order.label != old:
            return False
        event = StationEvent(
            id=ids.derived(row.uid, new),
            label=old,
            station=station,
            outcome="passed",
            happened_at=at,
            note=told_by,
            tag=new,
        )
        told = [Told(event, by=by, device=None, key="", skew_ms=None)]
        if stations.of_label(row.plant_id, old) is None:
            told.insert(0, _received(row, old, by, at))
        inspection.tell(plant=row.plant_id, events=told, at=at)
        row.work_order, row.label, row.told_by = work_order, new, told_by
        row.settled_at, row.settled_by = at, by
        row.save()
        questions.settle(
            kinds=[Kind.OWNER_UNKNOWN],
            subjects=[f"unlabelled:{row.uid}"],
            how=told_by,
            at=at,
            by=by,
        )
    return True


def _received(row: Unlabelled, label: str, by: UUID, at: datetime) -> Told:
    """That it came into the plant, told a moment before where it was found."""
    event = StationEvent(
        id=ids.derived(row.uid, f"received:{label}"),
        label=label,
        station=dock.first(row.plant_id),
        outcome="received",
        happened_at=at,
    )
    stamp = clock.to_ms(at) - 1
    return Told(event, by=by, device=None, key="", skew_ms=None, stamp=stamp)
