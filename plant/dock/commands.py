"""Operations of the dock from a tablet, as the sync hands them over: lock, keep, answer."""

from collections.abc import Sequence

from pickups.sync.rules import Command, Done, Entered
from pickups.sync.wire import Outcome
from plant.dock import consigning, queries
from plant.dock.wire import CountIn1


def _count_in(entered: Sequence[Entered]) -> list[Done]:
    """Kept as told. A device whose site has no station is no plant's: that is kept whole, and
    asked about."""
    if not queries.codes(entered[0].sender.site):
        return [Done(Outcome.HELD, "payload_not_understood") for _ in entered]
    for e in entered:
        consigning.keep_count(
            uid=e.envelope.id,
            plant=e.sender.site,
            told=e.payload,
            stamp=e.envelope.stamp,
            by=e.envelope.by,
            device=e.sender.device,
            happened_at=e.envelope.happened_at,
            at=e.sender.at,
        )
    return [Done() for _ in entered]


COUNT_IN_1 = Command(CountIn1, lambda _: (), _count_in)
