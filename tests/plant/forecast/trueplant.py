"""A plant as it is, for tests: casings go through it and leave the scans that a plant would have.

It shares nothing with the engine that is held against it: its own calendar, its own event loop, its
own random numbers, and laws that the engine does not assume. Times of work are gamma, not
lognormal; who works is slower on some days than on others; machines break; racks are not emptied
strictly in order; nobody starts a casing in the last minutes of a shift; chambers are started by a
foreman's patience; most stations are never scanned, the others tell end times to the minute, and
some scans are missing.

Hours from a Monday 00:00; no daylight saving.
"""

import heapq
import random
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import count
from typing import Literal

DAY, WEEK = 24.0, 168.0
OPENS, CLOSES = 6.0, 22.0
TOO_LATE_H = 1 / 6
"""Nobody starts a casing in the last ten minutes of a day."""
NO_LOAD_H = 1.0
"""Nor a load in the last hour."""
OUT_OF_TURN, AMONG = 0.1, 5
"""One pick in ten is not the first on the rack but any of the first five."""
LOST = 0.02
"""Of scans, at stations between the first and the last."""
MOST_REWORKS = 2


Outcome = Literal["passed", "rework", "rejected"]


@dataclass(frozen=True)
class Step:
    """Work done one casing at a time by so many hands. mean_h with gamma law of `shape` (its
    coefficient of variation is shape ** -0.5); moody: spread (sigma of a log) of a day's own pace;
    breaks: worked hours between breakdowns of one machine, hours to mend (exponential)."""

    code: str
    hands: int
    mean_h: float
    shape: float
    scanned: bool = True
    share: float = 1.0
    reject: float = 0.0
    rework: float = 0.0
    moody: float = 0.08
    breaks: tuple[float, float] | None = None


@dataclass(frozen=True)
class Press:
    """A curing chamber: started full, or when the oldest has waited as long as the foreman's
    patience for this load (gamma, shape 6) and at least `least` are there."""

    code: str
    holds: int
    cycle_h: float
    shape: float
    patience_h: float
    least: int
    turn_h: float = 0.3
    """To empty it and fill it again."""


@dataclass(frozen=True)
class Change:
    """Work at a station takes `factor` times as long from `to_week` on, going there in a line."""

    code: str
    from_week: float
    to_week: float
    factor: float

    def at(self, hour: float) -> float:
        gone = (hour / WEEK - self.from_week) / (self.to_week - self.from_week)
        return 1 + (self.factor - 1) * min(1.0, max(0.0, gone))


@dataclass(frozen=True)
class Outage:
    """Nothing is started at a station between two hours."""

    code: str
    from_h: float
    to_h: float


@dataclass
class Casing:
    """arrived: its receiving scan. finished: None where it was rejected or is still inside.
    ended: when either happened. load: its last."""

    label: int
    truck: int
    arrived: float
    finished: float | None = None
    ended: float | None = None
    load: int = -1


@dataclass(frozen=True)
class Scan:
    """rework: sent back."""

    label: int
    code: str
    at: float
    outcome: Outcome = "passed"


@dataclass(frozen=True)
class Load:
    number: int
    begun: float
    ended: float
    labels: tuple[int, ...]


@dataclass
class History:
    """trucks: when the last casing of each was scanned in, and whose labels."""

    casings: list[Casing] = field(default_factory=list)
    scans: list[Scan] = field(default_factory=list)
    loads: list[Load] = field(default_factory=list)
    trucks: list[tuple[float, range]] = field(default_factory=list)


class Days:
    """Open from OPENS to CLOSES on Monday to Friday, but for the days off (days from the start)."""

    def __init__(self, weeks: int, off: Sequence[int] = ()) -> None:
        days = [d for d in range(weeks * 7) if d % 7 < 5 and d not in off]
        self.begins = [d * DAY + OPENS for d in days]
        self.ends = [d * DAY + CLOSES for d in days]

    def opening(self, t: float, left: float = 0.0) -> float:
        """The earliest moment from t on that is open for at least `left` more hours."""
        i = bisect_right(self.begins, t) - 1
        if i >= 0 and t + left < self.ends[i]:
            return t
        return self.begins[i + 1]

    def done(self, t: float, need: float) -> float:
        """When `need` hours of work begun at t (open) are done; what is left goes on next day."""
        i = bisect_right(self.begins, t) - 1
        while t + need > self.ends[i]:
            need -= self.ends[i] - t
            i += 1
            t = self.begins[i]
        return t + need

    def worked(self, a: float, b: float) -> float:
        """Open hours between two moments."""
        return self._before(b) - self._before(a)

    def days_between(self, a: float, b: float) -> int:
        """How many working days later b is than a (0: on the same)."""
        return bisect_right(self.begins, b) - bisect_right(self.begins, a)

    def until_end_of_day(self, t: float, days: int) -> float:
        """Open hours from t to the end of the day so many working days later."""
        i = max(0, bisect_right(self.begins, t) - 1)
        return self._before(self.ends[i + days]) - self._before(t)

    def _before(self, t: float) -> float:
        i = bisect_right(self.begins, t) - 1
        return 0.0 if i < 0 else i * (CLOSES - OPENS) + min(t, self.ends[i]) - self.begins[i]


class Plant:
    """One run. route: in order; `back_to` is where a casing goes that is sent back."""

    def __init__(
        self,
        route: Sequence[Step | Press],
        days: Days,
        *,
        back_to: str,
        changes: Sequence[Change],
        outages: Sequence[Outage],
        seed: int,
    ) -> None:
        self.route, self.days, self.changes, self.outages = route, days, changes, outages
        self.back_to = [one.code for one in route].index(back_to)
        self.random = random.Random(seed)
        self.history = History()
        self.queues: list[list[tuple[float, int]]] = [[] for _ in route]
        self.busy = [0] * len(route)
        self.wakes: list[set[float]] = [set() for _ in route]
        self.heap: list[tuple[float, int, str, int, int]] = []
        self.numbers = count()
        self.moods: dict[tuple[int, int], float] = {}
        self.patience = [self._patience(one) for one in route]
        self.extra: dict[int, int] = {}
        """How often each casing was sent back."""
        self.visits: set[tuple[int, int]] = set()
        """(casing, station) of those with a share that do go there."""

    def bring(self, at: float, size: int) -> None:
        """A truck; its casings are scanned one after the other, twenty seconds each."""
        first, truck = len(self.history.casings), len(self.history.trucks)
        for i in range(size):
            label, seen = first + i, at + i / 180
            self.history.casings.append(Casing(label, truck, seen))
            self.history.scans.append(Scan(label, "receiving", seen))
            for k, one in enumerate(self.route):
                if isinstance(one, Step) and self.random.random() < one.share:
                    self.visits.add((label, k))
            self._push(seen, "arrive", 0, label)
        self.history.trucks.append((at + size / 180, range(first, first + size)))

    def run(self) -> History:
        while self.heap:
            t, _, what, k, label = heapq.heappop(self.heap)
            if what == "arrive":
                self._arrive(t, k, label)
            elif what == "end":
                self._end(t, k, label)
            elif what == "unload":
                self._unload(t, k, label)
            else:
                self.wakes[k].discard(t)
            self._start(t, k)
        self.history.scans.sort(key=lambda scan: scan.at)
        return self.history

    def _push(self, t: float, what: str, k: int, label: int) -> None:
        heapq.heappush(self.heap, (t, next(self.numbers), what, k, label))

    def _wake(self, t: float, k: int) -> None:
        if t not in self.wakes[k]:
            self.wakes[k].add(t)
            self._push(t, "wake", k, -1)

    def _arrive(self, t: float, k: int, label: int) -> None:
        one = self.route[k]
        if isinstance(one, Step) and (label, k) not in self.visits:
            self._go_on(t, k, label)
        else:
            self.queues[k].append((t, label))

    def _go_on(self, t: float, k: int, label: int) -> None:
        if k + 1 < len(self.route):
            self._push(t, "arrive", k + 1, label)
        else:
            casing = self.history.casings[label]
            casing.finished = casing.ended = t

    def _start(self, t: float, k: int) -> None:
        one = self.route[k]
        if isinstance(one, Press):
            self._load(t, k, one)
            return
        while self.queues[k] and self.busy[k] < one.hands:
            at = self._may(t, k, TOO_LATE_H)
            if at > t:
                self._wake(at, k)
                return
            turn = 0
            if self.random.random() < OUT_OF_TURN:
                turn = self.random.randrange(min(AMONG, len(self.queues[k])))
            _, label = self.queues[k].pop(turn)
            self.busy[k] += 1
            self._push(self.days.done(t, self._need(t, k, one)), "end", k, label)

    def _may(self, t: float, k: int, left: float) -> float:
        """When work may be started here: open, and no outage."""
        at = self.days.opening(t, left)
        for out in self.outages:
            if out.code == self.route[k].code and out.from_h <= at < out.to_h:
                at = self.days.opening(out.to_h, left)
        return at

    def _need(self, t: float, k: int, one: Step) -> float:
        mood = self.moods.setdefault(
            (k, int(t // DAY)), self.random.lognormvariate(-(one.moody**2) / 2, one.moody)
        )
        need = self.random.gammavariate(one.shape, one.mean_h / one.shape) * mood
        for change in self.changes:
            if change.code == one.code:
                need *= change.at(t)
        if one.breaks and self.random.random() < need / one.breaks[0]:
            need += self.random.expovariate(1 / one.breaks[1])
        return need

    def _end(self, t: float, k: int, label: int) -> None:
        one = self.route[k]
        assert isinstance(one, Step)
        self.busy[k] -= 1
        chance = self.random.random()
        outcome: Outcome = "passed"
        if chance < one.reject:
            outcome = "rejected"
        elif chance < one.reject + one.rework:
            self.extra[label] = self.extra.get(label, 0) + 1
            outcome = "rework" if self.extra[label] <= MOST_REWORKS else "rejected"
        last = k + 1 == len(self.route)
        if one.scanned and (last or outcome != "passed" or self.random.random() >= LOST):
            self._scan(label, one.code, t, outcome)
        if outcome == "rejected":
            self.history.casings[label].ended = t
        elif outcome == "rework":
            self.visits.add((label, self.back_to))
            self._push(t, "arrive", self.back_to, label)
        else:
            self._go_on(t, k, label)

    def _scan(self, label: int, code: str, t: float, outcome: Outcome = "passed") -> None:
        self.history.scans.append(Scan(label, code, round(t * 60) / 60, outcome))

    def _patience(self, one: Step | Press) -> float:
        return self.random.gammavariate(6, one.patience_h / 6) if isinstance(one, Press) else 0.0

    def _load(self, t: float, k: int, one: Press) -> None:
        queue = self.queues[k]
        if self.busy[k] or not queue:
            return
        if len(queue) < one.holds:
            ready = queue[0][0] + self.patience[k]
            if ready > t:
                self._wake(ready, k)
                return
            if len(queue) < one.least:
                return
        at = self._may(t, k, NO_LOAD_H)
        if at > t:
            self._wake(at, k)
            return
        taken = [label for _, label in queue[: one.holds]]
        del queue[: one.holds]
        self.busy[k], self.patience[k] = 1, self._patience(one)
        ended = t + self.random.gammavariate(one.shape, one.cycle_h / one.shape)
        number = len(self.history.loads)
        self.history.loads.append(Load(number, t, ended, tuple(taken)))
        self._push(self.days.done(self.days.opening(ended), one.turn_h), "unload", k, number)

    def _unload(self, t: float, k: int, number: int) -> None:
        self.busy[k] = 0
        for label in self.history.loads[number].labels:
            self.history.casings[label].load = number
            if self.random.random() >= LOST:
                self._scan(label, self.route[k].code, t)
            self._go_on(t, k, label)
