"""When a casing can be back, by standard times and regular trucks. Pure: no table, no clock.

A first answer, not a forecast: working days that the plant published, whole days, trucks that
leave in the morning. Our own convention, no published source: what is handed over on a day rides
on a later day's truck; what the plant finishes on a day too.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

DAYS_OFFERED = 14
"""For how many hand-over days, from the day it is computed on, a table tells what to promise."""
FURTHEST = timedelta(days=120)
"""No promise by standard time reaches further; where it would, none is offered."""

STORE = "store"
"""The key of a table's row for what is fetched at the store's own counter."""


@dataclass(frozen=True, slots=True)
class Calendar:
    """The days on which a plant works."""

    weekdays: Collection[int]
    holidays: Collection[date] = ()


@dataclass(frozen=True, slots=True)
class Trucks:
    """The weekdays (0 is Monday) of a store's regular trucks; to_yard is by yard."""

    to_plant: Collection[int]
    from_plant: Collection[int]
    to_yard: Mapping[str, Collection[int]]


@dataclass(frozen=True, slots=True)
class Way:
    """A promise and how it comes about, a day for each step: for the words beside it.

    promised: back at the yard or, for the store, ready at the counter.
    """

    leaves_store: date
    finished: date
    at_store: date
    promised: date


def way(
    handed_over: date, *, working_days: int, plant: Calendar, trucks: Trucks, place: str
) -> Way | None:
    """The way of a casing handed over on a day; place is a yard's id or STORE.

    None where a truck is missing on the way, the plant never works, or it leads past FURTHEST.
    """
    raise NotImplementedError


def table(
    today: date,
    *,
    works: Mapping[str, int],
    plant: Calendar,
    trucks: Trucks,
    places: Collection[str],
) -> dict[str, dict[str, list[str | None]]]:
    """What devices get: by place, by work, a promised day for each of DAYS_OFFERED hand-over days
    from today on; None where none can be offered."""
    raise NotImplementedError
