"""A Shop and its casings as tables of plain numbers, which the compiled loops read. Pure.

Times are whole milliseconds from the origin. Of casings told to be in work no more are taken for
that than the station has room for, the longest in work first; the others wait, in front.
"""

from collections.abc import Sequence
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from plant.forecast.engine import draws
from plant.forecast.engine.compiled import bare, inlined
from plant.forecast.engine.ticks import HOUR, NEVER, Ints, milliseconds, stretches
from plant.forecast.shop import Chamber, Job, Shop, Station

Floats = NDArray[np.float64]
Table = NDArray[Any]
"""A numpy array of records; columns as named below."""

_LAWS = {"lognormal": draws.LOGNORMAL, "exponential": draws.EXPONENTIAL, "fixed": draws.FIXED}


class Jobs(NamedTuple):
    """Casings, one an index. station, at, priority, skip and visit (bits of stations): int64[n];
    begun: ms, NEVER where it waits; chance: float64[n]."""

    station: Ints
    at: Ints
    begun: Ints
    priority: Ints
    skip: Ints
    visit: Ints
    chance: Floats


class Plan(NamedTuple):
    """What a run needs to know, but the seed.

    open: begins, ends, before of all calendars, see ticks. stations, casings, machines (chambers
    too): see the columns below. fixed: instants at which chambers may start. order: casings by
    station, those in work first, then as they come. limit: of rework, -1 without one.
    """

    open: Table
    stations: Table
    machines: Table
    fixed: Ints
    casings: Table
    order: Ints
    limit: int


STATION = np.dtype(
    [
        *((name, np.int64) for name in ("lo", "hi")),  # its hours in Plan.open
        ("law", np.int64),
        *((name, np.float64) for name in ("scale", "sigma")),  # of the law, see draws.work
        ("takes", np.int64),
        ("cures", np.bool_),
        *((name, np.float64) for name in ("passes", "reject", "rework")),
        ("rework_to", np.int64),
        *((name, np.float64) for name in ("mtbf", "mttr")),  # ms; 0: never down
        *((name, np.int64) for name in ("machine", "machine_end")),  # in Plan.machines
        *((name, np.int64) for name in ("order", "order_end")),  # in Plan.order
    ]
)
MACHINE = np.dtype(
    [
        (name, np.int64)
        for name in ("station", "holds", "cycle", "least", "max_wait", "fixed", "fixed_end")
    ]
)
CASING = np.dtype(
    [
        *((name, np.int64) for name in ("station", "at", "begun", "priority", "skip", "visit")),
        ("chance", np.float64),
        ("place", np.int64),  # the machine that works it at the origin, -1: it waits
    ]
)


@inlined
def bare_plan(plan: Plan) -> Plan:
    """See compiled.bare."""
    return Plan(
        bare(plan.open),
        bare(plan.stations),
        bare(plan.machines),
        bare(plan.fixed),
        bare(plan.casings),
        bare(plan.order),
        plan.limit,
    )


def jobs(casings: Sequence[Job]) -> Jobs:
    """The casings as arrays, in the same order."""

    def whole(values: list[int]) -> Ints:
        return np.array(values, dtype=np.int64)

    return Jobs(
        whole([one.station for one in casings]),
        whole([milliseconds(one.at_h) for one in casings]),
        whole([NEVER if one.begun_h is None else milliseconds(one.begun_h) for one in casings]),
        whole([one.priority for one in casings]),
        whole([sum(1 << where for where in one.skip) for one in casings]),
        whole([sum(1 << where for where in one.visit) for one in casings]),
        np.array([one.chance for one in casings], dtype=np.float64),
    )


def plan(shop: Shop, casings: Jobs) -> Plan:
    """The tables of a run."""
    beyond = casings.station >= len(shop.stations)
    if beyond.any():
        allowed = f"0 to {len(shop.stations) - 1}"
        raise ValueError(f"station is {casings.station[beyond][0]}; allowed: {allowed}.")
    opened, first = stretches(shop.hours)
    stations = np.zeros(len(shop.stations), STATION)
    machines = np.zeros(sum(one.machines for one in shop.stations), MACHINE)
    fixed: list[float] = []
    end = 0
    for k, one in enumerate(shop.stations):
        row = stations[k]
        row["lo"], row["hi"] = first[one.hours], first[one.hours + 1]
        row["law"], row["scale"], row["sigma"] = _law(one)
        for name in ("takes", "passes", "reject", "rework", "rework_to"):
            row[name] = getattr(one, name)
        row["cures"] = one.chamber is not None
        if one.breakdown is not None:
            row["mtbf"], row["mttr"] = (HOUR * hours for hours in one.breakdown)
        row["machine"], end = end, end + one.machines
        row["machine_end"] = end
        machines["station"][row["machine"] : end] = k
        for cell, chamber in zip(machines[row["machine"] : end], one.chambers, strict=False):
            _chamber(cell, chamber, len(fixed))
            fixed += chamber.fixed_h
    table = np.zeros(casings.at.size, CASING)
    for name, column in casings._asdict().items():
        table[name] = column
    _place(shop.stations, stations, table)
    order = np.lexsort(
        (np.arange(table.size), table["at"], table["begun"], table["station"])
    ).astype(np.int64)
    edges = np.searchsorted(table["station"][order], np.arange(stations.size + 1))
    stations["order"], stations["order_end"] = edges[:-1], edges[1:]
    return Plan(
        opened,
        stations,
        machines,
        np.array([milliseconds(one) for one in fixed], dtype=np.int64),
        table,
        order,
        -1 if shop.rework_limit is None else shop.rework_limit,
    )


def _law(station: Station) -> tuple[int, float, float]:
    """Kind, scale (ms) and sigma, see draws.work. Of mean m and coefficient of variation c the
    lognormal law has sigma^2 = ln(1 + c^2) and the median m exp(-sigma^2 / 2)."""
    variance = float(np.log1p(station.cv**2)) if station.law == "lognormal" else 0.0
    scale = HOUR * station.mean_h * float(np.exp(-variance / 2))
    return _LAWS[station.law], scale, variance**0.5


def _chamber(row: Any, chamber: Chamber, fixed: int) -> None:
    row["holds"], row["least"] = chamber.holds, chamber.least
    row["cycle"] = milliseconds(chamber.cycle_h)
    row["max_wait"] = milliseconds(chamber.max_wait_h)
    row["fixed"], row["fixed_end"] = fixed, fixed + len(chamber.fixed_h)


def _place(shop: Sequence[Station], stations: Table, casings: Table) -> None:
    """Each load in work gets the first machine that has room for it; where none has, it waits."""
    casings["place"] = -1
    for k, station in enumerate(shop):
        rooms = [one.holds for one in station.chambers] or [station.takes] * station.machines
        free = list(range(station.machines))
        for load in _loads(max(rooms), casings, k):
            fits = [machine for machine in free if rooms[machine] >= len(load)]
            if fits:
                free.remove(fits[0])
                casings["place"][load] = stations["machine"][k] + fits[0]
            else:
                casings["at"][load] = np.minimum(casings["at"][load], casings["begun"][load])
                casings["begun"][load] = NEVER


def _loads(most: int, casings: Table, k: int) -> list[list[int]]:
    """Those in work at station k by when they were begun, at most so many together."""
    inside = np.flatnonzero((casings["station"] == k) & (casings["begun"] < NEVER)).tolist()
    loads: list[list[int]] = []
    for j in sorted(inside, key=lambda j: (casings["begun"][j], casings["at"][j], j)):
        last = loads[-1] if loads else []
        if last and casings["begun"][last[0]] == casings["begun"][j] and len(last) < most:
            last.append(j)
        else:
            loads.append([j])
    return loads
