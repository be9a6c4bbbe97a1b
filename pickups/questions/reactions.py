"""What the journal of the apps below sets off here. Safe to run twice."""

from pickups.journal.models import Entry
from pickups.questions import services
from pickups.questions.rules import Kind


def device_moved(entry: Entry) -> None:
    """A device that was in use at one site is another site's now: a person may have to know."""
    ask = services.Ask(Kind.DEVICE_MOVED, entry.subject, entry.body)
    services.ask([ask], at=entry.recorded_at)
