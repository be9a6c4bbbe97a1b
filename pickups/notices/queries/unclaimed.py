"""What a written notice says of casings that wait for their owner, as it stands when it is sent."""

from collections.abc import Collection, Sequence
from datetime import datetime, timedelta
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.casings import queries as casings
from pickups.casings import words
from pickups.casings.models import WorkOrder
from pickups.custody import queries as custody
from pickups.custody.fold import Kind
from pickups.custody.reminding import Step, day_of
from pickups.customers import queries as customers
from pickups.customers.models import Contact
from pickups.kernel import clock
from pickups.kernel.languages import day_in_words, spoken
from pickups.notices.words import LABEL_TAG
from pickups.notices.words.unclaimed import Store, Unclaimed, Waits
from pickups.people import queries as people

AGAIN = timedelta(days=1)
"""For so long nobody is written to anew about the same casing. Our own choice."""


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
    return casings.is_fetched(w) and w.holder.startswith("site:")


def anew(
    found: Sequence[tuple[WorkOrder, str]], told: Collection[UUID]
) -> list[tuple[WorkOrder, str]]:
    """Without what another push had its owner written to about shortly before these facts."""
    first = min((f.recorded_at for f in custody.facts(told).values()), default=None)
    if first is None:
        return []
    steps = custody.reminded([w.uid for w, _ in found], since=first - AGAIN)
    earlier = [f for f in steps if f.recorded_at < first and f.uid not in told]
    known = {f.work_order for f in earlier if f.told["step"] == Step.WRITTEN}
    return [(w, until) for w, until in found if w.uid not in known]


def contacts(owners: Collection[UUID]) -> list[Contact]:
    """Who at these customers is written to: whoever gets receipts or news of casings by mail."""
    told = customers.progress_contacts(owners)
    told += [c for owner in owners for c in customers.receipt_contacts(owner)]
    return sorted({c.uid: c for c in told}.values(), key=lambda c: c.uid)


def notice(contact: Contact, waiting: Sequence[tuple[WorkOrder, str]]) -> Unclaimed:
    """The whole mail."""
    language, zone = spoken(contact.language), ZoneInfo(settings.DEALER_TIME_ZONE)
    stores: dict[str, list[Waits]] = {}
    for w, told in waiting:
        since, until = w.told.get("here_since"), day_of(told)
        came = clock.local(datetime.fromisoformat(since), zone).date() if since else None
        one = Waits(
            label=f"{w.label[:4]} {w.label[4:]}",
            marks=words.marks(w.told) or w.told.get("size", ""),
            since=day_in_words(language, came) if came else "",
            until=day_in_words(language, until) if until else "",
            tag=LABEL_TAG if w.reason else "",
        )
        stores.setdefault(w.holder, []).append(one)
    return Unclaimed(
        name=contact.name,
        customer=contact.customer.name,
        stores=[Store(_called(holder), casings) for holder, casings in stores.items()],
        dealer=settings.DEALER_NAME,
        phone=settings.DEALER_PHONE,
    )


def _called(holder: str) -> str:
    site = people.site(UUID(holder.partition(":")[2]))
    return site.name if site else settings.DEALER_NAME
