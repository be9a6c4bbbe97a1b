"""What the journal owes to labels: a new site's devices hear which ranges are the dealer's."""

from uuid import UUID

from pickups.journal.models import Entry
from pickups.labels import services


def ranges(entry: Entry) -> None:
    """Publish the ranges that were begun before this site was. Safe to repeat."""
    services.publish_ranges([UUID(entry.body["site"])])
