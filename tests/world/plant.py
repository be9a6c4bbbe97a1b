"""A plant's system: posts station events with its key and reads where casings stand.

A client that an integrator may start from; it needs nothing but HTTP and JSON. What it keeps to:
an event's id is made once and never changes, so whatever is not answered is sent again as it was;
429 and 503 say when; anything else from 400 on is for a person to look at, and nothing of that
batch was recorded. Events may be sent late and in any order. The cursor of `changes` is kept once
its page has been dealt with, and is given back as it came.
"""

import json
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import partial
from typing import Any
from urllib.parse import urlencode

from pickups.kernel.clock import now, rfc3339
from pickups.kernel.ids import uuid7
from tests.world.phone import Door, Reply

LATER = (429, 503)
TRIES = 8
LONGEST_WAIT_S = 60.0


class Refused(Exception):
    """The server will not take this, today or tomorrow: a problem document says why."""

    def __init__(self, reply: Reply) -> None:
        super().__init__(f"{reply.status}: {reply.body.decode()[:2000]}")
        self.reply = reply


@dataclass
class Gateway:
    """Speaks HTTP through a Door; `key` is the whole plant key."""

    door: Door
    key: str
    wait: Callable[[float], None] = time.sleep

    # --- What happened --------------------------------------------------------------------------

    def event(
        self,
        label: str,
        outcome: str,
        *,
        station: str = "buffing",
        happened_at: datetime | None = None,
        **more: Any,
    ) -> dict[str, Any]:
        """One station event, not yet posted; a rejection gets a reason and a cause, where none
        is given."""
        told = {
            "id": str(uuid7()),
            "label": label,
            "station": station,
            "outcome": outcome,
            "happened_at": rfc3339(happened_at or now()),
        }
        if outcome == "rejected":
            told |= {"reason": "SW_CUT", "cause": "casing"}
        return told | more

    def post(self, body: Any, **headers: str) -> Reply:
        """Send a body as it is, or as JSON."""
        data = body if isinstance(body, bytes) else json.dumps(body).encode()
        sent = {"Content-Type": "application/json", "Authorization": f"Key {self.key}"}
        named = {name.replace("_", "-"): value for name, value in headers.items()}
        return self.door("POST", "/api/plant/events", data, sent | named)

    def lines(self, events: Sequence[dict[str, Any]]) -> Reply:
        """The same as application/x-ndjson: a line an event, as machines write them."""
        body = b"\n".join(json.dumps(event).encode() for event in events)
        return self.post(body, Content_Type="application/x-ndjson")

    def tell(self, label: str, outcome: str, **more: Any) -> dict[str, Any]:
        """Post one event that has to be accepted; returns it as posted."""
        told = self.event(label, outcome, **more)
        reply = self.post(told)
        assert reply.status == 200, reply.body
        return told

    def deliver(self, events: Sequence[dict[str, Any]]) -> list[dict[str, Any]]:
        """Post a batch until it is answered; returns the answers, in the order of the events.

        Raises Refused for what will never be taken, OSError where nobody answered for long.
        """
        reply = self._until_answered(lambda: self.post({"events": list(events)}))
        answers: list[dict[str, Any]] = reply.json["answers"]
        return answers

    # --- What stands ----------------------------------------------------------------------------

    def get(self, path: str, **asked: str) -> Reply:
        """Ask once."""
        address = f"/api/plant/{path}" + (f"?{urlencode(asked)}" if asked else "")
        return self.door("GET", address, b"", {"Authorization": f"Key {self.key}"})

    def work(self, station: str = "") -> Iterator[dict[str, Any]]:
        """Every casing inside the plant, or those seen last at one station, page after page."""
        asked = {"station": station} if station else {}
        cursor: str | None = ""
        while cursor is not None:
            at = {"cursor": cursor} if cursor else {}
            page = self._until_answered(partial(self.get, "work", **asked, **at)).json
            yield from page["work"]
            cursor = page["cursor"]

    def casing(self, label: str) -> dict[str, Any]:
        """What this plant has told of the casing under a label."""
        found: dict[str, Any] = self._until_answered(lambda: self.get(f"casings/{label}")).json
        return found

    def changes(self, cursor: str = "") -> tuple[list[dict[str, Any]], str]:
        """What changed after a cursor, to the end, and the cursor to keep."""
        found: list[dict[str, Any]] = []
        more = True
        while more:
            at = {"cursor": cursor} if cursor else {}
            page = self._until_answered(partial(self.get, "changes", **at)).json
            found += page["changes"]
            cursor, more = page["cursor"], page["more"]
        return found, cursor

    def _until_answered(self, send: Callable[[], Reply]) -> Reply:
        """Send until there is an answer: wait as long as is asked for, else longer each time."""
        pause = 1.0
        for left in reversed(range(TRIES)):
            try:
                reply = send()
            except OSError:
                if not left:
                    raise
                asked = pause
            else:
                if reply.status < 400:
                    return reply
                if reply.status not in LATER or not left:
                    raise Refused(reply)
                asked = float(reply.headers.get("Retry-After", pause))
            self.wait(min(asked, LONGEST_WAIT_S))
            pause *= 2
        raise AssertionError("not reached")
