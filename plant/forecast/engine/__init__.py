"""The plant simulated from what is in process now: when each casing is finished, many times over.

Pure: a Shop and its casings in, hours from the origin out. Where queues are first come, first
served and nothing comes back, a recursion station by station (recursion.py); else event by event
(events.py). Both give the same paths on the same draws, as a plain reference on SimPy does in the
tests. All random numbers follow from the seed and from what they are drawn for (draws.py): the same
call gives the same answer, and two runs share all luck that they can.

What is not in it: tread stock, people who are needed at two stations, and buffers that are full.
"""

import itertools
import os
from concurrent.futures import ThreadPoolExecutor
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from plant.forecast.engine import events, recursion, state
from plant.forecast.engine.compiled import whole
from plant.forecast.engine.plan import Jobs, Plan, jobs, plan
from plant.forecast.engine.ticks import HOUR, NEVER, Ints
from plant.forecast.shop import Shop

__all__ = ["Jobs", "Passages", "finishes", "jobs", "passages"]

Floats = NDArray[np.float64]

_SHARE = 16
"""Replications that one thread takes at least."""


class Passages(NamedTuple):
    """Each visit to a station that ended, in no order: one index a visit. arrived, begun, ended:
    hours from the origin."""

    replication: Ints
    casing: Ints
    station: Ints
    arrived: Floats
    begun: Floats
    ended: Floats


def finishes(
    shop: Shop,
    casings: Jobs,
    *,
    replications: int,
    seed: int,
    by_events: bool = False,
    threads: int | None = None,
) -> Floats:
    """float64[replications, casings]: hours from the origin at which each is finished; inf where it
    is rejected, does not come, or is not finished while the hours last.

    by_events: event by event also where the recursion would do. threads: as many as there are
    processors, unless said.
    """
    made = plan(shop, casings)
    log = np.empty((replications, 0, 5), dtype=np.int64)
    out, _ = _run(made, seed, replications, by_events, threads, log)
    return _hours(out)


def passages(
    shop: Shop, casings: Jobs, *, replications: int, seed: int, by_events: bool = False
) -> Passages:
    """Every visit of the same replications: for what is asked about queues, and for tests."""
    made = plan(shop, casings)
    room = casings.at.size * len(shop.stations)
    while True:
        log = np.empty((replications, room, 5), dtype=np.int64)
        _, rows = _run(made, seed, replications, by_events, None, log)
        if int(rows.max(initial=0)) <= room:
            break
        room = int(rows.max())
    taken = np.arange(room) < rows[:, None]
    visits = log[taken]
    arrived, begun, ended = (visits[:, at] / HOUR for at in (2, 3, 4))
    return Passages(np.nonzero(taken)[0], visits[:, 0], visits[:, 1], arrived, begun, ended)


def _run(
    made: Plan, seed: int, replications: int, by_events: bool, threads: int | None, log: Ints
) -> tuple[Ints, Ints]:
    out = np.empty((replications, made.casings.size), dtype=np.int64)
    rows = np.zeros(replications, dtype=np.int64)
    in_order = _in_order(made) and not by_events
    at_once = max(1, min(threads or os.cpu_count() or 1, replications // _SHARE))
    edges = np.linspace(0, replications, at_once + 1).astype(int).tolist()
    shares = list(itertools.pairwise(edges))

    def replicated(share: tuple[int, int]) -> None:
        a, b = share
        told = (whole(seed), a, b, out[a:b], log[a:b], rows[a:b])
        if in_order:
            recursion.replicate(made, recursion.blank(made), *told)
        else:
            events.replicate(made, state.blank(made), *told)

    if at_once == 1:
        replicated(shares[0])
    else:
        with ThreadPoolExecutor(at_once) as pool:
            list(pool.map(replicated, shares))
    return out, rows


def _in_order(made: Plan) -> bool:
    """First come, first served everywhere, and nothing comes back."""
    return (
        not made.stations["rework"].any()
        and not made.stations["mtbf"].any()
        and np.unique(made.casings["priority"]).size <= 1
    )


def _hours(out: Ints) -> Floats:
    return np.where(out >= NEVER, np.inf, out / HOUR)
