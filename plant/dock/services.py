"""Write the plant's stations, calendar and standard times; publish the latter into promises."""

from collections.abc import Mapping, Sequence
from datetime import date, datetime
from uuid import UUID

from django.db import transaction

from pickups.people.models import Site
from pickups.promises import services as promises
from plant.dock import queries
from plant.dock.models import Calendar, Station
from plant.dock.rules import DEFAULT_ROUTE


def lay_out(*, plant: Site) -> None:
    """Give a plant the default route, where it has no station yet."""
    if Station.objects.filter(plant=plant).exists():
        return
    for place, (code, name, caution) in enumerate(DEFAULT_ROUTE, 1):
        Station.objects.create(plant=plant, code=code, name=name, place=place, caution=caution)


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
