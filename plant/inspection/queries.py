"""Reads of what stations told, and of where casings stand inside a plant.

What was ordered is the trunk's and is read when a body is made, so it is never older than the
page. Of a contested label nothing of it is shown: nobody knows whose casing it is.
"""

from collections.abc import Collection, Iterable, Sequence
from typing import Any
from uuid import UUID

from django.db.models import QuerySet

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.custody import queries as custody
from pickups.customers import queries as customers
from pickups.kernel.clock import rfc3339
from plant.inspection import table
from plant.inspection.fold import SHIPPED, Event
from plant.inspection.models import RETREAD_TIN, Work

__all__ = (
    "Work", "bodies", "branded", "events", "inside", "is_told", "of_label", "told_of", "wearing", "with_tin",
    "work_bodies",
)  # fmt: skip

TRIPS = 5000
"""Trips of one TIN, of all plants, that are looked through. Our own figure."""


def bodies(uids: Sequence[UUID]) -> dict[UUID, dict[str, Any]]:
    """Casings inside a plant as the feed gives them to its devices."""
    return work_bodies(list(Work.objects.filter(uid__in=list(uids))))


def work_bodies(rows: Iterable[Work]) -> dict[UUID, dict[str, Any]]:
    """These casings with what was ordered for each, in the order given."""
    rows = list(rows)
    orders: dict[str, list[WorkOrder]] = {}
    for order in casings.wearing([w.label for w in rows]).values() if rows else ():
        if not order.withdrawn:
            orders.setdefault(order.label, []).append(order)
    owners = customers.names({o.customer for own in orders.values() for o in own if o.customer})
    return {w.uid: _body(w, orders.get(w.label, []), owners) for w in rows}


def inside(
    plant: UUID, *, station: str = "", after: UUID | None = None, most: int | None = None
) -> list[Work]:
    """What is inside a plant and has not left it, by uid; at one station, where it was seen last.
    after: the uid of the last row of the page before."""
    rows = Work.objects.filter(plant=plant).exclude(stage=SHIPPED).order_by("uid")
    rows = rows.filter(station=station) if station else rows
    rows = rows.filter(uid__gt=after) if after else rows
    return list(rows[:most] if most is not None else rows)


def of_label(plant: UUID, label: str) -> Work | None:
    """The casing that wears a label or wore it, as far as this plant has told of it."""
    names = custody.names_of(label)
    return Work.objects.filter(plant=plant, label__in=names.every).first()


def wearing(plant: UUID, labels: Collection[str]) -> list[Work]:
    """The casings that wear these labels, as far as this plant has told of them."""
    return list(Work.objects.filter(plant=plant, label__in=list(labels)))


def is_told(plant: UUID, event: UUID) -> bool:
    """Whether an event with this id is kept, standing or taken back."""
    return bool(table.related(plant, [event]))


def with_tin(plant: UUID, tin: str, *, most: int = 50) -> list[str]:
    """The labels of casings that final inspection read this retread TIN off, however it is written,
    or that were picked up with this TIN, capitals without gaps. One TIN is on many tires."""
    found = list(branded(plant, tin).order_by("label").values_list("label", flat=True)[:most])
    if found:
        return found
    worn = [w.label for w in casings.with_tin(tin, most=TRIPS)]
    return [w.label for w in wearing(plant, worn)][:most]


def branded(plant: UUID, tin: str) -> QuerySet[Work]:
    """The casings that a retread TIN was read off, however it was written then and is now."""
    bare = "".join(c for c in tin.upper() if c.isascii() and c.isalnum()).lstrip("R")
    if not bare:
        return Work.objects.none()
    rows = Work.objects.alias(branded=RETREAD_TIN)
    return rows.filter(plant=plant, told__built__has_key="retread_tin", branded=bare)


def told_of(plant: UUID, label: str) -> list[Event]:
    """What a plant has told of the casing under a label, in the order of the fold."""
    return table.under(plant, custody.names_of(label).every)


def events(plant: UUID, labels: Collection[str]) -> list[Event]:
    """What a plant has told under these labels, in the order of the fold."""
    return table.under(plant, labels)


def _body(w: Work, orders: Sequence[WorkOrder], owners: dict[UUID, str]) -> dict[str, Any]:
    contested = len(orders) > 1 or any(o.contested for o in orders)
    order = orders[0] if orders and not contested else None
    return {
        "uid": str(w.uid),
        "label": w.label,
        "stage": w.stage,
        "station": w.station,
        "next": w.next,
        "entered_at": rfc3339(w.entered_at),
        "seen_at": rfc3339(w.seen_at),
        "reworks": w.reworks,
        "envelope": w.envelope,
        "load": w.load,
        **w.told,
        "wanted": _wanted(order, owners) if order else None,
        "contested": contested,
        "version": w.version,
    }


_TOLD = ("work", "basis", "tread_design", "fleet_brand", "purchase_order", "unit", "size", "tin",
         "rating", "note")  # fmt: skip


def _wanted(order: WorkOrder, owners: dict[UUID, str]) -> dict[str, Any]:
    """What is to be done with it, whose it is, and for when it was promised."""
    said: dict[str, Any] = {name: str(order.told.get(name, "")) for name in _TOLD}
    owner = owners.get(order.customer, "") if order.customer else ""
    return said | {"owner": owner, "promised": (order.told.get("promised") or {}).get("on")}
