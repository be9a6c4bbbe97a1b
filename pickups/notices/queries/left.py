"""What stays with its owner and is warned of, and what the warning says."""

from collections.abc import Collection, Sequence
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.casings import words
from pickups.casings.words import Sayer
from pickups.custody import queries as custody
from pickups.custody.fold import Kind
from pickups.custody.queries import VisitLine
from pickups.customers import queries as customers
from pickups.customers.models import Contact
from pickups.kernel import clock
from pickups.kernel.languages import day_and_time, spoken
from pickups.notices.words.warning import Left, Warned
from pickups.people import queries as people


def warned(told: Collection[UUID]) -> list[VisitLine]:
    """Of the casings that these facts say were left, those that stand and are dangerous."""
    facts = custody.facts(told).values()
    uids = {f.corrects or f.uid for f in facts}
    found = custody.visit_lines({UUID(f.told["visit"]) for f in facts}).values()
    lines = [v for of_visit in found for v in of_visit if v.uid in uids]
    return [v for v in lines if v.kind == Kind.LEFT and words.is_warned(v.told)]


def warning(contact: Contact, lines: Sequence[VisitLine]) -> Left:
    """The whole mail."""
    language, zone = spoken(contact.language), ZoneInfo(settings.DEALER_TIME_ZONE)
    sayer = Sayer(language, settings.DEALER_CURRENCY)
    sites = {s.uid: s.name for s in people.sites()}

    def place(line: VisitLine) -> str:
        yard = customers.yard(line.yard)
        store = sites.get(line.store) if line.store else None
        return store or (yard.name if yard else contact.customer.name)

    return Left(
        name=contact.name,
        casings=[
            Warned(
                marks=words.marks(v.told) or sayer.say("left_nameless"),
                place=place(v),
                on=day_and_time(language, clock.local(v.told_at, zone)),
                said=sayer.why_left(v.told),
            )
            for v in lines
        ],
        dealer=settings.DEALER_NAME,
        phone=settings.DEALER_PHONE,
    )
