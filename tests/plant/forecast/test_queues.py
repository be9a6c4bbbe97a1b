"""The engine held against published results of queueing theory (queue_values.csv names the source
of each), and against Little's law on every run here.

A Poisson stream is made by a station before the one in question, which takes exponential times and
always has work. Means are over replications that begin empty, the first customers left out; each
must lie within four standard errors, and those must be small.
"""

import csv
from pathlib import Path
from typing import NamedTuple

import numpy as np
import pytest
from numpy.typing import NDArray

from plant.forecast import hours
from plant.forecast.engine import Passages, finishes, jobs, passages
from plant.forecast.hours import ALWAYS, Hours
from plant.forecast.shop import Chamber, Job, Law, Shop, Station
from tests.plant.forecast.shops import CALENDARS, shift

Floats = NDArray[np.float64]


class Case(NamedTuple):
    kind: str
    law: Law
    rate: float
    mu: float
    servers: int
    least: int
    holds: int
    p_wait: float | None
    wq: float
    w: float


def _cases() -> list[Case]:
    with (Path(__file__).parent / "queue_values.csv").open() as file:
        rows = list(csv.DictReader(file))
    return [
        Case(
            row["kind"],
            "fixed" if row["law"] == "fixed" else "exponential",
            float(row["lambda"]),
            float(row["mu"]),
            int(row["servers"]),
            int(row["least"]),
            int(row["holds"]),
            float(row["p_wait"]) if row["p_wait"] else None,
            float(row["wq"]),
            float(row["w"]),
        )
        for row in rows
    ]


def _name(case: Case) -> str:
    if case.kind == "chamber":
        return f"chamber-{case.least}-of-{case.holds}-rate-{case.rate:g}"
    return f"{case.law}-{case.servers}-rate-{case.rate:g}-mu-{case.mu:g}"


def _queue(case: Case) -> Station:
    if case.kind == "chamber":
        cure = Chamber(case.holds, 1 / case.mu, case.least)
        return Station("queue", 1, 0, 0, chamber=cure)
    return Station("queue", case.servers, 1 / case.mu, 1, case.law)


def _near(found: Floats, value: float, *, least: float = 0.05) -> None:
    """found: one mean a replication."""
    error = found.std(ddof=1) / np.sqrt(found.size)
    assert abs(found.mean() - value) < 4 * error
    assert 4 * error < least * value + 0.005


@pytest.mark.parametrize("case", _cases(), ids=_name)
def test_mean_time_in_the_system(case: Case) -> None:
    source = Station("source", 1, 1 / case.rate, 1, "exponential")
    crowd, warm = 12_000, 2_000
    some = jobs([Job(0, 0.0)] * crowd)
    arrived = finishes(Shop((source,), (ALWAYS,)), some, replications=160, seed=1)
    left = finishes(Shop((source, _queue(case)), (ALWAYS,)), some, replications=160, seed=1)
    inside = (left - arrived)[:, warm : crowd - 2 * case.holds]
    assert np.isfinite(inside).all()
    _near(inside.mean(axis=1), case.w)
    _near(inside.mean(axis=1) - 1 / case.mu, case.wq, least=0.25)


@pytest.mark.parametrize("case", [one for one in _cases() if one.p_wait is not None], ids=_name)
def test_share_that_waits(case: Case) -> None:
    source = Station("source", 1, 1 / case.rate, 1, "exponential")
    some = jobs([Job(0, 0.0)] * 4_000)
    found = passages(Shop((source, _queue(case)), (ALWAYS,)), some, replications=40, seed=2)
    later = (found.station == 1) & (found.casing >= 800)
    waits = (found.begun > found.arrived)[later].reshape(40, -1)
    assert case.p_wait is not None
    _near(waits.mean(axis=1), case.p_wait, least=0.12)


@pytest.mark.parametrize("by_events", [False, True], ids=["recursion", "events"])
@pytest.mark.parametrize("servers", [1, 3])
def test_in_shifts_it_is_the_same_in_worked_time(servers: int, by_events: bool) -> None:
    """Arrivals in shift hours only and work that goes on the next day: M/M/c in worked hours, so
    the calendar is held against Erlang C too."""
    open_ = shift(8, 16, days=700)
    source = Station("source", 1, 0.25 / servers, 1, "exponential")
    queue = Station("queue", servers, 0.2, 1, "exponential")
    some = jobs([Job(0, 0.0)] * 4_000)
    shop = Shop((source, queue), (open_,))
    found = passages(shop, some, replications=60, seed=3, by_events=by_events)
    later = (found.station == 1) & (found.casing >= 800)
    inside = hours.worked(open_, found.ended[later]) - hours.worked(open_, found.arrived[later])
    wq = {1: 4.0, 3: 1.078652}[servers] * 0.2 * {1: 1, 3: 1}[servers]
    _near(inside.reshape(60, -1).mean(axis=1), wq + 0.2, least=0.12)


def _little(found: Passages, stations: int) -> None:
    """At every station, waiting and in work: the time average of how many there are, summed up
    event by event, is their rate times the mean time of one."""
    for k in range(stations):
        here = found.station == k
        for begins, ends in ((found.arrived, found.begun), (found.begun, found.ended)):
            came, went = begins[here], ends[here]
            if not came.size:
                continue
            at = np.concatenate((came, went))
            step = np.concatenate((np.ones(came.size), -np.ones(went.size)))
            order = np.argsort(at, kind="stable")
            long = at.max() - at.min()
            if long == 0:
                continue
            many = np.cumsum(step[order])[:-1]
            average = (many * np.diff(at[order])).sum() / long
            assert average == pytest.approx(came.size / long * (went - came).mean())
            assert (many > -1e-9).all() or (np.diff(at[order])[many < 0] == 0).all()


def _busy(found: Passages, k: int, most: int) -> None:
    """Never more in work at once than the station has room for."""
    here = found.station == k
    for r in np.unique(found.replication[here]):
        one = here & (found.replication == r)
        at = np.concatenate((found.begun[one], found.ended[one]))
        step = np.concatenate((np.ones(one.sum()), -np.ones(one.sum())))
        assert np.cumsum(step[np.lexsort((step, at))]).max() <= most


def _plant(open_: tuple[Hours, ...]) -> Shop:
    return Shop(
        (
            Station("inspect", 2, 0.3, 0.5, hours=0, reject=0.05),
            Station("repair", 1, 0.5, 0.8, hours=1, passes=0.4),
            Station("build", 2, 0.5, 0.5, hours=1, breakdown=(30.0, 4.0)),
            Station("cure", 1, 0, 0, hours=1, chamber=Chamber(10, 3.5, 6, 4.0)),
            Station("final", 1, 0.2, 0.5, "exponential", hours=0, rework=0.1, rework_to=1),
        ),
        open_,
        rework_limit=2,
    )


@pytest.mark.parametrize("open_", [CALENDARS, (ALWAYS, ALWAYS, ALWAYS)], ids=["shifts", "always"])
def test_littles_law_with_loops_chamber_and_breakdowns(open_: tuple[Hours, ...]) -> None:
    shop = _plant(open_)
    some = jobs([Job(0, 0.25 * i, priority=i % 5 == 0) for i in range(200)])
    found = passages(shop, some, replications=20, seed=4)
    assert set(found.station.tolist()) == set(range(5))
    for r in range(20):
        mine = found.replication == r
        _little(Passages(*(column[mine] for column in found)), 5)
    for k, most in enumerate((2, 1, 2, 10, 1)):
        _busy(found, k, most)
    assert (found.begun >= found.arrived).all()
    assert (found.ended > found.begun).all()
