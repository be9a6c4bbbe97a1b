"""How the demo tells: an operation as the sync would hand it over, events as a plant posts them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import groupby
from typing import Any
from uuid import UUID, uuid4

from pickups.config.demo.dealer import Dealer
from pickups.kernel import clock, ids, locks
from pickups.kernel.wire import read
from pickups.people.models import PlantKey, User
from pickups.sync import registry
from pickups.sync.rules import Entered, Sender
from pickups.sync.wire import Envelope
from plant.inspection import services as inspection
from plant.inspection.wire import StationEvent

SENT = timedelta(seconds=20)


@dataclass
class Entry:
    """One operation: what, told by whom, when."""

    kind: str
    version: int
    payload: Mapping[str, Any]
    who: User
    at: datetime


@dataclass
class Phones:
    """The phones of the drivers and counters, one a store."""

    dealer: Dealer

    def enter(self, entries: Sequence[Entry], *, late: timedelta = SENT) -> list[UUID]:
        """Operations of one store, recorded together `late` after the last; returns their ids."""
        last = entries[-1]
        assert last.who.site is not None
        device = self.dealer.devices[last.who.site.name]
        sender = Sender(device.uid, device.site_id, 0, last.at + late)
        made = []
        for (kind, version), run in groupby(entries, key=lambda e: (e.kind, e.version)):
            command = registry.command(kind, version)
            assert command is not None
            entered = []
            for one in run:
                ms = clock.to_ms(one.at)
                who, uid = one.who.uid, ids.uuid7(ms)
                envelope = Envelope(uid, uuid4(), 1, kind, version, who, one.at, ms, {})
                entered.append(Entered(envelope, read(dict(one.payload), command.payload), sender))
            locks.take({key for e in entered for key in command.keys(e.payload)})
            command.apply(entered)
            made += [e.envelope.id for e in entered]
        return made


def gateway(
    key: PlantKey,
    stations: Sequence[tuple[str, str, str, Mapping[str, Any]]],
    *,
    at: datetime,
) -> None:
    """Post what happened at once at stations: (label, station, outcome, what else was told)."""
    events = []
    for label, station, outcome, more in stations:
        body = {
            "id": str(uuid4()),
            "label": label,
            "station": station,
            "outcome": outcome,
            "happened_at": clock.rfc3339(at),
            **more,
        }
        events.append((read(body, StationEvent), body))
    inspection.post(key=key, events=events, at=at + timedelta(seconds=5))
