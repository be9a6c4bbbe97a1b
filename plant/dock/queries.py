"""Reads of the plant's stations and calendar."""

from uuid import UUID

from plant.dock.models import Calendar, Station


def codes(plant: UUID) -> list[str]:
    """The codes of a plant's stations, in the order of its route."""
    return list(
        Station.objects.filter(plant=plant).order_by("place").values_list("code", flat=True)
    )


def calendar(plant: UUID) -> Calendar | None:
    """A plant's calendar with its holidays and standard times, if it has entered one."""
    rows = Calendar.objects.prefetch_related("holidays", "times")
    return rows.filter(plant=plant).first()
