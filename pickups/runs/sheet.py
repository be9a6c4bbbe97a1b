"""A load sheet opened for a step: its row locked, its version held against the page's, and what
devices should see put into the feed in the same transaction. Stops and drops are guarded by their
run's lock; that a casing is on one sheet only is the database's own rule.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from uuid import UUID

from django.db import transaction

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.casings.rules import Progress
from pickups.customers import queries as customers
from pickups.customers.services import scope
from pickups.people import queries as people
from pickups.runs import rules
from pickups.runs.models import Drop, Happening, RegularRun, Run, Stop
from pickups.runs.rules import Casing, Place, Refusal, Refused, Why
from pickups.sync import services as sync
from pickups.sync.rules import Change

State = Run.State
LIVE = (State.WRITTEN, State.HANDED)
"""Until the truck is back a sheet may be changed; what is handed changes on the driver's phone."""


def locked(uid: UUID, *, seen: int | None, states: Collection[str]) -> Run:
    """The sheet, locked in the open transaction. seen: the version that the page showed, None
    where no page stands behind. Raises Refused."""
    run = Run.objects.select_for_update(no_key=True, of=("self",)).filter(uid=uid).first()
    if run is None:
        raise Refused(Refusal.NOT_HERE)
    if seen is not None and run.version != seen:
        raise Refused(Refusal.STALE)
    if run.state not in states:
        raise Refused(Refusal.STATE, state=run.state, allowed=", ".join(states))
    return run


@contextmanager
def opened(uid: UUID, *, seen: int | None, states: Collection[str] = LIVE) -> Iterator[Run]:
    """The sheet for one step: saved with a greater version when the step is through."""
    with transaction.atomic():
        run = locked(uid, seen=seen, states=states)
        was = run.state
        yield run
        run.version += 1
        run.save()
        if State.HANDED in (was, run.state):
            publish(run)


def publish(run: Run) -> None:
    """Bring a run into the feed, or out of it, in the open transaction and under its lock.

    What is told on the way changes what devices see, but not what a page may write over: so the
    feed counts on beyond the sheet's version.
    """
    told = Happening.objects.filter(run=run.uid).count()
    gone = run.state != State.HANDED
    sync.put([Change(scope(run.site_id), "run", run.uid, run.version + told, gone=gone)])


def stop_of(run: Run, uid: UUID) -> Stop:
    """One of the sheet's stops."""
    stop = run.stops.filter(uid=uid).first()
    if stop is None:
        raise Refused(Refusal.NOT_HERE)
    return stop


def check_head(run: Run) -> None:
    """What must be right of a sheet's head whenever it is written."""
    if people.site(run.start_id) is None:
        raise Refused(Refusal.PLACE, place=str(run.start_id))
    if run.state == State.HANDED and run.driver_id is None:
        raise Refused(Refusal.NO_DRIVER)


def driver_of(site: UUID, uid: UUID | None) -> int | None:
    """The key of a driver's row; they must work at this store."""
    if uid is None:
        return None
    found = [d.pk for d in people.drivers(site) if d.uid == uid]
    if not found:
        raise Refused(Refusal.NO_DRIVER, driver=str(uid))
    return int(found[0])


def check_place(run: Run, *, yard: UUID | None, site: UUID | None) -> None:
    """A stop is a yard of a customer of this store, whose phones know it, or a site."""
    if yard is not None:
        known = customers.owners([yard]).get(yard)
        if known is None or known[1] != run.site_id:
            raise Refused(Refusal.PLACE, place=str(yard))
    elif site is None or people.site(site) is None:
        raise Refused(Refusal.PLACE, place=str(site or ""))


def check_stop(stop: Stop) -> None:
    """What is told of a stop: its window and what is said to wait there."""
    if not rules.window_ok(stop.from_time, stop.to_time):
        begins, to = f"{stop.from_time:%H:%M}", f"{stop.to_time:%H:%M}"
        raise Refused(Refusal.WINDOW, begins=begins, to=to)
    if stop.fetch is not None and not 0 <= stop.fetch <= rules.MOST_FETCHED:
        raise Refused(Refusal.FETCH, fetch=str(stop.fetch))


def insert_stop(run: Run, stop: Stop, *, most: int = rules.MOST_STOPS) -> None:
    """Put a stop in its place; those from there on move one further. Place 0 is the end."""
    rest = list(run.stops.order_by("place"))
    if len(rest) >= most:
        raise Refused(Refusal.STOPS)
    at = min(stop.place or len(rest) + 1, len(rest) + 1)
    rest.insert(at - 1, stop)
    stop.run, stop.place = run, at
    stop.save(force_insert=True)
    renumber(rest)


def renumber(stops: Sequence[Stop]) -> None:
    """Places from 1, in this order."""
    for place, stop in enumerate(stops, start=1):
        stop.place = place
    Stop.objects.bulk_update(stops, ["place"])


def places_of(stops: Iterable[Stop]) -> dict[UUID, Place]:
    """Where each stop is, by its uid."""
    stops = list(stops)
    owners = customers.owners([s.yard_id for s in stops if s.yard_id])
    sites = {s.uid: s.kind for s in people.sites()}
    made = {}
    for s in stops:
        if s.yard_id:
            made[s.uid] = Place("yard", s.yard_id, owners[s.yard_id][0])
        else:
            assert s.site_id is not None  # a stop is one place
            made[s.uid] = Place(sites[s.site_id], s.site_id)
    return made


def casing(order: WorkOrder) -> Casing:
    """What of a work order decides where it can be dropped."""
    return Casing(
        progress=order.progress,
        holder=order.holder,
        site=order.site,
        customer=order.customer,
        on_hold=order.on_hold,
        contested=order.contested,
        withdrawn=order.withdrawn,
        dealers=bool(order.casing.dealers),
    )


def check_casings(
    run: Run, where: Mapping[UUID, UUID], *, but_for: Collection[Why] = ()
) -> dict[UUID, WorkOrder]:
    """Whether each work order can be dropped at the stop given for it: all, or Refused with each
    that cannot and why. Returns the work orders."""
    places = places_of(run.stops.filter(uid__in=set(where.values())))
    if missing := set(where.values()) - set(places):
        raise Refused(Refusal.NOT_HERE, stop=str(min(missing)))
    orders = casings.work_orders(where)
    wrong = []
    for uid, stop in where.items():
        order = orders.get(uid)
        why = rules.why_not(casing(order), places[stop], site=run.site_id) if order else Why.UNKNOWN
        if why is not None and why not in but_for:
            wrong.append((uid, why))
    if wrong:
        raise Refused(Refusal.CASINGS, wrong)
    return orders


def own_places(run: Run, work_orders: Sequence[UUID]) -> tuple[dict[UUID, UUID], list[UUID]]:
    """The stop where each casing belongs, and the stops that had to be made for that."""
    orders = casings.work_orders(work_orders)
    if lost := [uid for uid in work_orders if uid not in orders or orders[uid].customer is None]:
        raise Refused(Refusal.CASINGS, [(uid, Why.UNKNOWN) for uid in lost])
    stops = {(s.yard_id, s.site_id): s.uid for s in run.stops.order_by("-place")}
    plants = _plants(run.site_id)
    made: list[UUID] = []
    where = {}
    for uid in dict.fromkeys(work_orders):
        order = orders[uid]
        belongs: tuple[UUID | None, UUID | None] = (order.yard, None)
        if order.progress == Progress.PICKED_UP:
            on_it = [p for p in plants if (None, p) in stops]
            if not on_it and len(plants) != 1:
                raise Refused(Refusal.CASINGS, [(uid, Why.NOT_DONE)])
            belongs = (None, (on_it or plants)[0])
        elif order.told.get("back_to") == "store":
            belongs = (None, run.site_id)
        if belongs not in stops:
            check_place(run, yard=belongs[0], site=belongs[1])
            stop = Stop(yard_id=belongs[0], site_id=belongs[1], place=0)
            insert_stop(run, stop)
            stops[belongs] = stop.uid
            made.append(stop.uid)
        where[uid] = stops[belongs]
    return where, made


def _plants(site: UUID) -> list[UUID]:
    """The plants that a store's regular runs go to; without any, every plant."""
    runs = RegularRun.objects.filter(site=site, kind=Run.Kind.TRANSFER).exclude(plant=None)
    regular = sorted({r.plant_id for r in runs if r.plant_id})
    return regular or [s.uid for s in people.sites() if s.kind == "plant"]


def place(run: Run, where: Mapping[UUID, UUID | None]) -> dict[UUID, UUID | None]:
    """Put each work order on its stop, or off the sheet where that is None; returns where each
    was. One that another sheet has is refused, with all of them.

    Rows are written in one order, so that two sheets that want the same casings cannot each wait
    for the other.
    """
    drops = Drop.objects.filter(stop__run=run, active=True)
    known = {d.work_order: d for d in drops.filter(work_order__in=list(where))}
    before = {uid: known[uid].stop_id if uid in known else None for uid in where}
    drops.filter(work_order__in=[uid for uid, stop in where.items() if stop is None]).delete()
    moved, new = [], []
    for uid, stop in sorted(where.items()):
        if stop is not None and uid in known:
            known[uid].stop_id = stop
            moved.append(known[uid])
        elif stop is not None:
            new.append(Drop(stop_id=stop, work_order=uid))
    Drop.objects.bulk_update(moved, ["stop"])
    Drop.objects.bulk_create(new, ignore_conflicts=True)
    mine = set(drops.filter(work_order__in=list(where)).values_list("work_order", flat=True))
    if taken := [d.work_order for d in new if d.work_order not in mine]:
        raise Refused(Refusal.CASINGS, [(uid, Why.OTHER_SHEET) for uid in taken])
    return before
