"""Senders of a plant's stations: each posts what its station did, over a network that fails.

A post is repeated until it is answered, not before the server asks for it; some answers are lost on
the way back, some posts arrive twice; two stations have no network for an hour and post it all
afterwards. Machines that log post lines (application/x-ndjson), the others JSON. Knows the
documented messages and nothing else.
"""

import json
import time
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from random import Random
from typing import Any

from tests.world.phone import Door, Reply

LINES = frozenset({"shearography", "curing"})
OFFLINE = {"buffing": 40, "building": 61}
"""Stations without a network for an hour, from this hour of the week."""
BATCH = 40
TRIES = 200


@dataclass
class Sender:
    """One station's gateway with what it has still to post."""

    station: str
    door: Door
    key: str
    rng: Random
    faults: Counter[str]
    waiting: list[dict[str, Any]] = field(default_factory=list)

    def post(self, most: int = BATCH) -> None:
        """Post the oldest of what waits, again and again until it is answered."""
        batch = self.waiting[:most]
        for _ in range(TRIES):
            if self.rng.random() < 0.05:
                self._send(batch)
                self.faults["twice"] += 1
            reply = self._send(batch)
            if self.rng.random() < 0.1:
                self.faults["answer lost"] += 1
                continue
            if reply.status == 200:
                answers = reply.json["answers"]
                assert [a["id"] for a in answers] == [e["id"] for e in batch]
                assert all(a["outcome"] == "accepted" for a in answers if "outcome" in a)
                del self.waiting[: len(batch)]
                return
            assert reply.status in (0, 429, 502, 503), reply.body
            self.faults[f"status {reply.status}"] += 1
            time.sleep(float(reply.headers.get("retry-after", 0.05)))
        raise AssertionError(f"{self.station}: not taken after {TRIES} tries")

    def _send(self, batch: Sequence[dict[str, Any]]) -> Reply:
        headers = {"Authorization": f"Key {self.key}", "Content-Type": "application/json"}
        if self.station in LINES:
            headers["Content-Type"] = "application/x-ndjson"
            body = "".join(json.dumps(event) + "\n" for event in batch)
        elif len(batch) == 1:
            body = json.dumps(batch[0])
        else:
            body = json.dumps({"events": batch})
        return self.door("POST", "/api/plant/events", body.encode(), headers)


@dataclass
class Plant:
    """All senders of a plant, and the clock of the week that drives them."""

    door: Door
    key: str
    rng: Random
    start: datetime
    faults: Counter[str] = field(default_factory=Counter)
    senders: dict[str, Sender] = field(default_factory=dict)

    def tell(self, events: Sequence[tuple[datetime, dict[str, Any]]]) -> None:
        """Post these events of the story in their order, as well as the network lets."""
        for at, event in events:
            sender = self._sender(event["station"])
            sender.waiting.append(event)
            for each in list(self.senders.values()):
                if not self._offline(each.station, at) and len(each.waiting) >= self._patience():
                    each.post()

    def settle(self) -> None:
        """The end of the week: everything that still waits is posted."""
        for sender in self.senders.values():
            while sender.waiting:
                sender.post()

    def _sender(self, station: str) -> Sender:
        made = Sender(station, self.door, self.key, self.rng, self.faults)
        return self.senders.setdefault(station, made)

    def _patience(self) -> int:
        """How many a sender lets gather before it posts: most few, some a whole shelf."""
        return self.rng.choice((1, 8, 20, 40))

    def _offline(self, station: str, at: datetime) -> bool:
        if station not in OFFLINE:
            return False
        began = self.start + timedelta(hours=OFFLINE[station])
        away = began <= at < began + timedelta(hours=1)
        self.faults["away"] += away
        return away
