"""A headless phone: makes operations as the app does, and speaks HTTP through a Door.

The day of the demo is played with it, and the tests that need no browser use it.
"""

import json
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import Any, Protocol
from uuid import UUID, uuid4

from pickups.kernel.clock import rfc3339, to_ms
from pickups.kernel.ids import uuid7

COOKIE = "__Host-yardloop_push"


@dataclass
class Reply:
    """An HTTP answer: status, headers (any case), body."""

    status: int
    headers: dict[str, str]
    body: bytes

    @property
    def json(self) -> Any:
        return json.loads(self.body)


class Door(Protocol):
    """Something that carries one HTTP request and brings back the answer."""

    def __call__(self, method: str, path: str, body: bytes, headers: dict[str, str]) -> Reply: ...


@dataclass
class Phone:
    """One enrolled device with an outbox and a replica, all in memory."""

    door: Door
    person: UUID
    uid: UUID = field(default_factory=uuid4)
    incarnation: UUID = field(default_factory=uuid4)
    push_secret: str = ""
    read_token: str = ""
    ahead: timedelta = timedelta()
    sequence: int = 0
    last_stamp: int = 0
    outbox: list[dict[str, Any]] = field(default_factory=list)
    sent: list[dict[str, Any]] = field(default_factory=list)
    rows: dict[tuple[str, str, str], dict[str, Any]] = field(default_factory=dict)
    cursor: str | None = None
    answers: dict[str, dict[str, Any]] = field(default_factory=dict)
    enrolled: dict[str, Any] = field(default_factory=dict)

    def clock(self) -> datetime:
        """The phone's clock, which may be days off."""
        return datetime.now(UTC) + self.ahead

    def enrol(self, code: str) -> Reply:
        """Spend an enrolment code."""
        body = {"code": code, "device": str(self.uid), "name": "phone"}
        reply = self.send("POST", "/api/devices/enrol", body)
        if reply.status == 200:
            cookie = next(v for k, v in reply.headers.items() if k.lower() == "set-cookie")
            self.push_secret = cookie.split("=", 1)[1].split(";", 1)[0]
            self.read_token = reply.json["read_token"]
            self.enrolled = reply.json
        return reply

    def enter(self, kind: str, payload: dict[str, Any], **changed: Any) -> dict[str, Any]:
        """Make one operation and put it into the outbox."""
        self.sequence += 1
        now = self.clock()
        self.last_stamp = max(self.last_stamp + 1, to_ms(now))
        operation = {
            "id": str(uuid7()),
            "incarnation": str(self.incarnation),
            "sequence": self.sequence,
            "kind": kind,
            "version": 1,
            "by": str(self.person),
            "happened_at": rfc3339(now),
            "stamp": self.last_stamp,
            "payload": payload,
        } | changed
        self.outbox.append(operation)
        return operation

    def pick_up(self, label: str, yard: UUID, pickup: UUID, **more: Any) -> dict[str, Any]:
        """Enter one casing."""
        payload = {"pickup": str(pickup), "yard": str(yard), "label": label, **more}
        return self.enter("custody.pick_up", payload)

    def finish(
        self, pickup: UUID, yard: UUID, casings: Sequence[str], **more: Any
    ) -> dict[str, Any]:
        """Enter the end of a pickup."""
        payload = {"pickup": str(pickup), "yard": str(yard), "casings": list(casings), **more}
        return self.enter("custody.finish_pickup", payload)

    def count_scrap(self, pickup: UUID, yard: UUID, count: int, **more: Any) -> dict[str, Any]:
        """Enter worn-out tires that are counted and never labelled."""
        payload = {"pickup": str(pickup), "yard": str(yard), "count": count, **more}
        return self.enter("custody.count_scrap", payload)

    def leave_here(self, pickup: UUID, yard: UUID, **more: Any) -> dict[str, Any]:
        """Enter a casing that was looked at and not taken."""
        return self.enter("custody.leave_here", {"pickup": str(pickup), "yard": str(yard), **more})

    def push(self, operations: Sequence[dict[str, Any]] | None = None) -> Reply:
        """Send the outbox (or these); entries leave it on an answer that ends them."""
        batch = list(self.outbox if operations is None else operations)[:500]
        body = {"protocol": 1, "sent_at": rfc3339(self.clock()), "operations": batch}
        reply = self.send("POST", "/api/sync/push", body, cookie=True)
        if reply.status == 200:
            self.take_answers(reply.json["answers"])
        return reply

    def take_answers(self, answers: Sequence[dict[str, Any]]) -> None:
        """End what was answered; a refusal ends nothing."""
        ended = {a["id"] for a in answers if a.get("id") and a["outcome"] != "refused"}
        self.answers.update({a["id"]: a for a in answers if a.get("id")})
        self.sent += [o for o in self.outbox if o["id"] in ended]
        self.outbox = [o for o in self.outbox if o["id"] not in ended]

    def pull(self, limit: int = 500) -> Reply:
        """One page."""
        reply = self.send(
            "POST", "/api/sync/pull", {"cursor": self.cursor, "limit": limit}, bearer=True
        )
        if reply.status == 410:
            self.rows.clear()
            self.cursor = None
            self.outbox = [*self.sent, *self.outbox]
            self.sent = []
        if reply.status == 200:
            page = reply.json
            self.cursor = page["cursor"]
            for scope in page["forget"]:
                self.rows = {k: v for k, v in self.rows.items() if k[0] != scope}
            for row in page["rows"]:
                key = (row["scope"], row["entity"], row["id"])
                known = self.rows.get(key)
                if known is None or known["version"] <= row["version"]:
                    self.rows[key] = row
        return reply

    def pull_all(self, limit: int = 500) -> None:
        """Pages until there are no more."""
        while True:
            reply = self.pull(limit)
            if reply.status == 200 and not reply.json["more"]:
                return
            assert reply.status in (200, 410), reply.body

    def seen(self, entity: str) -> dict[str, dict[str, Any]]:
        """Bodies of the rows of an entity that the phone shows."""
        return {
            key[2]: row["body"]
            for key, row in self.rows.items()
            if key[1] == entity and not row.get("gone")
        }

    def send(
        self, method: str, path: str, body: Any, *, cookie: bool = False, bearer: bool = False
    ) -> Reply:
        """One request as this phone."""
        headers = {"Content-Type": "application/json"}
        if cookie:
            headers["Cookie"] = f"{COOKIE}={self.push_secret}"
        if bearer:
            headers["Authorization"] = f"Bearer {self.read_token}"
        data = body if isinstance(body, bytes) else json.dumps(body).encode()
        return self.door(method, path, data, headers)
