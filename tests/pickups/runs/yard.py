"""Casings at every place of their way, told as phones and plants tell them."""

from dataclasses import dataclass
from datetime import date
from typing import Any
from uuid import UUID, uuid4

from pickups.casings.models import WorkOrder
from tests.world import Phone, World
from tests.world.plant import Gateway


@dataclass
class Yard:
    """Who tells: a driver's phone and the plant. Each builder returns the work order's id."""

    world: World
    phone: Phone
    gateway: Gateway

    @property
    def driver(self) -> str:
        return f"person:{self.world.driver.uid}"

    @property
    def rack(self) -> str:
        return f"site:{self.world.store.uid}"

    @property
    def plant(self) -> str:
        return f"plant:{self.world.plant.uid}"

    def picked_up(self, **more: Any) -> UUID:
        """With the driver who took it."""
        promised = more.pop("promised", None)
        if promised is not None:
            more["promised"] = {"on": str(promised), "basis": "by_hand"}
        payload = {
            "pickup": str(uuid4()),
            "yard": str(self.world.yard.uid),
            "label": self.world.a_label(),
            "size": "295/75R22.5",
            **more,
        }
        made = self.phone.enter("custody.pick_up", payload, version=2)
        self.push()
        return UUID(made["id"])

    def waiting(self, **more: Any) -> UUID:
        """On the store's rack, not yet at the plant."""
        uid = self.picked_up(**more)
        self.hand_over(uid, "in", self.driver, self.rack)
        return uid

    def finished(self, **more: Any) -> UUID:
        """Finished, still at the plant."""
        uid = self.picked_up(**more)
        self.at_the_plant(uid, "received", "finished")
        return uid

    def home(self, **more: Any) -> UUID:
        """Finished, on the store's rack."""
        uid = self.finished(**more)
        self.at_the_plant(uid, "shipped")
        self.hand_over(uid, "out", self.plant, self.rack)
        return uid

    def rejected(self, **more: Any) -> UUID:
        """Rejected for a separation, on the store's rack."""
        uid = self.picked_up(**more)
        self.at_the_plant(uid, "received", "rejected", "shipped")
        self.hand_over(uid, "out", self.plant, self.rack)
        return uid

    def at_the_plant(self, uid: UUID, *outcomes: str) -> None:
        for outcome in outcomes:
            why = {"reason": "SEPARATION"} if outcome == "rejected" else {}
            self.gateway.tell(self.label(uid), outcome, **why)

    def load(self, uid: UUID) -> None:
        """From the rack onto the truck."""
        self.hand_over(uid, "out", self.rack, self.driver)

    def deliver(self, uid: UUID, yard: UUID | None = None, **more: Any) -> None:
        """Handed back at the yard, or at a counter where that is told."""
        at = str(yard or self.world.yard.uid)
        payload = {"delivery": str(uuid4()), "yard": at, "label": self.label(uid)}
        version = 2 if more else 1
        self.phone.enter("custody.deliver", payload | more, version=version)
        self.push()

    def hand_over(self, uid: UUID, way: str, giver: str, taker: str) -> None:
        payload = {"label": self.label(uid), "way": way, "giver": giver, "taker": taker}
        self.phone.enter("custody.hand_over", payload)
        self.push()

    def withdraw(self, uid: UUID) -> None:
        order = WorkOrder.objects.get(uid=uid)
        named = {"fact": str(uid), "label": order.label}
        payload = {"pickup": str(order.pickup), "withdraws": named, "reason": "wrong pile"}
        self.phone.enter("custody.withdraw", payload)
        self.push()

    def push(self) -> None:
        reply = self.phone.push()
        assert reply.status == 200, reply.body
        assert self.phone.outbox == []

    @staticmethod
    def label(uid: UUID) -> str:
        return WorkOrder.objects.get(uid=uid).label


DAY = date(2030, 5, 6)
"""A Monday that no test outlives."""
