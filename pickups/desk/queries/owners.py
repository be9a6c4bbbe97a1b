"""Whose a casing is, as the office reads it: what stands, and what made it so."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from django.conf import settings

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.custody import queries as custody
from pickups.custody.queries import OwnerChange
from pickups.customers import queries as customers
from pickups.customers.models import Contact
from pickups.desk import words
from pickups.desk.queries.loose import today_of
from pickups.desk.queries.names import Names
from pickups.kernel.languages import amount, day_in_words


@dataclass(frozen=True)
class Event:
    """One change as a sentence. undoable: its id, where it stands and can be taken back."""

    when: str
    said: str
    more: Sequence[str]
    undone: str
    undoable: UUID | None


@dataclass(frozen=True)
class Owner:
    """The whole page of one casing. contacts: who may accept a sale."""

    work_order: UUID
    label: str
    grouped: str
    whose: str
    events: Sequence[Event]
    customer: str
    contacts: Sequence[Contact]
    dealers: bool
    exchangeable: bool
    sale: Mapping[str, str]


def owner(work_order: UUID, language: str) -> Owner | None:
    """Whose a casing is, read by one of its work orders; None where there is no such."""
    order = casings.work_order(work_order)
    if order is None:
        return None
    changes = custody.owner_changes([order.casing_id])
    yards = {UUID(o) for c in changes for o in c.told["owners"].values() if o != "dealer"}
    names = Names(language, persons=[c.by for c in changes], yards={order.yard, *yards})
    customer = _customer(order, names)
    sale = order.told.get("sale") or {}
    cents = sale.get("cents")
    return Owner(
        work_order=order.uid,
        label=order.label,
        grouped=words.grouped(order.label),
        whose=_whose(order, customer, names),
        events=_events(order, customer, changes, names),
        customer=customer,
        contacts=customers.sellers_of(order.customer) if order.customer else [],
        dealers=bool(order.casing.dealers),
        exchangeable=order.told.get("basis") == "exchange",
        sale={
            "grade": str(sale.get("grade", "")),
            "amount": "" if cents is None else f"{cents // 100}.{cents % 100:02}",
            "pays": str(sale.get("pays", "price")),
        },
    )


def _customer(order: WorkOrder, names: Names) -> str:
    known = customers.names([order.customer]) if order.customer else {}
    return next(iter(known.values()), names.say("no_customer"))


def _whose(order: WorkOrder, customer: str, names: Names) -> str:
    since = order.casing.owned_since
    day = _day(since, names.language) if since else ""
    key = f"owner_dealers_{order.casing.dealers}" if order.casing.dealers else "owner_customers"
    key += "_since" if since and not order.casing.dealers else ""
    return names.say(key, customer=customer, dealer=settings.DEALER_NAME, day=day)


def _day(at: datetime, language: str) -> str:
    return day_in_words(language, today_of(at))


def _events(
    order: WorkOrder, customer: str, changes: Sequence[OwnerChange], names: Names
) -> list[Event]:
    undoings = {c.undoes: c for c in changes if c.undoes}
    accepted = custody.accepted_by(c.uid for c in changes)
    made = []
    for c in (c for c in changes if c.undoes is None):
        more = [names.say("owner_why", reason=c.told["reason"])] if c.told.get("reason") else []
        if c.kind == "sold":
            key = "owner_accepted" if c.uid in accepted else "owner_accepted_erased"
            more.append(names.say(key, name=accepted.get(c.uid, "")))
        undoing = undoings.get(c.uid)
        who = {"who": names.person(undoing.by), **undoing.told} if undoing else {}
        made.append(
            Event(
                when=names.when(c.happened_at),
                said=_said(c, order, customer, names),
                more=more,
                undone=names.say("owner_undone", **who) if undoing else "",
                undoable=None if undoing else c.uid,
            )
        )
    return made


def _said(c: OwnerChange, order: WorkOrder, customer: str, names: Names) -> str:
    owner = c.told["owners"][str(order.casing_id)]
    told: dict[str, Any] = {"grade": c.told.get("grade", "")}
    key = f"owner_{c.kind}"
    if c.kind == "sold":
        key += "_credit" if c.told["pays"] == "credit" else ""
        told["amount"] = amount(c.told["cents"], settings.DEALER_CURRENCY)
    if c.kind == "settled":
        told["yard"] = names.place(UUID(owner))
    who = names.person(c.by)
    return names.say(key, dealer=settings.DEALER_NAME, customer=customer, who=who, **told)
