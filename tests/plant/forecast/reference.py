"""The same plant told to SimPy, casing by casing, as plainly as it can be said: what the compiled
engine is held against. It shares the engine's luck (draws.py) and its whole milliseconds, nothing
else: calendars, queues, machines, chambers and breakdowns are written anew here.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Generator, Sequence
from typing import Any, cast

import numpy as np
import simpy

from plant.forecast.engine import draws
from plant.forecast.engine.compiled import whole
from plant.forecast.hours import Hours
from plant.forecast.shop import Chamber, Job, Shop, Station

HOUR = 3_600_000
YEARS = 5 * 366 * 24 * HOUR
LAWS = {"lognormal": draws.LOGNORMAL, "exponential": draws.EXPONENTIAL, "fixed": draws.FIXED}
Steps = Generator[simpy.Event, Any, None]
INSIDE, LATER, LAST = 1, 7, 9
"""Priorities of what happens at one instant: SimPy's usual one; breakdowns; who begins."""


class Open:
    """A calendar in whole milliseconds."""

    def __init__(self, hours: Hours) -> None:
        self.begins: list[int] = [round(one * HOUR) for one in hours.begins.tolist()]
        self.ends: list[int] = [round(one * HOUR) for one in hours.ends.tolist()]

    def worked(self, t: int) -> int:
        return sum(
            min(t, end) - begin
            for begin, end in zip(self.begins, self.ends, strict=True)
            if begin < t
        )

    def after(self, t: int, work: int) -> int | None:
        """When so much more than nothing was worked since t."""
        for begin, end in zip(self.begins, self.ends, strict=True):
            if end <= t:
                continue
            have = end - max(begin, t)
            if work <= have:
                return max(begin, t) + work
            work -= have
        return None

    def opens(self, t: int) -> int | None:
        i = bisect_right(self.ends, t)
        return max(int(self.begins[i]), t) if i < len(self.ends) else None


class Machine:
    def __init__(self, floor: "Floor", k: int, number: int, chamber: Chamber | None) -> None:
        self.floor, self.k, self.number, self.chamber = floor, k, number, chamber
        self.busy = self.down = self.fails_at_end = False
        self.up = floor.env.event()
        self.working: simpy.Process | None = None
        self.failures = 0
        if floor.shop.stations[k].breakdown:
            floor.env.process(self.breaks())

    def drawn(self, mean_h: float, purpose: int) -> int:
        u = self.floor.u(self.number, self.k, self.failures, purpose)
        return draws.work(draws.EXPONENTIAL, mean_h * HOUR, 0.0, u)

    def breaks(self) -> Steps:
        env, here = self.floor.env, self.floor.open[self.k]
        breakdown = self.floor.shop.stations[self.k].breakdown
        assert breakdown is not None
        while True:
            at = here.after(self.floor.now, self.drawn(breakdown[0], draws.FAILS))
            if at is None or at >= YEARS:
                return
            yield env.timeout(at - self.floor.now)
            yield self.floor.soon(LATER)
            if self.busy and self.chamber:
                self.fails_at_end = True
                self.finished_cycle = env.event()
                yield self.finished_cycle
            self.down = True
            if self.working is not None:
                self.working.interrupt()
            at = here.after(self.floor.now, self.drawn(breakdown[1], draws.REPAIRED))
            if at is None:
                return
            yield env.timeout(at - self.floor.now)
            self.down = False
            self.failures += 1
            self.up.succeed()
            self.up = env.event()
            self.floor.touch(self.k)

    def works(self, load: list[int], work: int) -> Steps:
        """So many worked milliseconds, breakdowns left out."""
        env, here = self.floor.env, self.floor.open[self.k]
        self.busy = True
        while work > 0:
            at, since = here.after(self.floor.now, work), here.worked(self.floor.now)
            try:
                self.working = env.active_process
                yield env.event() if at is None else env.timeout(at - self.floor.now)
                work = 0
            except simpy.Interrupt:
                self.working = None
                work -= here.worked(self.floor.now) - since
                yield self.up
        self.working = None
        self.ready(load)

    def cures(self, load: list[int], until: int) -> Steps:
        self.busy = True
        yield self.floor.env.timeout(until - self.floor.now)
        if self.fails_at_end:
            self.fails_at_end = False
            self.down = True
            self.finished_cycle.succeed()
        self.ready(load)

    def ready(self, load: list[int]) -> None:
        self.busy = False
        for j in load:
            self.floor.out[j].succeed()
        self.floor.touch(self.k)

    def starts(self, t: int) -> int | None:
        """When a chamber may start, at t or after."""
        assert self.chamber
        here = self.floor.open[self.k]
        if not self.chamber.fixed_h:
            return here.opens(t)
        fixed = [round(one * HOUR) for one in self.chamber.fixed_h]
        fine = [at for at in fixed[bisect_left(fixed, t) :] if here.opens(at) == at]
        return fine[0] if fine else None


class Floor:
    """One replication."""

    def __init__(self, shop: Shop, jobs: Sequence[Job], seed: int, replication: int) -> None:
        self.shop, self.jobs = shop, jobs
        self.begin = np.uint64(draws.stream(seed, replication))
        self.env = simpy.Environment()
        self.open = [Open(shop.hours[one.hours]) for one in shop.stations]
        self.out: dict[int, simpy.Event] = {}
        self.turn = [0] * len(jobs)
        self.lines: list[list[tuple[int, int, int]]] = [[] for _ in shop.stations]
        self.begun: dict[int, int] = {}
        self.touched: set[int] = set()
        self.finish = [np.inf] * len(jobs)
        self.visits: list[tuple[int, int, float, float, float]] = []
        self.machines: list[list[Machine]] = []
        number = 0
        for k, station in enumerate(shop.stations):
            cells = station.chambers or (None,) * station.machines
            self.machines.append(
                [Machine(self, k, number + at, cell) for at, cell in enumerate(cells)]
            )
            number += station.machines

    @property
    def now(self) -> int:
        return int(self.env.now)

    def u(self, j: int, k: int, turn: int, purpose: int) -> float:
        return draws.uniform(self.begin, whole(j), whole(k), whole(turn), purpose)

    def soon(self, priority: int) -> simpy.Event:
        """An event of this instant, after those of a lower number."""
        event = simpy.Event(self.env)
        event._ok, event._value = True, None
        self.env.schedule(event, priority=cast(Any, priority))
        return event

    def touch(self, k: int) -> None:
        if k not in self.touched:
            self.touched.add(k)
            self.soon(LAST).callbacks.append(lambda _: self.look(k))

    def wake(self, k: int, at: int | None) -> None:
        if at is not None:
            self.env.timeout(at - self.now).callbacks.append(lambda _: self.touch(k))

    def look(self, k: int) -> None:
        """Whoever may begin at station k now does."""
        self.touched.discard(k)
        now, line = self.now, self.lines[k]
        for machine in self.machines[k]:
            if not line or machine.busy or machine.down:
                continue
            if machine.chamber:
                oldest = min(since for _, since, _ in line)
                ready: float = now
                if len(line) < machine.chamber.least:
                    ready = max(now, oldest + machine.chamber.max_wait_h * HOUR)
                at = None if ready == np.inf else machine.starts(round(ready))
                if at != now:
                    self.wake(k, at)
                    continue
                load = self.taken(k, machine.chamber.holds)
                end = now + round(machine.chamber.cycle_h * HOUR)
                self.env.process(machine.cures(load, end))
            else:
                if self.open[k].opens(now) != now:
                    self.wake(k, self.open[k].opens(now))
                    continue
                load = self.taken(k, self.shop.stations[k].takes)
                law, scale, sigma = _law(self.shop.stations[k])
                u = self.u(load[0], k, self.turn[load[0]], draws.WORK)
                self.env.process(machine.works(load, draws.work(law, scale, sigma, u)))
            machine.busy = True

    def taken(self, k: int, most: int) -> list[int]:
        self.lines[k].sort()
        load = [j for _, _, j in self.lines[k][:most]]
        del self.lines[k][:most]
        for j in load:
            self.begun[j] = self.now
        return load

    def casing(self, j: int, machine: Machine | None) -> Steps:
        """Casing j along the route; machine: that which works it at the origin."""
        job, env, k = self.jobs[j], self.env, self.jobs[j].station
        since = round(job.at_h * HOUR)
        if machine is None and since > 0:
            yield env.timeout(since)
        while True:
            self.out[j] = env.event()
            if machine is None:
                self.lines[k].append((-job.priority, since, j))
                self.touch(k)
            machine = None
            yield self.out[j]
            self.visits.append((j, k, since / HOUR, self.begun[j] / HOUR, self.now / HOUR))
            since = self.now
            station = self.shop.stations[k]
            u = self.u(j, k, self.turn[j], draws.OUTCOME)
            if u < station.reject:
                return
            if u < station.reject + station.rework:
                self.turn[j] += 1
                limit = self.shop.rework_limit
                if limit is not None and self.turn[j] > limit:
                    return
                k = station.rework_to
                continue
            k = self.onward(j, k)
            if k == len(self.shop.stations):
                self.finish[j] = self.now / HOUR
                return

    def onward(self, j: int, k: int) -> int:
        for to in range(k + 1, len(self.shop.stations)):
            if to in self.jobs[j].skip:
                continue
            if to in self.jobs[j].visit:
                return to
            if self.u(j, to, self.turn[j], draws.PASSES) < self.shop.stations[to].passes:
                return to
        return len(self.shop.stations)

    def run(self) -> list[float]:
        coming = [
            j
            for j, job in enumerate(self.jobs)
            if job.at_h < np.inf and self.u(j, job.station, 0, draws.COMES) < job.chance
        ]
        inside = self.loaded(coming)
        alive = [self.env.process(self.casing(j, inside.get(j))) for j in coming]
        while any(one.is_alive for one in alive) and self.env.peek() < np.inf:
            for _ in range(50):
                if self.env.peek() < np.inf:
                    self.env.step()
        return self.finish

    def loaded(self, coming: list[int]) -> dict[int, Machine]:
        """Those in work at the origin, one load a machine; tests give no more than there are."""
        inside: dict[int, Machine] = {}
        for k, station in enumerate(self.shop.stations):
            loads: dict[float, list[int]] = {}
            for j in coming:
                begun = self.jobs[j].begun_h
                if self.jobs[j].station == k and begun is not None:
                    loads.setdefault(begun, []).append(j)
            for machine, begun in zip(self.machines[k], sorted(loads), strict=False):
                load = sorted(loads[begun], key=lambda j: (self.jobs[j].at_h, j))
                start = round(begun * HOUR)
                for j in load:
                    inside[j], self.begun[j] = machine, start
                machine.busy = True
                if machine.chamber:
                    until = max(0, start + round(machine.chamber.cycle_h * HOUR))
                    self.env.process(machine.cures(load, until))
                else:
                    law, scale, sigma = _law(station)
                    spent = self.open[k].worked(0) - self.open[k].worked(start)
                    u = self.u(load[0], k, 0, draws.WORK)
                    rest = draws.rest(law, scale, sigma, u, whole(spent))
                    self.env.process(machine.works(load, rest))
        return inside


def _law(station: Station) -> tuple[int, float, float]:
    variance = float(np.log1p(station.cv**2)) if station.law == "lognormal" else 0.0
    return LAWS[station.law], HOUR * station.mean_h * float(np.exp(-variance / 2)), variance**0.5


def finishes(
    shop: Shop, jobs: Sequence[Job], *, replications: int, seed: int
) -> np.ndarray[Any, np.dtype[np.float64]]:
    """As plant.forecast.engine.finishes."""
    return np.array([Floor(shop, jobs, seed, r).run() for r in range(replications)])


def visits(
    shop: Shop, jobs: Sequence[Job], *, seed: int, replication: int
) -> list[tuple[int, int, float, float, float]]:
    """Casing, station, arrived, begun, ended of each visit of one replication, sorted."""
    floor = Floor(shop, jobs, seed, replication)
    floor.run()
    return sorted(floor.visits)
