"""When a chamber may start. Pure, compiled; for both ways of simulating."""

from plant.forecast.engine.compiled import inlined
from plant.forecast.engine.plan import Plan
from plant.forecast.engine.ticks import NEVER, next_open


@inlined
def next_start(plan: Plan, station: int, chamber: int, t: int) -> int:
    """The first instant at or after t at which this chamber may start: its station open, and at a
    fixed time where there are such; NEVER where there is none."""
    lo, hi = plan.stations[station].lo, plan.stations[station].hi
    at, end = plan.machines[chamber].fixed, plan.machines[chamber].fixed_end
    if at == end:
        return next_open(plan.open, lo, hi, t, lo)[0]
    near = lo
    while at < end:
        if plan.fixed[at] >= t:
            opens, near = next_open(plan.open, lo, hi, plan.fixed[at], near)
            if opens == plan.fixed[at]:
                return opens
        at += 1
    return NEVER
