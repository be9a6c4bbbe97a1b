"""What the journal owes to lists: the next step of one that was agreed to."""

from uuid import UUID

from pickups.exchange import services
from pickups.journal.models import Entry


def write(entry: Entry) -> None:
    """Write the step that is owed; it owes the next. Safe to repeat."""
    services.step(uid=UUID(entry.body["import"]), start=entry.body["start"])
