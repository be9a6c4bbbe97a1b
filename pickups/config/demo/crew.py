"""The people of the demo's day with what they hold: phones, a counter's tablet, a plant's key.

They know only what their device was given and speak only through the product's doors.
"""

import hashlib
import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any
from uuid import UUID, uuid4

from pickups.casings.words import comes_back
from pickups.config.demo.checking import checked
from pickups.config.demo.doors import Http, ShutDoor
from pickups.config.demo.phone import COOKIE, Phone
from pickups.config.demo.pictures import signature
from pickups.custody.shown import shown
from pickups.customers.rules import terms
from pickups.kernel import clock, ids

Row = dict[str, Any]


@dataclass
class Hand:
    """Somebody with a device of a store."""

    phone: Phone
    person: UUID
    store: UUID

    @property
    def me(self) -> str:
        return f"person:{self.person}"

    @property
    def rack(self) -> str:
        return f"site:{self.store}"

    def casings(self, *, holder: str = "", progress: Sequence[str] = ()) -> dict[str, Row]:
        """The casings that the device knows of, by work order; where asked, only some."""
        self.phone.pull_all()
        return {
            uid: row
            for uid, row in sorted(self.phone.seen("work_order").items())
            if not (row["contested"] or row["withdrawn"])
            and (not holder or row["holder"] == holder)
            and (not progress or row["progress"] in progress)
        }

    def yard(self, uid: str) -> str:
        """A yard by name."""
        row = self.phone.seen("yard")[uid]
        return f"{row['customer_name']}, {row['name']}"

    def scan(self, labels: Sequence[str], way: str, giver: str, taker: str) -> None:
        """Hand casings over, a scan each."""
        for label in labels:
            told = {"label": label, "way": way, "giver": giver, "taker": taker}
            self.phone.enter("custody.hand_over", told)
        self.send()

    def pick_up(
        self,
        yard: str,
        casings: Sequence[Row],
        *,
        day: date,
        signer: str,
        at_counter: bool = False,
        scrap: Row | None = None,
        left: Row | None = None,
    ) -> list[str]:
        """A whole visit with its signature, scrap that is counted and a casing that stays; returns
        the promised days."""
        pickup, uids, lines = str(uuid4()), [], []
        store = str(self.store) if at_counter else None
        for casing in casings:
            work, place = casing.get("work", "retread"), "store" if at_counter else yard
            promised = self._offered(place, work, day) if comes_back(casing) else None
            payload = {
                "pickup": pickup,
                "yard": yard,
                "store": store,
                "back_to": "store" if at_counter else "yard",
                "promised": promised,
                **casing,
                "check": self._checked(casing, yard, day),
            }
            uids.append(self.phone.enter("custody.pick_up", payload, version=3)["id"])
            lines.append((casing["label"], promised["on"] if promised else ""))
        here = {"pickup": pickup, "yard": yard, "store": store}
        end: Row = {**here, "casings": uids, "customer_count": len(uids)}
        for name, kind, line in (("scrap", "count_scrap", scrap), ("left", "leave_here", left)):
            if line is not None:
                end[name] = [self.phone.enter(f"custody.{kind}", {**here, **line})["id"]]
        counted = {"scrap": scrap["count"] if scrap else 0, "left": 1 if left else 0}
        end |= self._signed(signer, lines, **counted)
        self.phone.enter("custody.finish_pickup", end, version=3)
        self.send()
        return sorted({on for _, on in lines if on})

    def deliver(
        self, yard: str, labels: Sequence[str], *, signer: str, at_counter: bool = False
    ) -> None:
        """Hand casings back to their owner, with a signature."""
        place = {"yard": yard, "store": str(self.store) if at_counter else None}
        delivery = {"delivery": str(uuid4()), **place}
        handed = [
            self.phone.enter("custody.deliver", {**delivery, "label": label}, version=2)["id"]
            for label in labels
        ]
        signed = self._signed(signer, [(label, "") for label in labels])
        end = {**delivery, "casings": handed, **signed}
        self.phone.enter("custody.finish_delivery", end, version=2)
        self.send()

    def send(self) -> None:
        """Everything that the device holds, as with a signal."""
        while self.phone.outbox:
            reply = self.phone.push()
            if reply.status != 200:
                raise ShutDoor(f"push: {reply.status} {reply.body[:300]!r}")
            refused = [a for a in reply.json["answers"] if a["outcome"] == "refused"]
            if refused:
                raise ShutDoor(f"refused: {refused[0]}")

    def _checked(self, casing: Row, yard: str, day: date) -> Row:
        """The spec check by what the device knows: the yard's own terms, or its customer's."""
        customer = self.phone.seen("yard")[yard]["customer"]
        rows = self.phone.seen("specification").items()
        theirs = {s["yard"]: (uid, s) for uid, s in rows if s["customer"] == customer}
        uid, said = theirs.get(yard) or theirs.get(None) or (None, None)
        beside = ("customer", "yard", "number")
        held = terms({k: v for k, v in said.items() if k not in beside}) if said else None
        number = said["number"] if said else None
        return checked(casing, held, uid=uid, number=number, day=day)

    def _offered(self, place: str, work: str, day: date) -> Row | None:
        """What the table on the device says of a hand-over today."""
        table = self.phone.seen("promise_table").get(str(self.store))
        if table is None:
            return None
        days = table["places"].get(place, {}).get(work, [])
        at = (day - date.fromisoformat(table["computed_on"])).days
        on = days[at] if 0 <= at < len(days) else None
        if on is None:
            return None
        return {"on": on, "basis": "standard_time", "offered": on, "table": table["version"]}

    def _signed(
        self, signer: str, lines: Sequence[tuple[str, str]], *, scrap: int = 0, left: int = 0
    ) -> Row:
        drawn = signature(signer)
        sha256 = hashlib.sha256(drawn).hexdigest()
        headers = {"Content-Type": "image/jpeg", "Cookie": f"{COOKIE}={self.phone.push_secret}"}
        reply = self.phone.door("PUT", f"/api/photos/{sha256}", drawn, headers)
        if reply.status != 200:
            raise ShutDoor(f"photo: {reply.status} {reply.body[:300]!r}")
        return {
            "signer": signer,
            "signature": sha256,
            "shown": shown(lines, scrap=scrap, left=left),
        }


@dataclass
class Dock:
    """The plant's system."""

    door: Http
    key: str

    def post(self, station: str, outcome: str, labels: Sequence[str], **more: Any) -> None:
        """The same of several casings, as a gateway posts what it has gathered."""
        if not labels:
            return
        at = clock.rfc3339(clock.now())
        told = {"station": station, "outcome": outcome, "happened_at": at, **more}
        events = [{"id": str(ids.uuid7()), "label": label, **told} for label in labels]
        headers = {"Content-Type": "application/json", "Authorization": f"Key {self.key}"}
        body = json.dumps({"events": events}).encode()
        reply = self.door("POST", "/api/plant/events", body, headers)
        if reply.status != 200:
            raise ShutDoor(f"plant: {reply.status} {reply.body[:300]!r}")
