"""What a customer is told of a dispute over a pickup of theirs."""

from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.casings import queries as casings
from pickups.custody import disputes
from pickups.custody import queries as custody
from pickups.custody.disputes import Case
from pickups.customers import queries as customers
from pickups.customers.models import Contact
from pickups.kernel import clock
from pickups.kernel.languages import day_and_time, day_in_words, spoken
from pickups.notices.words.dispute import Disputed
from pickups.people import queries as people


def told(contact: Contact, case: Case, *, settled: bool, link: str) -> Disputed | None:
    """That it was received, or how it ended; None where the yard is nobody's any more."""
    pickup = custody.pickup(case.visit)
    yard = customers.yard(pickup.yard) if pickup else None
    if pickup is None or yard is None:
        return None
    language = spoken(contact.language)
    local = clock.local(pickup.finished_at, ZoneInfo(settings.DEALER_TIME_ZONE))
    stand = [w for w in casings.of_pickup(pickup.uid) if not w.withdrawn]
    phones = [s.phone for s in people.sites() if s.uid == pickup.site and s.phone]
    return Disputed(
        name=contact.name,
        place=yard.name,
        on=day_and_time(language, local),
        ours=sum(w.told.get("line") != "wheel" for w in stand),
        theirs=case.theirs,
        due_on=day_in_words(language, case.due_on),
        outcome=case.outcome if settled else "",
        said=disputes.steps(case.uid)[-1].said if settled else "",
        dealer=settings.DEALER_NAME,
        phone=phones[0] if phones else settings.DEALER_PHONE,
        link=link,
    )
