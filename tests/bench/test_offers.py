"""The table that a store's phones carry, for 200 yards: its size, and the time from a plant's
publication to the written table, in this process and over PostgreSQL."""

import gzip
import json
import time
from datetime import timedelta
from uuid import uuid4

import pytest

from pickups.kernel import clock
from pickups.promises import services
from pickups.promises.finishing import pack
from pickups.promises.models import Table
from tests.bench.figures import note
from tests.pickups.promises.promising import today
from tests.pickups.promises.vectors import SIZES, told
from tests.world import World

YARDS, CASINGS, COURSES = 200, 600, 200


@pytest.mark.django_db
def test_a_table_for_two_hundred_yards(world: World) -> None:
    """Two works, four classes of size, six sizes of group, three accounts' own confidences; 600
    casings inside. Bound: 50 KB compressed."""
    at, plant, day = clock.now(), world.plant.uid, today()
    yards = [(uuid4(), "to_yard", [n % 5, (n // 5) % 5]) for n in range(YARDS)]
    ways = [(plant, way, [0, 2, 4]) for way in ("to_plant", "from_plant")]
    services.publish_standard_times(
        plant=plant,
        times={"retread": 5, "repair": 2},
        weekdays=range(5),
        holidays=[],
        at=at,
    )
    services.publish_timetable(site=world.store.uid, rows=[*ways, *yards], at=at)
    sample = told(courses=COURSES).arrivals
    first = min(key[2] for key in sample)
    arrivals = [
        services.Arrival(work, of_size, day + (on - first), group, pack(minutes))
        for (work, of_size, on, group), minutes in sample.items()
    ]
    inside = {uuid4(): pack(range(COURSES)) for _ in range(CASINGS)}
    began = time.perf_counter()
    services.publish_forecast(
        plant=plant,
        origin=at,
        casings=inside,
        arrivals=arrivals,
        ahead=[],
        valid_until=at + timedelta(days=1),
        at=at,
    )
    published = time.perf_counter()
    services.compute_table(site=world.store.uid, today=day, at=at)
    computed = time.perf_counter()
    row = Table.objects.get(site=world.store.uid)
    assert row.forecast is not None
    assert len(row.forecast["runs"]) == YARDS
    assert len(row.forecast["days"]["retread"]) == len(SIZES)
    body = {"places": row.places, "forecast": row.forecast, "stock": row.stock}
    text = json.dumps(body, separators=(",", ":")).encode()
    packed = len(gzip.compress(text, 6))
    note(
        "a store's table of offers, 200 yards",
        kb=len(text) / 1024,
        kb_compressed=packed / 1024,
        forecast_kb_compressed=len(gzip.compress(json.dumps(row.forecast).encode(), 6)) / 1024,
        publish_ms=(published - began) * 1000,
        compute_ms=(computed - published) * 1000,
    )
    assert packed < 50_000
