"""What the journal sets off here. Each may run twice; what a person is told is told once."""

from functools import partial
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.custody import queries as custody
from pickups.custody.queries import Pickup
from pickups.customers import queries as customers
from pickups.journal.models import Entry
from pickups.notices import rules, services
from pickups.notices.models import Notice
from pickups.notices.services import Letter, NotSent


def receipt(entry: Entry) -> None:
    """A pickup is over, or a label in it was settled: send its receipt, unless one is contested.

    While a label in the pickup is contested nothing leaves; `pickup.cleared` comes back here.
    """
    uid = UUID(entry.subject.removeprefix("pickup:"))
    pickup = custody.pickup(uid)
    if pickup is None or pickup.customer is None:
        return
    orders = {w.uid: w for w in casings.of_pickup(uid)}
    lines = [orders[c] for c in map(UUID, pickup.casings) if c in orders]
    if any(order.contested for order in orders.values()):
        return
    failed: list[NotSent] = []
    for contact in customers.receipt_contacts(pickup.customer):
        try:
            services.tell(
                kind=Notice.Kind.RECEIPT,
                cause=f"pickup:{uid}",
                contact=contact.uid,
                letter=partial(_letter, contact.uid, pickup, lines),
            )
        except NotSent as e:  # one bad address keeps nobody else waiting
            failed.append(e)
    if failed:
        raise failed[0]


def _letter(contact_uid: UUID, pickup: Pickup, lines: list[WorkOrder]) -> Letter | None:
    contact = customers.contact(contact_uid)
    yard = customers.yard(pickup.yard)
    if contact is None or yard is None:
        return None
    local = pickup.finished_at.astimezone(ZoneInfo(settings.DEALER_TIME_ZONE))
    said = rules.Receipt(
        name=contact.name,
        customer=yard.customer.name,
        yard=yard.name,
        finished_on=f"{local:%Y-%m-%d %H:%M}",
        lines=[_line(w) for w in lines if not w.withdrawn],
        customer_count=pickup.customer_count,
    )
    subject, text = rules.receipt(said, contact.language)
    return contact.email, subject, text


def _line(w: WorkOrder) -> rules.ReceiptLine:
    told = w.told
    return rules.ReceiptLine(
        w.label, told.get("size", ""), told.get("tin", ""), told.get("tread_32nds", [])
    )
