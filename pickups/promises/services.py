"""Publish standard times and timetables; compute from them what a store's devices offer.

Whoever publishes replaces what it published before; the journal then has the tables that rest on
it computed anew, a transaction a store. Everything here is safe to repeat.
Lock: a store's table row, before what it is computed from is read.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict, dataclass
from datetime import date, datetime, timedelta
from typing import Any, NamedTuple
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings
from django.db import transaction

from pickups.customers import queries as customers
from pickups.customers.services import scope
from pickups.journal import services as journal
from pickups.kernel import clock
from pickups.people import queries as people
from pickups.promises import finishing, offering, queries, rules
from pickups.promises.models import Arrival as Arrived
from pickups.promises.models import (
    Finish,
    Forecast,
    PlantCalendar,
    StandardTime,
    Table,
    Timetable,
)
from pickups.sync import services as sync
from pickups.sync.rules import Change


def publish_standard_times(
    *,
    plant: UUID,
    times: Mapping[str, int],
    weekdays: Sequence[int],
    holidays: Sequence[date],
    at: datetime,
) -> None:
    """What a plant needs for each work, in its own working days, and when it works.

    Replaces all that it published before. Raises ValueError for a weekday that is none, and for
    a time of no day.
    """
    short = {work: days for work, days in times.items() if days < 1}
    if short:
        raise ValueError(f"times is {short!r}; one working day or more is allowed")
    worked = _weekdays(weekdays)
    closed = [day.isoformat() for day in sorted(set(holidays))]
    with transaction.atomic():
        # Its row is the lock of all that the plant has published.
        PlantCalendar.objects.bulk_create(
            [PlantCalendar(plant=plant, weekdays=worked, holidays=closed, published_at=at)],
            update_conflicts=True,
            unique_fields=["plant"],
            update_fields=["weekdays", "holidays", "published_at"],
        )
        StandardTime.objects.filter(plant=plant).exclude(work__in=list(times)).delete()
        StandardTime.objects.bulk_create(
            [
                StandardTime(plant=plant, work=work, working_days=days, published_at=at)
                for work, days in sorted(times.items())
            ],
            update_conflicts=True,
            unique_fields=["plant", "work"],
            update_fields=["working_days", "published_at"],
        )
        note = journal.Note("standard_times.published", f"plant:{plant}", {"plant": str(plant)})
        journal.record([note], at=at)


def publish_timetable(
    *, site: UUID, rows: Sequence[tuple[UUID, str, list[int]]], at: datetime
) -> None:
    """The regular trucks of a store: place, way (`Timetable.Way`) and weekdays of each.

    Replaces all that the store published before; rows of one place and way are one. Raises
    ValueError for a way or a weekday that is none.
    """
    merged: dict[tuple[UUID, str], set[int]] = {}
    for place, way, weekdays in rows:
        merged.setdefault((place, Timetable.Way(way).value), set()).update(_weekdays(weekdays))
    with transaction.atomic():
        kept = Timetable.objects.bulk_create(
            [
                Timetable(site=site, place=place, way=way, weekdays=sorted(days), published_at=at)
                for (place, way), days in sorted(merged.items())
                if days
            ],
            update_conflicts=True,
            unique_fields=["site", "place", "way"],
            update_fields=["weekdays", "published_at"],
        )
        Timetable.objects.filter(site=site).exclude(pk__in=[row.pk for row in kept]).delete()
        note = journal.Note("timetable.published", f"site:{site}", {"site": str(site)})
        journal.record([note], at=at)


class Arrival(NamedTuple):
    """A casing, or so many together, that a plant receives on a day: see `models.Arrival`."""

    work: str
    size_class: str
    on: date
    group: int
    minutes: bytes


NAME_MOST = 80
"""A longer name of a station is cut: a phone tells it with a promise, whose wire takes no more."""


@dataclass(frozen=True, slots=True)
class Ahead:
    """How many casings wait at a station, with its name in English and Spanish."""

    station: str
    name: str
    name_es: str
    count: int


def publish_forecast(
    *,
    plant: UUID,
    origin: datetime,
    casings: Mapping[UUID, bytes],
    arrivals: Sequence[Arrival],
    ahead: Sequence[Ahead],
    valid_until: datetime,
    at: datetime,
) -> None:
    """When a plant finishes the casings of these work orders and those that arrive: see
    `finishing`, whose `pack` makes the bytes.

    Replaces all that it forecast before. Raises ValueError where samples are of different length,
    a group is none of GROUPS, or the forecast ends before it begins.
    """
    if valid_until <= origin:
        raise ValueError(f"valid_until is {valid_until}; a moment after {origin} is allowed")
    lengths = {len(packed) for packed in casings.values()} | {len(a.minutes) for a in arrivals}
    if len(lengths) > 1 or any(length % 4 or not length for length in lengths):
        raise ValueError(f"minutes are {sorted(lengths)} bytes; one length, of int32, is allowed")
    if odd := {a.group for a in arrivals} - set(finishing.GROUPS):
        raise ValueError(f"group is {sorted(odd)}; {finishing.GROUPS} are allowed")
    with transaction.atomic():
        # Its row is the lock of all that the plant has forecast.
        Forecast.objects.bulk_create(
            [
                Forecast(
                    plant=plant,
                    origin=origin,
                    valid_until=valid_until,
                    ahead=[_said(one) for one in ahead],
                    published_at=at,
                )
            ],
            update_conflicts=True,
            unique_fields=["plant"],
            update_fields=["origin", "valid_until", "ahead", "published_at"],
        )
        Finish.objects.filter(plant=plant).exclude(work_order__in=list(casings)).delete()
        # A casing that another plant told of before is here now.
        Finish.objects.bulk_create(
            [Finish(work_order=uid, plant=plant, minutes=casings[uid]) for uid in sorted(casings)],
            update_conflicts=True,
            unique_fields=["work_order"],
            update_fields=["plant", "minutes"],
            batch_size=1000,
        )
        Arrived.objects.filter(plant=plant).delete()
        Arrived.objects.bulk_create(
            [Arrived(plant=plant, **one._asdict()) for one in arrivals], batch_size=1000
        )
        note = journal.Note("forecast.published", f"plant:{plant}", {"plant": str(plant)})
        journal.record([note], at=at)


def _said(ahead: Ahead) -> dict[str, Any]:
    return asdict(ahead) | {name: getattr(ahead, name)[:NAME_MOST] for name in ("name", "name_es")}


def _weekdays(days: Iterable[int]) -> list[int]:
    found = sorted(set(days))
    if not set(found) <= set(range(7)):
        raise ValueError(f"weekdays is {found!r}; 0 (Monday) to 6 (Sunday) are allowed")
    return found


def compute_table(*, site: UUID, today: date, at: datetime | None = None) -> bool:
    """What a store's devices may promise from today on; they see it by the feed.

    at: the instant at which forecasts have to be in force; now where it is not said. Opens a
    transaction. Writes, with a greater version, where something has changed or the day is
    another; returns whether it did.
    """
    at = at or clock.now()
    with transaction.atomic():
        # The first of all writes it as version 0, so that there is a row to lock.
        new = Table(site=site, computed_on=today, valid_until=today, places={}, version=0)
        Table.objects.bulk_create([new], ignore_conflicts=True)
        row = Table.objects.select_for_update(no_key=True).get(site=site)
        # Read under the lock: what is published after this is computed after this.
        places, stock = queries.offers(site, today), queries.stock(site)
        forecast = _forecast(site, today, at)
        same = (row.computed_on, row.places, row.stock) == (today, places, stock)
        if row.version and same and offering.is_same(row.forecast, forecast, clock.rfc3339(at)):
            return False
        row.computed_on, row.places = today, places
        row.forecast, row.stock = forecast, stock
        row.valid_until = today + timedelta(days=rules.DAYS_OFFERED - 1)
        row.version += 1
        row.save()
        sync.put([Change(scope(site), "promise_table", site, row.version)])
    return True


def _forecast(site: UUID, today: date, at: datetime) -> dict[str, Any] | None:
    """The forecast part of a store's table; None where no plant has a forecast in force."""
    now = queries.published(site)
    return offering.table(
        today,
        plants=list(queries.reached(now.plants, at=at).values()),
        runs=now.to_yard,
        percents=customers.percents_of(site),
        zone=ZoneInfo(settings.DEALER_TIME_ZONE),
    )


def compute_due(*, at: datetime) -> int:
    """Compute every store's table that is not of this day in the dealer's zone; how many were."""
    today = _day(at)
    stores = {s.uid for s in people.sites() if s.kind == "store"}
    due = stores - queries.computed_on(today)
    return sum(compute_table(site=site, today=today, at=at) for site in sorted(due))


def compute_for(*, sites: Iterable[UUID], at: datetime) -> None:
    """Compute the tables of these stores anew."""
    for site in sorted(sites):
        compute_table(site=site, today=_day(at), at=at)


def _day(at: datetime) -> date:
    return clock.local(at, ZoneInfo(settings.DEALER_TIME_ZONE)).date()
