"""A plant that has entered what a forecast needs, and casings on their way through it."""

from datetime import datetime, time, timedelta
from typing import Any
from uuid import UUID, uuid4

from pickups.kernel import clock
from pickups.people.models import Site
from plant.dock import services as dock
from plant.dock.rules import DEFAULT_ROUTE, Shift
from plant.forecast import services
from plant.forecast.models import Forecast
from tests.world import Phone, World
from tests.world.plant import Gateway

EVERY = list(range(7))


def enter(plant: Site, *, cycle_min: int = 10, shifts: bool = True, standard_days: int = 5) -> None:
    """Hours round the clock, a time for each station, one chamber, standard times."""
    at = clock.now()
    dock.enter_times(plant=plant, times={"retread": standard_days, "repair": standard_days},
                     weekdays=EVERY, holidays={}, at=at)  # fmt: skip
    if shifts:
        round_the_clock = [Shift(day, time(0), time(0)) for day in EVERY]
        dock.enter_shifts(plant=plant.uid, shifts=round_the_clock)
    chamber = {"code": "A", "name": "Chamber A", "holds": 10, "cycle_min": 120, "max_wait_min": 60}
    dock.enter_cycles(plant=plant.uid, stations=dict.fromkeys(DEFAULT_ROUTE, (cycle_min, 1)),
                      chambers=[chamber])  # fmt: skip


def picked_up(phone: Phone, world: World, count: int, **more: Any) -> list[str]:
    """So many casings taken at the first customer's yard; their labels. The work is a retread."""
    pickup, labels = uuid4(), [world.a_label() for _ in range(count)]
    for label in labels:
        told = {"pickup": str(pickup), "yard": str(world.yard.uid), "label": label}
        phone.enter("custody.pick_up", told | {"work": "retread"} | more, version=2)
    reply = phone.push()
    assert [a["outcome"] for a in reply.json["answers"]] == ["accepted"] * count, reply.body
    return labels


def passed(gateway: Gateway, label: str, *stations: str, hours_ago: float = 1.0) -> None:
    """Told as done at these stations, one a minute."""
    begun = clock.now() - timedelta(hours=hours_ago)
    for n, station in enumerate(stations):
        outcome = "received" if station == "receiving" else "passed"
        at = begun + timedelta(minutes=n)
        gateway.tell(label, outcome, station=station, happened_at=at)


def computed(plant: UUID, *, at: datetime | None = None) -> Forecast:
    """The plant's forecast, computed now whatever was computed a moment ago."""
    Forecast.objects.filter(plant=plant).update(begun_at=None)
    assert services.compute(plant=plant, at=at or clock.now()) in ("computed", "missing")
    return Forecast.objects.get(plant=plant)
