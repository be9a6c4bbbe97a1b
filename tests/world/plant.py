"""A plant's system: posts station events with its key, as a gateway at the plant does."""

import json
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from pickups.kernel.clock import now, rfc3339
from pickups.kernel.ids import uuid7
from tests.world.phone import Door, Reply


@dataclass
class Gateway:
    """Speaks HTTP through a Door; `key` is the whole plant key."""

    door: Door
    key: str

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

    def tell(self, label: str, outcome: str, **more: Any) -> dict[str, Any]:
        """Post one event that has to be accepted; returns it as posted."""
        told = self.event(label, outcome, **more)
        reply = self.post(told)
        assert reply.status == 200, reply.body
        return told
