"""Watch open promises after each forecast, and tell new days in the place of old ones.

A forecast says of a casing in how many of its courses it is back in time: that is kept as its
`Risk`, and counts while a forecast is in force. Where the dealer wants it, a new day is told by
itself before the old one is broken; else a person does it. By itself nothing is told where nobody
would hear of it, and nothing of a day that a person named or has been asked about. A new day is a
promise beside the others, none is ever changed. Whose promise it is hears of it by the journal.
Everything here is safe to repeat.
Lock: work orders by id, before promises and risks are read; the plants' forecasts, by id, before
risks are written.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings
from django.db import transaction
from django.db.models import QuerySet

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.customers import queries as customers
from pickups.journal import services as journal
from pickups.kernel import clock, ids
from pickups.promises import finishing, queries, revising, risks
from pickups.promises.models import Finish, Forecast, Promise, Risk
from pickups.questions import queries as asking
from pickups.questions import services as questions
from pickups.questions.rules import Kind as Question

_NAMESPACE = UUID("0196f0b2-5e0a-7c11-9d57-3f6f2f0c8a77")


def watch(*, plant: UUID, at: datetime) -> int:
    """How the open promises stand whose casings a plant's forecast in force knows of; returns how
    many there are. Where the dealer wants it, what has to be told anew is told.

    Computed outside any transaction; where another forecast came meanwhile, that one's own watch
    writes what it says.
    """
    forecast = Forecast.objects.filter(plant=plant, valid_until__gt=at).first()
    if forecast is None:
        _forget(plant, at)
        return 0
    known = Finish.objects.filter(plant=plant).values_list("work_order", flat=True)
    orders = [w for w in casings.work_orders(known).values() if risks.is_open(w)]
    made = _risks(orders, plant, forecast.published_at, at)
    with transaction.atomic():
        if not _locked([plant]).filter(published_at=forecast.published_at).exists():
            return 0
        _write(plant, made, forecast.published_at, at)
    _tell_by_itself((r.work_order for r in made), at)
    return len(made)


def _forget(plant: UUID, at: datetime) -> None:
    """What a forecast said that has ended counts no more."""
    with transaction.atomic():
        if not _locked([plant]).filter(valid_until__gt=at).exists():
            Risk.objects.filter(plant=plant).exclude(forecast_at=None).delete()


def _locked(plants: Iterable[UUID]) -> QuerySet[Forecast]:
    """These plants' forecasts, locked until the transaction ends."""
    rows = Forecast.objects.filter(plant__in=list(plants))
    list(rows.select_for_update(no_key=True).order_by("plant"))
    return rows


def _risks(
    orders: Sequence[WorkOrder], plant: UUID, forecast_at: datetime, at: datetime
) -> list[Risk]:
    inside = queries.finishing((w.uid for w in orders), at=at)
    held = risks.held(orders, {uid: one.sample for uid, one in inside.items()}, plant=plant)
    return [
        Risk(
            work_order=uid,
            plant=plant,
            on=one.on,
            probability=one.probability,
            expected=one.expected,
            percent=one.percent,
            forecast_at=forecast_at,
            at=at,
        )
        for uid, one in held.items()
    ]


def _write(plant: UUID, made: Sequence[Risk], forecast_at: datetime, at: datetime) -> None:
    rows = Risk.objects.select_for_update().filter(plant=plant).order_by("work_order")
    before = {r.work_order: r for r in rows}
    for risk in made:
        was = before.get(risk.work_order)
        risky = revising.at_risk(risk.probability, bound=risks.bound())
        risk.since = ((was and was.since) or risk.at) if risky else None
    # What was said after this watch began is a later word than its forecast.
    left = set(before) - {r.work_order for r in made}
    left = {uid for uid in left if before[uid].at <= at}
    unsaid = _unsaid([before[uid] for uid in left], forecast_at, at)
    Risk.objects.filter(work_order__in=left - {r.work_order for r in unsaid}).delete()
    _keep([*made, *unsaid])


def _unsaid(left: Sequence[Risk], forecast_at: datetime, at: datetime) -> list[Risk]:
    """Of what this forecast says nothing of any more, what was at risk and still lies in its plant,
    on hold or unheard of: nobody can say when it is back."""
    orders = casings.work_orders(r.work_order for r in left if r.since is not None)
    found = []
    for risk in left:
        w = orders.get(risk.work_order)
        if w is not None and risks.is_open(w) and w.holder == f"plant:{risk.plant}":
            risk.probability = risk.expected = None
            risk.forecast_at, risk.at = forecast_at, at
            found.append(risk)
    return found


def _keep(made: Sequence[Risk]) -> None:
    """In the order of their ids, so that two writers never wait for each other in a ring."""
    fields = ["plant", "on", "probability", "expected", "percent", "forecast_at", "since", "at"]
    Risk.objects.bulk_create(
        sorted(made, key=lambda risk: risk.work_order),
        update_conflicts=True,
        unique_fields=["work_order"],
        update_fields=fields,
        batch_size=1000,
    )


def sent_back(*, work_orders: Collection[UUID], at: datetime) -> None:
    """The plant sent these casings back to be worked again. While a forecast knows of one, its
    next says what that means; else the standard time is counted anew from today."""
    orders = [w for w in casings.work_orders(work_orders).values() if risks.is_open(w)]
    computed = queries.finishing((w.uid for w in orders), at=at)
    promised = queries.standing(w.uid for w in orders)
    made = []
    for w in orders:
        if w.uid in computed or w.uid not in promised or not w.holder.startswith("plant:"):
            continue
        plant, promise = UUID(w.holder.removeprefix("plant:")), promised[w.uid]
        expected = queries.published(risks.site_of(w)).counted_anew(
            _day(at), plant=plant, work=str(w.told["work"]), yard=w.yard, back_to=promise.back_to
        )
        if expected is None or expected > promise.on:
            made.append(
                Risk(
                    work_order=w.uid,
                    plant=plant,
                    on=promise.on,
                    expected=expected,
                    percent=finishing.USUAL,
                    since=at,
                    at=at,
                )
            )
    with transaction.atomic():
        _locked({risk.plant for risk in made})
        _keep(made)
    _tell_by_itself((r.work_order for r in made), at)


def tell_due(*, at: datetime) -> int:
    """What came up while nobody may be told, at night, is told once that is over, where the dealer
    wants it; returns of how many casings."""
    risky = risks.counting(at).exclude(since=None).values_list("work_order", flat=True)
    return len(_tell_by_itself(risky, at))


def _tell_by_itself(work_orders: Iterable[UUID], at: datetime) -> set[UUID]:
    """Where the dealer wants it and the hour is one, tell what is due and needs no person."""
    if not (settings.PROMISE_TELL_NEW_DAYS and may_tell(at)):
        return set()
    new_days = due(work_orders, at=at)
    orders, told = casings.work_orders(new_days), queries.told(new_days)
    owners = {w.customer for w in orders.values() if w.customer}
    heard = {contact.customer_id for contact in customers.progress_contacts(owners)}
    subjects = {f"fact:{p.uid}": uid for uid, promises in told.items() for p in promises}
    asked = {subjects[one] for one in asking.open_of(Question.PROMISE_TOO_EARLY, subjects)}
    by_hand = {
        uid for uid, made in told.items() if queries.stands(made).basis == Promise.Basis.BY_HAND
    }
    alone = {
        uid: new
        for uid, new in new_days.items()
        if uid in orders and orders[uid].customer in heard and uid not in asked | by_hand
    }
    return revise(new_days=alone, by=None, at=at)


@dataclass(frozen=True, slots=True)
class NewDay:
    """A day that is to be told in the place of the one that stands: the promise that stands, the
    day, on which basis, and where a forecast said so its confidence in percent and when."""

    promise: UUID
    on: date
    basis: str
    confidence: int | None = None
    forecast_at: datetime | None = None


def due(work_orders: Iterable[UUID], *, at: datetime) -> dict[UUID, NewDay]:
    """For each of these work orders of which it has to be told, the new day."""
    uids = list(work_orders)
    told, found = queries.told(uids), {}
    for uid, risk in risks.of(uids, at=at).items():
        promises = told.get(uid)
        if not promises:
            continue
        stands = queries.stands(promises)
        day = revising.new_day(
            stands.on,
            first=[p for p in promises if p.revises is None][-1].on,
            expected=risk.expected,
            probability=risk.probability,
            bound=risks.bound(),
        )
        if day is not None and risk.on == stands.on:
            found[uid] = _new_day(stands, day, risk)
    return found


def _new_day(stands: Promise, day: date, risk: Risk) -> NewDay:
    if risk.forecast_at is None:
        return NewDay(stands.uid, day, Promise.Basis.STANDARD_TIME)
    return NewDay(stands.uid, day, Promise.Basis.FORECAST, risk.percent, risk.forecast_at)


def revise(*, new_days: Mapping[UUID, NewDay], by: UUID | None, at: datetime) -> set[UUID]:
    """Promise these work orders a new day; returns those of which it was told.

    Left out is what is back, rejected or in question meanwhile, what the plant has finished where
    the new day came from looking at its work, and of which another promise stands by now than the
    one that the new day takes the place of. What was asked of an earlier promise of theirs is over.
    """
    with transaction.atomic():
        locked = casings.locked(labels=[], uids=new_days)
        orders = [w for w in locked if _may_be_told(w, new_days[w.uid], by)]
        told = queries.told(w.uid for w in orders)
        made = []
        for w in orders:
            new, promises = new_days[w.uid], told.get(w.uid, [])
            stands = queries.stands(promises) if promises else None
            if stands is not None and stands.uid == new.promise and stands.on != new.on:
                made.append(_promise(stands, promises[-1], new, by, at))
        Promise.objects.bulk_create(made)
        over = Risk.objects.filter(work_order__in=[p.work_order for p in made])
        list(over.select_for_update().order_by("work_order"))
        over.update(since=None)
        if made:
            _tell(made, told, at)
    return {p.work_order for p in made}


def _may_be_told(w: WorkOrder, new: NewDay, by: UUID | None) -> bool:
    at_work = by is None or new.basis == Promise.Basis.FORECAST
    return risks.is_open(w) if at_work else risks.to_come(w)


def _promise(stands: Promise, last: Promise, new: NewDay, by: UUID | None, at: datetime) -> Promise:
    return Promise(
        uid=ids.derived(_NAMESPACE, f"{stands.uid} {new.on}"),
        work_order=stands.work_order,
        # After every word before it, however far ahead the clock was that told it.
        stamp=max(clock.to_ms(at), last.stamp + 1),
        on=new.on,
        basis=new.basis,
        back_to=stands.back_to,
        confidence=new.confidence,
        forecast_at=new.forecast_at,
        expected=new.on if new.basis != Promise.Basis.BY_HAND else None,
        expected_by=new.basis if new.basis != Promise.Basis.BY_HAND else "",
        revises=stands.uid,
        by=by,
        told_at=at,
        recorded_at=at,
    )


def _tell(made: Sequence[Promise], told: Mapping[UUID, Sequence[Promise]], at: datetime) -> None:
    over = [f"fact:{p.uid}" for one in made for p in told[one.work_order]]
    kinds = [Question.PROMISE_TOO_EARLY]
    questions.settle(kinds=kinds, subjects=over, how="a new day was told", at=at)
    body = {"work_orders": sorted(str(p.work_order) for p in made)}
    journal.record([journal.Note("promise.revised", f"promise:{made[0].uid}", body)], at=at)


def may_tell(at: datetime) -> bool:
    """Whether it is an hour at which customers are told new days by themselves."""
    hour = clock.local(at, ZoneInfo(settings.DEALER_TIME_ZONE)).hour
    begins, ends = settings.TELLING_BEGINS_HOUR, settings.TELLING_ENDS_HOUR
    return revising.may_tell(hour, begins=begins, ends=ends)


def _day(at: datetime) -> date:
    return clock.local(at, ZoneInfo(settings.DEALER_TIME_ZONE)).date()
