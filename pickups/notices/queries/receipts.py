"""What a receipt says: the visit, what was taken in it on what terms, and who signed."""

from collections.abc import Mapping, Sequence
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.casings import reasons, words
from pickups.casings.models import WorkOrder
from pickups.casings.words import Sayer
from pickups.custody import queries as custody
from pickups.custody.fold import Kind
from pickups.custody.queries import Pickup, VisitLine
from pickups.customers import queries as customers
from pickups.customers.models import Contact
from pickups.kernel import clock
from pickups.kernel.languages import day_and_time, day_in_words, spoken
from pickups.notices import rules
from pickups.notices.queries import days
from pickups.notices.words.receipt import LeftLine, Receipt, ReceiptLine
from pickups.people import queries as people


def receipt(
    contact: Contact, pickup: Pickup, orders: Sequence[WorkOrder], *, link: str
) -> Receipt | None:
    """The whole receipt; None where the yard is nobody's any more."""
    yard = customers.yard(pickup.yard)
    if yard is None:
        return None
    language = spoken(contact.language)
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
        name=contact.name,
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
        unsigned=signed.unsigned,
        put_right=not custody.as_signed(pickup, listed, counted),
        link=link,
        scrap=[sayer.scrap(v.told) for v in counted if v.kind == Kind.SCRAP],
        scrap_count=sum(v.told.get("count", 0) for v in counted if v.kind == Kind.SCRAP),
        left=[
            LeftLine(words.marks(v.told) or sayer.say("left_nameless"), sayer.why_left(v.told))
            for v in counted
            if v.kind != Kind.SCRAP
        ],
    )


def visit_lines(pickup: Pickup) -> list[VisitLine]:
    """What was counted as scrap and what was left in it, of its customer alone."""
    lines = custody.visit_lines([pickup.uid]).get(pickup.uid, [])
    return [v for v in lines if v.customer == pickup.customer]


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
        line=told.get("line", ""),
        said=[*sayer.casing(told), *sayer.cautions(told)] if told.get("line") else (),
        rejected=reasons.words(w.reason, language) if w.reason else "",
        stopped=words.is_stopped(told),
    )
