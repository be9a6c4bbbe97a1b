"""Write the plant's stations, calendar and standard times; publish the latter into promises, the
route to the plant's devices."""

import json
from collections.abc import Mapping, Sequence
from datetime import date, datetime
from typing import Any
from uuid import UUID

from django.conf import settings
from django.db import transaction
from django.db.models import F

from pickups.people.models import Site, User
from pickups.promises import services as promises
from pickups.sync import services as sync
from pickups.sync.rules import Change
from plant.dock import queries, rules
from plant.dock.models import Calendar, Chamber, RepairLimit, Route, Station

USUAL_ROUTE = settings.BASE_DIR / "fixtures" / "plant" / "route.json"


def lay_out(*, plant: Site) -> bool:
    """Give a plant the usual route, where it has no station yet; whether it was given."""
    usual = json.loads(USUAL_ROUTE.read_text())["stations"]
    with transaction.atomic():
        lock_route(plant.uid)
        if Station.objects.filter(plant=plant).exists():
            return False
        for place, told in enumerate(usual, 1):
            Station.objects.create(plant=plant, place=place, **told)
        publish_route(plant=plant.uid)
        _publish_limits(plant.uid)
        publish_targets(plant.uid)
    return True


def move(*, plant: UUID, station: int, to: int) -> bool:
    """Bring a station to a place in its plant's order (1 is the first; beyond the ends: the end).

    Safe to repeat. False where the plant has no such station, or it stands there already.
    """
    with transaction.atomic():
        lock_route(plant)
        order = queries.stations(plant)
        moved = next((one for one in order if one.pk == station), None)
        if moved is None:
            return False
        now = rules.moved(order, moved, to)
        for place, one in enumerate(now, 1):
            if one.place != place:
                one.place = place
                one.save(update_fields=["place"])
        if now == order:
            return False
        publish_route(plant=plant)
    return True


def publish_route(*, plant: UUID) -> None:
    """Tell the plant's devices its route anew. Safe to repeat; call it after every change."""
    with transaction.atomic():
        lock_route(plant)
        Route.objects.filter(plant=plant).update(version=F("version") + 1)
        version = Route.objects.values_list("version", flat=True).get(plant=plant)
        sync.put([Change(f"site:{plant}", "plant_route", plant, version)])


def enter_limit(
    *,
    plant: UUID,
    place: tuple[str, str, str],
    most_mm: float | None,
    most_count: int | None,
    chart: str,
    by: User,
    at: datetime,
) -> RepairLimit:
    """A repair limit for (zone, kind, size class), in place of what stood there; told to the
    plant's devices. What stood before stays in its history."""
    zone, kind, size_class = place
    with transaction.atomic():
        lock_route(plant)
        entered, _ = RepairLimit.objects.update_or_create(
            plant_id=plant,
            zone=zone,
            kind=kind,
            size_class=size_class,
            defaults={
                "most_mm": most_mm,
                "most_count": most_count,
                "chart": chart,
                "entered_by": by,
                "entered_at": at,
            },
        )
        _publish_limits(plant)
    return entered


def take_limit_back(*, plant: UUID, limit: int) -> bool:
    """A repair limit counts no longer; False where the plant has none of this number."""
    with transaction.atomic():
        lock_route(plant)
        entered = RepairLimit.objects.filter(plant=plant, pk=limit).first()
        if entered is None:
            return False
        entered.delete()
        _publish_limits(plant)
    return True


def _publish_limits(plant: UUID) -> None:
    Route.objects.filter(plant=plant).update(limits_version=F("limits_version") + 1)
    version = Route.objects.values_list("limits_version", flat=True).get(plant=plant)
    sync.put([Change(f"site:{plant}", "repair_limits", plant, version)])


def publish_targets(plant: UUID) -> None:
    """Tell the plant's devices what it wants of tread designs; under the lock of its route."""
    Route.objects.filter(plant=plant).update(targets_version=F("targets_version") + 1)
    version = Route.objects.values_list("targets_version", flat=True).get(plant=plant)
    sync.put([Change(f"site:{plant}", "tread_targets", plant, version)])


def lock_route(plant: UUID) -> None:
    """One change of a plant's order at a time."""
    Route.objects.get_or_create(plant_id=plant)
    Route.objects.select_for_update(no_key=True).get(plant=plant)


def enter_times(
    *,
    plant: Site,
    times: Mapping[str, int],
    weekdays: Sequence[int],
    holidays: Mapping[date, str],
    at: datetime,
) -> None:
    """A plant's standard times (working days by work), weekdays and holidays (day and name), in
    place of what it had entered before; published in the same transaction."""
    with transaction.atomic():
        calendar, _ = Calendar.objects.update_or_create(
            plant=plant, defaults={"weekdays": sorted(set(weekdays))}
        )
        # One by one: the history of each is kept by its save.
        for gone in (*calendar.holidays.exclude(on__in=list(holidays)),
                     *calendar.times.exclude(work__in=list(times))):  # fmt: skip
            gone.delete()
        for on, name in holidays.items():
            calendar.holidays.update_or_create(on=on, defaults={"name": name})
        for work, days in times.items():
            calendar.times.update_or_create(work=work, defaults={"working_days": days})
        publish(plant=plant.uid, at=at)


def enter_shifts(*, plant: UUID, shifts: Sequence[rules.Shift]) -> None:
    """When a plant that has a calendar works, in place of what it had entered before. Raises
    ValueError where two run into each other."""
    if clash := rules.overlaps(shifts):
        raise ValueError(f"shifts is {clash!r}; shifts that do not run into each other are allowed")
    wanted = {(s.weekday, s.begins): s.ends for s in shifts}
    with transaction.atomic():
        calendar = Calendar.objects.select_for_update().get(plant=plant)
        for gone in calendar.shifts.all():
            if (gone.weekday, gone.begins) not in wanted:
                gone.delete()
        for (weekday, begins), ends in sorted(wanted.items()):
            calendar.shifts.update_or_create(
                weekday=weekday, begins=begins, defaults={"ends": ends}
            )


def enter_cycles(
    *, plant: UUID, stations: Mapping[str, tuple[int, int]], chambers: Sequence[Mapping[str, Any]]
) -> None:
    """How long stations take: minutes and machines by code; and the plant's chambers, each as its
    fields, in place of what was entered of those. The plant's devices are told."""
    with transaction.atomic():
        lock_route(plant)
        for station in Station.objects.filter(plant=plant, code__in=list(stations)):
            station.cycle_min, station.machines = stations[station.code]
            station.save(update_fields=["cycle_min", "machines"])
        for told in chambers:
            Chamber.objects.update_or_create(plant_id=plant, code=told["code"], defaults=told)
        publish_route(plant=plant)


def publish(*, plant: UUID, at: datetime) -> None:
    """Tell promises what a plant has entered; of one without a calendar, that there is nothing.

    Safe to repeat; call it after every change.
    """
    calendar = queries.calendar(plant)
    promises.publish_standard_times(
        plant=plant,
        times={t.work: t.working_days for t in calendar.times.all()} if calendar else {},
        weekdays=calendar.weekdays if calendar else [],
        holidays=[h.on for h in calendar.holidays.all()] if calendar else [],
        at=at,
    )
