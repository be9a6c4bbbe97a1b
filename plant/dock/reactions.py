"""What the journal of the trunk sets off at the dock: a run was handed out or taken back, casings
have moved. Safe to run twice."""

from uuid import UUID

from pickups.journal.models import Entry
from plant.dock import consigning


def run_changed(entry: Entry) -> None:
    """The lists of a run that calls at a plant."""
    consigning.of_run(run=UUID(entry.subject.partition(":")[2]), at=entry.recorded_at)


def casings_moved(entry: Entry) -> None:
    """Open lists follow what is on the trucks and what is done."""
    consigning.refresh({UUID(f["work_order"]) for f in entry.body["facts"] if "work_order" in f})
