"""What a written notice says of casings that wait for their owner, as it stands when it is sent."""

from collections.abc import Collection, Sequence
from datetime import date, datetime
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.casings import queries as casings
from pickups.casings import words
from pickups.casings.models import WorkOrder
from pickups.casings.rules import Progress
from pickups.custody import queries as custody
from pickups.custody.fold import Kind
from pickups.custody.reminding import Step
from pickups.customers import queries as customers
from pickups.customers.models import Contact
from pickups.kernel import clock
from pickups.kernel.languages import day_in_words, spoken
from pickups.notices.words import LABEL_TAG
from pickups.notices.words.unclaimed import Unclaimed, Waits
from pickups.people import queries as people


def written_about(told: Collection[UUID]) -> list[tuple[WorkOrder, str]]:
    """Of the steps that these facts tell, the written ones: each casing that still waits for its
    owner, with the day until which it is held. Nothing of a contested label or of what is back."""
    facts = [
        f
        for f in custody.facts(told).values()
        if f.kind == Kind.REMINDED and f.told["step"] == Step.WRITTEN and f.work_order
    ]
    orders = casings.work_orders(f.work_order for f in facts if f.work_order)
    until = {f.work_order: str(f.told.get("until", "")) for f in facts}
    waits = [w for w in orders.values() if _waits(w)]
    return [(w, until[w.uid]) for w in sorted(waits, key=lambda w: (w.picked_up_at, w.uid))]


def _waits(w: WorkOrder) -> bool:
    gone = w.withdrawn or w.contested or w.progress == Progress.RETURNED or w.casing.dealers
    return not gone and w.holder.startswith("site:")


def contacts(owners: Collection[UUID]) -> list[Contact]:
    """Who at these customers is written to: whoever gets receipts or news of casings by mail."""
    told = customers.progress_contacts(owners)
    told += [c for owner in owners for c in customers.receipt_contacts(owner)]
    return sorted({c.uid: c for c in told}.values(), key=lambda c: c.uid)


def notice(contact: Contact, waiting: Sequence[tuple[WorkOrder, str]]) -> Unclaimed:
    """The whole mail."""
    language, zone = spoken(contact.language), ZoneInfo(settings.DEALER_TIME_ZONE)
    site = people.site(UUID(waiting[0][0].holder.partition(":")[2]))

    def since(w: WorkOrder) -> str:
        told = w.told.get("here_since")
        at = datetime.fromisoformat(told) if told else w.picked_up_at
        return day_in_words(language, clock.local(at, zone).date())

    return Unclaimed(
        name=contact.name,
        customer=contact.customer.name,
        store=site.name if site else settings.DEALER_NAME,
        casings=[
            Waits(
                label=f"{w.label[:4]} {w.label[4:]}",
                marks=words.marks(w.told) or w.told.get("size", ""),
                since=since(w),
                until=day_in_words(language, date.fromisoformat(until)) if until else "",
                tag=LABEL_TAG if w.reason else "",
            )
            for w, until in waiting
        ],
        dealer=settings.DEALER_NAME,
        phone=settings.DEALER_PHONE,
    )
