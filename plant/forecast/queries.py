"""What a forecast is computed from, and what stands of it. Reads only, each its own short query:
what changes meanwhile is in the next one.

Of a contested label, and of an order that was never bound for the plant, nothing is forecast: its
casing still takes its place in the queues.
"""

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.casings.rules import Progress
from pickups.kernel import clock
from pickups.runs import queries as runs
from plant.curing import queries as curing
from plant.dock import consignments, rules
from plant.dock import queries as dock
from plant.forecast import coming
from plant.forecast.calibration import NEWEST
from plant.forecast.fitted import Cure, Past, Way
from plant.forecast.laid_out import Before, Entered, Oven, Stop
from plant.forecast.models import Forecast, Learned, Prediction
from plant.forecast.whereabouts import Inside, Load
from plant.inspection import daily
from plant.inspection import queries as inspection
from plant.inspection.daily import Told
from plant.inspection.doors import rushing
from plant.inspection.queries import Work

LEARNED_OVER = timedelta(weeks=8)
"""How far back it is looked for what a station usually does. Our own figure."""
HISTORY = 1000
"""Rows of what was learned before that are looked through."""
TOGETHER = timedelta(hours=1)
OPEN_FOR = timedelta(days=7)
"""A truck's list that was opened longer ago brings nothing more. Our own figure."""
LATELY = timedelta(days=3)
"""How far back it is looked for what left a station last."""


def zone() -> ZoneInfo:
    """The dealer's."""
    return ZoneInfo(settings.DEALER_TIME_ZONE)


def forecast(plant: UUID) -> Forecast | None:
    """What was computed of a plant last."""
    return Forecast.objects.filter(plant=plant).first()


def mark(plant: UUID) -> str:
    """A sign of all that a plant has told and entered: another one once any of it is another."""
    calendar = dock.calendar(plant)
    told: list[object] = [
        inspection.versions(plant),
        [(str(one.uid), one.version) for one in consignments.open_at(plant)],
        [(load.number, load.version) for load in curing.running(plant)],
        dock.route_version(plant),
        [(s.weekday, s.begins, s.ends) for s in calendar.shifts.all()] if calendar else None,
        sorted(h.on for h in calendar.holidays.all()) if calendar else None,
        sorted(str(uid) for uid in rushing.in_force(plant)),
        runs.planned_to(plant, since=clock.local(clock.now(), zone()).date()),
    ]
    return hashlib.sha256(repr(told).encode()).hexdigest()


def entered(plant: UUID) -> Entered:
    """What a plant has entered of its route, chambers and hours."""
    calendar = dock.calendar(plant)
    return Entered(
        stops=tuple(
            Stop(s.code, s.optional, s.scans, s.machines, s.cycle_min, s.batch)
            for s in dock.stations(plant)
        ),
        ovens=tuple(
            Oven(c.code, c.holds, c.cycle_min, c.least, c.max_wait_min, _times(c.starts))
            for c in dock.chambers(plant)
        ),
        shifts=tuple(rules.Shift(s.weekday, s.begins, s.ends) for s in calendar.shifts.all())
        if calendar
        else None,
        holidays=frozenset(h.on for h in calendar.holidays.all()) if calendar else frozenset(),
        rework_limit=dock.rework_limit(plant),
        zone=zone(),
        before=_shifts_before(plant),
        works=frozenset(t.work for t in calendar.times.all()) or None if calendar else None,
    )


def _shifts_before(plant: UUID) -> tuple[Before, ...]:
    """The shifts that a plant worked before those of now, and until when: from their history, in
    which changes within TOGETHER are one. What was before the first that it entered is not known:
    those are taken to have held always."""
    stood: dict[int, rules.Shift] = {}
    found: list[Before] = []
    last: datetime | None = None
    for at, one, shift in dock.shifts_told(plant):
        if last is None or at - last > TOGETHER:
            if stood:
                found.append(Before(at, tuple(stood.values())))
            last = at
        if shift is None:
            stood.pop(one, None)
        else:
            stood[one] = shift
    return tuple(found)


def _times(said: str) -> tuple[time, ...]:
    return tuple(sorted(time.fromisoformat(one.strip()) for one in said.split(",") if one.strip()))


@dataclass(frozen=True, slots=True)
class Now:
    """What is inside a plant. left: when the last casings left each station, the latest first.
    on_hold, unsure: how many wait for a person, and how many no order may be said of."""

    casings: list[Inside]
    loads: dict[str, Load]
    left: dict[str, list[float]]
    on_hold: int
    unsure: int


def now(plant: UUID, *, origin: datetime) -> Now:
    """What is inside a plant; times in hours from the origin."""
    works = inspection.inside(plant)
    orders = orders_of(plant, works)
    running = curing.running(plant)
    loads = {
        load.number: Load(load.number, _hours(load.started_at, origin) if load.started_at else None)
        for load in running
    }
    out = {label for load in running for label in load.set_out}
    found = [
        Inside(
            label=w.label,
            stage=w.stage,
            passed=tuple(w.told["passed"]),
            next=w.next,
            again_at=w.told["again_at"],
            seen_h=_hours(w.seen_at, origin),
            work=str(orders[w.uid].told.get("work") or "") if w.uid in orders else "",
            load="" if w.label in out else w.load,
            order=orders[w.uid].uid if w.uid in orders else None,
            here=w.uid in orders and orders[w.uid].holder == f"plant:{plant}",
        )
        for w in works
    ]
    left: dict[str, list[float]] = {}
    for one in reversed(daily.since(plant, origin - LATELY)):
        if one.outcome in ("passed", "repair", "rejected"):
            left.setdefault(one.station, []).append(_hours(one.happened_at, origin))
    going = [w for w in works if w.stage in (Work.Stage.IN_WORK, Work.Stage.REPAIR)]
    return Now(
        casings=found,
        loads=loads,
        left=left,
        on_hold=sum(w.stage == Work.Stage.ON_HOLD for w in works),
        unsure=sum(w.uid not in orders for w in going),
    )


def orders_of(plant: UUID, works: Sequence[Work]) -> dict[UUID, WorkOrder]:
    """The order of each of these casings, where there is one that the plant may read and no other
    casing wears its label."""
    by_label: dict[str, list[WorkOrder]] = {}
    for order in casings.wearing([w.label for w in works]).values() if works else ():
        if not order.withdrawn:
            by_label.setdefault(order.label, []).append(order)
    sure = {label: own[0] for label, own in by_label.items()
            if len(own) == 1 and not own[0].contested}  # fmt: skip
    every = {sure[w.label].uid: w.told["labels"] for w in works if w.label in sure}
    here = inspection.orders_here(plant, every)
    return {w.uid: sure[w.label] for w in works if w.label in sure and sure[w.label].uid in here}


def known_to_come(plant: UUID, usual: coming.Usual, *, at: datetime) -> list[coming.Known]:
    """What is on trucks' lists and on planned runs, not here yet; without a time of its own at the
    time at which half of a day's casings are in."""
    middle = usual.at(0.5)
    today = clock.local(at, zone()).date()
    when: dict[UUID, tuple[date, time]] = {
        uid: (on, begins or middle)
        for uid, on, begins in runs.planned_to(plant, since=today - timedelta(days=1))
    }
    lists = [
        row
        for row in consignments.open_at(plant)
        if row.way == "in" and row.opened_at >= at - OPEN_FOR
    ]
    days = runs.days(row.run for row in lists)
    for row in lists:
        for uid in map(UUID, row.listed):
            when.setdefault(uid, (days.get(row.run, today), middle))
    orders = casings.work_orders(when)
    return [
        coming.Known(
            datetime.combine(max(on, today), begins, tzinfo=zone()),
            str(orders[uid].told.get("work") or ""),
            uid,
        )
        for uid, (on, begins) in sorted(when.items())
        if uid in orders and _comes(orders[uid], plant)
    ]


def _comes(order: WorkOrder, plant: UUID) -> bool:
    here = order.holder == f"plant:{plant}"
    return order.progress == Progress.PICKED_UP and not order.withdrawn and not here


def past(plant: UUID, *, at: datetime) -> Past:
    """What is learned from: what was told of casings and cure loads in the last LEARNED_OVER."""
    ways = _ways(daily.since(plant, at - LEARNED_OVER))
    lately = at - timedelta(weeks=coming.WEEKS)
    # A casing of which the first that is told is no receiving was here before.
    came = [w for w in ways if w.told[0].outcome == "received" and w.told[0].happened_at >= lately]
    return Past(
        ways=ways,
        cures=_cures(plant, at),
        arrived=[way.told[0].happened_at for way in came],
        repairs=_repairs(way.label for way in came),
    )


def _ways(events: Sequence[Told]) -> list[Way]:
    """Events by casing: a tag that was bound to one names the same casing from then on."""
    first: dict[str, str] = {}
    found: dict[str, list[Told]] = {}
    for event in events:
        name = first.get(event.label, event.label)
        if event.tag:
            first[event.tag] = name
        found.setdefault(name, []).append(event)
    return [Way(label, tuple(told)) for label, told in found.items()]


def _repairs(labels: Iterable[str]) -> float:
    orders = [o for o in casings.wearing(list(labels)).values() if not o.withdrawn]
    repairs = [o for o in orders if o.told.get("work") == "repair"]
    return len(repairs) / len(orders) if orders else 0.0


def _cures(plant: UUID, at: datetime) -> list[Cure]:
    return [
        Cure(
            load.chamber,
            load.started_at,
            load.ended_at or load.out_at,
            tuple(one["label"] for one in load.set_in),
        )
        for load in curing.begun_since(plant, at - LEARNED_OVER)
        if load.started_at is not None
    ]


_NEWEST = """
SELECT DISTINCT ON (station) * FROM forecast_learned WHERE plant_id = %s
ORDER BY station, "on" DESC
"""


def learned(plant: UUID) -> dict[str, Learned]:
    """What was learned of each station last."""
    return {row.station: row for row in Learned.objects.raw(_NEWEST, [plant])}


def history(plant: UUID) -> list[Learned]:
    """What was learned of each station, newest first; a row for each day that changed it."""
    return list(Learned.objects.filter(plant=plant).order_by("-on", "station")[:HISTORY])


def open_predictions(plant: UUID) -> dict[UUID, list[Prediction]]:
    """What was predicted of casings that are not finished yet, by work order."""
    found: dict[UUID, list[Prediction]] = {}
    for row in Prediction.objects.filter(plant=plant, ended=False).order_by("id"):
        found.setdefault(row.work_order, []).append(row)
    return found


@dataclass(frozen=True, slots=True)
class End:
    """What became of a casing: when it was finished, None where it never was; its cure load."""

    at: datetime | None
    load: str = ""


def ends(plant: UUID, work_orders: Iterable[UUID]) -> dict[UUID, End]:
    """Those of these casings that are finished, or will not be: rejected, withdrawn, gone."""
    orders = casings.work_orders(work_orders)
    works = {w.label: w for w in inspection.wearing(plant, {o.label for o in orders.values()})}
    done = [w for w in works.values() if w.stage in (Work.Stage.FINISHED, Work.Stage.SHIPPED)]
    told = daily.finished_at(plant, {label for w in done for label in w.told["labels"]})
    found: dict[UUID, End] = {}
    for uid, order in orders.items():
        work = works.get(order.label)
        if order.withdrawn or work is None or work.stage == Work.Stage.REJECTED:
            found[uid] = End(None)
        elif work in done:
            at = max((told[one] for one in work.told["labels"] if one in told), default=None)
            found[uid] = End(at, str((work.told["loads"] or [""])[-1]))
    return found


def scored(plant: UUID, *, since: datetime) -> list[Prediction]:
    """What was predicted of casings that were finished since then, the earliest first; of each
    kind no more than calibration reads."""
    found: list[Prediction] = []
    for kind in Prediction.Kind:
        rows = Prediction.objects.filter(plant=plant, kind=kind, finished_at__gte=since)
        found += rows.order_by("-finished_at", "-id")[:NEWEST]
    return sorted(found, key=lambda row: (row.finished_at or since, row.pk))


def kept(plant: UUID, *, since: datetime) -> list[tuple[float, list[float]]]:
    """Of casings finished since then: the hours that each took, and those that were said of it."""
    rows = Prediction.objects.filter(plant=plant, finished_at__gte=since, actual_h__isnull=False)
    return [(took, said) for took, said in rows.values_list("actual_h", "said") if took is not None]


def names(plant: UUID) -> Mapping[str, tuple[str, str]]:
    """What each station is called, in English and in Spanish."""
    return {s.code: (s.name, s.name_es or s.name) for s in dock.stations(plant)}


def _hours(at: datetime, origin: datetime) -> float:
    return (at - origin).total_seconds() / 3600
