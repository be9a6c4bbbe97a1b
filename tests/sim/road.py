"""What one phone's driver tells of his run: where the truck stands, what is not made, what was put
in between, what was counted onto it and off it. Pure. His sheet is the office's (see clerk.py)."""

from tests.sim.draft import Draft, Step

STOPS = 5
"""Of each sheet as the office writes it; the stops of phone 3 are @stop15 to @stop19."""
WHYS = ("closed", "nobody_there", "refused", "blocked", "no_room", "no_time", "other")


class Road:
    """One driver's run; his own stops come to those of the sheet."""

    def __init__(self, draft: Draft, phone: int) -> None:
        self.draft, self.phone, self.rng = draft, phone, draft.rng
        self.run = f"@run{phone}"
        self.stops = [f"@stop{phone * STOPS + i}" for i in range(STOPS)]

    def drive(self) -> None:
        """The next word about it."""
        at = {"run": self.run, "stop": self.rng.choice(self.stops)}
        roll = self.rng.random()
        if roll < 0.35:
            self._tell("arrive", at)
        elif roll < 0.5:
            why = {"why": self.rng.choice(WHYS), "note": "chain on the gate"}
            self._tell("skip", at | why, photo=0.1)
        elif roll < 0.62:
            self._tell("resume", at)
        elif roll < 0.75:
            after = self.rng.choice([None, *self.stops])
            told = {"run": self.run, "yard": f"@yard{self.phone % 2}", "after": after}
            self.stops.append(self._tell("add_stop", told | {"why": "waved in"}))
        else:
            self._count(at["stop"])

    def _count(self, stop: str) -> None:
        """At a stop, where the run starts, or where no sheet names the place; some differ."""
        rng = self.rng
        scanned = list(dict.fromkeys(rng.choice(self.draft.used) for _ in range(rng.randrange(8))
                                     if self.draft.used))  # fmt: skip
        told: Step = {
            "site": f"@site{self.phone % 2}",
            "way": rng.choice(["on", "off"]),
            "counted": len(scanned) + rng.choice([0, 0, 0, 1]),
            "scanned": scanned,
            "run": rng.choice([self.run, self.run, None]),
        }
        if told["run"] and rng.random() < 0.6:
            told["stop"] = stop
        self._tell("count_load", told)

    def _tell(self, kind: str, payload: Step, *, photo: float = 0.0) -> str:
        return self.draft.tell(self.phone, f"runs.{kind}", payload, photo=photo)
