"""The steps of casings' ways to a plant and home again, as bare words: for thousands at once, where
whole facts are too much to read."""

from collections.abc import Iterable
from datetime import datetime
from typing import NamedTuple
from uuid import UUID

from pickups.custody.fold import Kind
from pickups.custody.models import Fact
from pickups.kernel import clock

_STEPS = [Kind.HANDED_IN, Kind.RECEIVED, Kind.FINISHED, Kind.SHIPPED, Kind.HANDED_OUT,
          Kind.RETURNED]  # fmt: skip


class Step(NamedTuple):
    """One fact of a way: its kind, who has the casing after it, when by a clock put right."""

    kind: str
    holder: str
    at: datetime


def steps(work_orders: Iterable[UUID]) -> dict[UUID, list[Step]]:
    """Of each work order the steps of its way, in the order of the fold; of one that has none
    nothing."""
    rows = Fact.objects.filter(work_order__in=list(work_orders), kind__in=_STEPS)
    told = rows.exclude(holder="").order_by("stamp", "uid")
    found: dict[UUID, list[Step]] = {}
    fields = ("work_order", "kind", "holder", "happened_at", "skew_ms")
    for uid, kind, holder, at, skew_ms in told.values_list(*fields).iterator(chunk_size=5_000):
        assert uid is not None
        found.setdefault(uid, []).append(Step(kind, holder, clock.set_right(at, skew_ms or 0)))
    return found
