"""Write the plant's stations."""

from pickups.people.models import Site
from plant.dock.models import Station
from plant.dock.rules import DEFAULT_ROUTE


def lay_out(*, plant: Site) -> None:
    """Give a plant the default route, where it has no station yet."""
    if Station.objects.filter(plant=plant).exists():
        return
    for place, (code, name, caution) in enumerate(DEFAULT_ROUTE, 1):
        Station.objects.create(plant=plant, code=code, name=name, place=place, caution=caution)
