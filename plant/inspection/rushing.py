"""Rush work: who asked that a casing go first, who agreed, and since when; rows are only added.

One person asks, another decides. A casing has one rush that is open or in force. It is in force
from its approval until somebody ends it or the casing has left the stations.
Lock: the casing's row inside the plant, before its rushes are read.
"""

from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import Any
from uuid import UUID

from django.db import transaction
from django.db.models import F

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.casings.rules import Progress
from pickups.people.models import User
from pickups.sync import services as sync
from pickups.sync.rules import Change
from plant.inspection import queries
from plant.inspection.models import Rush, RushWord, Work

Kind = RushWord.Kind
_INSIDE = (Work.Stage.IN_WORK, Work.Stage.REPAIR, Work.Stage.ON_HOLD)
_ON_THE_WAY = (Progress.PICKED_UP, Progress.RECEIVED, Progress.IN_WORK)


class Refused(Exception):
    """Why nothing was written: `code` names it, the words are the page's."""

    def __init__(self, code: str) -> None:
        super().__init__(code)
        self.code = code


def order_of(plant: UUID, label: str) -> WorkOrder:
    """The order whose casing wears a label inside this plant; Refused where it is not certain."""
    work = queries.of_label(plant, label)
    if work is None or work.stage not in _INSIDE:
        raise Refused("not_inside")
    found = [one for one in casings.wearing([work.label]).values() if not one.withdrawn]
    if len(found) != 1 or found[0].contested:
        raise Refused("unsure")
    return found[0]


def ask(*, uid: UUID, plant: UUID, label: str, grounds: str, by: User, at: datetime) -> Rush:
    """Ask that the casing under a label go first. Refused: not_inside, unsure, asked_already."""
    with transaction.atomic():
        list(Work.objects.select_for_update().filter(plant=plant, label=label).values_list("pk"))
        order = order_of(plant, label)
        if any(state(one) in ("asked", Kind.APPROVED) for one in of_order(order.uid)):
            raise Refused("asked_already")
        return Rush.objects.create(
            uid=uid, plant_id=plant, work_order=order.uid, label=order.label, by=by, at=at,
            grounds=grounds,
        )  # fmt: skip


def decide(
    *, uid: UUID, plant: UUID, kind: str, grounds: str, by: User, at: datetime,
    moved: Sequence[dict[str, Any]] = (),
) -> None:  # fmt: skip
    """Approve, decline or end a rush. Refused: no_such, own (who asked does not decide, but may
    end it), decided (it stands otherwise by now)."""
    with transaction.atomic():
        rush = Rush.objects.select_for_update().filter(uid=uid, plant=plant).first()
        if rush is None:
            raise Refused("no_such")
        allowed = {"asked": (Kind.APPROVED, Kind.DECLINED), Kind.APPROVED: (Kind.ENDED,)}
        if kind not in allowed.get(state(rush), ()):
            raise Refused("decided")
        if kind != Kind.ENDED and rush.by_id == by.pk:
            raise Refused("own")
        RushWord.objects.create(rush=rush, kind=kind, by=by, at=at, grounds=grounds,
                                moved=list(moved))  # fmt: skip
        if kind != Kind.DECLINED:
            _tell_tablets(rush)


def _tell_tablets(rush: Rush) -> None:
    """The casing's row in the feed says something else than before."""
    order = casings.work_order(rush.work_order)
    work = Work.objects.filter(plant=rush.plant_id, label=order.label if order else rush.label)
    if work.update(version=F("version") + 1):
        row = work.get()
        sync.put([Change(f"site:{rush.plant_id}", "plant_work", row.uid, row.version)])


def state(rush: Rush) -> str:
    """asked, approved, declined or ended: its last word."""
    kinds = {word.kind for word in rush.words.all()}
    last = [kind for kind in (Kind.ENDED, Kind.DECLINED, Kind.APPROVED) if kind in kinds]
    return str(last[0]) if last else "asked"


def of_order(work_order: UUID) -> list[Rush]:
    """All that was asked of an order's casing."""
    return list(Rush.objects.filter(work_order=work_order).prefetch_related("words"))


def one(plant: UUID, uid: UUID) -> Rush | None:
    """One rush of a plant, with its words."""
    rows = Rush.objects.filter(plant=plant, uid=uid).select_related("by")
    return rows.prefetch_related("words__by").first()


def latest(plant: UUID, *, most: int) -> list[Rush]:
    """What was asked last, the newest first."""
    rows = Rush.objects.filter(plant=plant).select_related("by").prefetch_related("words__by")
    return list(rows.order_by("-at", "uid")[:most])


def in_force(plant: UUID) -> frozenset[UUID]:
    """The orders whose casings go first at this plant now."""
    approved = Rush.objects.filter(plant=plant, words__kind=Kind.APPROVED)
    open_ = approved.exclude(words__kind=Kind.ENDED).values_list("work_order", flat=True)
    orders = casings.work_orders(open_).values()
    return frozenset(one.uid for one in orders if one.progress in _ON_THE_WAY)


def labels(orders: Iterable[UUID]) -> frozenset[str]:
    """The labels that these orders' casings wear now."""
    return frozenset(one.label for one in casings.work_orders(orders).values())
