"""Reads of the journal."""

from pickups.journal.models import Delivery


def owed() -> int:
    """How many reactions are still owed, due or not."""
    return Delivery.objects.filter(done_at=None, gave_up_at=None).count()


def given_up() -> int:
    """How many reactions failed so often that a person has to look."""
    return Delivery.objects.exclude(gave_up_at=None).count()
