"""Reads of what stations told, and of where casings stand inside a plant.

What was ordered is the trunk's and is read when a body is made, so it is never older than the
page. Of a contested label nothing of it is shown: nobody knows whose casing it is.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import Any
from uuid import UUID

from django.db.models import Count, QuerySet, Sum

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.custody import queries as custody
from pickups.customers import queries as customers
from pickups.kernel.clock import rfc3339
from plant.inspection import binding, table
from plant.inspection.fold import SHIPPED, Event
from plant.inspection.models import RETREAD_TIN, Rush, RushWord, Work

__all__ = (
    "Work", "as_told", "bodies", "branded", "events", "inside", "is_told", "of_label",
    "orders_here", "told_of", "versions", "wearing", "with_tin", "work_bodies",
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
    foreign = _foreign(rows, orders)
    orders = {label: own for label, own in orders.items() if label not in foreign}
    owners = customers.names({o.customer for own in orders.values() for o in own if o.customer})
    first = rushed(o.uid for own in orders.values() for o in own)
    return {
        w.uid: _body(w, orders.get(w.label, []), owners, first) | foreign.get(w.label, {})
        for w in rows
    }


def versions(plant: UUID) -> tuple[int, int]:
    """How many casings are inside a plant and the sum of their versions: other figures as soon as
    one of them is another."""
    rows = Work.objects.filter(plant=plant).exclude(stage=Work.Stage.SHIPPED)
    told = rows.aggregate(n=Count("uid"), v=Sum("version"))
    return told["n"], told["v"] or 0


def rushed(orders: Iterable[UUID]) -> set[tuple[UUID, UUID]]:
    """Of these orders, each whose casing is to go first, with the plant at which it is."""
    approved = Rush.objects.filter(work_order__in=list(orders), words__kind=RushWord.Kind.APPROVED)
    open_ = approved.exclude(words__kind=RushWord.Kind.ENDED)
    return set(open_.values_list("plant_id", "work_order"))


def _foreign(
    rows: Sequence[Work], orders: Mapping[str, Sequence[WorkOrder]]
) -> dict[str, dict[str, Any]]:
    """Casings that were never bound for the plant that told of them: of these it is given the
    labels that it told itself, as of a label that nobody knows."""
    found: dict[str, dict[str, Any]] = {}
    for plant in sorted({w.plant_id for w in rows}):
        mine = {w.label: w.told["labels"] for w in rows if w.plant_id == plant}
        here = binding.bound(
            plant, {o.uid: mine[label] for label, own in orders.items() if label in mine
                    for o in own}
        )  # fmt: skip
        own = as_told(plant, {
            label: every for label, every in mine.items()
            if label in orders and not any(o.uid in here for o in orders[label])
        })  # fmt: skip
        found |= {label: {"label": told[0], "labels": told} for label, told in own.items()}
    return found


def as_told(plant: UUID, casings: Mapping[str, Collection[str]]) -> dict[str, list[str]]:
    """The labels of each casing that a plant has told itself, by the one that it wears: first that
    which it wears by these alone."""
    told = (
        table.under(plant, {one for every in casings.values() for one in every}) if casings else []
    )
    found: dict[str, list[str]] = {}
    for label, every in casings.items():
        mine = [e for e in reversed(told) if e.label in every]
        own = dict.fromkeys([e.told.tag or e.label for e in mine] + [e.label for e in mine])
        found[label] = sorted(own, key=lambda one: one != label) or [label]
    return found


def orders_here(plant: UUID, orders: Mapping[UUID, Collection[str]]) -> set[UUID]:
    """Of these work orders, each with every label that names it, those that the plant may read."""
    return binding.bound(plant, orders)


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
    orders = {w.uid: w.label for w in casings.with_tin(tin, most=TRIPS)}
    names = custody.names_of_each(sorted(set(orders.values()))) if orders else {}
    here = binding.bound(plant, {uid: names[label].every for uid, label in orders.items()})
    return [w.label for w in wearing(plant, [orders[uid] for uid in here])][:most]


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


def _body(
    w: Work,
    orders: Sequence[WorkOrder],
    owners: dict[UUID, str],
    first: Collection[tuple[UUID, UUID]],
) -> dict[str, Any]:
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
        "wanted": _wanted(order, owners) | {"rush": (w.plant_id, order.uid) in first}
        if order
        else None,
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
