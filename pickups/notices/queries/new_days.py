"""Promised days that have changed: which a contact has not heard of, and what is said of each.

What stands is compared with what this contact was told last, so that a day that moved and moved
back tells nobody anything, whichever entry is dealt with first.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID

from django.conf import settings

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.customers import queries as customers
from pickups.customers.models import Contact
from pickups.kernel.languages import day_in_words, spoken
from pickups.notices import rules
from pickups.notices.models import DayTold
from pickups.notices.queries import days
from pickups.notices.words.new_day import Moved, NewDays
from pickups.people import queries as people
from pickups.promises import queries as promises
from pickups.promises.doors import risks
from pickups.promises.models import Promise


@dataclass(frozen=True)
class Due:
    """A casing whose day has changed for a contact: the promise that stands, the day told last."""

    order: WorkOrder
    promise: Promise
    before: date


def owners(work_orders: Iterable[UUID]) -> set[UUID]:
    """Whose these casings are."""
    return {w.customer for w in casings.work_orders(work_orders).values() if w.customer}


def due(contact: Contact, work_orders: Iterable[UUID]) -> list[Due]:
    """Of these casings those that are this contact's customer's, whose new day it was not told, in
    the order in which they were picked up; none that is back, rejected, in question, or lies where
    it is fetched."""
    orders = [w for w in casings.work_orders(work_orders).values() if risks.to_come(w)]
    mine = [w for w in orders if w.customer == contact.customer_id]
    told = promises.told(w.uid for w in mine)
    sent = DayTold.objects.filter(contact=contact.uid, work_order__in=list(told))
    rows = sent.exclude(notice__sent_at=None).order_by("id")
    last = dict(rows.values_list("work_order", "on"))
    found = []
    for w in sorted(mine, key=lambda w: (w.picked_up_at, w.uid)):
        if w.uid not in told:
            continue
        stands = promises.stands(told[w.uid])
        with_casing = [p.on for p in told[w.uid] if p.revises is None]
        before = last.get(w.uid, with_casing[-1])
        if stands.revises is not None and stands.on != before:
            found.append(Due(w, stands, before))
    return found


def mail(contact: Contact, found: Sequence[Due], *, link: str, at: datetime) -> NewDays:
    """The whole of it, in the contact's language; `at` is now."""
    language, today = spoken(contact.language), days.today(at)
    yards = {uid: customers.yard(uid) for uid in {one.order.yard for one in found}}
    sites = {s.uid: s for s in people.sites()}
    said = []
    for one in found:
        w, promise, yard = one.order, one.promise, yards[one.order.yard]
        fetched = promise.back_to == "store"
        store = sites.get(rules.fetched_at(w.told, site=w.site)) if fetched else None
        said.append(
            Moved(
                label=w.label,
                size=str(w.told.get("size", "")),
                tin=str(w.told.get("tin", "")),
                yard=yard.name if yard else "",
                store=store.name if store else "",
                before=day_in_words(language, one.before),
                now=day_in_words(language, promise.on),
                sooner=promise.on < one.before,
                over=one.before < today,
                basis=promise.basis,
                percent=promise.confidence,
            )
        )
    home = contact.customer.home_site
    return NewDays(
        name=contact.name,
        customer=contact.customer.name,
        casings=said,
        link=link,
        dealer=settings.DEALER_NAME,
        phone=home.phone or settings.DEALER_PHONE,
    )
