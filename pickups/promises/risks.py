"""Reads of open promises: which are to be watched, and how they stand."""

from collections.abc import Iterable
from uuid import UUID

from django.conf import settings

from pickups.casings.models import WorkOrder
from pickups.casings.rules import Progress
from pickups.promises import rules
from pickups.promises.models import Risk

_WATCHED = (Progress.PICKED_UP, Progress.RECEIVED, Progress.IN_WORK)


def bound() -> float:
    """Under which probability a promise is at risk."""
    return float(settings.PROMISE_AT_RISK_PERCENT) / 100


def may_break(w: WorkOrder) -> bool:
    """Whether a promise of a casing says something of this very one, as far as we know it."""
    sure = not (w.withdrawn or w.contested or w.casing.dealers or w.reason)
    own = w.told.get("basis", rules.OWN) == rules.OWN and bool(w.told.get("promised"))
    return sure and own and w.progress != Progress.RETURNED


def is_open(w: WorkOrder) -> bool:
    """Whether a promise of it is open that a forecast can say something of: one that is finished
    waits for a truck, and of one that is rejected its owner is told so."""
    return may_break(w) and w.progress in _WATCHED


def site_of(w: WorkOrder) -> UUID:
    """The store whose trucks bring it back: the counter that took it in, else its home store."""
    return UUID(str(w.told.get("store") or w.site))


def of(work_orders: Iterable[UUID]) -> dict[UUID, Risk]:
    """How the promises of these work orders stood when a forecast was last held against them."""
    return {r.work_order: r for r in Risk.objects.filter(work_order__in=list(work_orders))}
