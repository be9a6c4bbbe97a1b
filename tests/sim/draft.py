"""What all phones of a schedule draw on: its steps so far, its signs and its chance. Pure; it knows
nothing of what a phone does."""

import random
from typing import Any

Step = dict[str, Any]


class Draft:
    """One random stream, so that the same seed makes the same schedule."""

    def __init__(self, seed: int) -> None:
        self.rng = random.Random(seed)
        self.steps: list[Step] = []
        self.counts: dict[str, int] = {}
        self.used: list[str] = []
        """Labels that somebody has worn on a casing."""
        self.coming: list[str] = []
        """Labels that the plant has named and nobody has picked up."""
        self.shut: dict[int, list[str]] = {0: [], 1: []}
        """Pickups whose trailers stand closed, by the store to which they were driven."""

    def new(self, sign: str) -> str:
        """A sign that is not used yet, as @o17."""
        self.counts[sign] = self.counts.get(sign, 0) + 1
        return f"@{sign}{self.counts[sign]}"

    def label(self) -> str:
        """A fresh one (the plant may have named it already), rarely one that somebody has used."""
        if self.used and self.rng.random() < 0.02:
            return self.rng.choice(self.used)
        label = self.coming.pop() if self.coming and self.rng.random() < 0.5 else self.new("l")
        self.used.append(label)
        return label

    def tell(
        self, phone: int, kind: str, payload: Step, *, photo: float = 0.0, drawn: bool = False
    ) -> str:
        """One operation; returns its sign. photo: its chance to have one. drawn: the signature."""
        uid = self.new("o")
        step: Step = {"phone": phone, "do": "tell", "id": uid, "kind": kind}
        photos = [self.new("photo")] if self.rng.random() < photo else []
        if photos:
            payload = payload | {"photos": photos}
        if drawn:
            payload = payload | {"signature": self.new("photo")}
            photos = [*photos, payload["signature"]]
        if photos:
            step["photos"] = photos
        self.steps.append(step | {"payload": payload})
        return uid
