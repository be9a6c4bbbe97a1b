"""Reads of runs: load sheets as devices and pages see them, and what is loose."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime, time
from typing import Any
from uuid import UUID

from django.db.models import Count, Prefetch, QuerySet

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.journal import queries as journal
from pickups.people import queries as people
from pickups.runs import happenings
from pickups.runs.happenings import AtStop, Happened
from pickups.runs.models import Drop, Happening, Run, Stop


def bodies(uids: Sequence[UUID]) -> dict[UUID, dict[str, Any]]:
    """Runs as the feed gives them to a device."""
    stops = Stop.objects.order_by("place").prefetch_related("drops")
    rows = Run.objects.filter(uid__in=list(uids)).select_related("driver")
    told = stand(uids)
    return {r.uid: _body(r, told[r.uid]) for r in rows.prefetch_related(Prefetch("stops", stops))}


def stops_dropping(work_orders: Iterable[UUID]) -> set[UUID]:
    """The stops of open sheets at which one of these is to be dropped."""
    rows = Drop.objects.filter(work_order__in=list(work_orders), active=True)
    return set(rows.values_list("stop__uid", flat=True))


def stand(runs: Sequence[UUID]) -> dict[UUID, dict[UUID | None, AtStop]]:
    """What drivers have told of each of these runs, as it stands, by stop; None is the start."""
    told: dict[UUID, list[Happened]] = {run: [] for run in runs}
    rows = list(Happening.objects.filter(run__in=list(told)))
    typed = people.words(h.uid for h in rows if h.told.get("worded"))
    for h in rows:
        assert h.run is not None  # it was asked for by its run
        told[h.run].append(_happened(h, typed))
    return {run: happenings.fold(found) for run, found in told.items()}


_TYPED = {happenings.Kind.SKIPPED: "note", happenings.Kind.ADDED: "why"}
"""Under which name a driver's own words stand in what he told."""


def _happened(h: Happening, typed: Mapping[UUID, str]) -> Happened:
    """erased: there were words with it, and they are gone."""
    kind, told = happenings.Kind(h.kind), {**h.told, "by": h.by}
    if told.pop("worded", False):
        told |= {_TYPED[kind]: typed[h.uid]} if h.uid in typed else {"erased": True}
    return Happened(h.uid, kind, h.stop, h.stamp, h.told["at"], told)


def told_with(words: Iterable[UUID]) -> set[UUID]:
    """The runs of which something was told with these words."""
    rows = Happening.objects.filter(uid__in=list(words)).exclude(run=None)
    return {run for run in rows.values_list("run", flat=True) if run}


def _body(r: Run, told: Mapping[UUID | None, AtStop]) -> dict[str, Any]:
    start = told.get(None, AtStop())
    return {
        "on": r.on.isoformat(),
        "kind": r.kind,
        "state": r.state,
        "driver": str(r.driver.uid) if r.driver else None,
        "vehicle": r.vehicle,
        "note": r.note,
        "start": str(r.start_id),
        "loaded_at": start.loaded_at,
        "stops": [
            {
                "uid": str(s.uid),
                "yard": str(s.yard_id) if s.yard_id else None,
                "site": str(s.site_id) if s.site_id else None,
                "from": f"{s.from_time:%H:%M}" if s.from_time else None,
                "to": f"{s.to_time:%H:%M}" if s.to_time else None,
                "fetch": s.fetch,
                "note": s.note,
                "drop": sorted(str(d.work_order) for d in s.drops.all()),
                "arrived_at": at.arrived_at,
                "skipped": at.skipped,
                "loaded_at": at.loaded_at,
                "why_added": at.why_added,
            }
            for s in r.stops.all()
            for at in (told.get(s.uid, AtStop()),)
        ],
    }


def sheet(uid: UUID) -> Run | None:
    """One sheet with its stops in order and what is to be dropped at each."""
    stops = Stop.objects.order_by("place").select_related("yard__customer", "site")
    rows = Run.objects.select_related("site", "start", "driver")
    return rows.prefetch_related(Prefetch("stops", stops), "stops__drops").filter(uid=uid).first()


def sheets(site: UUID, *, since: date, until: date) -> list[Run]:
    """A store's sheets of the days from `since` to `until`, both among them, in their order."""
    return list(_counted(site).filter(on__gte=since, on__lte=until))


def left_over(site: UUID, *, before: date) -> list[Run]:
    """A store's sheets of earlier days that are not over: never handed, or still out."""
    return list(_counted(site).filter(on__lt=before).exclude(state=Run.State.BACK))


def _counted(site: UUID) -> QuerySet[Run]:
    """Sheets with `stop_count`."""
    rows = Run.objects.filter(site=site).select_related("driver", "start")
    return rows.annotate(stop_count=Count("stops")).order_by("on", "vehicle", "uid")


def dropped(sheets: Iterable[UUID]) -> dict[UUID, list[UUID]]:
    """The work orders on each of these sheets; one without any is absent."""
    found: dict[UUID, list[UUID]] = {}
    rows = Drop.objects.filter(stop__run__in=list(sheets))
    for run, work_order in rows.values_list("stop__run", "work_order"):
        found.setdefault(run, []).append(work_order)
    return found


def first_handed(sheet: UUID) -> datetime | None:
    """When a sheet was given to its driver, the first time."""
    return journal.first_at("run.handed", f"run:{sheet}")


def on_sheets(work_orders: Iterable[UUID]) -> dict[UUID, Run]:
    """On which sheet each of these stands now; one that is loose is absent."""
    rows = Drop.objects.filter(work_order__in=list(work_orders), active=True)
    return {d.work_order: d.stop.run for d in rows.select_related("stop__run")}


def planned_to(site: UUID, *, since: date) -> list[tuple[UUID, date, time | None]]:
    """What is to be dropped at a site of the dealer's from a day on, by sheets that are written or
    with their drivers: work order, day, and the time from which the stop may be made."""
    rows = Drop.objects.filter(stop__site=site, active=True, stop__run__on__gte=since)
    rows = rows.exclude(stop__run__state=Run.State.BACK).order_by("stop__run__on", "work_order")
    return list(rows.values_list("work_order", "stop__run__on", "stop__from_time"))


def days(runs: Iterable[UUID]) -> dict[UUID, date]:
    """On which day each of these runs is made."""
    return dict(Run.objects.filter(uid__in=list(runs)).values_list("uid", "on"))


def loose(site: UUID) -> list[WorkOrder]:
    """What waits to go home and is on no sheet, oldest first."""
    return _not_on_sheets(casings.going_home(site))


def loose_for_plant(site: UUID) -> list[WorkOrder]:
    """What waits on a rack to go to the plant and is on no sheet, oldest first."""
    return _not_on_sheets(casings.waiting_at_stores(site))


def _not_on_sheets(orders: Sequence[WorkOrder]) -> list[WorkOrder]:
    taken = on_sheets(w.uid for w in orders)
    return [w for w in orders if w.uid not in taken]


def photos(happening: UUID) -> list[str]:
    """The hashes of what was photographed where a driver told something of a run."""
    told = Happening.objects.filter(uid=happening).values_list("told", flat=True).first()
    return list((told or {}).get("photos", []))
