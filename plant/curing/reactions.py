"""What the journal sets off here: loads of which something was told. Each may run twice."""

from uuid import UUID

from pickups.journal.models import Entry
from plant.curing import services


def settle(entry: Entry) -> None:
    """Bring loads up to date, and hold what one that fell short has to hold."""
    plant = UUID(entry.subject.removeprefix("site:"))
    for number in entry.body["loads"]:
        services.settle(plant=plant, number=number)
