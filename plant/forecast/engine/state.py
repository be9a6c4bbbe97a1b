"""What an event-by-event replication keeps while it runs: what is still to happen, who waits where,
who is worked. Pure, compiled."""

from typing import NamedTuple

import numpy as np

from plant.forecast.engine.compiled import bare, inlined
from plant.forecast.engine.plan import Plan, Table
from plant.forecast.engine.ticks import NEVER, Ints


class State(NamedTuple):
    """events: a heap, the soonest first, of which `counts` says how many. lines: int64[K, N], who
    waits at each station, a heap, the first in line first; stations.waiting says how many.
    touched: stations to look at before this instant is over. counts: see below."""

    events: Table
    casings: Table
    machines: Table
    stations: Table
    lines: Ints
    touched: Ints
    counts: Ints


EVENTS, TOUCHED, ALIVE, ROWS = 0, 1, 2, 3
"""Of counts: events to come, stations touched, casings not done, visits ended."""

_EVENT = np.dtype([(name, np.int64) for name in ("at", "what")])
_CASING = np.dtype(
    [
        ("since", np.int64),  # when it came to where it is
        ("begun", np.int64),
        ("turn", np.int64),  # how often it was sent back
        ("mate", np.int64),  # the next one in the same load, -1: none
    ]
)
_MACHINE = np.dtype(
    [
        ("load", np.int64),  # its first casing, -1: empty
        ("ends", np.int64),  # when its load is done, NEVER while it is down
        ("due", np.int64),  # that in worked time; while it is down: what is left
        ("ending", np.bool_),  # an event stands for that
        ("down", np.bool_),
        ("failing", np.bool_),  # a chamber that goes down at its cycle's end
        ("failures", np.int64),  # how many were drawn
    ]
)
_STATION = np.dtype(
    [
        ("waiting", np.int64),
        ("idle", np.int64),  # machines that are up and empty
        ("wake", np.int64),  # when it is looked at again
        ("near", np.int64),  # where the last search of its hours ended
        ("touched", np.bool_),
    ]
)
_KINDS = 1 << 40


def blank(plan: Plan) -> State:
    """Room for one replication at a time."""
    n, machines, stations = plan.casings.size, plan.machines.size, plan.stations.size
    return State(
        np.empty(n + 2 * machines, _EVENT),
        np.empty(n, _CASING),
        np.empty(machines, _MACHINE),
        np.empty(stations, _STATION),
        np.empty((stations, n), np.int64),
        np.empty(stations, np.int64),
        np.empty(4, np.int64),
    )


@inlined
def bare_state(state: State) -> State:
    """See compiled.bare."""
    return State(
        bare(state.events),
        bare(state.casings),
        bare(state.machines),
        bare(state.stations),
        bare(state.lines),
        bare(state.touched),
        bare(state.counts),
    )


@inlined
def fresh(plan: Plan, state: State) -> None:
    """Before a replication begins: nobody anywhere, all machines empty and up."""
    state.counts[:] = 0
    for j in range(state.casings.size):
        state.casings[j].turn = 0
    for p in range(state.machines.size):
        machine = state.machines[p]
        machine.load = -1
        machine.ends = NEVER
        machine.ending = False
        machine.down = False
        machine.failing = False
        machine.failures = 0
    for k in range(state.stations.size):
        station = state.stations[k]
        station.waiting = 0
        station.idle = plan.stations[k].machine_end - plan.stations[k].machine
        station.wake = NEVER
        station.near = plan.stations[k].lo
        station.touched = False


@inlined
def happen(state: State, at: int, kind: int, which: int) -> None:
    """It will, unless it never does."""
    if at >= NEVER:
        return
    events = state.events
    what = kind * _KINDS + which
    p = state.counts[EVENTS]
    state.counts[EVENTS] += 1
    while p > 0:
        q = (p - 1) >> 1
        if events[q].at < at or (events[q].at == at and events[q].what <= what):
            break
        events[p].at = events[q].at
        events[p].what = events[q].what
        p = q
    events[p].at = at
    events[p].what = what


@inlined
def soonest(state: State) -> int:
    """When the next event happens, or NEVER."""
    at: int = state.events[0].at if state.counts[EVENTS] > 0 else NEVER
    return at


@inlined
def next_event(state: State) -> tuple[int, int]:
    """Takes the soonest: its kind and which. Of one instant the lower kind is first."""
    events = state.events
    found = events[0].what
    state.counts[EVENTS] -= 1
    n = state.counts[EVENTS]
    at, what = events[n].at, events[n].what
    p = 0
    while True:
        c = 2 * p + 1
        if c >= n:
            break
        if c + 1 < n and (
            events[c + 1].at < events[c].at
            or (events[c + 1].at == events[c].at and events[c + 1].what < events[c].what)
        ):
            c += 1
        if events[c].at > at or (events[c].at == at and events[c].what >= what):
            break
        events[p].at = events[c].at
        events[p].what = events[c].what
        p = c
    events[p].at = at
    events[p].what = what
    return found // _KINDS, found % _KINDS


@inlined
def _sooner(plan: Plan, state: State, i: int, j: int) -> bool:
    one, other = plan.casings[i].priority, plan.casings[j].priority
    if one != other:
        return bool(one > other)
    since, until = state.casings[i].since, state.casings[j].since
    return bool(since < until or (since == until and i < j))


@inlined
def arrive(plan: Plan, state: State, now: int, j: int, k: int) -> None:
    """Casing j waits at station k from now on."""
    state.casings[j].since = now
    line = state.lines[k]
    p = state.stations[k].waiting
    state.stations[k].waiting += 1
    while p > 0:
        q = (p - 1) >> 1
        if _sooner(plan, state, line[q], j):
            break
        line[p] = line[q]
        p = q
    line[p] = j
    touch(state, k)


@inlined
def leave(plan: Plan, state: State, k: int) -> int:
    """Takes the first in line of station k."""
    line = state.lines[k]
    found: int = line[0]
    state.stations[k].waiting -= 1
    n = state.stations[k].waiting
    last = line[n]
    p = 0
    while True:
        c = 2 * p + 1
        if c >= n:
            break
        if c + 1 < n and _sooner(plan, state, line[c + 1], line[c]):
            c += 1
        if not _sooner(plan, state, line[c], last):
            break
        line[p] = line[c]
        p = c
    line[p] = last
    return found


@inlined
def longest(state: State, k: int) -> int:
    """Since when the one waits at station k that has waited longest, or NEVER."""
    found: int = NEVER
    for p in range(state.stations[k].waiting):
        found = min(found, state.casings[state.lines[k, p]].since)
    return found


@inlined
def touch(state: State, k: int) -> None:
    """Station k is to be looked at before this instant is over."""
    if not state.stations[k].touched:
        state.stations[k].touched = True
        state.touched[state.counts[TOUCHED]] = k
        state.counts[TOUCHED] += 1


@inlined
def empty(plan: Plan, state: State, k: int) -> int:
    """The first machine of station k that is up and empty, -1: none."""
    if state.stations[k].idle > 0:
        for p in range(plan.stations[k].machine, plan.stations[k].machine_end):
            if state.machines[p].load < 0 and not state.machines[p].down:
                return p
    return -1


@inlined
def load(plan: Plan, state: State, now: int, k: int, p: int, most: int) -> int:
    """Machine p of station k takes so many, or all that wait. Returns the first."""
    state.stations[k].idle -= 1
    first = -1
    last = -1
    for _ in range(min(most, state.stations[k].waiting)):
        j = leave(plan, state, k)
        state.casings[j].begun = now
        state.casings[j].mate = -1
        if first < 0:
            first = j
        else:
            state.casings[last].mate = j
        last = j
    state.machines[p].load = first
    return first
