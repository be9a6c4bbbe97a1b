"""/mail/: the mails that mailbox.py kept, newest first, and each with its text.

There only while no mail server is named, and only for this machine: mails carry links that
open accounts. What a mail says is shown as text, never run as a page.
"""

import re
from collections.abc import Callable
from datetime import datetime
from email import message_from_bytes, policy
from email.message import EmailMessage
from functools import wraps
from pathlib import Path
from typing import Any, NamedTuple
from zoneinfo import ZoneInfo

from django.conf import settings
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path
from django.utils.translation import get_language
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from pickups.kernel.languages import day_and_time, spoken

LOCAL = {"127.0.0.1", "::1"}
NAME = re.compile(r"[0-9]{20}-[0-9a-f]{32}")
LISTED_MAX = 200
WORDS = {
    "en": {
        "mails": "Mails",
        "why": "No mail server is named (EMAIL_URL), so the mails stay here. They can be read on"
        " this computer only.",
        "kept": "Kept, newest first",
        "none": "None yet.",
        "all": "All mails",
        "subject": "Subject",
        "no_subject": "(no subject)",
        "from": "From",
        "to": "To",
        "date": "Date",
        "attached": "Attached",
    },
    "es": {
        "mails": "Correos",
        "why": "No hay servidor de correo (EMAIL_URL), así que los correos se quedan aquí. Solo se"
        " pueden leer en este equipo.",
        "kept": "Guardados, los nuevos primero",
        "none": "Ninguno todavía.",
        "all": "Todos los correos",
        "subject": "Asunto",
        "no_subject": "(sin asunto)",
        "from": "De",
        "to": "Para",
        "date": "Fecha",
        "attached": "Adjunto",
    },
}


class Mail(NamedTuple):
    name: str
    subject: str
    to: str
    sender: str
    date: str
    at: datetime | None
    texts: list[tuple[str, str]]
    attached: list[str]


def read(file: Path) -> Mail:
    message = message_from_bytes(file.read_bytes(), policy=policy.default)
    assert isinstance(message, EmailMessage)
    leaves = [part for part in message.walk() if not part.is_multipart()]
    texts = [part for part in leaves if part.get_content_maintype() == "text"]
    return Mail(
        name=file.stem,
        **{
            key: str(message.get(header, ""))
            for key, header in [
                ("subject", "Subject"),
                ("to", "To"),
                ("sender", "From"),
                ("date", "Date"),
            ]
        },
        at=_sent_at(message),
        texts=[(part.get_content_type(), _text(part)) for part in texts if _shown(part)],
        attached=[
            part.get_filename() or part.get_content_type() for part in leaves if not _shown(part)
        ],
    )


def _sent_at(message: EmailMessage) -> datetime | None:
    """When the mail says that it was sent; None where that is no instant."""
    at = getattr(message.get("Date"), "datetime", None)
    return at if isinstance(at, datetime) and at.tzinfo is not None else None


def _page(request: HttpRequest, template: str, **context: Any) -> HttpResponse:
    language = spoken(get_language())
    return render(request, template, {"w": WORDS[language], "lang": language, **context})


def _told(mail: Mail) -> Mail:
    """Its time as the dealer's clock would show it, in the reader's language."""
    if mail.at is None:
        return mail
    try:
        local = mail.at.astimezone(ZoneInfo(settings.DEALER_TIME_ZONE))
    except OverflowError:  # at the edge of the calendar
        return mail
    return mail._replace(date=day_and_time(spoken(get_language()), local))


def _shown(part: EmailMessage) -> bool:
    return part.get_content_maintype() == "text" and not part.is_attachment()


def _text(part: EmailMessage) -> str:
    content = part.get_payload(decode=True)
    raw = content if isinstance(content, bytes) else b""
    try:
        return raw.decode(part.get_content_charset("utf-8"), errors="replace")
    except LookupError:  # a character set that nobody knows
        return raw.decode("utf-8", errors="replace")


def on_this_machine(view: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
    """404 for everybody else; a request that a proxy brought came from elsewhere."""

    @wraps(view)
    def answer(request: HttpRequest, **kwargs: str) -> HttpResponse:
        brought = "X-Forwarded-For" in request.headers or "Forwarded" in request.headers
        if not settings.EMBEDDED_MAIL or brought or request.META.get("REMOTE_ADDR") not in LOCAL:
            raise Http404
        return view(request, **kwargs)

    return never_cache(require_safe(answer))


@on_this_machine
def mails(request: HttpRequest) -> HttpResponse:
    files = sorted(Path(settings.MAIL_DIR).glob("*.eml"), reverse=True)
    listed = [_told(read(file)) for file in files[:LISTED_MAX]]
    return _page(request, "mailbox/mails.html", mails=listed, count=len(files))


@on_this_machine
def mail(request: HttpRequest, name: str) -> HttpResponse:
    file = Path(settings.MAIL_DIR) / f"{name}.eml"
    if not NAME.fullmatch(name) or not file.is_file():
        raise Http404
    return _page(request, "mailbox/mail.html", mail=_told(read(file)))


urlpatterns = [
    path("mail/", mails, name="mails"),
    path("mail/<str:name>/", mail, name="mail"),
]
