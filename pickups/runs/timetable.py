"""The regular runs of a store, and the timetable that promises are made from."""

from collections.abc import Sequence
from datetime import datetime
from uuid import UUID

from django.db import transaction

from pickups.customers import queries as customers
from pickups.kernel import locks
from pickups.promises import services as promises
from pickups.runs import rules
from pickups.runs.models import RegularRun, Run


def set_regular_run(
    *,
    site: UUID,
    name: str,
    kind: str,
    weekdays: Sequence[int],
    yards: Sequence[UUID] = (),
    plant: UUID | None = None,
    uid: UUID | None = None,
    at: datetime,
) -> RegularRun:
    """A trip that is made every week on these weekdays (0 is Monday), new or, by its uid, changed;
    the store's timetable is published with it. Raises ValueError where rules.regular says why."""
    own = {y.uid: y for y in customers.yards_of(site)}
    wrong = rules.regular(kind, weekdays, yards=len(yards), plant=plant is not None)
    if lost := [str(yard) for yard in yards if yard not in own]:
        wrong = f"yards are {', '.join(lost)}; those of the store's customers are allowed"
    if wrong:
        raise ValueError(f"{name}: {wrong}")
    with transaction.atomic():
        run = RegularRun.objects.filter(uid=uid).first() if uid else None
        old_site = run.site_id if run else site
        run = run or RegularRun(**({"uid": uid} if uid else {}))
        run.site_id, run.name, run.kind, run.plant_id = site, name, kind, plant
        run.weekdays = sorted(set(weekdays))
        run.save()
        run.yards.set([own[yard] for yard in yards])
        for store in sorted({site, old_site}):
            publish_timetable(site=store, at=at)
    return run


def publish_timetable(*, site: UUID, at: datetime) -> None:
    """Tell promises on which weekdays a store's regular runs go which way. Safe to repeat."""
    rows: list[tuple[UUID, str, list[int]]] = []
    with transaction.atomic():
        locks.take([locks.timetable_key(site)])  # else two that change at once each miss the other
        runs = RegularRun.objects.filter(site=site).order_by("uid").prefetch_related("yards")
        for run in runs:
            if run.kind == Run.Kind.TRANSFER and run.plant_id:
                rows += [(run.plant_id, way, run.weekdays) for way in ("to_plant", "from_plant")]
            if run.kind == Run.Kind.ROUTE:
                rows += [(yard.pk, "to_yard", run.weekdays) for yard in run.yards.all()]
        promises.publish_timetable(site=site, rows=rows, at=at)
