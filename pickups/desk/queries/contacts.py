"""The people at the fleets who may open their own page, and the links by which they do."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID

from django.conf import settings

from pickups.customers import queries as customers
from pickups.customers.models import Contact
from pickups.customers.services import LINK_DAYS
from pickups.desk import words
from pickups.desk.queries import qr
from pickups.desk.queries.names import Names
from pickups.kernel import clock


@dataclass(frozen=True)
class Person:
    """A contact as the office reads it."""

    uid: UUID
    name: str
    customer: str
    email: str
    language: str
    good: int
    links: str
    opened: str


def people(language: str) -> list[Person]:
    """Every contact, by customer."""
    names = Names(language)
    return [_person(c, good, at, names) for c, good, at in customers.everybody(at=clock.now())]


def _person(contact: Contact, good: int, opened: datetime | None, names: Names) -> Person:
    key = "links_one" if good == 1 else "links_n" if good else "links_none"
    return Person(
        uid=contact.uid,
        name=contact.name,
        customer=contact.customer.name,
        email=contact.email or names.say("no_email"),
        language=names.say(f"speaks_{contact.language}"),
        good=good,
        links=names.say(key, n=good),
        opened=names.when(opened) if opened else names.say("opened_never"),
    )


def shown(contact: Contact, path: str, language: str, *, at: datetime) -> dict[str, Any]:
    """What the page of a link that was made now says; it is shown this once."""
    address = f"{settings.PUBLIC_BASE_URL}{path}"
    names, (squares, side) = Names(language), qr.drawn(address)
    until = names.when(at + timedelta(days=LINK_DAYS))
    return {
        "address": address,
        "path": squares,
        "side": side,
        "title": names.say("link_for", name=contact.name),
        "of": contact.customer.name,
        "how": names.say("link_how", name=contact.name),
        "until": names.say("link_until", when=until),
    }


def revoking(contact: Contact, language: str) -> dict[str, Any]:
    """What is asked before a contact's links are revoked, and what would follow."""
    return {
        "title": words.say(language, "unlink_title", name=contact.name),
        "says": words.say(language, "unlink_say", name=contact.name),
        "go": words.say(language, "unlink_go"),
        "leads_back": "contacts",
    }
