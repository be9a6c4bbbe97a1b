"""A schedule: a list of steps that follows from its seed alone. Pure.

A step is one thing that a phone does (`phone` says which) or that happens to the server ("do":
"world"). What it names it names by signs that each playing fills in: @o operations, @v visits,
@l labels, @photo, @e station events are the schedule's own, @yard, @site, @person, @plant, @run,
@stop the cast's. Operations and faults come from one random stream. Order among steps of one phone
is kept when it is played; what phones and server do to each other meanwhile is up to the machine.
"""

import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from tests.sim.draft import Draft, Step
from tests.sim.hand import Hand
from tests.sim.road import Road

FATES = ("drop", "torn", "lost", "mute", "half_open", "cut", "double", "late", "delay")
DOORS = ("", "/push", "/photos/", "/pull")
"""Which requests a fault is meant for: the next one at all, or the next at that door. Without the
latter most would fall on pushes, and a run that cannot push asks for nothing else."""
DAY_MS = 86_400_000
ROUTE = ("receiving", "initial-inspection", "buffing", "curing")
"""Some stations of the default route, in order."""
ON_THE_ROAD = 0.08
"""How much of what drivers tell is about their runs."""
SHEET_CHANGES = ("turn", "note", "move")
"""What the office does to a sheet meanwhile: hands it or takes it back, writes, moves a stop."""


@dataclass(frozen=True)
class Size:
    """How much of each a schedule has; a fault's figure is its chance at each operation."""

    phones: int = 8
    operations: int = 200
    net: float = 0.1
    kill: float = 0.025
    clock: float = 0.008
    enrol: float = 0.0008
    web: float = 0.0006
    database: float = 0.0003
    broker: float = 0.0004
    restore: float = 0.03
    plant: float = 0.05
    sheet: float = 0.006


class Plan:
    """Draws a schedule; `draw` says what came of it."""

    def __init__(self, seed: int, size: Size) -> None:
        self.draft = Draft(seed)
        self.rng, self.steps, self.size = self.draft.rng, self.draft.steps, size
        self.hands = [Hand(self.draft, phone) for phone in range(size.phones)]
        self.roads = [Road(self.draft, phone) for phone in range(size.phones)]

    def draw(self) -> list[Step]:
        """The whole schedule."""
        total = self.size.phones * self.size.operations
        backup = restore = -1
        if self.rng.random() < self.size.restore:
            backup = self.rng.randrange(total // 4, total // 2)
            restore = self.rng.randrange(total // 2 + 1, total)
        for n in range(total):
            self._operation(self.rng.randrange(self.size.phones))
            self._break(calm=backup <= n <= restore)
            if n == backup:
                self._world("backup")
            if n == restore:
                self._world("restore")
        for hand in self.hands:
            hand.end()
        return self.steps

    def _operation(self, phone: int) -> None:
        if self.rng.random() < ON_THE_ROAD:
            self.roads[phone].drive()
        else:
            self.hands[phone].work()
        if self.rng.random() < 0.12:
            self.steps.append({"phone": phone, "do": "sync"})
        elif self.rng.random() < 0.02:
            self.steps.append({"phone": phone, "do": "rest"})

    def _break(self, *, calm: bool) -> None:
        """What goes wrong after an operation; `calm`: no phone is enrolled between a backup and
        its restore, since the office would have to do it again."""
        rng, size = self.rng, self.size
        phone = rng.randrange(size.phones)
        mine: Step = {"phone": phone}
        if rng.random() < size.net:
            fates = [
                {"fate": rng.choice(FATES), "door": rng.choice(DOORS)}
                for _ in range(rng.randrange(1, 4))
            ]
            self.steps.append(mine | {"do": "net", "fates": fates})
        if rng.random() < size.kill:
            self._kill(mine)
        if rng.random() < size.clock:
            ms = rng.choice([0, rng.randrange(-6 * DAY_MS, 6 * DAY_MS)])
            self.steps.append(mine | {"do": "clock", "ms": ms})
        if rng.random() < size.enrol and not calm:
            self.steps.append(mine | {"do": "enrol"})
        if rng.random() < size.web:
            self._world(rng.choice(["web", "web", "webs"]))
        if rng.random() < size.database:
            self._world("database")
        if rng.random() < size.broker:
            self._world("broker")
        if rng.random() < size.plant:
            self.steps.append({"do": "world", "what": "plant", "events": self._station_events()})
        if rng.random() < size.sheet:
            run = rng.randrange(size.phones)
            sheet = {"run": f"@run{run}", "change": rng.choice(SHEET_CHANGES)}
            self.steps.append({"do": "world", "what": "sheet", **sheet})

    def _kill(self, mine: Step) -> None:
        """In a sheet that is being saved, or somewhere in a run of push, photos and pull."""
        in_a_run = self.rng.random() < 0.6
        breaths = self.rng.randrange(1, 500 if in_a_run else 12)
        kill = {"do": "kill", "breaths": breaths, "cookies": self.rng.random() < 0.1}
        self.steps.append(mine | kill)
        if in_a_run:
            self.steps.append(mine | {"do": "rest"})

    def _world(self, what: str) -> None:
        self.steps.append({"do": "world", "what": what})

    def _station_events(self) -> list[Step]:
        """What a plant did with one label, picked up long ago, just now or not yet."""
        rng = self.rng
        if rng.random() < 0.3 or not self.draft.used:
            label = self.draft.new("l")
            self.draft.coming.append(label)
        else:
            label = rng.choice(self.draft.used)
        told = [("receiving", "received"), *((station, "passed") for station in ROUTE[1:])]
        told = told[: rng.randrange(1, len(told) + 1)]
        end = rng.random()
        if end < 0.2:
            told.append(("final-inspection", "rejected"))
        elif end < 0.5:
            told.append(("final-inspection", "finished"))
            if rng.random() < 0.7:
                told.append(("shipping", "shipped"))
        return [self._event(label, station, outcome) for station, outcome in told]

    def _event(self, label: str, station: str, outcome: str) -> Step:
        event = {"id": self.draft.new("e"), "label": label, "station": station, "outcome": outcome}
        if outcome == "rejected":
            event |= {"reason": "SEPARATION", "cause": "casing"}
        return event


def schedule(seed: int, size: Size) -> list[Step]:
    """The steps of a seed; the same for ever."""
    return Plan(seed, size).draw()


_OPERATION = re.compile(r"@o\d+")


def sound(steps: Iterable[Step]) -> list[Step]:
    """A part of a schedule that could have been one: what names an operation that is not there is
    left out, or in a list of several that name alone."""
    told: set[str] = set()
    kept = []
    for step in steps:
        if step["do"] != "tell":
            kept.append(step)
            continue
        lists = {
            name: [uid for uid in listed if uid in told]
            for name, listed in step["payload"].items()
            if name in ("casings", "scrap", "left")
        }
        one = step | {"payload": step["payload"] | lists}
        rest = {k: v for k, v in one["payload"].items() if k not in lists}
        if set(_OPERATION.findall(str(rest))) <= told:
            told.add(step["id"])
            kept.append(one)
    return kept


def labels(steps: Iterable[Step]) -> list[str]:
    """Every label that the steps name."""
    return sorted(set(re.findall(r"@l\d+", str(list(steps)))))


def enrolments(steps: Iterable[Step], phone: int) -> int:
    """How often a phone is enrolled again."""
    return sum(1 for s in steps if s["do"] == "enrol" and s["phone"] == phone)


def phones(steps: Iterable[Step]) -> int:
    """How many phones the steps need."""
    return max((s["phone"] for s in steps if "phone" in s), default=0) + 1


def drivers(commands: Iterable[tuple[str, int]]) -> set[str]:
    """Of all kinds that a server takes, those of drivers and counters: no tablet of a plant is
    among the phones here."""
    return {kind for kind, _ in commands if kind.startswith(("custody.", "runs."))}


def kinds(steps: Iterable[Step]) -> dict[str, int]:
    """How many operations of each kind the steps tell."""
    return dict(Counter(s["kind"] for s in steps if s["do"] == "tell"))
