"""What a customer is told of a dispute over a pickup of theirs."""

from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.custody import disputes
from pickups.custody import queries as custody
from pickups.custody.disputes import Case
from pickups.customers import queries as customers
from pickups.customers.models import Contact
from pickups.kernel import clock
from pickups.kernel.languages import day_and_time, day_in_words, spoken
from pickups.notices.queries import receipts
from pickups.notices.words.dispute import Disputed


def told(contact: Contact, case: Case, *, settled: bool, link: str) -> Disputed | None:
    """That it was received, or how it ended; None where the yard is nobody's any more. Our count is
    the receipt's: none while that waits."""
    pickup = custody.pickup(case.visit)
    yard = customers.yard(pickup.yard) if pickup else None
    if pickup is None or yard is None:
        return None
    language = spoken(contact.language)
    local = clock.local(pickup.finished_at, ZoneInfo(settings.DEALER_TIME_ZONE))
    listed = receipts.taken(pickup)
    return Disputed(
        name=contact.name,
        place=yard.name,
        on=day_and_time(language, local),
        ours=None if listed is None else sum(w.told.get("line") != "wheel" for w in listed),
        theirs=case.theirs,
        due_on=day_in_words(language, case.due_on),
        outcome=case.outcome if settled else "",
        said=disputes.said_at_end(case.uid) if settled else "",
        dealer=settings.DEALER_NAME,
        phone=receipts.phone(pickup),
        link=link,
    )
