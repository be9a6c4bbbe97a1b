"""The customer's session: begun by a link, ended by sign-out, by the link's end or its revocation;
and that of who scanned the square of one receipt.

It is a session of its own class. Django signs what a session holds with the name of its class, so
a key of the office's is empty here, and one of ours is empty in the office.
"""

from dataclasses import dataclass
from datetime import datetime

from django.contrib.sessions.backends.db import SessionStore

from pickups.custody import queries as custody
from pickups.custody import receipt_links
from pickups.custody.queries import Delivery, Pickup
from pickups.customers import queries as customers_read
from pickups.customers import services as customers
from pickups.customers.models import Contact
from pickups.kernel.languages import LANGUAGES, spoken


class CustomerSession(SessionStore):
    """Holds the link's id and, once switched, the language. Nothing else is kept."""


class ReceiptSession(SessionStore):
    """Holds the id of a receipt's link and, once switched, the language."""


Kind = type[CustomerSession] | type[ReceiptSession]


@dataclass(frozen=True)
class Guest:
    """Who looks at the pages, in which language, by which session."""

    contact: Contact
    language: str
    key: str


@dataclass(frozen=True)
class Bearer:
    """Who has the link of one visit's receipt: which visit, in which language they read."""

    visit: Pickup | Delivery
    language: str
    key: str


def begin(*, token: str, at: datetime) -> tuple[str, int] | None:
    """Swap a link for a session: its key and how many seconds it lasts; None for any bad link."""
    link = customers.open_link(token=token, at=at)
    if link is None:
        return None
    seconds = int((link.expires_at - at).total_seconds())
    return _begun(CustomerSession(), link.id, seconds)


def begin_receipt(*, key: str, at: datetime) -> tuple[str, int] | None:
    """Swap the key of a receipt for a session, as `begin` does; None alike for any bad key and for
    one whose visit has not arrived yet."""
    link = receipt_links.open_link(key=key, at=at)
    if link is None:
        return None
    return _begun(ReceiptSession(), link.id, int((link.expires_at - at).total_seconds()))


def _begun(session: SessionStore, link: int, seconds: int) -> tuple[str, int]:
    session["link"] = link
    session.set_expiry(seconds)
    session.create()
    session.save()
    assert session.session_key is not None
    return session.session_key, seconds


def guest(*, key: str, at: datetime) -> Guest | None:
    """Whose session it is, while the link that began it is in force."""
    session = _session(CustomerSession, key)
    link = session.get("link") if session else None
    contact = customers_read.contact_behind(link, at=at) if isinstance(link, int) else None
    if session is None or contact is None:
        return None
    return Guest(contact, spoken(session.get("language") or contact.language), key)


def bearer(*, key: str, at: datetime) -> Bearer | None:
    """Whose session it is, while the link that began it is in force."""
    session = _session(ReceiptSession, key)
    link = session.get("link") if session else None
    uid = receipt_links.visit_behind(link, at=at) if isinstance(link, int) else None
    visit = custody.visit(uid) if uid else None
    if session is None or visit is None:
        return None
    return Bearer(visit, spoken(session.get("language") or visit.signed_in), key)


def speak(*, key: str, language: str, kind: Kind = CustomerSession) -> None:
    """Their own choice of language, as long as the session lasts."""
    session = _session(kind, key)
    if session is not None and "link" in session and language in LANGUAGES:
        session["language"] = language
        session.save()


def end(*, key: str, kind: Kind = CustomerSession) -> None:
    """Sign out: the session is gone."""
    session = _session(kind, key)
    if session is not None:
        session.delete()


def _session(kind: Kind, key: str) -> SessionStore | None:
    return kind(key) if key.isascii() and key.isalnum() else None
