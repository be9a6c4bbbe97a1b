"""What a receipt says: the visit, what was taken in it on what terms, and who signed."""

from collections.abc import Mapping, Sequence
from datetime import date, datetime
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.casings import queries as casings
from pickups.casings import reasons, words
from pickups.casings.models import WorkOrder
from pickups.casings.words import Sayer
from pickups.custody import queries as custody
from pickups.custody.fold import Kind
from pickups.custody.queries import Delivery, Pickup, VisitLine
from pickups.customers import queries as customers
from pickups.kernel import clock
from pickups.kernel.languages import amount, day_and_time, day_in_words, spoken
from pickups.labels.rules import ticket_number
from pickups.notices import rules
from pickups.notices.queries import corrections, days
from pickups.notices.words.receipt import LeftLine, Opened, Receipt, ReceiptLine, Ticket
from pickups.notices.words.sheet import Sheet
from pickups.notices.words.sheet import sheet as sheet_in_words
from pickups.notices.words.trailer import ShutTrailer
from pickups.notices.words.trailer import sheet as shut_in_words
from pickups.people import queries as people
from pickups.questions import queries as questions
from pickups.questions.rules import Kind as Question


def taken(pickup: Pickup) -> list[WorkOrder] | None:
    """The casings that its receipt lists: what stands, of this customer alone; where one was taken
    for another, that other in its place. None while it waits: a label in it is contested, or its
    list is not what was picked up."""
    orders = casings.of_pickup(pickup.uid)
    doubted = Question.PICKUP_DIFFERS in questions.open_about(f"pickup:{pickup.uid}")
    if doubted or any(order.contested for order in orders):
        return None
    instead = {s.gone.uid: s.instead for s in corrections.swapped(pickup, orders)}
    if any(w.contested for w in instead.values() if w):
        return None
    stand = [instead.get(w.uid, w) for w in orders if not w.withdrawn]
    return [w for w in stand if w is not None and w.customer == pickup.customer]


def sheet(pickup: Pickup, language: str) -> Sheet | None:
    """The receipt as a page or on paper; None while it waits, or where it would say nothing."""
    if pickup.trailer is not None and pickup.emptied is None:
        shut = shut_trailer(pickup, name="", language=language, link="")
        return shut_in_words(shut, spoken(language)) if shut else None
    orders = taken(pickup)
    if orders is None or not (orders or visit_lines(pickup) or pickup.emptied):
        return None
    said = receipt(pickup, orders, name="", language=language, link="")
    return sheet_in_words(said, language) if said else None


def receipt(
    pickup: Pickup,
    orders: Sequence[WorkOrder],
    *,
    name: str,
    language: str,
    link: str,
    again: bool = False,
) -> Receipt | None:
    """The whole receipt; None where the yard is nobody's any more. name: whom it is written to.
    again: they had one before a mix-up was settled, or was found to be none."""
    yard = customers.yard(pickup.yard)
    if yard is None:
        return None
    language = spoken(language)
    sayer = Sayer(language, settings.DEALER_CURRENCY)
    sites = {s.uid: s.name for s in people.sites()}
    promised = {w.uid: p for w in orders if not w.reason and (p := days.as_told(w.told))}
    signed = custody.signed([pickup.uid]).get(pickup.uid, custody.Signed())
    listed = [
        (w.picked_up_under, w.label, p.on.isoformat() if (p := days.as_told(w.told)) else "")
        for w in orders
    ]
    counted = visit_lines(pickup)
    local = clock.local(pickup.finished_at, ZoneInfo(settings.DEALER_TIME_ZONE))
    return Receipt(
        name=name,
        customer=yard.customer.name,
        yard=yard.name,
        store=sites.get(pickup.store, settings.DEALER_NAME) if pickup.store else "",
        finished_on=day_and_time(language, local),
        lines=[_line(w, sites, sayer) for w in orders],
        all_by=day_in_words(language, max(p.on for p in promised.values())) if promised else "",
        open_days=sum(words.comes_back(w.told) and w.uid not in promised for w in orders),
        customer_count=pickup.customer_count,
        signer=signed.name,
        signed=signed.drawn or bool(signed.name),
        # That nobody was there is said apart.
        unsigned=sayer.unsigned(
            nobody_there=False, refused=signed.refused, unsigned=signed.unsigned
        ),
        read_in=signed.read_in,
        put_right=not custody.as_signed(pickup, listed, counted),
        mixed_up=[
            (s.gone.label, s.instead.label if s.instead else "")
            for s in corrections.swapped(pickup, casings.of_pickup(pickup.uid))
        ],
        again=again,
        link=link,
        scrap=[sayer.scrap(v.told) for v in counted if v.kind == Kind.SCRAP],
        scrap_count=sum(v.told.get("count", 0) for v in counted if v.kind == Kind.SCRAP),
        left=[
            LeftLine(words.marks(v.told) or sayer.say("left_nameless"), sayer.why_left(v.told))
            for v in counted
            if v.kind != Kind.SCRAP
        ],
        trailer=_opened(pickup, sites, language),
        nobody_there=pickup.nobody_there,
        photos=len(custody.photos_of(pickup.uid)) if pickup.nobody_there else 0,
        dealer=settings.DEALER_NAME,
        phone=phone(pickup),
        ticket=_ticket(pickup, orders, language) if pickup.store else None,
        deposit=deposit(pickup),
    )


def deposit(pickup: Pickup) -> str:
    """How much was left as a deposit, and how; empty where none was."""
    if pickup.deposit_cents is None:
        return ""
    said = [amount(pickup.deposit_cents, settings.DEALER_CURRENCY), pickup.deposit_note]
    return ", ".join(filter(None, said))


def _ticket(pickup: Pickup, orders: Sequence[WorkOrder], language: str) -> Ticket:
    """When to come back: the latest day of those that are fetched; the others are brought."""
    due = [w for w in orders if words.comes_back(w.told) and not w.reason]
    days_of: dict[str, list[date]] = {"store": [], "yard": []}
    for w in due:
        if promised := days.as_told(w.told):
            days_of[rules.back_to(w.told)].append(promised.on)
    latest = {to: day_in_words(language, max(on)) if on else "" for to, on in days_of.items()}
    return Ticket(
        number=ticket_number(pickup.uid),
        come=latest["store"],
        bring=latest["yard"],
        open=len(due) - sum(map(len, days_of.values())),
    )


def shut_trailer(pickup: Pickup, *, name: str, language: str, link: str) -> ShutTrailer | None:
    """The first receipt of a trailer taken closed; None where the yard is nobody's any more."""
    yard, trailer = customers.yard(pickup.yard), pickup.trailer or {}
    if yard is None:
        return None
    signed = custody.signed([pickup.uid]).get(pickup.uid, custody.Signed())
    local = clock.local(pickup.finished_at, ZoneInfo(settings.DEALER_TIME_ZONE))
    return ShutTrailer(
        name=name,
        customer=yard.customer.name,
        yard=yard.name,
        taken_on=day_and_time(spoken(language), local),
        number=trailer.get("number", ""),
        seal=trailer.get("seal", ""),
        left=trailer.get("left", ""),
        customer_count=pickup.customer_count,
        signer=signed.name,
        signed=signed.drawn or bool(signed.name),
        # That nobody was there is said apart.
        unsigned=Sayer(spoken(language), settings.DEALER_CURRENCY).unsigned(
            nobody_there=False, refused=signed.refused, unsigned=signed.unsigned
        ),
        nobody_there=pickup.nobody_there,
        dealer=settings.DEALER_NAME,
        phone=phone(pickup),
        link=link,
    )


def _opened(pickup: Pickup, sites: Mapping[UUID, str], language: str) -> Opened | None:
    """When and where its trailer was emptied."""
    if not pickup.trailer or not pickup.emptied:
        return None
    told = pickup.emptied
    at = clock.local(datetime.fromisoformat(told["at"]), ZoneInfo(settings.DEALER_TIME_ZONE))
    store = sites.get(UUID(told["store"]), "") if told.get("store") else ""
    doubt = Question.SEAL_DIFFERS in questions.open_about(f"pickup:{pickup.uid}")
    whole = "seal_whole" if told.get("seal_state") == "whole" else ""
    seal = "seal_doubt" if doubt else whole
    return Opened(pickup.trailer.get("number", ""), seal, day_and_time(language, at), store)


def phone(visit: Pickup | Delivery) -> str:
    """Whom a customer calls about a visit: the store that looks after the yard."""
    phones = [s.phone for s in people.sites() if s.uid == visit.site and s.phone]
    return phones[0] if phones else settings.DEALER_PHONE


def visit_lines(pickup: Pickup) -> list[VisitLine]:
    """What was counted as scrap and what was left in it, of its customer alone."""
    lines = custody.visit_lines([pickup.uid]).get(pickup.uid, [])
    return [v for v in lines if v.customer == pickup.customer]


def sure_of(told: Mapping[str, Any]) -> int:
    """With how many percent the day was promised when it was handed over, by a forecast; else 0."""
    said = told.get("promised") or {}
    return (said.get("confidence") or 0) if said.get("basis") == "forecast" else 0


def _line(w: WorkOrder, sites: Mapping[UUID, str], sayer: Sayer) -> ReceiptLine:
    language = sayer.language
    told, promised = w.told, days.as_told(w.told)
    fetched = rules.back_to(told) == "store"
    store = sites.get(rules.fetched_at(told, site=w.site), "") if fetched else ""
    return ReceiptLine(
        label=w.label,
        size=words.marks(told) if told.get("line") else told.get("size", ""),
        tin=told.get("tin", ""),
        tread_32nds=told.get("tread_32nds", []),
        work=told.get("work", ""),
        basis=told.get("basis", ""),
        tread_design=told.get("tread_design", ""),
        purchase_order=told.get("purchase_order", ""),
        unit=told.get("unit", ""),
        fetched_at=store,
        promised=day_in_words(language, promised.on) if promised else "",
        by_hand=promised is not None and promised.by_hand,
        sure=sure_of(told),
        line=told.get("line", ""),
        said=[*sayer.casing(told), *sayer.cautions(told)] if told.get("line") else (),
        rejected=reasons.words(w.reason, language) if w.reason else "",
        stopped=words.is_stopped(told),
        unread=words.is_unread(told),
    )
