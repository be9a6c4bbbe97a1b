"""An event as it is kept: what was told, by whom, and the custody fact that it becomes. Pure."""

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from pickups.kernel import ids
from plant.inspection.fold import Event


@dataclass(frozen=True, slots=True)
class Kept:
    """fact: the custody fact that it becomes. hash: of the body as it was sent. by, device: who
    told it on a tablet; key: the prefix of the plant key by which a system did. skew_ms: how far
    that clock was ahead of ours, known only while the event is new."""

    event: Event
    fact: UUID
    hash: bytes
    by: UUID | None
    device: UUID | None
    key: str
    happened_at: datetime
    skew_ms: int | None = None


def fact_uid(plant: UUID, event: UUID) -> UUID:
    """The custody fact that an event becomes."""
    return ids.derived(plant, str(event))
