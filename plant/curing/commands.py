"""Words about loads from a tablet, as the sync hands them over: lock, keep, answer."""

from collections.abc import Sequence

import msgspec

from pickups.kernel.wire import fingerprint
from pickups.sync.rules import Command, Done, Entered
from pickups.sync.wire import Outcome
from plant.curing import services
from plant.curing.models import LoadWord
from plant.curing.wire import CureLoad1
from plant.dock import queries as dock


def _tell(entered: Sequence[Entered]) -> list[Done]:
    """Kept as told; the load itself is brought up to date right behind the push, by the journal.

    A device whose site has no station is no plant's: what it tells is kept whole, and asked about.
    """
    if not dock.codes(entered[0].sender.site):
        return [Done(Outcome.HELD, "payload_not_understood") for _ in entered]
    for e in entered:
        p: CureLoad1 = e.payload
        plain = msgspec.to_builtins(p)
        services.keep_word(
            LoadWord(
                uid=e.envelope.id,
                plant_id=e.sender.site,
                load=p.load,
                number=p.number,
                told=services.kept_of(plain, p.started_at, p.ended_at),
                hash=fingerprint(plain),
                stamp=e.envelope.stamp,
                by=e.envelope.by,
                device=e.sender.device,
                recorded_at=e.sender.at,
            )
        )
    return [Done() for _ in entered]


CURE_LOAD_1 = Command(CureLoad1, lambda _: (), _tell)
