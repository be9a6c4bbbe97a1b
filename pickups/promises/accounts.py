"""The account of promises: what was promised for a span of days, and what came of it.

Read from promises and custody's facts as they are each time; nothing of it is kept, so a fact that
arrives late puts the account right. A label in question and what was withdrawn count nowhere.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.casings.rules import Progress
from pickups.custody import queries as custody
from pickups.custody.queries import homeward
from pickups.kernel import clock
from pickups.promises import accounting, queries, rules
from pickups.promises.accounting import Apart, Outcome, Seen, Told
from pickups.promises.models import Promise

AT_ONCE = 2_000
"""How many work orders are read together: the facts of a year are never all in memory."""
_DONE = (Progress.FINISHED, Progress.SHIPPED, Progress.RETURNED)


@dataclass(frozen=True, slots=True)
class Counted:
    """A casing in the account. on: the day of its first promise. first, last: what came of that,
    and of the last that was told in time; None while the day is not over, and where it is told
    `apart`. plant: which had it last, if one told so. percent: at what probability the first
    of them that a forecast made was promised, if there is one; forecast: what came of that.
    """

    work_order: UUID
    customer: UUID | None
    on: date
    plant: UUID | None
    basis: str
    revised: bool
    first: Outcome | None
    last: Outcome | None
    apart: Apart | None
    percent: int | None
    forecast: Outcome | None


def counted(
    *, since: date, until: date, today: date, customer: UUID | None = None
) -> Iterator[Counted]:
    """Every casing whose first promise names a day from `since` to before `until`, in the order
    in which their promises were told; of one customer where asked."""
    rows = Promise.objects.filter(on__gte=since, on__lt=until)
    if customer is not None:
        rows = rows.filter(work_order__in=casings.of_customer(customer).values("uid"))
    told = rows.order_by("stamp", "uid").values_list("work_order", flat=True)
    uids = list(dict.fromkeys(told))
    for start in range(0, len(uids), AT_ONCE):
        for one in _counted(uids[start : start + AT_ONCE], today):
            if since <= one.on < until:
                yield one


def _counted(uids: Sequence[UUID], today: date) -> Iterator[Counted]:
    promises = queries.told(uids)
    orders = [w for w in casings.work_orders(uids).values() if _counts(w)]
    ways = homeward.steps(w.uid for w in orders)
    rejected = custody.outcomes(w.uid for w in orders if w.reason)
    for w in sorted(orders, key=lambda w: (promises[w.uid][0].stamp, w.uid)):
        apart, way = _apart(w, rejected), ways.get(w.uid, [])
        # One with a reason has no finished casing to come back, whatever came of its body.
        back = None if w.reason else accounting.back_on(_seen(way), fetched_at=_fetched_at(w))
        yield _one(w, promises[w.uid], way, apart, back, today)


def _one(
    w: WorkOrder,
    told: Sequence[Promise],
    way: Sequence[homeward.Step],
    apart: Apart | None,
    back: date | None,
    today: date,
) -> Counted:
    def came(promise: Promise | None) -> Outcome | None:
        if promise is None or apart is not None:
            return None
        return accounting.outcome(promise.on, back=back, today=today)

    # One that came with the casing told again and only repeats what was revised stood never.
    told = [p for i, p in enumerate(told) if queries.stands(told[: i + 1]).uid == p.uid]
    first, last = accounting.first_and_last(
        [Told(_day(p.told_at), p.on, p.revises is not None) for p in told]
    )
    computed = next((p for p in told[first : last + 1] if _percent(p) is not None), None)
    return Counted(
        work_order=w.uid,
        customer=w.customer,
        on=told[first].on,
        plant=_plant(way),
        basis=told[first].basis,
        revised=told[last].on != told[first].on,
        first=came(told[first]),
        last=came(told[last]),
        apart=apart,
        percent=_percent(computed) if computed else None,
        forecast=came(computed),
    )


def _counts(w: WorkOrder) -> bool:
    """Whether there is a promise: it may have been taken back by whoever told the casing again."""
    return bool(w.told.get("promised")) and not (w.withdrawn or w.contested)


def _percent(promise: Promise) -> int | None:
    """At what probability it was promised; none where nothing was computed."""
    return promise.confidence if promise.basis == "forecast" else None


def _apart(w: WorkOrder, rejected: Mapping[UUID, custody.Outcome]) -> Apart | None:
    """Why its way says nothing of its promise. What the plant spoiled it owes: that is broken."""
    if w.casing.dealers:
        return Apart.DEALERS
    if w.told.get("basis", rules.OWN) != rules.OWN:
        return Apart.ANOTHER
    rejection = rejected[w.uid].rejection if w.uid in rejected else None
    spoiled = rejection is not None and rejection.told.get("cause") == "plant"
    return Apart.REJECTED if w.reason and not spoiled else None


def _fetched_at(w: WorkOrder) -> set[str]:
    """The places where it waits, finished, for its owner; none where it is brought."""
    if w.told.get("back_to") != rules.STORE or w.progress not in _DONE:
        return set()
    return {str(w.site), str(w.told.get("store") or w.site)}


def _seen(way: Iterable[homeward.Step]) -> Iterator[Seen]:
    for step in way:
        yield Seen(step.kind, step.holder.partition(":")[2], _day(step.at))


def _day(at: datetime) -> date:
    return clock.local(at, ZoneInfo(settings.DEALER_TIME_ZONE)).date()


def _plant(way: Sequence[homeward.Step]) -> UUID | None:
    at = [f.holder.partition(":")[2] for f in way if f.holder.startswith("plant:")]
    return UUID(at[-1]) if at else None
