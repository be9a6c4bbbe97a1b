"""Make a notice once, claim it, send it, mark it. SMTP is never spoken inside a transaction."""

import logging
import smtplib
from collections.abc import Callable, Iterable, Sequence
from datetime import datetime, timedelta
from typing import NamedTuple, TypeVar
from uuid import UUID

from django.conf import settings
from django.core.mail import EmailMessage, get_connection
from django.db import IntegrityError, transaction
from django.db.models import F, Q

from pickups.journal.services import TryAgain
from pickups.kernel import clock, ids
from pickups.notices.models import Line, Notice
from pickups.notices.queries.standing import Due

log = logging.getLogger(__name__)
T = TypeVar("T")

CLAIM = timedelta(minutes=1)

_NAMESPACE = UUID("0196f0b2-5e0a-7c11-9d57-3f6f2f0c8a11")


class Letter(NamedTuple):
    """Address, subject, text; about: what it says, where that is not told by its cause alone.

    The Message-ID is made from kind, cause and contact, or from `about` in the cause's place.
    """

    address: str
    subject: str
    text: str
    about: str = ""


class NotSent(Exception):
    """A mail did not go out; the reaction is owed still and will be tried again."""


class Waits(NotSent, TryAgain):
    """Another worker is at the same mail or the same casings; nothing is wrong."""


class NothingLeft(Exception):
    """What was to be said holds no longer, or another mail has said it."""


def begun(*, kind: Notice.Kind, cause: str) -> set[UUID]:
    """The contacts who were to be told of this cause and have not been."""
    rows = Notice.objects.filter(kind=kind, cause=cause, sent_at=None, gave_up_at=None)
    return set(rows.values_list("contact", flat=True))


def had(*, kind: Notice.Kind, cause: str, before: datetime) -> set[UUID]:
    """The contacts who have been told of this cause, by a notice that was begun before."""
    rows = Notice.objects.filter(kind=kind, cause=cause, made_at__lt=before).exclude(sent_at=None)
    return set(rows.values_list("contact", flat=True))


def tell(
    *, kind: Notice.Kind, cause: str, contact: UUID, letter: Callable[[Notice], Letter | None]
) -> None:
    """Send one letter for one cause to one contact, once, whoever asks and how often.

    letter is called only when the notice is ours to send; None where there is nobody to write to;
    where it raises NothingLeft the notice goes. Raises NotSent where the mail server would not
    take it; as Waits where another mail has to be waited for.
    """
    at = clock.now()
    Notice.objects.bulk_create(
        [Notice(kind=kind, cause=cause, contact=contact, made_at=at)], ignore_conflicts=True
    )
    mine = Notice.objects.filter(kind=kind, cause=cause, contact=contact, sent_at=None)
    free = mine.filter(Q(claimed_until=None) | Q(claimed_until__lt=at), gave_up_at=None)
    if not free.update(claimed_until=at + CLAIM, tries=F("tries") + 1):
        if mine.filter(gave_up_at=None).exists():
            raise Waits("somebody else is at it; look again later")
        return
    try:
        written = letter(mine.get())
    except NothingLeft:
        mine.delete()
        return
    except NotSent as e:
        mine.update(claimed_until=None, last_error=str(e))
        raise
    if written is None:
        mine.update(gave_up_at=at, claimed_until=None, last_error="nobody to write to")
        return
    try:
        _send(written, ids.derived(_NAMESPACE, f"{kind}/{written.about or cause}/{contact}"))
    except (OSError, ValueError) as e:  # ValueError: an address that no header can hold
        mine.update(claimed_until=None, last_error=_why(e))
        raise NotSent(_why(e)) from None
    mine.update(sent_at=clock.now(), claimed_until=None, last_error="")


def each(contacts: Iterable[T], tell: Callable[[T], None]) -> None:
    """Tell every one of them; one bad address keeps nobody else waiting."""
    failed: list[NotSent] = []
    for contact in contacts:
        try:
            tell(contact)
        except NotSent as e:
            failed.append(e)
    if failed:
        raise min(failed, key=lambda e: isinstance(e, Waits))  # a fault before one that waits


def lately(notice: Notice, *, within: timedelta) -> bool:
    """Whether another mail of its kind to its contact, begun up to so long before this one, has
    gone out or still is to."""
    others = Notice.objects.filter(kind=notice.kind, contact=notice.contact, gave_up_at=None)
    before = others.filter(made_at__gte=notice.made_at - within, id__lt=notice.id)
    return before.exists()


def reserve(notice: Notice, found: Sequence[Due]) -> str:
    """Make these casings the notice's lines, each the next that its contact is told of it.

    Lines of a notice that did not go out, and that nobody is sending just now, are void: this
    one says what stands. Returns what the Message-ID is made from: the same for the same lines,
    whichever notice carries them. Raises NothingLeft where there is none, Waits where a mail
    about one of them is on its way and has to be waited for. Call it in a transaction.
    """
    pending = Line.objects.filter(contact=notice.contact, notice__sent_at=None)
    pending.filter(notice=notice).delete()
    pending = pending.filter(work_order__in=[d.order.uid for d in found])
    if pending.filter(notice__claimed_until__gte=clock.now()).exists():
        raise Waits("another mail about one of these casings is on its way")
    pending.delete()
    lines = [
        Line(
            notice=notice,
            contact=notice.contact,
            work_order=d.order.uid,
            place=d.before.place + 1 if d.before else 1,
            news=d.news,
            label=d.order.label,
        )
        for d in found
    ]
    if not lines:
        raise NothingLeft
    try:
        with transaction.atomic():
            Line.objects.bulk_create(lines)
    except IntegrityError:
        raise Waits("another mail about one of these casings was just made") from None
    return ";".join(sorted(f"{line.work_order} {line.place} {line.news}" for line in lines))


def _why(error: Exception) -> str:
    """What went wrong, without the address, which a mail server likes to repeat."""
    codes: list[object] = []
    if isinstance(error, smtplib.SMTPRecipientsRefused):
        codes = [code for code, _ in error.recipients.values()]
    elif isinstance(error, smtplib.SMTPResponseException):
        codes = [error.smtp_code]
    return " ".join([type(error).__name__, *map(str, codes)])


def _send(letter: Letter, message_id: UUID) -> None:
    host = settings.DEFAULT_FROM_EMAIL.rsplit("@", 1)[-1].strip("<> ")
    message = EmailMessage(
        subject=letter.subject,
        body=letter.text,
        to=[letter.address],
        headers={"Message-ID": f"<{message_id}@{host}>", "Auto-Submitted": "auto-generated"},
        connection=get_connection(fail_silently=False),
    )
    message.send()
