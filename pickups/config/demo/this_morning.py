"""This morning in the demo, by a real push: what arrives with a number missing, what is held."""

from datetime import datetime, timedelta
from uuid import UUID, uuid4

import msgspec

from pickups.config.demo.dealer import Dealer
from pickups.config.demo.happenings import APART
from pickups.kernel import clock, ids
from pickups.people.models import Device, User
from pickups.sync.push import push
from pickups.sync.wire import PushRequest


def push_some(dealer: Dealer, now: datetime) -> None:
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
