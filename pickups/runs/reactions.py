"""What the journal sets off here. Safe to run twice."""

from uuid import UUID

from pickups.journal.models import Entry
from pickups.runs import telling


def words_erased(entry: Entry) -> None:
    """What a driver typed on the way is gone: the sheets that are out are shown without it."""
    telling.words_erased([UUID(uid) for uid in entry.body["words"]])
