"""Keep what was promised at the tailgate or the counter, and ask where the day is too early.

A fact that promises is one promise, for ever. A correction that promises is another beside it,
and only the last by (stamp, uid) is asked about: not again where it repeats the one before, and
not where a correction took it back.
Safe to repeat, and the same for every order of arrival; a correction waits for its pick_up, whose
day is the day of hand-over. Lock: work orders by id, before promises are read.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from datetime import date, datetime
from functools import cache
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings
from django.db import transaction

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.casings.words import WORKED_ON
from pickups.custody import queries as custody
from pickups.custody.queries import Fact
from pickups.customers import queries as customers
from pickups.kernel import clock
from pickups.promises import finishing, offering, queries, rules
from pickups.promises.models import Promise
from pickups.promises.offering import Asked
from pickups.questions import queries as asked
from pickups.questions import services as questions
from pickups.questions.rules import Kind as Question


def keep(*, work_orders: Collection[UUID], at: datetime) -> None:
    """Keep every promise told for these work orders. Opens a transaction."""
    expect = _Expecting(work_orders, at)
    told = custody.pick_ups(work_orders)
    made = {p.uid: p for uid, facts in told.items() for p in _made(uid, facts, expect, at)}
    if not made:
        return
    with transaction.atomic():
        orders = casings.locked(labels=[], uids={p.work_order for p in made.values()})
        uids = [w.uid for w in orders]
        kept = {p.uid for each in queries.told(uids).values() for p in each}
        new = [p for p in made.values() if p.uid not in kept]
        Promise.objects.bulk_create(new)
        _ask(orders, told, {p.uid for p in new}, at)


def _made(
    work_order: UUID, picked: Sequence[Fact], expect: "_Expecting", at: datetime
) -> Iterator[Promise]:
    """The promises that the pick_ups of a work order tell; none while the first is missing."""
    original = next((f for f in picked if f.corrects is None), None)
    if original is None:
        return
    for fact in picked:
        if promised := fact.told.get("promised"):
            offered, basis = promised.get("offered"), promised["basis"]
            sure = promised.get("confidence") if basis == Promise.Basis.FORECAST else None
            day, by = expect.of(fact, original, work_order)
            yield Promise(
                uid=fact.uid,
                work_order=work_order,
                stamp=fact.stamp,
                on=date.fromisoformat(promised["on"]),
                basis=basis,
                back_to=fact.told["back_to"],
                offered=date.fromisoformat(offered) if offered else None,
                table=promised.get("table"),
                confidence=sure,
                forecast_at=_instant(promised.get("forecast_at")),
                ahead=promised.get("ahead") or [],
                expected=day,
                expected_by=by,
                by=fact.by,
                told_at=fact.happened_at,
                recorded_at=at,
            )


class _Expecting:
    """What forecasts, standard times and trucks say of a pick_up; what is published is read once
    a store."""

    def __init__(self, work_orders: Collection[UUID], at: datetime) -> None:
        self._zone = ZoneInfo(settings.DEALER_TIME_ZONE)
        self._published = cache(queries.published)
        self._reached = cache(
            lambda site: list(queries.reached(self._published(site).plants, at=at).values())
        )
        self._home = cache(lambda yard: customers.owners([yard]).get(yard))
        self._percent = cache(lambda uid: customers.percents([uid]).get(uid, finishing.USUAL))
        self._inside = queries.finishing(work_orders, at=at)

    def of(self, fact: Fact, original: Fact, work_order: UUID) -> tuple[date | None, str]:
        """The day for a casing told again by `fact`, as it was handed over by the original, and
        on which basis.

        None where it need not be this very casing that comes back (in exchange, from the pool,
        bought), which may be there any day; and of what is not worked on (to sell, a claim, a
        loose wheel).
        """
        told, yard = fact.told, UUID(fact.told["yard"])
        store, home = original.told.get("store"), self._home(yard)
        site = UUID(store) if store else home and home[1]
        line = told.get("line", original.told.get("line", ""))
        if site is None or told["basis"] != rules.OWN or line not in WORKED_ON:
            return None, ""
        work, back_to = told["work"], told["back_to"]
        percent = self._percent(home[0]) if home else finishing.USUAL
        handed_over = clock.local(original.happened_at, self._zone).date()
        now = self._published(site)
        if inside := self._inside.get(work_order):
            done = inside.sample.by(percent, self._zone)
            day = done and now.comes_on(
                yard=yard, back_to=back_to, after=done, at_store=False, plant=inside.plant
            )
        else:
            class_ = offering.size_class(told.get("size") or "")
            count = 2 if told.get("dual_with") else 1
            answer = offering.answered(
                handed_over,
                Asked(work, class_, count, percent),
                plants=self._reached(site),
                runs=None if back_to == rules.STORE else now.to_yard.get(str(yard), []),
                zone=self._zone,
            )
            if answer is offering.NO_DAY:
                return None, ""
            day = answer
        if day is not None:
            return day, Promise.Basis.FORECAST
        day = now.expected(handed_over, work=work, back_to=back_to, yard=yard)
        return day, Promise.Basis.STANDARD_TIME if day else ""


def _instant(told: str | None) -> datetime | None:
    return datetime.fromisoformat(told) if told else None


def _ask(
    orders: Sequence[WorkOrder],
    picked: Mapping[UUID, Sequence[Fact]],
    fresh: Collection[UUID],
    at: datetime,
) -> None:
    """Questions about the promises that count; picked: the pick_ups of each work order; fresh:
    the promises kept just now."""
    asks: list[questions.Ask] = []
    told = queries.told(w.uid for w in orders)
    stand = {w.uid: _standing(w, told[w.uid], picked[w.uid]) for w in orders}
    past = {
        uid: {_subject(p) for p in told[uid] if p not in standing}
        for uid, standing in stand.items()
    }
    over = set().union(*past.values())
    waiting = asked.subjects_in_question(over)
    for uid, standing in stand.items():
        # One that stood before was asked about then, and may have been answered; unless it stood
        # as a part of one that is over, and what was asked of that still waits.
        new = all(p.uid in fresh for p in standing) or past[uid] & waiting
        if standing and standing[-1].too_early and new:
            days = {"promised": standing[-1].on, "expected": standing[-1].expected}
            facts = {name: str(day) for name, day in days.items()}
            if standing[-1].expected_by == Promise.Basis.FORECAST:
                facts["by"] = standing[-1].expected_by
            asks.append(questions.Ask(Question.PROMISE_TOO_EARLY, _subject(standing[0]), facts))
    kinds = [Question.PROMISE_TOO_EARLY]
    questions.settle(kinds=kinds, subjects=over, how="told anew or withdrawn", at=at)
    questions.ask(asks, at=at)


def _standing(
    order: WorkOrder, promises: Sequence[Promise], picked: Sequence[Fact]
) -> Sequence[Promise]:
    """The promise that counts, as often as it was told in a row; nothing where it was taken back:
    by a fact whose app knows of promises and tells none."""
    if order.withdrawn or not order.told.get("promised"):
        return []
    silent = [(f.stamp, f.uid) for f in picked if "work" in f.told and not f.told.get("promised")]
    last = [p for p in promises if not silent or (p.stamp, p.uid) > max(silent)]
    last = last[: last.index(queries.stands(last)) + 1] if last else []
    return last[rules.told_since([(p.on, p.back_to, p.too_early) for p in last]) :] if last else []


def _subject(promise: Promise) -> str:
    return f"fact:{promise.uid}"
