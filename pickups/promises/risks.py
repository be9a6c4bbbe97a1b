"""Reads of open promises: which are to be watched, and how they stand."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from functools import cache
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings
from django.db.models import Exists, OuterRef, Q, QuerySet

from pickups.casings.models import WorkOrder
from pickups.casings.rules import Progress
from pickups.customers import queries as customers
from pickups.promises import finishing, queries, rules
from pickups.promises.finishing import Sample
from pickups.promises.models import Forecast, Risk

_WATCHED = (Progress.PICKED_UP, Progress.RECEIVED, Progress.IN_WORK)
_DONE = (Progress.FINISHED, Progress.SHIPPED)


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


def to_come(w: WorkOrder) -> bool:
    """Whether its owner waits for it by a promise: finished where it is fetched, it was kept."""
    there = {f"{kind}:{place}" for kind in ("site", "plant") for place in (w.site, site_of(w))}
    fetched = w.told.get("back_to") == rules.STORE and w.progress in _DONE
    return may_break(w) and not (fetched and w.holder in there)


@dataclass(frozen=True, slots=True)
class Held:
    """What samples of finishing say of a promise; fields as of `models.Risk`."""

    on: date
    probability: float | None
    expected: date | None
    percent: int


def held(
    orders: Sequence[WorkOrder], samples: Mapping[UUID, Sample], *, plant: UUID
) -> dict[UUID, Held]:
    """The promises that stand of these work orders of a plant, held against samples, its forecast's
    or supposed ones; left out where there is no promise or no sample."""
    promised = queries.standing(w.uid for w in orders)
    percents = customers.percents({w.customer for w in orders if w.customer})
    published, zone = cache(queries.published), ZoneInfo(settings.DEALER_TIME_ZONE)
    found = {}
    for w in orders:
        if w.uid not in samples or w.uid not in promised:
            continue
        promise, sample = promised[w.uid], samples[w.uid]
        percent = percents.get(w.customer, finishing.USUAL) if w.customer else finishing.USUAL
        trucks = published(site_of(w))
        last = trucks.last_finish(promise.on, yard=w.yard, back_to=promise.back_to, plant=plant)
        done = sample.by(percent, zone)
        expected = done and trucks.comes_on(
            yard=w.yard, back_to=promise.back_to, after=done, at_store=False, plant=plant
        )
        found[w.uid] = Held(promise.on, sample.kept(last, zone), expected, percent)
    return found


def site_of(w: WorkOrder) -> UUID:
    """The store whose trucks bring it back: the counter that took it in, else its home store."""
    return UUID(str(w.told.get("store") or w.site))


def of(work_orders: Iterable[UUID], *, at: datetime) -> dict[UUID, Risk]:
    """How the promises of these work orders stand, as far as that counts."""
    return {r.work_order: r for r in counting(at).filter(work_order__in=list(work_orders))}


def counting(at: datetime) -> QuerySet[Risk]:
    """What counts at an instant: what a forecast said only while that plant has one in force."""
    in_force = Forecast.objects.filter(plant=OuterRef("plant"), valid_until__gt=at)
    return Risk.objects.filter(Q(forecast_at=None) | Exists(in_force))
