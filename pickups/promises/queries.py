"""Reads of promises and of the tables that they are offered from."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any
from uuid import UUID

from pickups.casings import queries as casings
from pickups.casings import size
from pickups.promises import revising, rules
from pickups.promises.finishing import Sample, unpack
from pickups.promises.models import (
    Arrival,
    Finish,
    Forecast,
    PlantCalendar,
    Promise,
    StandardTime,
    Table,
    Timetable,
)
from pickups.promises.offering import Forecast as Forecasted
from pickups.promises.offering import Key, Reached
from pickups.promises.rules import STORE, Calendar, Offers, Plant, Trucks


@dataclass(frozen=True, slots=True)
class Published:
    """What stands published for a store: read once, asked for many casings."""

    plants: Mapping[UUID, Plant]
    to_yard: dict[str, list[int]]

    def expected(self, handed_over: date, *, work: str, back_to: str, yard: UUID) -> date | None:
        """When a casing handed over on a day is back at its yard or at the store."""
        place = STORE if back_to == STORE else str(yard)
        plants = list(self.plants.values())
        return rules.expected(handed_over, work=work, plants=plants, place=place)

    def comes_on(
        self, *, yard: UUID, back_to: str, after: date, at_store: bool, plant: UUID | None = None
    ) -> date | None:
        """When a finished casing is back: see `comes_on` below. plant: where it lies, if known;
        else any of them may have it."""
        plants = [p for uid, p in self.plants.items() if plant in (None, uid)]
        to_yard = None if back_to == STORE else self.to_yard.get(str(yard), [])
        return rules.comes_on(after, plants=plants, to_yard=to_yard, at_store=at_store)

    def last_finish(self, promised: date, *, yard: UUID, back_to: str, plant: UUID) -> date | None:
        """The last day on which a plant may finish a casing that is promised for a day."""
        if plant not in self.plants:
            return None
        to_yard = None if back_to == STORE else self.to_yard.get(str(yard), [])
        return rules.last_finish(promised, plant=self.plants[plant], to_yard=to_yard)

    def counted_anew(
        self, today: date, *, plant: UUID, work: str, yard: UUID, back_to: str
    ) -> date | None:
        """When a casing is back that a plant begins anew today, by its standard time."""
        known = self.plants.get(plant)
        if known is None or work not in known.works:
            return None
        done = rules.finished(today, known.works[work], known.calendar)
        return done and self.comes_on(
            yard=yard, back_to=back_to, after=done, at_store=False, plant=plant
        )

    def comes_next(
        self,
        *,
        yard: UUID,
        back_to: str,
        today: date,
        since: date | None,
        promised: date | None = None,
        at_store: bool = False,
        plant: UUID | None = None,
    ) -> date | None:
        """When a finished casing comes from where it has lain since a day, as seen today.

        A truck of today takes it where it lay there before today. It may take one of today's too:
        while only that keeps the promise, nobody is told that it is broken.
        """

        def after(day: date) -> date | None:
            return self.comes_on(
                yard=yard, back_to=back_to, after=day, at_store=at_store, plant=plant
            )

        comes = after(rules.counts_after(today, since=since))
        if promised is None or (comes is not None and comes <= promised):
            return comes
        at_best = after(today - timedelta(days=1))
        return at_best if at_best is not None and at_best <= promised else comes


@dataclass(frozen=True, slots=True)
class Finishing:
    """What its plant's forecast in force says of a casing; published_at: when it was made."""

    plant: UUID
    sample: Sample
    published_at: datetime


def finishing(work_orders: Iterable[UUID], *, at: datetime) -> dict[UUID, Finishing]:
    """Of these work orders, those that a plant's forecast in force at an instant knows of."""
    standing = {f.plant: f for f in Forecast.objects.filter(valid_until__gt=at)}
    rows = Finish.objects.filter(work_order__in=list(work_orders), plant__in=list(standing))
    return {
        row.work_order: Finishing(
            row.plant,
            Sample(standing[row.plant].origin, unpack(row.minutes)),
            standing[row.plant].published_at,
        )
        for row in rows
    }


def published(site: UUID) -> Published:
    """What plants and runs have published for a store."""
    to_plant: dict[UUID, list[int]] = {}
    from_plant: dict[UUID, list[int]] = {}
    to_yard: dict[str, list[int]] = {}
    for row in Timetable.objects.filter(site=site):
        match row.way:
            case Timetable.Way.TO_PLANT:
                to_plant[row.place] = row.weekdays
            case Timetable.Way.FROM_PLANT:
                from_plant[row.place] = row.weekdays
            case _:
                to_yard[str(row.place)] = row.weekdays
    reached = sorted({*to_plant, *from_plant})
    works: dict[UUID, dict[str, int]] = {plant: {} for plant in reached}
    for time in StandardTime.objects.filter(plant__in=reached):
        works[time.plant][time.work] = time.working_days
    calendars = {c.plant: c for c in PlantCalendar.objects.filter(plant__in=reached)}
    return Published(
        {
            plant: Plant(
                works[plant],
                _calendar(calendars.get(plant)),
                Trucks(to_plant.get(plant, []), from_plant.get(plant, []), to_yard),
            )
            for plant in reached
        },
        to_yard,
    )


def reached(plants: Mapping[UUID, Plant], *, at: datetime) -> dict[UUID, Reached]:
    """These plants with what they forecast of arrivals, where a forecast is in force."""
    rows = Forecast.objects.filter(plant__in=list(plants), valid_until__gt=at)
    told = {row.plant: row for row in rows}
    arrivals: dict[UUID, dict[Key, Sequence[int]]] = {plant: {} for plant in told}
    for one in Arrival.objects.filter(plant__in=list(told)):
        key = (one.work, one.size_class, one.on, one.group)
        arrivals[one.plant][key] = unpack(one.minutes)
    forecasts = {
        uid: Forecasted(row.origin, row.published_at, row.valid_until, arrivals[uid], row.ahead)
        for uid, row in told.items()
    }
    return {uid: Reached(plant, forecasts.get(uid)) for uid, plant in plants.items()}


def stock(site: UUID) -> list[dict[str, Any]]:
    """The dealer's own finished casings at a store, by size and tread design."""
    found: Counter[tuple[str, str]] = Counter()
    for order in casings.in_stock(site):
        reading = size.read(order.told.get("size") or "")
        design = (order.told.get("tread_design") or "").strip()
        if reading.size and design:
            found[reading.size.shown, design] += 1
    return [
        {"size": of, "tread_design": design, "count": count}
        for (of, design), count in sorted(found.items())
    ]


def _calendar(row: PlantCalendar | None) -> Calendar:
    if row is None:
        return Calendar(())
    return Calendar(row.weekdays, frozenset(map(date.fromisoformat, row.holidays)))


def offers(site: UUID, today: date) -> Offers:
    """What a store's devices may promise by standard times: at its counter and at every yard with
    a regular truck."""
    now = published(site)
    return rules.offers(today, plants=list(now.plants.values()), places=[STORE, *now.to_yard])


def comes_on(*, site: UUID, yard: UUID, back_to: str, after: date, at_store: bool) -> date | None:
    """When a finished casing is back: at the store by the next truck from the plant strictly
    after a day, unless it is there; for back_to "yard" by the next run to the yard strictly after
    that. None where no regular truck goes. For many casings ask `published` once.
    """
    now = published(site)
    return now.comes_on(yard=yard, back_to=back_to, after=after, at_store=at_store)


def told(work_orders: Iterable[UUID]) -> dict[UUID, list[Promise]]:
    """Every promise made for these work orders, by (stamp, uid): the last counts."""
    found: dict[UUID, list[Promise]] = {}
    rows = Promise.objects.filter(work_order__in=list(work_orders))
    for promise in rows.order_by("stamp", "uid"):
        found.setdefault(promise.work_order, []).append(promise)
    return found


def stores_on(plant: UUID) -> list[UUID]:
    """The stores whose regular trucks go to or come from a plant."""
    return sorted(set(Timetable.objects.filter(place=plant).values_list("site", flat=True)))


def computed_on(today: date) -> set[UUID]:
    """The stores whose table was computed on this day."""
    return set(Table.objects.filter(computed_on=today).values_list("site", flat=True))


def bodies(uids: Sequence[UUID]) -> dict[UUID, dict[str, Any]]:
    """Promise tables as the feed gives them to a device; the id is the store's."""
    return {
        t.site: {
            "computed_on": t.computed_on.isoformat(),
            "valid_until": t.valid_until.isoformat(),
            "version": t.version,
            "places": t.places,
            "forecast": t.forecast,
            "stock": t.stock,
        }
        for t in Table.objects.filter(site__in=list(uids))
    }


def work_orders(uids: Sequence[UUID]) -> dict[UUID, dict[str, Any]]:
    """Work orders as the feed gives them to a device; `stands`: the new day that was told in the
    place of the promised one, none where that one stands."""
    found = casings.bodies(uids)
    anew = Promise.objects.filter(work_order__in=found, revises__isnull=False)
    new = standing(anew.values_list("work_order", flat=True))
    return {
        uid: body | {"stands": _stands(new.get(uid)) if body["promised"] else None}
        for uid, body in found.items()
    }


def _stands(promise: Promise | None) -> dict[str, Any] | None:
    if promise is None or promise.revises is None:
        return None
    return {
        "on": promise.on.isoformat(),
        "basis": promise.basis,
        "confidence": promise.confidence,
    }


def standing(work_orders: Iterable[UUID]) -> dict[UUID, Promise]:
    """The promise that stands of each work order: see `revising.standing`. It counts while the work
    order still tells of a promise: ask for those alone, for it may have been taken back."""
    return {uid: stands(promises) for uid, promises in told(work_orders).items()}


def stands(promises: Sequence[Promise]) -> Promise:
    """Which of a work order's promises stands, of one or more by (stamp, uid)."""
    told = [revising.Told(p.on, p.back_to, p.revises is not None) for p in promises]
    return promises[revising.standing(told)]
