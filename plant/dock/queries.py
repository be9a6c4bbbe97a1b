"""Reads of the plant's stations."""

from uuid import UUID

from plant.dock.models import Station


def codes(plant: UUID) -> list[str]:
    """The codes of a plant's stations, in the order of its route."""
    return list(
        Station.objects.filter(plant=plant).order_by("place").values_list("code", flat=True)
    )
