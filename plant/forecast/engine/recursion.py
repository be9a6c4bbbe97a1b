"""The simulation where each queue is first come, first served and no casing comes back: station by
station. Pure, compiled.

Along such a route a casing's finish at a station follows from those that came there before it, so a
whole replication is one pass a station over the casings in the order of their arrival (Lindley's
recursion; with several machines that of Kiefer and Wolfowitz, in worked time). Several times as
fast as events, and the same to the millisecond: see test_reference.py.
"""

import numpy as np

from plant.forecast.engine import draws
from plant.forecast.engine.compiled import bare, compiled, inlined, whole
from plant.forecast.engine.draws import COMES, FIRST, OUTCOME, PASSES, WORK
from plant.forecast.engine.plan import Plan, bare_plan
from plant.forecast.engine.starts import next_start
from plant.forecast.engine.ticks import NEVER, ORIGIN, Ints, at_worked, next_open, worked

NOBODY = whole(0)
"""Casings so far."""


def blank(plan: Plan) -> Ints:
    """Room for one replication at a time."""
    return np.empty((7, max(plan.casings.size, plan.machines.size)), dtype=np.int64)


@compiled
def replicate(
    held: Plan, room: Ints, seed: int, first: int, last: int, out: Ints, log: Ints, rows: Ints
) -> None:
    """Replications first to last - 1, into out[r - first, casing]: milliseconds or NEVER.

    log[r - first, row]: casing, station, arrived, begun, ended of each visit, as far as there is
    room; rows[r - first]: how many there were. room: see blank.
    """
    plan = bare_plan(held)
    ids, t, free = bare(room[0]), bare(room[1]), bare(room[6])
    come, since, past, passed = bare(room[2]), bare(room[3]), bare(room[4]), bare(room[5])
    for r in range(first, last):
        begin = draws.stream(seed, r)
        done, notes = bare(out[r - first]), bare(log[r - first])
        done[:] = NEVER
        row = NOBODY
        m = NOBODY
        for k in range(plan.stations.size):
            q, beside = _merged(plan, begin, k, ids, t, m, come, since, past, passed)
            if plan.stations[k].cures:
                m, row = _cured(plan, begin, k, come, since, q, ids, t, free, notes, row)
            else:
                m, row = _worked(plan, begin, k, come, since, q, ids, t, free, notes, row)
            m = _joined(ids, t, m, past, passed, beside)
        for i in range(m):
            done[ids[i]] = t[i]
        rows[r - first] = row


@inlined
def _before(t: int, j: int, u: int, i: int) -> bool:
    return t < u or (t == u and j < i)


@inlined
def _merged(
    plan: Plan, begin: np.uint64, k: int, ids: Ints, t: Ints, m: int,
    come: Ints, since: Ints, past: Ints, passed: Ints,
) -> tuple[int, int]:  # fmt: skip
    """Who comes to station k, in order, into come and since; who passes by it, into past and
    passed. ids and t: the m who left the station before, in order. Returns how many of each."""
    q = 0
    beside = 0
    i = 0
    at = plan.stations[k].order
    end = plan.stations[k].order_end
    passes = plan.stations[k].passes
    while i < m or at < end:
        if at < end:
            own = plan.order[at]
            casing = plan.casings[own]
            if i >= m or casing.place >= 0 or _before(casing.at, own, t[i], ids[i]):
                at += 1
                comes = casing.at < NEVER
                if casing.chance < 1.0:
                    comes = comes and draws.uniform(begin, own, k, FIRST, COMES) < casing.chance
                if comes:
                    come[q] = own
                    since[q] = casing.at
                    q += 1
                continue
        j = ids[i]
        goes = (plan.casings[j].skip >> k) & 1 == 0
        if goes and passes < 1.0 and (plan.casings[j].visit >> k) & 1 == 0:
            goes = draws.uniform(begin, j, k, FIRST, PASSES) < passes
        if goes:
            come[q] = j
            since[q] = t[i]
            q += 1
        else:
            past[beside] = j
            passed[beside] = t[i]
            beside += 1
        i += 1
    return q, beside


@inlined
def _joined(ids: Ints, t: Ints, m: int, past: Ints, passed: Ints, beside: int) -> int:
    """Both lists in the order of (t, casing), in ids and t; from the end, so that no third is
    needed. Returns how many."""
    i = m - 1
    b = beside - 1
    while b >= 0:
        if i >= 0 and _before(passed[b], past[b], t[i], ids[i]):
            ids[i + b + 1] = ids[i]
            t[i + b + 1] = t[i]
            i -= 1
        else:
            ids[i + b + 1] = past[b]
            t[i + b + 1] = passed[b]
            b -= 1
    return m + beside


@inlined
def _kept(plan: Plan, begin: np.uint64, k: int, j: int, f: int, ids: Ints, t: Ints, m: int) -> int:
    """Casing j left station k at f: into ids and t at its place, unless it was rejected."""
    if f >= NEVER:
        return m
    reject = plan.stations[k].reject
    if reject > 0.0 and draws.uniform(begin, j, k, FIRST, OUTCOME) < reject:
        return m
    p = m
    while p > 0 and _before(f, j, t[p - 1], ids[p - 1]):
        t[p] = t[p - 1]
        ids[p] = ids[p - 1]
        p -= 1
    t[p] = f
    ids[p] = j
    return m + 1


@inlined
def _noted(log: Ints, row: int, j: int, k: int, arrived: int, begun: int, ended: int) -> int:
    if ended >= NEVER:
        return row
    if row < log.shape[0]:
        log[row, 0] = j
        log[row, 1] = k
        log[row, 2] = arrived
        log[row, 3] = begun
        log[row, 4] = ended
    return row + 1


@inlined
def _worked(
    plan: Plan, begin: np.uint64, k: int, come: Ints, since: Ints, n: int,
    ids: Ints, t: Ints, free: Ints, log: Ints, row: int,
) -> tuple[int, int]:  # fmt: skip
    """Machines side by side, in worked time; free: when each is, ascending."""
    c = plan.open
    station = plan.stations[k]
    lo, hi, takes = station.lo, station.hi, station.takes
    law, scale, sigma = station.law, station.scale, station.sigma
    machines = station.machine_end - station.machine
    now, near = worked(c, lo, hi, ORIGIN, lo)
    back = near
    free[:machines] = now
    m = NOBODY
    i = 0
    while i < n:
        j = come[i]
        casing = plan.casings[j]
        inside = casing.place >= 0 and casing.station == k
        many = 1
        u = draws.uniform(begin, j, k, FIRST, WORK)
        if inside:
            start = now
            spent = now - worked(c, lo, hi, casing.begun, near)[0]
            x = start + draws.rest(law, scale, sigma, u, spent)
            while i + many < n and plan.casings[come[i + many]].place == casing.place:
                many += 1
        else:
            a, near = worked(c, lo, hi, since[i], near)
            start = max(a, free[0])
            x = start + draws.work(law, scale, sigma, u)
            while many < takes and i + many < n:
                a, near = worked(c, lo, hi, since[i + many], near)
                if a > start:
                    break
                many += 1
        p = 1
        while p < machines and free[p] < x:
            free[p - 1] = free[p]
            p += 1
        free[p - 1] = x
        f, back = at_worked(c, lo, hi, x, back)
        b = casing.begun
        if not inside and log.shape[0] > 0:
            b = max(since[i + many - 1], 0, at_worked(c, lo, hi, start, back)[0])
            b = next_open(c, lo, hi, b, back)[0]
        for o in range(many):
            row = _noted(log, row, come[i + o], k, since[i + o], b, f)
            m = _kept(plan, begin, k, come[i + o], f, ids, t, m)
        i += many
    return m, row


@inlined
def _cured(
    plan: Plan, begin: np.uint64, k: int, come: Ints, since: Ints, n: int,
    ids: Ints, t: Ints, free: Ints, log: Ints, row: int,
) -> tuple[int, int]:  # fmt: skip
    """Chambers side by side, by the clock; free: when each is, by its index in the plan."""
    first, end = plan.stations[k].machine, plan.stations[k].machine_end
    free[first:end] = 0
    m = NOBODY
    i = 0
    while i < n:
        j = come[i]
        casing = plan.casings[j]
        if casing.place < 0 or casing.station != k:
            break
        f = max(0, casing.begun + plan.machines[casing.place].cycle)
        free[casing.place] = f
        row = _noted(log, row, j, k, since[i], casing.begun, f)
        m = _kept(plan, begin, k, j, f, ids, t, m)
        i += 1
    while i < n:
        start = NEVER
        which = first
        for p in range(first, end):
            ready = since[i] + plan.machines[p].max_wait
            full = i + plan.machines[p].least - 1
            if full < n:
                ready = min(ready, since[full])
            s = next_start(plan, k, p, max(ready, free[p]))
            if s < start:
                start = s
                which = p
        if start >= NEVER:
            break
        f = start + plan.machines[which].cycle
        free[which] = f
        o = 0
        while o < plan.machines[which].holds and i + o < n and since[i + o] <= start:
            row = _noted(log, row, come[i + o], k, since[i + o], start, f)
            m = _kept(plan, begin, k, come[i + o], f, ids, t, m)
            o += 1
        i += o
    return m, row
