"""A schedule: a list of steps that follows from its seed alone. Pure.

A step is one thing that a phone does (`phone` says which) or that happens to the server ("do":
"world"). What it names it names by signs that each playing fills in: @o operations, @v visits,
@l labels, @photo, @e station events are the schedule's own, @yard, @site, @person, @plant the
cast's. Operations and faults come from one random stream. Order among steps of one phone is kept
when it is played; what phones and server do to each other meanwhile is up to the machine.
"""

import random
import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

Step = dict[str, Any]

FATES = ("drop", "torn", "lost", "mute", "half_open", "cut", "double", "late", "delay")
DOORS = ("", "/push", "/photos/", "/pull")
"""Which requests a fault is meant for: the next one at all, or the next at that door. Without the
latter most would fall on pushes, and a run that cannot push asks for nothing else."""
DAY_MS = 86_400_000
ROUTE = ("receiving", "initial-inspection", "buffing", "curing")
"""Some stations of the default route, in order."""


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


@dataclass
class _Hand:
    """One phone's work as its driver has it in mind: (operation, label) of what he took."""

    visit: str
    lines: list[tuple[str, str]] = field(default_factory=list)
    scrap: list[str] = field(default_factory=list)
    left: list[str] = field(default_factory=list)
    aboard: list[str] = field(default_factory=list)
    racked: list[str] = field(default_factory=list)
    delivery: str = ""
    delivered: list[str] = field(default_factory=list)


class Plan:
    """Draws a schedule; `steps` is what came of it."""

    def __init__(self, seed: int, size: Size) -> None:
        self.rng = random.Random(seed)
        self.size = size
        self.steps: list[Step] = []
        self.counts: dict[str, int] = {}
        self.hands = [_Hand(self._new("v")) for _ in range(size.phones)]
        self.used: list[str] = []
        self.coming: list[str] = []

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
        for phone in range(self.size.phones):
            self._finish_pickup(phone)
            self._finish_delivery(phone)
        return self.steps

    def _new(self, sign: str) -> str:
        self.counts[sign] = self.counts.get(sign, 0) + 1
        return f"@{sign}{self.counts[sign]}"

    def _label(self) -> str:
        """A fresh one (the plant may have named it already), rarely one that somebody has used."""
        if self.used and self.rng.random() < 0.02:
            return self.rng.choice(self.used)
        label = self.coming.pop() if self.coming and self.rng.random() < 0.5 else self._new("l")
        self.used.append(label)
        return label

    def _tell(self, phone: int, kind: str, payload: Step, photo: float = 0.0) -> str:
        uid = self._new("o")
        step: Step = {"phone": phone, "do": "tell", "id": uid, "kind": f"custody.{kind}"}
        if self.rng.random() < photo:
            step["photos"] = [self._new("photo")]
            payload = payload | {"photos": step["photos"]}
        self.steps.append(step | {"payload": payload})
        return uid

    def _operation(self, phone: int) -> None:
        hand = self.hands[phone]
        roll = self.rng.random()
        if len(hand.lines) >= 14 or (hand.lines and roll < 0.02):
            self._finish_pickup(phone)
        elif len(hand.delivered) >= 10:
            self._finish_delivery(phone)
        elif roll < 0.5 or not hand.lines:
            self._pick_up(phone)
        elif roll < 0.58:
            self._correct(phone)
        elif roll < 0.61:
            uid, label = hand.lines.pop(self.rng.randrange(len(hand.lines)))
            original = {"fact": uid, "label": label}
            told = {"pickup": hand.visit, "withdraws": original, "reason": "wrong pile"}
            self._tell(phone, "withdraw", told)
        elif roll < 0.64:
            self._relabel(phone)
        elif roll < 0.70:
            self._scrap(phone)
        elif roll < 0.75:
            self._leave(phone)
        elif roll < 0.90:
            self._hand_over(phone)
        else:
            self._deliver(phone)
        if self.rng.random() < 0.12:
            self.steps.append({"phone": phone, "do": "sync"})
        elif self.rng.random() < 0.02:
            self.steps.append({"phone": phone, "do": "rest"})

    def _pick_up(self, phone: int) -> None:
        hand, label = self.hands[phone], self._label()
        told = self._place(phone) | {"label": label} | self._seen()
        hand.lines.append((self._tell(phone, "pick_up", told, photo=0.05), label))

    def _place(self, phone: int) -> Step:
        return {"pickup": self.hands[phone].visit, "yard": f"@yard{phone % 2}"}

    def _seen(self) -> Step:
        rng = self.rng
        told: Step = {"treads_32nds": [[rng.randrange(30) for _ in range(rng.randrange(1, 6))]]}
        if rng.random() < 0.5:
            told |= {
                "size": rng.choice(["11R22.5", "295/75R22.5"]),
                "unit": f"T{rng.randrange(99)}",
            }
        if rng.random() < 0.2:
            told["findings"] = [
                {"zone": "crown", "kind": "nail_hole", "count": rng.randrange(1, 4)}
            ]
        return told

    def _correct(self, phone: int) -> None:
        hand = self.hands[phone]
        at = self.rng.randrange(len(hand.lines))
        uid, told_under = hand.lines[at]
        label = self._label() if self.rng.random() < 0.3 else told_under
        told = self._place(phone) | {"label": label} | self._seen()
        self._tell(phone, "pick_up", told | {"corrects": {"fact": uid, "label": told_under}})

    def _relabel(self, phone: int) -> None:
        hand = self.hands[phone]
        _, label = self.rng.choice(hand.lines)
        now = self._new("l")
        self.used.append(now)
        why = self.rng.choice(["lost", "spoiled"])
        self._tell(phone, "relabel", {"label": label, "now": now, "why": why}, photo=0.1)

    def _scrap(self, phone: int) -> None:
        hand = self.hands[phone]
        told = self._place(phone) | {"count": self.rng.randrange(9)}
        if hand.scrap and self.rng.random() < 0.4:
            self._tell(phone, "count_scrap", told | {"corrects": self.rng.choice(hand.scrap)})
        else:
            hand.scrap.append(self._tell(phone, "count_scrap", told, photo=0.05))

    def _leave(self, phone: int) -> None:
        hand = self.hands[phone]
        told = self._place(phone) | {"note": "cord shows", "brand": "Marlow"}
        if hand.left and self.rng.random() < 0.3:
            again = {"corrects": self.rng.choice(hand.left), "taken": self.rng.random() < 0.5}
            self._tell(phone, "leave_here", told | again)
        else:
            hand.left.append(self._tell(phone, "leave_here", told, photo=0.3))

    def _hand_over(self, phone: int) -> None:
        """From the truck to the rack, from the rack to the plant or out again."""
        hand, person, site = self.hands[phone], f"person:@person{phone}", f"site:@site{phone % 2}"
        if hand.racked and self.rng.random() < 0.5:
            label = hand.racked.pop(self.rng.randrange(len(hand.racked)))
            if self.rng.random() < 0.5:
                told = {"way": "in", "giver": site, "taker": "plant:@plant"}
            else:
                told = {"way": "out", "giver": site, "taker": person}
                hand.aboard.append(label)
        elif hand.aboard:
            label = hand.aboard.pop(self.rng.randrange(len(hand.aboard)))
            told = {"way": "in", "giver": person, "taker": site}
            hand.racked.append(label)
        else:
            self._pick_up(phone)
            return
        self._tell(phone, "hand_over", told | {"label": label}, photo=0.02)

    def _deliver(self, phone: int) -> None:
        hand = self.hands[phone]
        if not hand.aboard:
            self._pick_up(phone)
            return
        hand.delivery = hand.delivery or self._new("v")
        label = hand.aboard.pop(self.rng.randrange(len(hand.aboard)))
        told = {"delivery": hand.delivery, "yard": f"@yard{phone % 2}", "label": label}
        hand.delivered.append(self._tell(phone, "deliver", told, photo=0.03))

    def _finish_pickup(self, phone: int) -> None:
        hand = self.hands[phone]
        if hand.lines or hand.scrap or hand.left:
            told = self._place(phone) | {
                "casings": [uid for uid, _ in hand.lines],
                "scrap": hand.scrap,
                "left": hand.left,
                **self._signed(),
            }
            if self.rng.random() < 0.5:
                told["customer_count"] = len(hand.lines)
            self._tell(phone, "finish_pickup", told, photo=0.1)
            hand.aboard += [label for _, label in hand.lines]
        hand.visit, hand.lines, hand.scrap, hand.left = self._new("v"), [], [], []

    def _finish_delivery(self, phone: int) -> None:
        hand = self.hands[phone]
        if hand.delivered:
            told = {"delivery": hand.delivery, "yard": f"@yard{phone % 2}",
                    "casings": hand.delivered, **self._signed()}  # fmt: skip
            self._tell(phone, "finish_delivery", told, photo=0.1)
        hand.delivery, hand.delivered = "", []

    def _signed(self) -> Step:
        if self.rng.random() < 0.3:
            return {"nobody_there": True, "unsigned": "nobody at the gate"}
        return {"signer": "R. Amsel", "signed_in": self.rng.choice(["en", "es"])}

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
        if rng.random() < 0.3 or not self.used:
            label = self._new("l")
            self.coming.append(label)
        else:
            label = rng.choice(self.used)
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
        event = {"id": self._new("e"), "label": label, "station": station, "outcome": outcome}
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
