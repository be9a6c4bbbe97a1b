"""Reads of the journal."""

from datetime import datetime
from typing import Any

from pickups.journal.models import Delivery, Entry


def first_at(kind: str, subject: str) -> datetime | None:
    """When such a thing was written of a subject for the first time."""
    rows = Entry.objects.filter(subject=subject, kind=kind).order_by("id")
    return rows.values_list("recorded_at", flat=True).first()


def last_body(kind: str, subject: str) -> dict[str, Any] | None:
    """What the last entry of this kind about a subject says; None where there is none."""
    rows = Entry.objects.filter(subject=subject, kind=kind).order_by("-id")
    return rows.values_list("body", flat=True).first()


def owed() -> int:
    """How many reactions are still owed, due or not."""
    return Delivery.objects.filter(done_at=None, gave_up_at=None).count()


def given_up() -> int:
    """How many reactions failed so often that a person has to look."""
    return Delivery.objects.exclude(gave_up_at=None).count()
