"""What happens to the casings of a plant in a week, and what has to be known of each at its end.

Drawn from a seed. The truth is written down as the story is made, never read back from events, so
that it can be held against what the server makes of them. Shares are invented; nothing in them
claims to be any plant's. Pure.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from random import Random
from typing import Any
from uuid import UUID

ROUTE = (
    "receiving", "cleaning", "initial-inspection", "electrical-test", "shearography", "buffing",
    "skiving", "repair", "cementing", "cushion-gum", "building", "enveloping", "curing",
    "stripping", "final-ndt", "final-inspection", "paint", "shipping",
)  # fmt: skip
"""Common practice, no published source; a plant may order it otherwise."""
SCANS = frozenset(ROUTE) - {"cleaning", "skiving", "cementing", "cushion-gum"}
"""Where this plant scans at all; and of each scan one in twenty is forgotten."""
CLOCKS = {"shearography": timedelta(days=-2), "curing": timedelta(hours=5)}
"""How far the clocks of two machines are off."""
REASONS = {
    "initial-inspection": "RUN_FLAT",
    "shearography": "SEPARATION",
    "buffing": "BELT_REMOVED",
}
LONGEST_STEP_MIN = 90
ARRIVALS_MIN = 7 * 24 * 60
"""Casings come in until the last day, so that some are still in work at the end."""


@dataclass
class Truth:
    """What is so at the end of the week, whatever was heard of it and when."""

    stage: str = "in_work"
    reason: str = ""
    reworks: int = 0
    holds: int = 0
    finds: int = 0
    told: set[str] = field(default_factory=set)
    """Stations of which an event was posted that says the casing was there."""
    loads: set[str] = field(default_factory=set)


@dataclass
class Casing:
    """One casing: its label, its events in their true order and time, and the truth."""

    label: str
    events: list[tuple[datetime, dict[str, Any]]] = field(default_factory=list)
    truth: Truth = field(default_factory=Truth)
    load: str = ""


class Story:
    """A week of so many casings from Monday, `start`."""

    def __init__(self, seed: int, labels: Sequence[str], start: datetime) -> None:
        self.rng = Random(seed)
        self.start, self.end = start, start + timedelta(days=7)
        self.casings = [self._live(label) for label in labels]

    def events(self) -> list[tuple[datetime, dict[str, Any]]]:
        """Every event of the week in its true order."""
        told = [event for casing in self.casings for event in casing.events]
        return sorted(told, key=lambda one: one[0])

    def _live(self, label: str) -> Casing:
        casing = Casing(label)
        now = self.start + timedelta(minutes=self.rng.randrange(ARRIVALS_MIN))
        for station, outcome, more in self._steps(casing):
            now += timedelta(minutes=self.rng.randrange(5, LONGEST_STEP_MIN))
            if now >= self.end:
                break  # the rest would happen next week
            self._happen(casing, now, station, outcome, more)
        return casing

    def _steps(self, casing: Casing) -> Iterator[tuple[str, str, dict[str, Any]]]:
        """The steps of one casing; the last ones may never come to pass."""
        rng, bad = self.rng, False
        for station in ROUTE[: ROUTE.index("final-inspection")]:
            if station in REASONS and rng.random() < 0.05:
                yield station, "rejected", {"reason": REASONS[station], "cause": "casing"}
                bad = True
                break
            if station == "initial-inspection" and rng.random() < 0.3:
                find = {"zone": "crown", "kind": "nail_hole", "size_mm": 4.0}
                yield station, "repair", {"findings": [find]}
            elif station == "electrical-test" and rng.random() < 0.05:
                yield station, "hold", {"note": "a spark at the old repair"}
                if rng.random() < 0.3:
                    return  # nobody has decided yet
                yield station, "released", {"releases": "the hold"}
                yield station, "passed", {}
            else:
                yield station, "received" if station == "receiving" else "passed", {}
        if not bad and rng.random() < 0.08:
            yield "final-inspection", "repair", {"again_at": "building", "note": "a blister"}
            for station in ROUTE[ROUTE.index("building") : ROUTE.index("final-inspection")]:
                yield station, "passed", {}
        if not bad:
            yield "final-inspection", "passed", {}
            yield "paint", "finished", {}
        if rng.random() < 0.7:
            yield "shipping", "shipped", {}

    def _happen(
        self, casing: Casing, now: datetime, station: str, outcome: str, more: dict[str, Any]
    ) -> None:
        weighty = outcome not in ("passed", "received", "repair") or "again_at" in more
        if not weighty and (station not in SCANS or self.rng.random() < 0.05):
            return  # it happened, and nobody scanned it
        event = {
            "id": str(UUID(int=self.rng.getrandbits(128), version=4)),
            "label": casing.label,
            "station": station,
            "outcome": outcome,
            "happened_at": _rfc3339(now + CLOCKS.get(station, timedelta())),
        } | more
        truth = casing.truth
        if station in ("curing", "stripping"):
            # What goes into a load comes out of it; where nobody scanned it in, it comes out only.
            if station == "curing" or not casing.load:
                casing.load = f"L{now:%d}-{now.hour}"
            event["load"] = casing.load
            truth.loads.add(casing.load)
        if more.get("releases"):
            event["releases"] = casing.events[-1][1]["id"]
            truth.holds -= 1
        truth.holds += outcome == "hold"
        truth.reworks += "again_at" in more
        truth.finds += len(more.get("findings", ()))
        truth.reason = more.get("reason", truth.reason)
        truth.told.add(station)
        if outcome in ("rejected", "finished", "shipped"):
            truth.stage = outcome
        casing.events.append((now, event))


def _rfc3339(at: datetime) -> str:
    return at.isoformat(timespec="milliseconds").replace("+00:00", "Z")
