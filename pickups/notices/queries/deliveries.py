"""What a delivery's receipt says: the visit, what was handed back in it, and who signed."""

from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.casings import queries as casings
from pickups.casings import reasons, words
from pickups.casings.models import WorkOrder
from pickups.casings.words import Sayer
from pickups.custody import queries as custody
from pickups.custody.queries import Delivery, Fact
from pickups.customers import queries as customers
from pickups.kernel import clock
from pickups.kernel.languages import day_and_time, spoken
from pickups.notices.queries import receipts
from pickups.notices.words.delivery import Delivered, HandedLine
from pickups.notices.words.delivery import sheet as sheet_in_words
from pickups.notices.words.sheet import Sheet
from pickups.people import queries as people
from pickups.questions import queries as questions
from pickups.questions.rules import Kind as Question

Handed = list[tuple[Fact, "WorkOrder | None"]]
"""What was handed back, each with its work order, if anything is known of it."""


def handed(delivery: Delivery) -> Handed | None:
    """What its receipt lists: of this customer alone. None while it waits: a label in it is
    contested, or its list is not what was handed back."""
    facts = custody.handed_back(delivery.uid)
    orders = casings.work_orders(f.work_order for f in facts if f.work_order)
    doubted = Question.DELIVERY_DIFFERS in questions.open_about(f"delivery:{delivery.uid}")
    if doubted or any(w.contested for w in casings.under([f.label for f in facts])):
        return None
    told = [(f, orders.get(f.work_order) if f.work_order else None) for f in facts]
    return [(f, w) for f, w in told if w is None or w.customer == delivery.customer]


def sheet(delivery: Delivery, language: str) -> Sheet | None:
    """The receipt as a page or on paper; None while it waits, or where it would say nothing."""
    if not (lines := handed(delivery)):
        return None
    said = receipt(delivery, lines, name="", language=language, link="")
    return sheet_in_words(said, spoken(language)) if said else None


def receipt(
    delivery: Delivery, lines: Handed, *, name: str, language: str, link: str
) -> Delivered | None:
    """The whole receipt; None where the yard is nobody's any more. name: whom it is written to."""
    yard = customers.yard(delivery.yard)
    if yard is None:
        return None
    language = spoken(language)
    sites = {s.uid: s.name for s in people.sites()}
    signed = custody.signed([delivery.uid]).get(delivery.uid, custody.Signed())
    local = clock.local(delivery.finished_at, ZoneInfo(settings.DEALER_TIME_ZONE))
    unsigned = Sayer(language, settings.DEALER_CURRENCY).unsigned(
        nobody_there=False, refused=signed.refused, unsigned=signed.unsigned
    )
    return Delivered(
        name=name,
        customer=yard.customer.name,
        yard=yard.name,
        store=sites.get(delivery.store, settings.DEALER_NAME) if delivery.store else "",
        finished_on=day_and_time(language, local),
        lines=[_line(fact, order, language) for fact, order in lines],
        signer=signed.name,
        signed=signed.drawn or bool(signed.name),
        unsigned=unsigned,
        read_in=signed.read_in,
        nobody_there=delivery.nobody_there,
        corrected=(),
        photos=len(custody.photos_of(delivery.uid)),
        note=delivery.note if delivery.nobody_there else "",
        dealer=settings.DEALER_NAME,
        phone=receipts.phone(delivery),
        link=link,
    )


def _line(fact: Fact, order: WorkOrder | None, language: str) -> HandedLine:
    if order is None:
        return HandedLine(fact.label, ())
    told = order.told
    marks = words.marks(told) if told.get("line") else told.get("size", "")
    retreaded = told.get("work") == "retread" and not order.reason
    return HandedLine(
        label=order.label,
        marks=[part for part in (marks, told.get("tin", "")) if part],
        design=told.get("tread_design", "") if retreaded else "",
        unit=told.get("unit", ""),
        purchase_order=told.get("purchase_order", ""),
        rejected=reasons.words(order.reason, language) if order.reason else "",
    )
