"""The simulation event by event: repair loops, priorities, breakdowns. Pure, compiled.

All that happens at one instant happens before anything is begun at it; then each station that it
touched begins what it can. Waiting casings stand by priority, then by arrival there, then by their
number. Work that a shift's end or a breakdown cuts off goes on afterwards; a chamber's cycle is not
cut off, a breakdown in it takes effect at its end.
"""

import numpy as np

from plant.forecast.engine import draws
from plant.forecast.engine.compiled import bare, compiled, inlined, whole
from plant.forecast.engine.draws import (
    COMES,
    EXPONENTIAL,
    FAILS,
    FIRST,
    OUTCOME,
    PASSES,
    REPAIRED,
    WORK,
)
from plant.forecast.engine.plan import Plan, bare_plan
from plant.forecast.engine.starts import next_start
from plant.forecast.engine.state import (
    ALIVE,
    ROWS,
    TOUCHED,
    State,
    arrive,
    bare_state,
    empty,
    fresh,
    happen,
    load,
    longest,
    next_event,
    soonest,
    touch,
)
from plant.forecast.engine.ticks import HOUR, NEVER, ORIGIN, Ints, at_worked, next_open, worked

ARRIVE, END, REPAIR, FAIL = (whole(kind) for kind in range(4))
"""Kinds of events, in the order in which those of one instant happen."""

FAILS_UNTIL = 5 * 366 * 24 * HOUR
"""Milliseconds; breakdowns are drawn for five years, beyond which nobody promises."""


@compiled
def replicate(
    held: Plan, room: State, seed: int, first: int, last: int, out: Ints, log: Ints, rows: Ints
) -> None:
    """As recursion.replicate; room: state.blank."""
    plan, state = bare_plan(held), bare_state(room)
    for r in range(first, last):
        begin = draws.stream(seed, r)
        fresh(plan, state)
        done, notes = bare(out[r - first]), bare(log[r - first])
        done[:] = NEVER
        _opened(plan, state, begin)
        now = ORIGIN
        while state.counts[ALIVE] > 0 and now < NEVER:
            while soonest(state) == now:
                kind, which = next_event(state)
                if kind == ARRIVE:
                    arrive(plan, state, now, which, plan.casings[which].station)
                elif kind == END:
                    _ended(plan, state, begin, now, which, done, notes)
                elif kind == FAIL:
                    _failed(plan, state, begin, now, which)
                else:
                    _repaired(plan, state, begin, now, which)
            for k in range(state.stations.size):
                if state.stations[k].wake == now:
                    state.stations[k].wake = NEVER
                    touch(state, k)
            now = _decided(plan, state, begin, now)
        rows[r - first] = state.counts[ROWS]


@inlined
def _decided(plan: Plan, state: State, begin: np.uint64, now: int) -> int:
    """The stations that were touched begin what they can. Returns when something happens next."""
    for i in range(state.counts[TOUCHED]):
        k = state.touched[i]
        state.stations[k].touched = False
        if plan.stations[k].cures:
            _cure(plan, state, now, k)
        else:
            _begin(plan, state, begin, now, k)
    state.counts[TOUCHED] = 0
    following = soonest(state)
    for k in range(state.stations.size):
        following = min(following, state.stations[k].wake)
    return following


@inlined
def _worked(plan: Plan, state: State, k: int, t: int) -> int:
    station = plan.stations[k]
    near = state.stations[k].near
    x, near = worked(plan.open, station.lo, station.hi, t, near)
    state.stations[k].near = near
    return x


@inlined
def _at_worked(plan: Plan, state: State, k: int, x: int) -> int:
    station = plan.stations[k]
    return at_worked(plan.open, station.lo, station.hi, x, state.stations[k].near)[0]


@inlined
def _opened(plan: Plan, state: State, begin: np.uint64) -> None:
    """Everybody where it is at the origin, or about to come; each machine's first breakdown."""
    for i in range(plan.order.size):
        j = plan.order[i]
        casing = plan.casings[j]
        k, p = casing.station, casing.place
        comes = casing.at < NEVER
        if casing.chance < 1.0:
            comes = comes and draws.uniform(begin, j, k, FIRST, COMES) < casing.chance
        if not comes:
            continue
        state.counts[ALIVE] += 1
        if p >= 0:
            _inside(plan, state, begin, j, k, p)
        elif casing.at > 0:
            happen(state, casing.at, ARRIVE, j)
        else:
            arrive(plan, state, casing.at, j, k)
    for k in range(state.stations.size):
        if plan.stations[k].mtbf > 0.0:
            for p in range(plan.stations[k].machine, plan.stations[k].machine_end):
                _will_fail(plan, state, begin, ORIGIN, k, p)


@inlined
def _inside(plan: Plan, state: State, begin: np.uint64, j: int, k: int, p: int) -> None:
    """Casing j has been worked on machine p since before the origin; the first of a load draws."""
    casing, station, machine = plan.casings[j], plan.stations[k], state.machines[p]
    state.casings[j].since = casing.at
    state.casings[j].begun = casing.begun
    state.casings[j].mate = machine.load
    if machine.load < 0:
        state.stations[k].idle -= 1
        if station.cures:
            _ends(state, p, max(0, casing.begun + plan.machines[p].cycle))
        else:
            spent = -_worked(plan, state, k, casing.begun)
            x = _worked(plan, state, k, ORIGIN)
            spent += x
            u = draws.uniform(begin, j, k, FIRST, WORK)
            machine.due = x + draws.rest(station.law, station.scale, station.sigma, u, spent)
            _ends(state, p, _at_worked(plan, state, k, machine.due))
    machine.load = j


@inlined
def _ends(state: State, p: int, t: int) -> None:
    """Machine p is done at t. One event stands for that at most; where it comes too early, since
    the machine was down meanwhile, it is put off then."""
    state.machines[p].ends = t
    if not state.machines[p].ending and t < NEVER:
        state.machines[p].ending = True
        happen(state, t, END, p)


@inlined
def _begin(plan: Plan, state: State, begin: np.uint64, now: int, k: int) -> None:
    """Station k's empty machines take what waits."""
    station = plan.stations[k]
    while state.stations[k].waiting > 0:
        p = empty(plan, state, k)
        if p < 0:
            return
        x = _worked(plan, state, k, now)
        opens = next_open(plan.open, station.lo, station.hi, now, state.stations[k].near)[0]
        if opens > now:
            state.stations[k].wake = min(state.stations[k].wake, opens)
            return
        j = load(plan, state, now, k, p, station.takes)
        u = draws.uniform(begin, j, k, state.casings[j].turn, WORK)
        x += draws.work(station.law, station.scale, station.sigma, u)
        state.machines[p].due = x
        _ends(state, p, _at_worked(plan, state, k, x))


@inlined
def _cure(plan: Plan, state: State, now: int, k: int) -> None:
    """Station k's empty chambers start, in their order, where they may; else it is looked at again
    when the next one might."""
    for p in range(plan.stations[k].machine, plan.stations[k].machine_end):
        waiting = state.stations[k].waiting
        if waiting == 0:
            return
        if state.machines[p].load >= 0 or state.machines[p].down:
            continue
        chamber = plan.machines[p]
        ready = now
        if waiting < chamber.least:
            ready = max(now, longest(state, k) + chamber.max_wait)
        start = next_start(plan, k, p, ready)
        if start > now:
            state.stations[k].wake = min(state.stations[k].wake, start)
        else:
            load(plan, state, now, k, p, chamber.holds)
            _ends(state, p, now + chamber.cycle)


@inlined
def _ended(
    plan: Plan, state: State, begin: np.uint64, now: int, p: int, done: Ints, log: Ints
) -> None:
    """Machine p's load is out, unless it was down meanwhile."""
    machine = state.machines[p]
    machine.ending = False
    if machine.ends != now:
        _ends(state, p, machine.ends)
        return
    k = plan.machines[p].station
    j = machine.load
    machine.ends = NEVER
    machine.load = -1
    if machine.failing:
        machine.failing = False
        _goes_down(plan, state, begin, now, k, p)
    else:
        state.stations[k].idle += 1
    touch(state, k)
    while j >= 0:
        casing = state.casings[j]
        mate = casing.mate
        row = state.counts[ROWS]
        if row < log.shape[0]:
            log[row, 0] = j
            log[row, 1] = k
            log[row, 2] = casing.since
            log[row, 3] = casing.begun
            log[row, 4] = now
        state.counts[ROWS] += 1
        to = _next(plan, state, begin, j, k)
        if to < 0:
            state.counts[ALIVE] -= 1
        elif to < state.stations.size:
            arrive(plan, state, now, j, to)
        else:
            state.counts[ALIVE] -= 1
            done[j] = now
        j = mate


@inlined
def _next(plan: Plan, state: State, begin: np.uint64, j: int, k: int) -> int:
    """Where casing j goes from station k: on, or back; the number of stations where it is finished,
    -1 where it is rejected."""
    station, casing = plan.stations[k], state.casings[j]
    if station.reject + station.rework > 0.0:
        u = draws.uniform(begin, j, k, casing.turn, OUTCOME)
        if u < station.reject:
            return -1
        if u < station.reject + station.rework:
            casing.turn += 1
            return -1 if 0 <= plan.limit < casing.turn else station.rework_to
    for to in range(k + 1, plan.stations.size):
        if (plan.casings[j].skip >> to) & 1 == 0:
            passes = plan.stations[to].passes
            if (plan.casings[j].visit >> to) & 1:
                return to
            if passes >= 1.0 or draws.uniform(begin, j, to, casing.turn, PASSES) < passes:
                return to
    return plan.stations.size


@inlined
def _drawn(begin: np.uint64, state: State, k: int, p: int, mean: float, purpose: int) -> int:
    u = draws.uniform(begin, p, k, state.machines[p].failures, purpose)
    return draws.work(EXPONENTIAL, mean, 0.0, u)


@inlined
def _will_fail(plan: Plan, state: State, begin: np.uint64, now: int, k: int, p: int) -> None:
    x = _worked(plan, state, k, now)
    x += _drawn(begin, state, k, p, plan.stations[k].mtbf, FAILS)
    at = _at_worked(plan, state, k, x)
    if at < FAILS_UNTIL:
        happen(state, at, FAIL, p)


@inlined
def _failed(plan: Plan, state: State, begin: np.uint64, now: int, p: int) -> None:
    k = plan.machines[p].station
    machine = state.machines[p]
    if machine.load < 0:
        state.stations[k].idle -= 1
    elif plan.stations[k].cures:
        machine.failing = True
        return
    else:
        machine.ends = NEVER
        machine.due -= _worked(plan, state, k, now)
    _goes_down(plan, state, begin, now, k, p)


@inlined
def _goes_down(plan: Plan, state: State, begin: np.uint64, now: int, k: int, p: int) -> None:
    state.machines[p].down = True
    x = _worked(plan, state, k, now)
    x += _drawn(begin, state, k, p, plan.stations[k].mttr, REPAIRED)
    happen(state, _at_worked(plan, state, k, x), REPAIR, p)


@inlined
def _repaired(plan: Plan, state: State, begin: np.uint64, now: int, p: int) -> None:
    k = plan.machines[p].station
    machine = state.machines[p]
    machine.down = False
    machine.failures += 1
    if machine.load < 0:
        state.stations[k].idle += 1
        touch(state, k)
    else:
        machine.due += _worked(plan, state, k, now)
        _ends(state, p, _at_worked(plan, state, k, machine.due))
    _will_fail(plan, state, begin, now, k, p)
