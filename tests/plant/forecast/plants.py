"""A plant that has entered what a forecast needs, and casings on their way through it."""

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from datetime import datetime, time, timedelta
from uuid import UUID, uuid4

import psycopg
from django.db import connection

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


def enter_at(plant: str) -> None:
    """The same of a plant by its uid, in a process of its own."""
    enter(Site.objects.get(uid=plant))


def picked_up(phone: Phone, world: World, count: int) -> list[str]:
    """So many casings taken at the first customer's yard; their labels. The work is a retread."""
    labels = [world.a_label() for _ in range(count)]
    picked(phone, world.yard.uid, labels)
    return labels


def picked(phone: Phone, yard: UUID, labels: Sequence[str]) -> None:
    """Casings under these labels, taken at a yard to be retreaded."""
    pickup = str(uuid4())
    for label in labels:
        told = {"pickup": pickup, "yard": str(yard), "label": label, "work": "retread"}
        phone.enter("custody.pick_up", told, version=2)
    reply = phone.push()
    outcomes = [answer["outcome"] for answer in reply.json["answers"]]
    assert outcomes == ["accepted"] * len(labels), reply.body


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


@contextmanager
def another_holds(key: int) -> Iterator[Callable[[], None]]:
    """Another connection holds a key, until it lets go."""
    with psycopg.connect(**connection.get_connection_params(), autocommit=True) as other:
        other.execute("SELECT pg_advisory_lock(%s)", [key])

        def let_go() -> None:
            other.execute("SELECT pg_advisory_unlock(%s)", [key])

        yield let_go
