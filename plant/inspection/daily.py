"""What a plant's day is read from: what is inside, what was told since, what was told before of
those that ended. One query each, however many casings."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from plant.inspection.models import StationEvent, Work


@dataclass(frozen=True, slots=True)
class Told:
    """What is read of one event."""

    event: UUID
    label: str
    outcome: str
    station: str
    happened_at: datetime
    tag: str
    about: UUID | None
    again_at: str | None
    reason: str | None


_FIELDS = (
    "event", "label", "outcome", "station", "happened_at", "tag", "about", "body__again_at",
    "body__reason",
)  # fmt: skip

Row = tuple[str, str, str, str, datetime, datetime, int]


def inside(plant: UUID) -> list[Row]:
    """What is inside a plant and has not left it: label, station, next, stage, entered_at, seen_at,
    reworks."""
    rows = Work.objects.filter(plant=plant).exclude(stage=Work.Stage.SHIPPED)
    fields = ("label", "station", "next", "stage", "entered_at", "seen_at", "reworks")
    return list(rows.values_list(*fields))


def since(plant: UUID, begin: datetime) -> list[Told]:
    """Every event that happened since then and stands, in the order in which they happened."""
    rows = StationEvent.objects.filter(plant=plant, happened_at__gte=begin)
    # That a casing without a label was recognised is no pass (fold.Event.identifies).
    rows = rows.exclude(outcome="passed", key="", device__isnull=True, tag__gt="")
    return _standing(Told(*row) for row in rows.order_by("stamp").values_list(*_FIELDS))


def turned_back(plant: UUID, labels: Iterable[str]) -> list[Told]:
    """All that was ever told under these labels of mending and rejecting, and stands."""
    rows = StationEvent.objects.filter(plant=plant, label__in=list(labels))
    rows = rows.filter(outcome__in=("repair", "rejected", "withdrawn"))
    return _standing(Told(*row) for row in rows.values_list(*_FIELDS))


def finished_at(plant: UUID, labels: Iterable[str]) -> dict[str, datetime]:
    """When each of these labels was last told finished, as far as that was not taken back."""
    rows = StationEvent.objects.filter(plant=plant, label__in=list(labels))
    told = rows.filter(outcome__in=("finished", "withdrawn")).order_by("stamp")
    standing = _standing(Told(*row) for row in told.values_list(*_FIELDS))
    return {one.label: one.happened_at for one in standing}


def scanned(plant: UUID, outcome: str, begin: datetime) -> list[tuple[str, datetime]]:
    """Labels told with an outcome from then on, and not taken back; with when."""
    told = since(plant, begin)
    return [(one.label, one.happened_at) for one in told if one.outcome == outcome]


def _standing(rows: Iterable[Told]) -> list[Told]:
    """Without what was taken back, and without the taking back."""
    told = list(rows)
    back = {e.about for e in told if e.outcome == "withdrawn"}
    return [e for e in told if e.event not in back and e.outcome != "withdrawn"]
