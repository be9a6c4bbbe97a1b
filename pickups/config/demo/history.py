"""What the demo's drivers picked up in three weeks, and what the plant did with it.

Told by the commands of a phone and the events of a plant, each with the time at which it would
have been recorded. The last entries go through a real push: two that arrive, one whose number is
missing before it, and one of a newer app that is held.
"""

from collections.abc import Mapping
from datetime import datetime, timedelta
from itertools import groupby
from typing import Any
from uuid import UUID, uuid4
from zoneinfo import ZoneInfo

import msgspec
from django.conf import settings

from pickups.config.demo import data
from pickups.config.demo.dealer import Dealer
from pickups.config.demo.pictures import picture
from pickups.custody import commands as custody
from pickups.custody.wire import FinishPickup1, PickUp1
from pickups.kernel import clock, ids, locks
from pickups.kernel.wire import fingerprint, read
from pickups.people.models import Device, User
from pickups.sync.push import push
from pickups.sync.rules import Command, Entered, Sender
from pickups.sync.wire import Envelope, PushRequest
from plant.inspection import services as inspection
from plant.inspection.wire import StationEvent

APART = timedelta(minutes=3)


def tell(dealer: Dealer, *, at: datetime) -> None:
    """All of it; `at` is now."""
    told = data("history")
    shared = dealer.labels["Marrowgate store"].pop(0)  # the one label that two casings wear
    for pickup in told["pickups"]:
        _pickup(pickup, told["ways"], dealer, shared, at)
    _last_pushes(dealer, at)


def _pickup(
    told: Mapping[str, Any], ways: Mapping[str, Any], dealer: Dealer, shared: str, now: datetime
) -> None:
    driver = dealer.people[told["driver"]]
    yard = dealer.yards[told["fleet"], told["yard"]]
    assert driver.site is not None
    device, uid = dealer.devices[driver.site.name], uuid4()
    began = _began(told, now)
    late = timedelta(hours=told.get("told_after_h", 0), seconds=20)
    casings: list[UUID] = []
    steps: list[tuple[float, str, list[Any]]] = []
    for i, casing in enumerate(told["casings"]):
        label = shared if casing.get("contested") else dealer.labels[driver.site.name].pop(0)
        when = began + i * APART
        taken = PickUp1(
            pickup=uid,
            yard=yard.uid,
            label=label,
            tin=casing["tin"],
            size=casing["size"],
            tread_32nds=casing["tread"],
            note=casing.get("note", ""),
            photos=[
                picture(label, len(casings) + n + 1, device=device.uid, at=when + late)
                for n in range(casing.get("photos", 0))
            ],
        )
        kind = "custody.pick_up"
        casings.append(_apply(custody.PICK_UP_1, kind, taken, driver, device, when, late))
        steps += [(step[2], label, step) for step in ways[casing["way"]]]
    over = began + (len(casings) + 1) * APART
    end = FinishPickup1(
        pickup=uid, yard=yard.uid, casings=casings, customer_count=told["customer_count"]
    )
    _apply(custody.FINISH_PICKUP_1, "custody.finish_pickup", end, driver, device, over, late)
    _at_the_plant(steps, dealer, began)


def _began(told: Mapping[str, Any], now: datetime) -> datetime:
    zone = ZoneInfo(settings.DEALER_TIME_ZONE)
    day = now.astimezone(zone) - timedelta(days=told["days_ago"])
    hour, minute = map(int, told["at"].split(":"))
    return day.replace(hour=hour, minute=minute, second=0, microsecond=0)


def _apply(
    command: Command,
    kind: str,
    payload: msgspec.Struct,
    driver: User,
    device: Device,
    when: datetime,
    late: timedelta,
) -> UUID:
    """One operation as the sync would hand it over; returns its id."""
    ms = clock.to_ms(when)
    envelope = Envelope(ids.uuid7(ms), uuid4(), 1, kind, 1, driver.uid, when, ms, {})
    sender = Sender(device.uid, device.site_id, 0, when + late)
    locks.take(command.keys(payload))
    command.apply([Entered(envelope, payload, sender)])
    return envelope.id


def _at_the_plant(
    steps: list[tuple[float, str, list[Any]]], dealer: Dealer, began: datetime
) -> None:
    steps.sort(key=lambda step: step[0])
    for hours, together in groupby(steps, key=lambda step: step[0]):
        when = began + timedelta(hours=hours)
        events = []
        for _, label, (station, outcome, _, *more) in together:
            body = {
                "id": str(uuid4()),
                "label": label,
                "station": station,
                "outcome": outcome,
                "happened_at": clock.rfc3339(when),
                **(more[0] if more else {}),
            }
            events.append((read(body, StationEvent), body, fingerprint(body)))
        inspection.post(key=dealer.key, events=events, at=when + timedelta(seconds=5))


def _last_pushes(dealer: Dealer, now: datetime) -> None:
    """This morning: the first truck's entries with one missing, the second's from a newer app."""
    yard = dealer.yards["Pellwick Waste", "Transfer station"]
    taken = now - timedelta(minutes=95)
    store = "Marrowgate store"
    pickup, incarnation = str(uuid4()), uuid4()
    operations = [
        _operation(
            dealer.people["teodor"],
            incarnation,
            sequence,
            taken + i * APART,
            pickup=pickup,
            yard=str(yard.uid),
            label=dealer.labels[store].pop(0),
            size="315/80R22.5",
            tread_32nds=[6, 6, 7, 6],
        )
        for i, sequence in enumerate((1, 2, 4))
    ]
    _push(dealer.devices[store], operations, now)
    store = "Ellery Cross store"
    newer = _operation(
        dealer.people["hollis"],
        uuid4(),
        1,
        taken,
        version=9,
        pickup=str(uuid4()),
        yard=str(dealer.yards["Wrenfold Beverage", "Bottling yard"].uid),
        label=dealer.labels[store].pop(0),
        wheel="steel",
    )
    _push(dealer.devices[store], [newer], now + timedelta(minutes=12))


def _operation(
    person: User,
    incarnation: UUID,
    sequence: int,
    when: datetime,
    *,
    version: int = 1,
    **payload: object,
) -> dict[str, object]:
    ms = clock.to_ms(when)
    return {
        "id": str(ids.uuid7(ms)),
        "incarnation": str(incarnation),
        "sequence": sequence,
        "kind": "custody.pick_up",
        "version": version,
        "by": str(person.uid),
        "happened_at": clock.rfc3339(when),
        "stamp": ms,
        "payload": payload,
    }


def _push(device: Device, operations: list[dict[str, object]], sent_at: datetime) -> None:
    raw = [msgspec.Raw(msgspec.json.encode(operation)) for operation in operations]
    request = PushRequest(protocol=1, sent_at=sent_at, operations=raw)
    push(device=device.uid, request=request)
