"""What is sent when promised days have changed: one mail a contact for all of an entry's casings.

A reaction to the journal; may run twice. While a label is contested nothing of it leaves. What was
told by nobody leaves at no hour of the night, also where its mail had to be tried again.
"""

from datetime import datetime
from functools import partial
from uuid import UUID

from django.conf import settings
from django.db import IntegrityError, transaction

from pickups.customers import queries as customers
from pickups.customers import services as customers_services
from pickups.customers.models import Contact
from pickups.journal.models import Entry
from pickups.kernel import clock
from pickups.notices import services
from pickups.notices.models import DayTold, Notice
from pickups.notices.queries import new_days
from pickups.notices.queries.new_days import Due
from pickups.notices.services import Letter, NothingLeft, Waits
from pickups.notices.words.new_day import new_days as in_words
from pickups.promises.doors import watching


def new_day(entry: Entry) -> None:
    """New days were promised: who wants to hear of their casings is told, each once."""
    orders = [UUID(uid) for uid in entry.body["work_orders"]]
    cause = f"entry:{entry.id}"
    begun = services.begun(kind=Notice.Kind.NEW_DAY, cause=cause)
    contacts = customers.progress_contacts(new_days.owners(orders))
    services.each(
        (c.uid for c in contacts if c.uid in begun or new_days.due(c, orders)),
        lambda contact: services.tell(
            kind=Notice.Kind.NEW_DAY,
            cause=cause,
            contact=contact,
            letter=partial(_letter, contact, orders),
        ),
    )


def _letter(contact_uid: UUID, orders: list[UUID], notice: Notice) -> Letter | None:
    """What has to be said at the moment of sending; the days are the notice's until it is sent."""
    at = clock.now()
    with transaction.atomic():
        contact = customers.contact(contact_uid)
        if contact is None:
            return None
        found = new_days.due(contact, orders)
        if found and all(one.promise.by is None for one in found) and not watching.may_tell(at):
            raise Waits("nobody is written to by itself at this hour")
        about = _reserve(notice, found, at)
    said = new_days.mail(contact, found, link=_link(contact, at), at=at)
    return Letter(contact.email, *in_words(said, contact.language), about=about)


def _reserve(notice: Notice, found: list[Due], at: datetime) -> str:
    """Make these days the notice's; those of one that did not go out, and that nobody is sending
    just now, are void. Returns what the Message-ID is made from. Raises NothingLeft where there is
    none, Waits where a mail about one of these casings is on its way."""
    pending = DayTold.objects.filter(contact=notice.contact, notice__sent_at=None)
    pending.filter(notice=notice).delete()
    pending = pending.filter(work_order__in=[one.order.uid for one in found])
    if pending.filter(notice__claimed_until__gte=at).exists():
        raise Waits("another mail about one of these casings is on its way")
    pending.delete()
    if not found:
        raise NothingLeft
    told = [
        DayTold(
            notice=notice,
            contact=notice.contact,
            work_order=one.order.uid,
            promise=one.promise.uid,
            on=one.promise.on,
        )
        for one in found
    ]
    try:
        with transaction.atomic():
            DayTold.objects.bulk_create(told)
    except IntegrityError:
        raise Waits("another mail about one of these casings was just made") from None
    return ";".join(sorted(str(one.promise) for one in told))


def _link(contact: Contact, at: datetime) -> str:
    path = customers_services.new_link(contact=contact.uid, at=at)
    return f"{settings.PUBLIC_BASE_URL}{path}"
