"""Trace over 1,000,000 station events: from a lot, a load, an operator, a machine and a day to all
casings with owner and place, and from a casing to its mates.

Seeded by COPY: 55,556 casings with eighteen events each over three years, 22 to a load, and a work
order each. Timed in this process, without a network between: the same calls as page and door make.
"""

import random
import time
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.db import connection
from psycopg.types.json import Jsonb

from pickups.kernel.bulk import copy_in
from plant.curing import tracing
from plant.dock.rules import DEFAULT_ROUTE
from plant.inspection.tracing import Asked
from tests.bench.figures import note
from tests.world import World

CASINGS, A_LOAD, A_LOT, A_DAY = 55_556, 22, 400, 51
START = datetime(2024, 1, 2, 12, tzinfo=UTC)
ROUTE = list(DEFAULT_ROUTE)
AGAIN = 7


def label(n: int) -> str:
    return f"T{n:07d}"


def events(plant: UUID) -> Iterator[tuple[Any, ...]]:
    """Eighteen a casing, in the order of the clock of a plant that works 51 casings a day."""
    chance = random.Random(7)
    for n in range(CASINGS):
        day = START + timedelta(days=n // A_DAY, minutes=n % A_DAY)
        for step, station in enumerate(ROUTE):
            event = UUID(int=n * 32 + step + 1)
            load = f"L{n // A_LOAD}" if station in ("enveloping", "curing", "stripping") else ""
            lots = [{"kind": "cushion_gum", "number": f"CG-{n // A_LOT}"}]
            body = {"lots": lots} if station == "cushion-gum" else {}
            at = day + timedelta(minutes=25 * step)
            yield (UUID(int=(1 << 90) + event.int), plant, event, b"", "P", label(n), station,
                   "passed", f"op{chance.randrange(40)}", f"{station}-{n % 3}", load, "", "",
                   int(at.timestamp() * 1000), at, at, Jsonb(body))  # fmt: skip


def seed(world: World) -> None:
    columns = ("fact", "plant_id", "event", "hash", "key", "label", "station", "outcome",
               "operator", "machine", "load", "envelope", "tag", "stamp", "happened_at",
               "recorded_at", "body")  # fmt: skip
    copy_in("inspection_station_event", columns, events(world.plant.uid))
    casing = [uuid4() for _ in range(CASINGS)]
    copy_in("casings_casing", ("uid", "tin", "size", "dealers"),
            ((uid, "", "11R22.5", "") for uid in casing))  # fmt: skip
    yards = [world.yard, world.other_yard]
    copy_in(
        "casings_work_order",
        ("uid", "casing_id", "pickup", "yard", "customer", "site", "label", "progress", "station",
         "reason", "on_hold", "contested", "withdrawn", "holder", "picked_up_at", "told",
         "version"),
        ((uuid4(), uid, uuid4(), yards[n % 2].uid, yards[n % 2].customer_id, world.store.uid,
          label(n), "returned", "shipping", "", False, False, False,
          f"customer:{yards[n % 2].customer_id}", START, Jsonb({}), 1)
         for n, uid in enumerate(casing)),
    )  # fmt: skip
    with connection.cursor() as c:
        c.execute("ANALYZE")


@pytest.mark.django_db
def test_trace_over_a_million_station_events(world: World) -> None:
    began = time.perf_counter()
    seed(world)
    seeded = time.perf_counter() - began
    plant, at = world.plant.uid, 30_000
    day = START + timedelta(days=at // A_DAY)

    def many(**asked: Any) -> Callable[[], int]:
        return lambda: len(tracing.trace(plant, Asked(**asked)).casings)

    def one() -> int:
        life = tracing.life(plant, label(at))
        assert life is not None
        return len(life.seen)

    asked: dict[str, tuple[Callable[[], int], int]] = {
        "lot": (many(lot=f"CG-{at // A_LOT}"), A_LOT),
        "load": (many(load=f"L{at // A_LOAD}"), A_LOAD),
        "operator_a_week": (many(operator="op7", since=day, until=day + timedelta(days=7)), 1),
        "machine_a_day": (many(machine="buffing-1", since=day, until=day + timedelta(days=1)), 10),
        "a_day": (many(since=day, until=day + timedelta(days=1)), A_DAY),
        "casing": (one, len(ROUTE)),
        "nothing": (many(lot="CG-none"), 0),
    }
    figures: dict[str, float] = {}
    for name, (ask, least) in asked.items():
        took = []
        for _ in range(AGAIN):
            before = time.perf_counter()
            assert ask() >= least, name
            took.append(time.perf_counter() - before)
        figures[f"{name}_s"] = max(took)
    rows = CASINGS * len(ROUTE)
    note("trace over a million events", events=rows, seeded_s=seeded, **figures, aim="under 1 s")
    assert rows >= 1_000_000
    assert max(figures.values()) < 1
