"""What the journal sets off here. Each may run twice; what a person is told is told once."""

from datetime import datetime
from functools import partial
from uuid import UUID

from django.conf import settings
from django.db import transaction

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.custody import disputes as cases
from pickups.custody import queries as custody
from pickups.custody.disputes import Case
from pickups.custody.queries import Delivery, Pickup
from pickups.customers import queries as customers
from pickups.customers import services as customers_services
from pickups.customers.models import Contact
from pickups.journal.models import Entry
from pickups.kernel import clock
from pickups.notices import services
from pickups.notices.models import Notice
from pickups.notices.queries import (
    corrections,
    deliveries,
    left,
    receipts,
    saying,
    standing,
    stop_use,
)
from pickups.notices.queries import disputes as disputed
from pickups.notices.queries import unclaimed as waiting
from pickups.notices.services import Letter, NothingLeft, Waits
from pickups.notices.services import each as _each
from pickups.notices.words.delivery import delivery as delivery_in_words
from pickups.notices.words.dispute import disputed as dispute_in_words
from pickups.notices.words.progress import Progress
from pickups.notices.words.progress import progress as progress_in_words
from pickups.notices.words.receipt import receipt as receipt_in_words
from pickups.notices.words.stop_use import stop_use as stop_use_in_words
from pickups.notices.words.trailer import shut_trailer as trailer_in_words
from pickups.notices.words.unclaimed import unclaimed as unclaimed_in_words
from pickups.notices.words.warning import warning as warning_in_words


def receipt(entry: Entry) -> None:
    """A pickup is over, or what was in doubt about it is settled: send its receipt.

    While a label in it is contested, or its list is not what was picked up, nothing leaves;
    `pickup.cleared` comes back here. A receipt lists what stands, of this customer alone. Of a
    trailer taken closed there is no list before `pickup.emptied`: until then that is what is said.
    """
    uid = UUID(entry.subject.removeprefix("pickup:"))
    pickup = custody.pickup(uid)
    if pickup is None or pickup.customer is None:
        return
    shut = pickup.trailer is not None and pickup.emptied is None
    if pickup.trailer is not None:
        _about_shut(pickup, shut)
    if shut:
        return
    lines = receipts.taken(pickup)
    if lines is None or not (lines or receipts.visit_lines(pickup) or pickup.emptied):
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


def receipt_again(entry: Entry) -> None:
    """A mix-up was settled, or was found to be none: who had the receipt of a visit in which one of
    the two was taken is sent it as it stands now, saying what was corrected after signing."""
    orders = casings.work_orders(UUID(fact["work_order"]) for fact in entry.body["facts"])
    for uid in sorted({w.pickup for w in orders.values() if corrections.changed(w.casing_id)}):
        pickup = custody.pickup(uid)
        lines = receipts.taken(pickup) if pickup is not None else None
        if pickup is None or pickup.customer is None or lines is None:
            continue
        cause = f"pickup:{uid}"
        had = services.had(kind=Notice.Kind.RECEIPT, cause=cause, before=entry.recorded_at)
        _each(
            [c for c in customers.receipt_contacts(pickup.customer) if c.uid in had],
            lambda contact, pickup=pickup, lines=lines: services.tell(  # type: ignore[misc]
                kind=Notice.Kind.RECEIPT,
                cause=f"pickup:{pickup.uid}:{entry.id}",
                contact=contact.uid,
                letter=partial(_receipt, contact.uid, pickup, lines, again=True),
            ),
        )


def delivery(entry: Entry) -> None:
    """Casings were handed back, or what was in doubt about it is settled: send the receipt of it.
    What stands is listed, of this customer alone; while it is in doubt nothing leaves."""
    uid = UUID(entry.subject.removeprefix("delivery:"))
    over = custody.deliveries([uid]).get(uid)
    lines = deliveries.handed(over) if over is not None and over.customer else None
    if over is None or over.customer is None or not lines:
        return
    _each(
        customers.receipt_contacts(over.customer),
        lambda contact: services.tell(
            kind=Notice.Kind.DELIVERY,
            cause=f"delivery:{uid}",
            contact=contact.uid,
            letter=partial(_delivery, contact.uid, over, lines),
        ),
    )


def _about_shut(pickup: Pickup, shut: bool) -> None:
    """What is said of a trailer that leaves closed; once it was emptied the list says it all, and
    what has not gone out of the first word never does."""
    cause = f"trailer:{pickup.uid}"
    assert pickup.customer is not None
    contacts = {c.uid for c in customers.receipt_contacts(pickup.customer)} if shut else set()
    _each(
        sorted(contacts | services.begun(kind=Notice.Kind.RECEIPT, cause=cause)),
        lambda contact: services.tell(
            kind=Notice.Kind.RECEIPT,
            cause=cause,
            contact=contact,
            letter=partial(_shut_trailer, contact, pickup, shut),
        ),
    )


def warning(entry: Entry) -> None:
    """Casings were left with their owner, or told of anew: who may be hurt by one is warned in
    writing at once, whatever label or list of that visit is in doubt; one mail for all of an
    entry's. The receipt says it again."""
    facts = {UUID(fact["fact"]) for fact in entry.body["facts"]}
    cause = f"entry:{entry.id}"
    owners = {v.customer for v in left.warned(facts) if v.customer}
    contacts = {c.uid for owner in owners for c in customers.receipt_contacts(owner)}
    _each(
        sorted(contacts | services.begun(kind=Notice.Kind.WARNING, cause=cause)),
        lambda contact: services.tell(
            kind=Notice.Kind.WARNING,
            cause=cause,
            contact=contact,
            letter=partial(_warning, contact, facts),
        ),
    )


def unclaimed(entry: Entry) -> None:
    """A counter has its customers written to about what waits for them: one mail for all of an
    entry's. What was fetched meanwhile is left out, and what they were written to about within a
    day; of a contested label nothing leaves."""
    facts = {UUID(fact["fact"]) for fact in entry.body["facts"]}
    cause = f"entry:{entry.id}"
    owners = {w.customer for w, _ in waiting.written_about(facts) if w.customer}
    contacts = {c.uid for c in waiting.contacts(owners)}
    _each(
        sorted(contacts | services.begun(kind=Notice.Kind.UNCLAIMED, cause=cause)),
        lambda contact: services.tell(
            kind=Notice.Kind.UNCLAIMED,
            cause=cause,
            contact=contact,
            letter=partial(_unclaimed, contact, facts),
        ),
    )


def dispute(entry: Entry) -> None:
    """A customer's pickup is disputed, or was and is settled: they are told, each once. What was
    settled before its opening could be told is told as settled alone. Of a pickup that has turned
    out to be another customer's nobody is told anything: the dispatcher knows whom to call."""
    case = cases.dispute(UUID(entry.subject.removeprefix("dispute:")))
    if case is None:
        return
    settled = entry.kind == "dispute.settled"
    moved = cases.moved(case)
    if moved:
        cases.ask_whose(case)
    mute = moved or (case.settled_at is not None) != settled
    cause = f"{entry.subject}:{case.outcome if settled else 'open'}"
    owner = None if mute else case.customer
    contacts = {c.uid for c in customers.receipt_contacts(owner)} if owner else set()
    _each(
        sorted(contacts | services.begun(kind=Notice.Kind.DISPUTE, cause=cause)),
        lambda contact: services.tell(
            kind=Notice.Kind.DISPUTE,
            cause=cause,
            contact=contact,
            letter=partial(_disputed, contact, case, settled, mute),
        ),
    )


def progress(entry: Entry) -> None:
    """A plant finished, rejected or released casings, one was handed on on its way home, or what
    was told concerns another casing or customer now: say what stands, to each contact who was not
    told so last; one mail for all of an entry's. While a label is contested or a casing on hold
    nothing of it leaves; the entry that ends that comes back here.
    """
    _say_what_stands(entry, {str(fact["label"]) for fact in entry.body["facts"]})


def told_again(entry: Entry) -> None:
    """Casings were picked up, and some of them told again, otherwise: where one of those comes
    back to may have changed after its owner was told that it is ready."""
    facts = entry.body["facts"]
    labels = {str(f["label"]) for f in facts if f.get("work_order", f["fact"]) != f["fact"]}
    if labels:
        _say_what_stands(entry, labels)


def stopped(entry: Entry) -> None:
    """Owners are to take casings out of service, or are told so once more: everybody there who has
    an address, whatever else they want to hear of, at any hour. What was taken back before it went
    out never does."""
    stop = UUID(entry.subject.removeprefix("stop_use:"))
    cause = stop_use.cause(stop, entry.body["step"])
    contacts = {c.uid for c in customers.written_to(UUID(owner) for owner in entry.body["to"])}
    _each(
        sorted(contacts | services.begun(kind=Notice.Kind.STOP_USE, cause=cause)),
        lambda contact: services.tell(
            kind=Notice.Kind.STOP_USE,
            cause=cause,
            contact=contact,
            letter=partial(_stopped, contact, stop, back=False),
        ),
    )


def stop_taken_back(entry: Entry) -> None:
    """That was a mistake: everybody to whom a mail of it has gone out is told so."""
    stop = UUID(entry.subject.removeprefix("stop_use:"))
    contacts, on_its_way = stop_use.told(stop)
    if on_its_way:
        raise Waits("a mail of it is on its way")
    _each(
        sorted(contacts),
        lambda contact: services.tell(
            kind=Notice.Kind.STOP_USE,
            cause=f"stop_use:{stop}:back",
            contact=contact,
            letter=partial(_stopped, contact, stop, back=True),
        ),
    )


def _say_what_stands(entry: Entry, labels: set[str]) -> None:
    with transaction.atomic():
        found = standing.standing(labels)
    cause = f"entry:{entry.id}"
    begun = services.begun(kind=Notice.Kind.PROGRESS, cause=cause)
    _each(
        (c for c in standing.concerned(found) if c.uid in begun or standing.due(c, found)),
        lambda contact: services.tell(
            kind=Notice.Kind.PROGRESS,
            cause=cause,
            contact=contact.uid,
            letter=partial(_progress, contact.uid, labels),
        ),
    )


def _receipt(
    contact_uid: UUID,
    pickup: Pickup,
    lines: list[WorkOrder],
    notice: Notice,
    *,
    again: bool = False,
) -> Letter | None:
    contact = customers.contact(contact_uid)
    if contact is None:
        return None
    said = receipts.receipt(
        pickup,
        lines,
        name=contact.name,
        language=contact.language,
        link=_link(contact, clock.now()),
        again=again,
    )
    return Letter(contact.email, *receipt_in_words(said, contact.language)) if said else None


def _delivery(
    contact_uid: UUID, over: Delivery, lines: deliveries.Handed, notice: Notice
) -> Letter | None:
    contact = customers.contact(contact_uid)
    if contact is None:
        return None
    link, language = _link(contact, clock.now()), contact.language
    said = deliveries.receipt(over, lines, name=contact.name, language=language, link=link)
    return Letter(contact.email, *delivery_in_words(said, language)) if said else None


def _shut_trailer(contact_uid: UUID, pickup: Pickup, shut: bool, notice: Notice) -> Letter | None:
    contact = customers.contact(contact_uid)
    if contact is None:
        return None
    if not shut:
        raise NothingLeft
    link = _link(contact, clock.now())
    said = receipts.shut_trailer(pickup, name=contact.name, language=contact.language, link=link)
    return Letter(contact.email, *trailer_in_words(said, contact.language)) if said else None


def _warning(contact_uid: UUID, facts: set[UUID], notice: Notice) -> Letter | None:
    contact = customers.contact(contact_uid)
    if contact is None:
        return None
    lines = [v for v in left.warned(facts) if v.customer == contact.customer_id]
    if not lines:
        raise NothingLeft
    said = left.warning(contact, lines)
    return Letter(contact.email, *warning_in_words(said, contact.language))


def _unclaimed(contact_uid: UUID, facts: set[UUID], notice: Notice) -> Letter | None:
    contact = customers.contact(contact_uid)
    if contact is None:
        return None
    found = [one for one in waiting.written_about(facts) if one[0].customer == contact.customer_id]
    if services.lately(notice, within=waiting.AGAIN):
        found = waiting.anew(found, facts)
    if not found:
        raise NothingLeft
    said = waiting.notice(contact, found)
    return Letter(contact.email, *unclaimed_in_words(said, contact.language))


def _disputed(
    contact_uid: UUID, case: Case, settled: bool, mute: bool, notice: Notice
) -> Letter | None:
    contact = customers.contact(contact_uid)
    if contact is None:
        return None
    if mute:
        raise NothingLeft
    link = _link(contact, clock.now())
    said = disputed.told(contact, case, settled=settled, link=link)
    return Letter(contact.email, *dispute_in_words(said, contact.language)) if said else None


def _stopped(contact_uid: UUID, uid: UUID, notice: Notice, *, back: bool) -> Letter | None:
    contact, stop = customers.contact(contact_uid), stop_use.stop(uid)
    if contact is None or stop is None:
        return None
    taken_back = stop_use.withdrawal(uid)
    if taken_back is not None and not back:
        raise NothingLeft
    said = stop_use.mail(contact, stop, link=_link(contact, clock.now()), taken_back=taken_back)
    return Letter(contact.email, *stop_use_in_words(said, contact.language))


def _progress(contact_uid: UUID, labels: set[str], notice: Notice) -> Letter | None:
    """What has to be said at the moment of sending; the lines are the notice's until it is sent."""
    at = clock.now()
    with transaction.atomic():
        contact = customers.contact(contact_uid)
        if contact is None:
            return None
        found = standing.due(contact, standing.standing(labels))
        about = services.reserve(notice, found)
    said = Progress(
        name=contact.name,
        customer=contact.customer.name,
        casings=saying.in_words(found, contact.language, at=at),
        link=_link(contact, at),
        dealer=settings.DEALER_NAME,
        phone=settings.DEALER_PHONE,
    )
    return Letter(contact.email, *progress_in_words(said, contact.language), about=about)


def _link(contact: Contact, at: datetime) -> str:
    path = customers_services.new_link(contact=contact.uid, at=at)
    return f"{settings.PUBLIC_BASE_URL}{path}"
