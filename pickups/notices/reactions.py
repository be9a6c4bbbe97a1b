"""What the journal sets off here. Each may run twice; what a person is told is told once."""

from collections.abc import Callable, Iterable
from functools import partial
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings
from django.db import transaction

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.custody import queries as custody
from pickups.custody.queries import Pickup
from pickups.customers import queries as customers
from pickups.customers import services as customers_services
from pickups.customers.models import Contact
from pickups.journal.models import Entry
from pickups.kernel import clock
from pickups.notices import queries, services
from pickups.notices.models import Notice
from pickups.notices.services import Letter, NotSent
from pickups.notices.words.progress import Progress
from pickups.notices.words.progress import progress as progress_in_words
from pickups.notices.words.receipt import Receipt, ReceiptLine
from pickups.notices.words.receipt import receipt as receipt_in_words
from pickups.questions import queries as questions
from pickups.questions.rules import Kind as Question


def receipt(entry: Entry) -> None:
    """A pickup is over, or what was in doubt about it is settled: send its receipt.

    While a label in it is contested, or its list is not what was picked up, nothing leaves;
    `pickup.cleared` comes back here. A receipt lists what stands, of this customer alone.
    """
    uid = UUID(entry.subject.removeprefix("pickup:"))
    pickup = custody.pickup(uid)
    if pickup is None or pickup.customer is None:
        return
    orders = casings.of_pickup(uid)
    lines = [w for w in orders if w.customer == pickup.customer and not w.withdrawn]
    doubted = Question.PICKUP_DIFFERS in questions.open_about(entry.subject)
    if doubted or not lines or any(order.contested for order in orders):
        return
    _each(
        customers.receipt_contacts(pickup.customer),
        lambda contact: services.tell(
            kind=Notice.Kind.RECEIPT,
            cause=f"pickup:{uid}",
            contact=contact.uid,
            letter=partial(_receipt, contact.uid, pickup, lines),
        ),
    )


def progress(entry: Entry) -> None:
    """A plant finished, rejected or released casings, or what it told concerns another casing or
    customer now: say what stands, to each contact who was not told so last; one mail for all of
    an entry's. While a label is contested or a casing on hold nothing of it leaves; the entry
    that ends that comes back here.
    """
    labels = {str(fact["label"]) for fact in entry.body["facts"]}
    with transaction.atomic():
        found = queries.standing(labels)
    cause = f"entry:{entry.id}"
    begun = services.begun(kind=Notice.Kind.PROGRESS, cause=cause)
    _each(
        (c for c in queries.concerned(found) if c.uid in begun or queries.due(c, found)),
        lambda contact: services.tell(
            kind=Notice.Kind.PROGRESS,
            cause=cause,
            contact=contact.uid,
            letter=partial(_progress, contact.uid, labels),
        ),
    )


def _each(contacts: Iterable[Contact], tell: Callable[[Contact], None]) -> None:
    """Tell every one of them; one bad address keeps nobody else waiting."""
    failed: list[NotSent] = []
    for contact in contacts:
        try:
            tell(contact)
        except NotSent as e:
            failed.append(e)
    if failed:
        raise failed[0]


def _receipt(
    contact_uid: UUID, pickup: Pickup, lines: list[WorkOrder], notice: Notice
) -> Letter | None:
    contact = customers.contact(contact_uid)
    yard = customers.yard(pickup.yard)
    if contact is None or yard is None:
        return None
    local = pickup.finished_at.astimezone(ZoneInfo(settings.DEALER_TIME_ZONE))
    said = Receipt(
        name=contact.name,
        customer=yard.customer.name,
        yard=yard.name,
        finished_on=f"{local:%Y-%m-%d %H:%M}",
        lines=[_line(w) for w in lines if not w.withdrawn],
        customer_count=pickup.customer_count,
        link=_link(contact),
    )
    return Letter(contact.email, *receipt_in_words(said, contact.language))


def _line(w: WorkOrder) -> ReceiptLine:
    told = w.told
    return ReceiptLine(
        w.label, told.get("size", ""), told.get("tin", ""), told.get("tread_32nds", [])
    )


def _progress(contact_uid: UUID, labels: set[str], notice: Notice) -> Letter | None:
    """What has to be said at the moment of sending; the lines are the notice's until it is sent."""
    with transaction.atomic():
        contact = customers.contact(contact_uid)
        if contact is None:
            return None
        found = queries.due(contact, queries.standing(labels))
        about = services.reserve(notice, found)
    said = Progress(
        name=contact.name,
        customer=contact.customer.name,
        casings=queries.in_words(found, contact.language),
        link=_link(contact),
        dealer=settings.DEALER_NAME,
        phone=settings.DEALER_PHONE,
    )
    return Letter(contact.email, *progress_in_words(said, contact.language), about=about)


def _link(contact: Contact) -> str:
    path = customers_services.new_link(contact=contact.uid, at=clock.now())
    return f"{settings.PUBLIC_BASE_URL}{path}"
