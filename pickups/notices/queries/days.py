"""The days that stand beside a casing: the one that was promised, and the one on which it comes.

A promise is somebody's word and stays; the day on which it comes is what the plant's standard
times and the regular trucks make of it today, and changes without being news.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.casings.models import WorkOrder
from pickups.kernel import clock
from pickups.notices import rules
from pickups.promises import queries as promises
from pickups.promises.queries import Published


@dataclass(frozen=True, slots=True)
class Promised:
    """A promised day; by_hand: a person named it, no standard time."""

    on: date
    by_hand: bool


def today(at: datetime) -> date:
    """The dealer's day."""
    return clock.local(at, ZoneInfo(settings.DEALER_TIME_ZONE)).date()


def as_told(told: Mapping[str, Any]) -> Promised | None:
    """What was promised when it was handed over."""
    said = told.get("promised")
    return Promised(date.fromisoformat(said["on"]), said["basis"] == "by_hand") if said else None


def promised(orders: Iterable[WorkOrder]) -> dict[UUID, Promised]:
    """The promise that counts for each; one that has none is absent."""
    orders = list(orders)
    told = {w.uid: p for w in orders if (p := as_told(w.told))}
    standing = promises.standing([w.uid for w in orders])
    return told | {uid: Promised(p.on, p.basis == "by_hand") for uid, p in standing.items()}


def coming(orders: Iterable[WorkOrder], *, on: date) -> dict[UUID, date]:
    """The day after `on` on which each finished one comes, by standard times and regular trucks.

    Absent: one that is fetched where it lies, one on a truck (nobody knows here where that goes)
    and one that no regular truck reaches. The orders are finished, which is not looked at.
    """
    trucks: dict[UUID, Published] = {}
    found = {}
    for w in orders:
        at = rules.at_start(w.holder, site=w.site, told=w.told)
        if at.startswith("store") or not (at or w.holder.startswith("plant:")):
            continue
        to = rules.back_to(w.told)
        store = rules.fetched_at(w.told, site=w.site) if to == "store" else w.site
        if store not in trucks:
            trucks[store] = promises.published(store)
        day = trucks[store].comes_on(yard=w.yard, back_to=to, after=on, at_store=bool(at))
        if day is not None:
            found[w.uid] = day
    return found
