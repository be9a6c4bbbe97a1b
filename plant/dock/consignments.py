"""Reads of trucks' lists: as tablets are given them, and as they are held against scans."""

from collections.abc import Collection, Iterable, Sequence
from datetime import datetime
from typing import Any
from uuid import UUID

from django.db.models import Q

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.casings.rules import Progress
from pickups.customers import queries as customers
from pickups.kernel.clock import rfc3339
from pickups.runs import queries as runs
from plant.dock.comparing import Compared, Seen, compare
from plant.dock.models import Consignment, Count

GOES = (Progress.FINISHED, Progress.REJECTED)


def bodies(uids: Sequence[UUID]) -> dict[UUID, dict[str, Any]]:
    """Lists as the feed gives them to the devices of their plants."""
    rows = list(Consignment.objects.filter(uid__in=list(uids)))
    orders = casings.work_orders(UUID(uid) for row in rows for uid in row.listed)
    owners = customers.names({o.customer for o in orders.values() if o.customer})
    counts = counted([row.uid for row in rows])
    return {row.uid: _body(row, orders, owners, counts.get(row.uid)) for row in rows}


def _body(
    row: Consignment,
    orders: dict[UUID, WorkOrder],
    owners: dict[UUID, str],
    count: Count | None,
) -> dict[str, Any]:
    here = [orders[UUID(uid)] for uid in row.listed if UUID(uid) in orders]
    own, there = str(row.plant_id), str(row.other_id)
    return {
        "uid": str(row.uid),
        "way": row.way,
        "from": there if row.way == "in" else own,
        "to": own if row.way == "in" else there,
        "run": str(row.run),
        "driver": str(row.driver) if row.driver else None,
        "labels": [
            {
                "label": order.label,
                "work_order": str(order.uid),
                "size": order.casing.size,
                # Whose it is nobody can say while two casings wear the label.
                "owner": "" if order.contested else owners.get(order.customer, ""),  # type: ignore[arg-type]
                "state": state(row, order),
            }
            for order in sorted(here, key=lambda order: order.label)
        ],
        "counted": count.counted if count else None,
        "told_at": rfc3339(count.happened_at if count else row.opened_at),
        "version": row.version,
    }


def state(row: Consignment, order: WorkOrder) -> str:
    """How one casing of a list stands: contested, coming or here of what is brought; of what is
    taken on_hold, finished, rejected, not_finished or gone."""
    if order.contested:
        return "contested"
    if row.way == "in":
        return "here" if order.holder == f"plant:{row.plant_id}" else "coming"
    if order.holder != f"plant:{row.plant_id}":
        return "gone"
    if order.on_hold:
        return "on_hold"
    return order.progress if order.progress in GOES else "not_finished"


def counted(consignments: Iterable[UUID]) -> dict[UUID, Count]:
    """The count by hand that stands for each of these; one that nobody counted is absent."""
    rows = Count.objects.filter(consignment__in=list(consignments)).order_by("stamp", "uid")
    return {row.consignment: row for row in rows}


def open_at(plant: UUID) -> list[Consignment]:
    """The lists that are open at a plant, the oldest first."""
    rows = Consignment.objects.filter(plant=plant, closed_at=None).select_related("other")
    return list(rows.order_by("opened_at", "uid"))


def closed_at(plant: UUID, *, most: int) -> list[Consignment]:
    """The lists that were closed last, the newest first."""
    rows = Consignment.objects.filter(plant=plant).exclude(closed_at=None)
    return list(rows.select_related("other").order_by("-closed_at", "uid")[:most])


def one(plant: UUID, uid: UUID) -> Consignment | None:
    """One list of a plant."""
    return Consignment.objects.filter(plant=plant, uid=uid).select_related("other").first()


def listing(plant: UUID, work_orders: Collection[UUID]) -> set[UUID]:
    """Of these work orders those that stand on any list of a plant, open or closed."""
    if not work_orders:
        return set()
    rows = Consignment.objects.filter(plant=plant)
    rows = rows.filter(listed__has_any_keys=[str(uid) for uid in work_orders])
    listed = {UUID(uid) for uids in rows.values_list("listed", flat=True) for uid in uids}
    return listed & set(work_orders)


def known(uid: UUID) -> Consignment | None:
    """One list of any plant."""
    return Consignment.objects.filter(uid=uid).first()


def open_of(run: UUID) -> list[Consignment]:
    """The lists of a run that are open."""
    return list(Consignment.objects.filter(run=run, closed_at=None).order_by("uid"))


def closed_lately(plant: UUID, since: datetime) -> list[Consignment]:
    """The lists of a plant that were closed since then."""
    rows = Consignment.objects.filter(plant=plant, closed_at__gte=since)
    return list(rows.order_by("closed_at", "uid"))


def beside(rows: Sequence[Consignment]) -> list[Consignment]:
    """These lists of one plant and the others there that were open at the same time as any."""
    if not rows:
        return []
    first = min(row.opened_at for row in rows)
    others = Consignment.objects.filter(plant=rows[0].plant_id)
    near = others.filter(Q(closed_at=None) | Q(closed_at__gte=first))
    return [*rows, *near.exclude(uid__in=[row.uid for row in rows])]


def touched_by(work_orders: Collection[UUID]) -> set[UUID]:
    """The open lists that hold one of these work orders, or may hold it as it is now."""
    rows = list(Consignment.objects.filter(closed_at=None)) if work_orders else []
    orders = casings.work_orders(work_orders) if rows else {}
    holders = {order.holder for order in orders.values()}
    stops = runs.stops_dropping(orders) if rows else set()
    named = {str(uid) for uid in work_orders}
    return {
        row.uid
        for row in rows
        if named & set(row.listed)
        or row.stop in stops
        or (f"plant:{row.plant_id}" if row.way == "out" else f"person:{row.driver}") in holders
    }


def stands_on(row: Consignment) -> list[str]:
    """The work orders that belong on a list now, sorted: what the truck has or is to have, and of
    what was on it before, what has gone its way."""
    orders = casings.work_orders(UUID(uid) for uid in row.listed)
    before = {uid for uid, order in orders.items() if _went(row, order)}
    return sorted(str(uid) for uid in before | set(_now(row)))


def _went(row: Consignment, order: WorkOrder) -> bool:
    held_here = order.holder == f"plant:{row.plant_id}"
    if order.withdrawn:
        return False
    return held_here if row.way == "in" else not held_here and order.progress != Progress.RETURNED


def _now(row: Consignment) -> list[UUID]:
    if row.way == "out":
        done = casings.going_home(row.other_id)
        here = [o for o in done if o.progress in GOES and o.holder == f"plant:{row.plant_id}"]
        return [order.uid for order in here]
    sheet = runs.sheet(row.run)
    stops = [s for s in sheet.stops.all() if s.uid == row.stop] if sheet else []
    dropped = [d.work_order for s in stops for d in s.drops.all() if d.active]
    orders = list(casings.work_orders(dropped).values())
    orders += casings.held_by(f"person:{row.driver}") if row.driver else []
    return [o.uid for o in orders if o.progress == Progress.PICKED_UP and not o.withdrawn]


def compared(row: Consignment, scanned: Iterable[str]) -> Compared:
    """A list against the labels scanned for it so far, each the one that its casing wears now."""
    scanned = set(scanned)
    orders = casings.work_orders(UUID(uid) for uid in row.listed)
    listed = {order.label for order in orders.values()}
    known = {o.label: _seen(o) for o in casings.wearing(scanned).values() if not o.withdrawn}
    return compare(
        "in" if row.way == "in" else "out",
        plant=str(row.plant_id),
        listed=listed,
        scanned=scanned,
        known=known,
    )


def _seen(order: WorkOrder) -> Seen:
    home = order.progress == Progress.RETURNED  # it was done when it left, or it is at the yard
    progress = Progress.SHIPPED if home else order.progress
    return Seen(order.holder, progress, order.on_hold, order.contested)
