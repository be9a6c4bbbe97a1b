"""The compiled engine and a plain reference on SimPy take the same paths on the same luck, to the
millisecond: chambers, shifts, optional stations, repair loops, priorities, breakdowns."""

import numpy as np
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from plant.forecast.engine import finishes, jobs, passages
from plant.forecast.shop import Chamber, Job, Shop, Station
from tests.plant.forecast import reference
from tests.plant.forecast.shops import CALENDARS, casings, shops

FEW = settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow], derandomize=True
)


def visits(shop: Shop, some: list[Job], *, by_events: bool) -> list[tuple[float, ...]]:
    found = passages(shop, jobs(some), replications=1, seed=7, by_events=by_events)
    columns = (found.casing, found.station, found.arrived, found.begun, found.ended)
    return sorted(zip(*(one.tolist() for one in columns), strict=True))


@FEW
@given(st.data())
def test_where_queues_are_in_order_all_three_are_equal(data: st.DataObject) -> None:
    shop = data.draw(shops(loops=False))
    some = data.draw(casings(shop, priorities=False))
    plain = reference.finishes(shop, some, replications=2, seed=7)
    for by_events in (False, True):
        ours = finishes(shop, jobs(some), replications=2, seed=7, by_events=by_events)
        assert np.array_equal(ours, plain)
        plainly = reference.visits(shop, some, seed=7, replication=0)
        assert visits(shop, some, by_events=by_events) == plainly


@FEW
@given(st.data())
def test_with_loops_priorities_and_breakdowns_both_are_equal(data: st.DataObject) -> None:
    shop = data.draw(shops(loops=True))
    some = data.draw(casings(shop, priorities=True))
    ours = finishes(shop, jobs(some), replications=2, seed=7)
    assert np.array_equal(ours, reference.finishes(shop, some, replications=2, seed=7))
    plainly = reference.visits(shop, some, seed=7, replication=0)
    assert visits(shop, some, by_events=True) == plainly


def test_a_whole_route_with_shifts_chamber_repairs_and_breakdowns() -> None:
    """Twelve stations, 240 casings in process and coming; the figures are invented."""
    minutes = [6, 7, 13, 12, 18, 6.5, 13.5, 13, 0, 6, 12, 6]
    machines = [1, 1, 1, 2, 3, 1, 1, 2, 2, 1, 2, 1]
    stations = tuple(
        Station(
            f"s{k}",
            machines[k],
            minutes[k] / 60,
            0.5,
            hours=k % 2,
            passes=0.4 if k == 4 else 1.0,
            reject=0.05 if k in {1, 10} else 0.0,
            rework=0.08 if k == 10 else 0.0,
            rework_to=4 if k == 10 else -1,
            breakdown=(40.0, 3.0) if k == 2 else None,
            chamber=(Chamber(22, 3.5, 12, 4.0), Chamber(10, 3.0, 10, 6.0)) if k == 8 else None,
        )
        for k in range(12)
    )
    shop = Shop(stations, CALENDARS, rework_limit=1)
    some = [Job(k, -1.0 - i, priority=i % 7 == 0) for k in range(12) for i in range(10)]
    some += [Job(8, -9.0, -1.5) for _ in range(9)]
    some += [Job(0, 24.0 * (i // 24) + 6 + i % 24 / 4) for i in range(111)]
    ours = finishes(shop, jobs(some), replications=3, seed=11)
    plain = reference.finishes(shop, some, replications=3, seed=11)
    assert np.array_equal(ours, plain)
    assert 0.8 < np.isfinite(ours).mean() < 1
