"""Make a notice once, claim it, send it, mark it. SMTP is never spoken inside a transaction."""

import logging
import smtplib
from collections.abc import Callable
from datetime import timedelta
from uuid import UUID

from django.conf import settings
from django.core.mail import EmailMessage, get_connection
from django.db.models import F, Q

from pickups.kernel import clock, ids
from pickups.notices.models import Notice

log = logging.getLogger(__name__)

CLAIM = timedelta(minutes=1)
Letter = tuple[str, str, str]
"""Address, subject, text."""

_NAMESPACE = UUID("0196f0b2-5e0a-7c11-9d57-3f6f2f0c8a11")


class NotSent(Exception):
    """A mail did not go out; the reaction is owed still and will be tried again."""


def tell(
    *, kind: Notice.Kind, cause: str, contact: UUID, letter: Callable[[], Letter | None]
) -> None:
    """Send one letter for one cause to one contact, once, whoever asks and how often.

    letter is called only when the notice is ours to send; None where there is nobody to write to.
    Raises NotSent where the mail server would not take it.
    """
    at = clock.now()
    Notice.objects.bulk_create(
        [Notice(kind=kind, cause=cause, contact=contact, made_at=at)], ignore_conflicts=True
    )
    mine = Notice.objects.filter(kind=kind, cause=cause, contact=contact, sent_at=None)
    free = mine.filter(Q(claimed_until=None) | Q(claimed_until__lt=at), gave_up_at=None)
    if not free.update(claimed_until=at + CLAIM, tries=F("tries") + 1):
        if mine.filter(gave_up_at=None).exists():
            raise NotSent("somebody else is at it; look again later")
        return
    written = letter()
    if written is None:
        mine.update(gave_up_at=at, claimed_until=None, last_error="nobody to write to")
        return
    try:
        _send(written, ids.derived(_NAMESPACE, f"{kind}/{cause}/{contact}"))
    except (OSError, ValueError) as e:  # ValueError: an address that no header can hold
        mine.update(claimed_until=None, last_error=_why(e))
        raise NotSent(_why(e)) from None
    mine.update(sent_at=clock.now(), claimed_until=None, last_error="")


def _why(error: Exception) -> str:
    """What went wrong, without the address, which a mail server likes to repeat."""
    codes: list[object] = []
    if isinstance(error, smtplib.SMTPRecipientsRefused):
        codes = [code for code, _ in error.recipients.values()]
    elif isinstance(error, smtplib.SMTPResponseException):
        codes = [error.smtp_code]
    return " ".join([type(error).__name__, *map(str, codes)])


def _send(letter: Letter, message_id: UUID) -> None:
    address, subject, text = letter
    host = settings.DEFAULT_FROM_EMAIL.rsplit("@", 1)[-1].strip("<> ")
    message = EmailMessage(
        subject=subject,
        body=text,
        to=[address],
        headers={"Message-ID": f"<{message_id}@{host}>", "Auto-Submitted": "auto-generated"},
        connection=get_connection(fail_silently=False),
    )
    message.send()
