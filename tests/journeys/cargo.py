"""What a driver of the road's journeys finds in the morning: casings that went their way through
the product's own doors (a phone's, the plant's), and a load sheet that names them."""

import json
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import timedelta
from typing import Any
from uuid import UUID

from pickups.kernel.ids import uuid7
from tests.world import Phone
from tests.world.plant import Gateway
from tests.world.stack import Stack

PICKED_UP = timedelta(days=9)
"""So long ago; a pickup of today would be taken for that of the sheet."""


@dataclass
class Cargo:
    """A second driver's phone that has brought everything here; `orders` by label."""

    stack: Stack
    phone: Phone = field(init=False)
    plant: Gateway = field(init=False)
    orders: dict[str, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        cast = self.stack.cast
        self.phone = Phone(self.stack.door, UUID(cast["other_driver"]))
        assert self.phone.enrol(self.stack.fresh_code()).status == 200
        self.plant = Gateway(self.stack.door, cast["plant_key"])
        self.stack.call("settle()")

    def at_rack(self, count: int, yard: str = "", **told: Any) -> list[str]:
        """So many casings of a yard, picked up and handed in at the store's rack; their labels."""
        cast = self.stack.cast
        labels = [cast["labels"].pop() for _ in range(count)]
        pickup = uuid7()
        self.phone.ahead = -PICKED_UP
        for label in labels:
            more = {"size": "295/75R22.5", "tread_32nds": [6, 7, 6], **told}
            entered = self.phone.pick_up(label, UUID(yard or cast["yard"]), pickup, **more)
            self.orders[label] = entered["id"]
        self.phone.finish(pickup, UUID(yard or cast["yard"]), [self.orders[x] for x in labels])
        self.push()
        self.phone.ahead = timedelta()
        self.hand_over(labels, "in", self.driver, f"site:{cast['store']}")
        self.push()
        return labels

    def come_home(
        self, count: int, yard: str = "", *, rejected: int = 0, to: str = "site"
    ) -> list[str]:
        """So many through the plant, the last of them rejected; on the store's rack, or with
        `to="plant"` at the plant's dock."""
        cast = self.stack.cast
        dock = f"plant:{cast['plant']}"
        labels = self.at_rack(count, yard)
        self.hand_over(labels, "in", f"site:{cast['store']}", self.driver)
        self.hand_over(labels, "in", self.driver, dock)
        self.push()
        for i, label in enumerate(labels):
            self.plant.tell(label, "received", station="receiving")
            bad = i >= count - rejected
            self.plant.tell(label, "rejected" if bad else "finished", station="final-inspection")
        if to == "site":
            self.hand_over(labels, "out", dock, self.driver)
            self.hand_over(labels, "out", self.driver, f"site:{cast['store']}")
            self.push()
        return labels

    @property
    def driver(self) -> str:
        return f"person:{self.stack.cast['other_driver']}"

    def hand_over(self, labels: Sequence[str], way: str, giver: str, taker: str) -> None:
        """Each of them from one holder to another."""
        for label in labels:
            told = {"label": label, "way": way, "giver": giver, "taker": taker}
            self.phone.enter("custody.hand_over", told)

    def push(self) -> None:
        """Send all; everything has to be taken."""
        reply = self.phone.push()
        assert reply.status == 200, reply.body
        assert self.phone.outbox == [], self.phone.answers

    def sheet(self, stops: list[dict[str, Any]], **head: str) -> tuple[str, list[str]]:
        """A load sheet for the driver of the store; its id and those of its stops."""
        cast = self.stack.cast
        named = [
            {**told, "drop": [self.orders[label] for label in told.get("drop", ())]}
            for told in stops
        ]
        made = self.stack.call(
            f"hand_sheet({cast['store']!r}, {cast['driver']!r}, {named!r}, **{head!r})"
        )
        said = json.loads(made.splitlines()[-1])
        return said["run"], said["stops"]
