"""What was scanned for a truck's list, and its closing: by a person, or when the truck is back."""

from datetime import datetime
from uuid import UUID

from pickups.journal.models import Entry
from plant.dock import consigning, consignments
from plant.dock.models import Consignment
from plant.inspection import daily


def scanned(row: Consignment, *, until: datetime | None = None) -> set[str]:
    """Labels scanned for a list: received or shipped here since its run was handed out, and not
    taken back; one that is not on it only since it was counted, and where it is on no other."""
    outcome = "received" if row.way == "in" else "shipped"
    here = daily.scanned(row.plant_id, outcome, row.opened_at, until)
    own, others = consignments.labels(row), consignments.labels_of_others(row)
    count = consignments.counted([row.uid]).get(row.uid)
    return {
        label
        for label, at in here
        if label in own or (count and at >= count.happened_at and label not in others)
    }


def close(*, row: Consignment, at: datetime, by: UUID | None) -> bool:
    """A list is done with; False where it was already."""
    return consigning.close(uid=row.uid, scanned=scanned(row, until=at), at=at, by=by)


def run_back(entry: Entry) -> None:
    """Reaction: the truck is back, so its lists are done with. Safe to run twice."""
    for row in consignments.open_of(UUID(entry.subject.partition(":")[2])):
        close(row=row, at=entry.recorded_at, by=None)
