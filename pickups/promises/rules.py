"""When a casing can be back, by standard times and regular trucks. Pure: no table, no clock.

A first answer, not a forecast: working days that the plant published, whole days, trucks that
leave in the morning. Our own convention, no published source: what is handed over on a day rides
on a later day's truck; what the plant finishes on a day too. On a plant's holiday no truck goes
to it or comes from it. Where a store's trucks reach several plants that do a work, the latest
counts: nobody knows yet which of them will get the casing.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from pickups.promises import accounting

Bin = accounting.Bin
Share = accounting.Share

DAYS_OFFERED = 14
"""For how many hand-over days, from the day it is computed on, a table tells what to promise."""
FURTHEST = timedelta(days=120)
"""No promise by standard time reaches further; where it would, none is offered."""

OWN = "own"
"""The basis on which this very casing comes back: it alone is bound by its way through the plant.
"""
STORE = "store"
"""The key of a table's row for what is fetched at the store's own counter."""

Offers = dict[str, dict[str, list[str | None]]]
"""By place, by work, a day for each hand-over day; None where none can be offered."""


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
class Plant:
    """A plant that a store's trucks reach: its standard times by work, its days, the trucks."""

    works: Mapping[str, int]
    calendar: Calendar
    trucks: Trucks


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
    back = _to_store(handed_over, working_days, plant, trucks)
    if back is None:
        return None
    leaves, finished, at_store = back
    promised = _to_place(at_store, trucks, place, _last(handed_over))
    return None if promised is None else Way(leaves, finished, at_store, promised)


def table(
    today: date,
    *,
    works: Mapping[str, int],
    plant: Calendar,
    trucks: Trucks,
    places: Collection[str],
) -> Offers:
    """What devices get: by place, by work, a promised day for each of DAYS_OFFERED hand-over days
    from today on; None where none can be offered."""
    days = [today + timedelta(days=ahead) for ahead in range(DAYS_OFFERED)]
    # The way to the store is the same for every place: walked once.
    backs = {
        work: [_to_store(day, working_days, plant, trucks) for day in days]
        for work, working_days in works.items()
    }
    return {
        place: {
            work: [
                _text(_to_place(back[2], trucks, place, _last(day)) if back else None)
                for day, back in zip(days, found, strict=True)
            ]
            for work, found in backs.items()
        }
        for place in places
    }


def expected(handed_over: date, *, work: str, plants: Sequence[Plant], place: str) -> date | None:
    """When a casing handed over on a day is back, whichever of these plants gets it.

    A plant that published no standard time for a work does not do it. None where no plant does,
    or one that does gives no day.
    """
    ways = [
        way(
            handed_over,
            working_days=p.works[work],
            plant=p.calendar,
            trucks=p.trucks,
            place=place,
        )
        for p in plants
        if work in p.works
    ]
    days = [w.promised for w in ways if w is not None]
    return max(days) if days and len(days) == len(ways) else None


def offers(today: date, *, plants: Sequence[Plant], places: Collection[str]) -> Offers:
    """A store's table over all of its plants: for each hand-over day what `expected` says."""
    each = [
        table(today, works=p.works, plant=p.calendar, trucks=p.trucks, places=places)
        for p in plants
    ]
    return {
        place: {
            work: [
                _latest(days)
                for days in zip(*(t[place][work] for t in each if work in t[place]), strict=True)
            ]
            for work in sorted({work for p in plants for work in p.works})
        }
        for place in sorted(places)
    }


def comes_on(
    after: date, *, plants: Sequence[Plant], to_yard: Collection[int] | None, at_store: bool
) -> date | None:
    """When a finished casing is back: by the next truck from its plant strictly after a day,
    unless it is at the store, then by the next run to the yard strictly after that; to_yard is
    None for what is fetched at the store. None where a regular truck is missing on the way."""
    last = _last(after)
    here: date | None = after
    if not at_store:
        backs = [_from_plant(after, p.calendar, p.trucks, last) for p in plants]
        days = [day for day in backs if day is not None]
        here = max(days) if days and len(days) == len(backs) else None
    if here is None or to_yard is None:
        return here
    return _next(here, to_yard, last)


def leaves(handed_over: date, plant: Plant) -> date | None:
    """The day of the truck that brings what is handed over on a day to a plant."""
    return _next(handed_over, plant.trucks.to_plant, _last(handed_over), plant.calendar.holidays)


def back_from_plant(finished: date, handed_over: date, plant: Plant) -> date | None:
    """When what a plant finishes on a day is back at the store."""
    return _from_plant(finished, plant.calendar, plant.trucks, _last(handed_over))


def finished(begun: date, working_days: int, plant: Calendar) -> date | None:
    """When a plant is done with what it begins on a day, by so many of its working days."""
    done: date | None = begun
    for _ in range(working_days):
        done = done and _next(done, plant.weekdays, _last(begun), plant.holidays)
    return done


def run_after(at_store: date, runs: Collection[int], handed_over: date) -> date | None:
    """The first run to a yard after the day on which a casing is at the store."""
    return _next(at_store, runs, _last(handed_over))


def last_finish(promised: date, *, plant: Plant, to_yard: Collection[int] | None) -> date | None:
    """The last day on which a plant may finish a casing, so that its trucks and, for a yard, the
    yard's run still bring it by a promised day; None where no day does."""
    at_store: date | None = promised
    if to_yard is not None:
        run = _before(promised + timedelta(days=1), to_yard)
        at_store = run and run - timedelta(days=1)
    if at_store is None:
        return None
    trucks = plant.trucks.from_plant
    truck = _before(at_store + timedelta(days=1), trucks, plant.calendar.holidays)
    return truck and truck - timedelta(days=1)


def counts_after(today: date, *, since: date | None) -> date:
    """The day after which the next truck counts for what has lain ready since a day: one of today
    counts where it lay there before today, for it has not been scanned onto that one yet."""
    return today if since is not None and since >= today else today - timedelta(days=1)


def told_since(told: Sequence[tuple[date, str, bool]]) -> int:
    """From which of a work order's promises on, in their order, the last one has stood: told again
    with the same day and place, as early or late as before, it is the same promise."""
    first = len(told) - 1
    while first and told[first - 1] == told[-1]:
        first -= 1
    return first


def _to_store(
    handed_over: date, working_days: int, plant: Calendar, trucks: Trucks
) -> tuple[date, date, date] | None:
    """When it leaves the store, is finished, and is back at the store."""
    last = _last(handed_over)
    leaves = _next(handed_over, trucks.to_plant, last, plant.holidays)
    finished = leaves
    for _ in range(working_days):
        if finished is not None:
            finished = _next(finished, plant.weekdays, last, plant.holidays)
    if leaves is None or finished is None:
        return None
    at_store = _from_plant(finished, plant, trucks, last)
    return None if at_store is None else (leaves, finished, at_store)


def _from_plant(after: date, plant: Calendar, trucks: Trucks, last: date) -> date | None:
    return _next(after, trucks.from_plant, last, plant.holidays)


def _to_place(at_store: date, trucks: Trucks, place: str, last: date) -> date | None:
    if place == STORE:
        return at_store
    return _next(at_store, trucks.to_yard.get(place, ()), last)


def _next(
    after: date, weekdays: Collection[int], last: date, closed: Collection[date] = ()
) -> date | None:
    """The first day strictly after a day that is one of these weekdays and not closed."""
    for ahead in range(1, (last - after).days + 1):
        day = after + timedelta(days=ahead)
        if day.weekday() in weekdays and day not in closed:
            return day
    return None


def _before(day: date, weekdays: Collection[int], closed: Collection[date] = ()) -> date | None:
    """The last day strictly before a day that is one of these weekdays and not closed."""
    for back in range(1, FURTHEST.days + 1):
        found = day - timedelta(days=back)
        if found.weekday() in weekdays and found not in closed:
            return found
    return None


def _last(handed_over: date) -> date:
    """The last day that may be promised; the calendar has an end."""
    return handed_over + min(FURTHEST, date.max - handed_over)


def _latest(days: Sequence[str | None]) -> str | None:
    """The latest of days as the wire writes them, none where one is missing."""
    known = [day for day in days if day is not None]
    return max(known) if len(known) == len(days) else None


def _text(day: date | None) -> str | None:
    return None if day is None else day.isoformat()
