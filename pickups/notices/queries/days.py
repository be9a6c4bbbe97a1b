"""The days that stand beside a casing: the one that was promised, and the one on which it comes.

A promise is somebody's word and stays; the day on which it comes is what the plant's standard
times and the regular trucks make of it today, and changes without being news.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.casings.models import WorkOrder
from pickups.custody import queries as custody
from pickups.kernel import clock
from pickups.notices import rules
from pickups.promises import queries as promises
from pickups.promises.models import Promise
from pickups.promises.queries import Published


@dataclass(frozen=True, slots=True)
class Promised:
    """A promised day and on what it was named: "by_hand", "standard_time" or "forecast". first: the
    day that was told with the casing, where another one took its place."""

    on: date
    basis: str = "standard_time"
    first: date | None = None

    @property
    def by_hand(self) -> bool:
        """Whether a person named it."""
        return self.basis == "by_hand"


def today(at: datetime) -> date:
    """The dealer's day."""
    return clock.local(at, ZoneInfo(settings.DEALER_TIME_ZONE)).date()


def as_told(told: Mapping[str, Any]) -> Promised | None:
    """What was promised when it was handed over."""
    said = told.get("promised")
    return Promised(date.fromisoformat(said["on"]), said["basis"]) if said else None


def promised(orders: Iterable[WorkOrder]) -> dict[UUID, Promised]:
    """The promise that counts for each; one that has none, or none any more, is absent."""
    told = {w.uid: p for w in orders if (p := as_told(w.told))}
    return told | {uid: _stands(every) for uid, every in promises.told(told).items()}


def _stands(told: Sequence[Promise]) -> Promised:
    stands, with_casing = promises.stands(told), [p.on for p in told if p.revises is None]
    first = with_casing[-1] if stands.revises is not None else None
    return Promised(stands.on, stands.basis, first if first != stands.on else None)


def coming(
    orders: Iterable[WorkOrder], *, on: date, promised: Mapping[UUID, Promised]
) -> dict[UUID, date]:
    """The day on which each finished one comes, by regular trucks, as seen on a day: a truck of
    that day takes what lay there before, or what it keeps the promise of.

    Absent: one that is fetched where it lies, one on a truck (nobody knows here where that goes)
    and one that no regular truck reaches. The orders are finished, which is not looked at.
    """
    trucks: dict[UUID, Published] = {}
    found = {}
    lying = [(w, at) for w in orders if (at := _lies(w)) is not None]
    since = custody.lies_since(w.uid for w, _ in lying) if lying else {}
    for w, at in lying:
        to = rules.back_to(w.told)
        store = rules.fetched_at(w.told, site=w.site) if to == "store" else w.site
        if store not in trucks:
            trucks[store] = promises.published(store)
        word = promised.get(w.uid)
        day = trucks[store].comes_next(
            yard=w.yard,
            back_to=to,
            today=on,
            since=today(since[w.uid]) if w.uid in since else None,
            promised=word.on if word else None,
            at_store=bool(at),
            plant=None if at else UUID(w.holder.removeprefix("plant:")),
        )
        if day is not None:
            found[w.uid] = day
    return found


def _lies(w: WorkOrder) -> str | None:
    """Where one lies from which it comes: at_start's word for its last way's start, "" at a plant
    that is none; None elsewhere, and where it is fetched."""
    at = rules.at_start(w.holder, site=w.site, told=w.told)
    if at.startswith("store"):
        return None
    return at if at or w.holder.startswith("plant:") else None
