"""Ways to one visit's receipt for who signed: a square on the driver's screen, no sign-in.

The phone makes the key when the visit ends, offline; it comes with the end and is kept apart from
the facts, as its SHA-256. What is unknown, run out, revoked and not here yet is answered alike.
"""

import re
from datetime import datetime, timedelta
from uuid import UUID

from django.db.models import QuerySet

from pickups.custody.models import ReceiptLink
from pickups.custody.wire.visits import RECEIPT_KEY
from pickups.people.rules import digest

DAYS = 30


def keep(key: str, *, visit: UUID, at: datetime) -> None:
    """The key opens this visit's receipt for 30 days from now; told again, nothing changes. No key
    opens one that was revoked, whoever tells its visit's end again."""
    if ReceiptLink.objects.filter(visit=visit).exclude(revoked_at=None).exists():
        return
    row = ReceiptLink(
        key_hash=digest(key), visit=visit, made_at=at, expires_at=at + timedelta(days=DAYS)
    )
    ReceiptLink.objects.bulk_create([row], ignore_conflicts=True)


def open_link(*, key: str, at: datetime) -> ReceiptLink | None:
    """Note that a link was opened; None alike for unknown, run out and revoked."""
    if not re.fullmatch(RECEIPT_KEY, key):
        return None
    link = _in_force(at).filter(key_hash=digest(key)).first()
    if link is not None:
        ReceiptLink.objects.filter(id=link.id).update(used_at=at)
    return link


def visit_behind(link: int, *, at: datetime) -> UUID | None:
    """The visit whose receipt this link opens, while it is in force."""
    return _in_force(at).filter(id=link).values_list("visit", flat=True).first()


def in_force(visit: UUID, *, at: datetime) -> int:
    """How many links open a visit's receipt now."""
    return _in_force(at).filter(visit=visit).count()


def revoke(visit: UUID, *, at: datetime) -> int:
    """No link opens this visit's receipt from now on, nor what was opened by one: how many."""
    return _in_force(at).filter(visit=visit).update(revoked_at=at)


def _in_force(at: datetime) -> QuerySet[ReceiptLink]:
    return ReceiptLink.objects.filter(expires_at__gt=at, revoked_at=None)
