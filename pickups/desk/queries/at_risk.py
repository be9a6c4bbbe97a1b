"""Promises that need somebody, in words: broken, about to be, on hold, or to be kept after all; the
nearest day first."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum
from uuid import UUID

from pickups.casings import queries as casings
from pickups.casings import reasons
from pickups.casings.models import WorkOrder
from pickups.casings.rules import Progress
from pickups.custody import queries as custody
from pickups.custody.queries import Fact
from pickups.customers import queries as customers
from pickups.desk import words
from pickups.desk.queries.loose import names_for, today_of, where
from pickups.desk.queries.names import Names
from pickups.kernel.languages import day_in_words
from pickups.notices.queries import days
from pickups.promises import queries as promises
from pickups.promises.doors import Basis, revising, risks, watching
from pickups.promises.models import Promise, Risk

SHOWN = 200
"""How many are listed; those further off come up as the nearer ones are dealt with."""


class State(StrEnum):
    """Why a promise is on the list."""

    BROKEN = "broken"
    AT_RISK = "at_risk"
    ON_HOLD = "on_hold"  # until when nobody knows
    LATE = "late"  # finished, and no truck brings it in time
    SOONER = "sooner"  # a later day was told, and the first can be kept


@dataclass(frozen=True)
class Row:
    """One of them. new: what would be told in the place of the day, empty where no day is known,
    and due the same as it is told; seen: what a tick says was looked at. said: how it stands and
    why, in sentences. address: whether somebody is written to."""

    state: State
    label: str
    grouped: str
    size: str
    owner: str
    promised: str
    said: Sequence[str]
    new: str
    due: watching.NewDay | None
    seen: str
    where: str
    call: tuple[str, str]
    address: bool


@dataclass(frozen=True)
class List:
    """All of a store's; more: how many there are besides those listed."""

    rows: Sequence[Row]
    headline: str
    more: str


def count(site: UUID, *, at: datetime) -> int:
    """How many promises of a store need somebody."""
    return len(_found(site, at))


def listed(language: str, site: UUID, *, at: datetime) -> List:
    """The promises of a store that need somebody, the nearest day first."""
    found = _found(site, at)
    here = found[:SHOWN]
    names = names_for(language, [one.order for one in here])
    made = _Rows(names, [one.order for one in here], today_of(at))
    broken = sum(one.state is State.BROKEN for one in found)
    key = "risk_headline" if found else "risk_none"
    return List(
        [made.row(one) for one in here],
        words.say(language, key, n=len(found), broken=broken),
        words.say(language, "risk_more", n=len(found) - SHOWN) if len(found) > SHOWN else "",
    )


@dataclass(frozen=True)
class _Found:
    order: WorkOrder
    state: State
    promise: Promise
    first: date
    risk: Risk | None
    new: watching.NewDay | None
    comes: date | None


def _found(site: UUID, at: datetime) -> list[_Found]:
    orders = [w for w in casings.promised(site) if risks.to_come(w)]
    told, today = promises.told(w.uid for w in orders), today_of(at)
    orders = [w for w in orders if told.get(w.uid)]
    stands = {w.uid: promises.stands(told[w.uid]) for w in orders}
    done = [w for w in orders if w.progress in _DONE and not w.on_hold]
    day = {uid: days.Promised(p.on, p.basis) for uid, p in stands.items()}
    coming = days.coming(done, on=today, promised=day)
    held, due = risks.of(stands, at=at), watching.due(stands, at=at)
    found = []
    for w in orders:
        promise, comes = stands[w.uid], coming.get(w.uid)
        risk = held.get(w.uid) if risks.is_open(w) else None
        risk = risk if risk and risk.on == promise.on else None
        new = due.get(w.uid) if risk else _by_truck(promise, comes)
        state = (
            _state(promise.on, today=today, comes=comes, risk=risk, new=new)
            if promise.on < today or not w.on_hold
            else State.ON_HOLD
        )
        if state is not None:
            first = next(p for p in reversed(told[w.uid]) if p.revises is None)
            found.append(_Found(w, state, promise, first.on, risk, new, comes))
    return sorted(found, key=lambda one: (one.promise.on, one.order.picked_up_at, one.order.uid))


_DONE = (Progress.FINISHED, Progress.SHIPPED)


def _by_truck(promise: Promise, comes: date | None) -> watching.NewDay | None:
    """Of one that is finished the day of its truck, where that is too late."""
    if comes is None or comes <= promise.on:
        return None
    return watching.NewDay(promise.uid, comes, Basis.STANDARD_TIME)


def _state(
    on: date, *, today: date, comes: date | None, risk: Risk | None, new: watching.NewDay | None
) -> State | None:
    if on < today:
        return State.BROKEN
    if comes is not None and comes > on:
        return State.LATE
    if risk is None:
        return None
    if revising.at_risk(risk.probability, bound=risks.bound()):
        return State.AT_RISK
    return State.SOONER if new is not None else None


class _Rows:
    """Makes rows: what they speak of is read once for all of them."""

    def __init__(self, names: Names, orders: Sequence[WorkOrder], today: date) -> None:
        self.names, self.today = names, today
        self._yards = customers.yard_bodies([w.yard for w in orders])
        owners = {w.customer for w in orders if w.customer}
        self._written = {c.customer_id for c in customers.progress_contacts(owners)}
        told = custody.holdings(w.uid for w in orders if risks.is_open(w))
        self._back: Mapping[UUID, Fact] = {
            uid: back for uid, facts in told.items() if (back := _sent_back(facts))
        }

    def row(self, one: _Found) -> Row:
        """One promise."""
        w, names = one.order, self.names
        yard, new = self._yards.get(w.yard, {}), one.new
        at = where(w.holder, names)
        station = reasons.station(w.station, names.language) if w.station else ""
        return Row(
            state=one.state,
            label=w.label,
            grouped=words.grouped(w.label),
            size=str(w.told.get("size") or ""),
            owner=names.place(w.yard),
            promised=self._day(one.promise.on),
            said=self._said(one),
            new=self._day(new.on) if new else "",
            due=new,
            seen=f"{w.uid} {one.promise.uid} {new.on if new else ''}".strip(),
            where=f"{at}, {station}" if station and w.holder.startswith("plant:") else at,
            call=(yard.get("contact_name", ""), yard.get("contact_phone", "")),
            address=w.customer in self._written,
        )

    def _said(self, one: _Found) -> list[str]:
        names, risk = self.names, one.risk
        said = [names.say(f"risk_{one.state}")]
        if one.state is State.AT_RISK and risk is not None:
            if risk.probability is not None:
                said = [names.say("risk_likely", n=round(100 * risk.probability))]
            elif risk.forecast_at is not None:
                said.append(names.say("risk_unsaid"))
        if one.comes is not None:
            said.append(names.say("risk_truck", day=self._day(one.comes)))
        if one.first != one.promise.on:
            said.append(names.say("risk_first", day=self._day(one.first)))
        if back := self._back.get(one.order.uid):
            said.append(names.say("risk_sent_back", when=names.when(back.happened_at)))
        if one.order.on_hold and one.state is not State.ON_HOLD:
            said.append(names.say("loose_on_hold"))
        return said

    def _day(self, on: date) -> str:
        return day_in_words(self.names.language, on)


def _sent_back(facts: Iterable[Fact]) -> Fact | None:
    """The last word of a plant that sent a casing back to be worked again."""
    back = [f for f in facts if f.told.get("again_at")]
    return back[-1] if back else None
