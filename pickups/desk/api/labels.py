"""The life of a label, the pictures in it, and the page behind its QR."""

from functools import cache
from pathlib import Path
from typing import cast
from uuid import UUID

from csp.constants import NONE, SELF, UNSAFE_INLINE
from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.template.loader import render_to_string
from django.views.decorators.http import require_safe

from pickups.custody import queries as custody
from pickups.desk import words
from pickups.desk.api.door import language, not_here, office, page, tell
from pickups.desk.queries import life, typed
from pickups.kernel import clock
from pickups.kernel.wire import shown
from pickups.labels import queries as labels
from pickups.labels import services
from pickups.people.models import User
from pickups.runs import queries as runs
from pickups.sync import photos

REASON_MOST = 200
BARE = {"default-src": [NONE], "img-src": [SELF], "style-src": [UNSAFE_INLINE],
        "frame-ancestors": [NONE]}  # fmt: skip
"""A browser shows a bare picture in a page that it styles itself, which our policy would stop."""


@office("GET")
def find(request: HttpRequest) -> HttpResponse:
    """What was typed or scanned into the search field, as a label; else what is wrong with it."""
    text = request.GET.get("q", "")
    label, fault = typed.label_of(text, language(request))
    if label:
        return redirect("label", code=label)
    return _no_label(request, 400, text, fault)


def _no_label(request: HttpRequest, status: int, text: str, fault: str) -> HttpResponse:
    """What is wrong with a text that is no label, and which printed ones may be meant."""
    meant = typed.meant(text, language(request))
    return page(
        request, "no_label.html", status=status, searched=text[:200], fault=fault, meant=meant
    )


@office("GET")
def label(request: HttpRequest, code: str) -> HttpResponse:
    """The life of a label."""
    sound, fault = typed.label_of(code, language(request))
    if not sound:
        return _no_label(request, 404, code, fault)
    if sound != code:
        return redirect("label", code=sound)
    return page(request, "label.html", life=life.life(sound, language(request)))


@office("POST", decides=True)
def void(request: HttpRequest, code: str) -> HttpResponse:
    """A label that was found damaged before use is void, with why."""
    reason, here = request.POST.get("reason", "").strip(), redirect("label", code=code)
    if code not in labels.printed([code]):
        return not_here(request)
    if not life.unused(code):
        tell(request, "label_spoil_used", wrong=True)
        return here
    if not 1 <= len(reason) <= REASON_MOST or not reason.isprintable():
        spoken = language(request)
        say = {"most": REASON_MOST, "value": shown(reason)}
        wrong = words.say(spoken, "label_spoil_no_why", **say)
        found = life.life(code, spoken)
        return page(request, "label.html", status=400, life=found, typed=reason, wrong=wrong)
    by = cast("User", request.user)
    try:
        new = services.void_label(
            code=code, reason=reason, by=by, at=clock.now(), unused=life.unused
        )
    except services.Used:  # by a phone, while this page was read
        tell(request, "label_spoil_used", wrong=True)
        return here
    tell(request, "label_spoil_done" if new else "label_spoil_before")
    return here


@office("GET")
def photo(request: HttpRequest, fact: UUID, number: int) -> HttpResponse:
    """A photo, reached through the fact that it belongs to, or what a driver told of a run; never
    by its hash."""
    known = custody.fact(fact)
    hashes = known.told.get("photos", []) if known else runs.photos(fact)
    return _picture(request, hashes[number - 1] if 0 < number <= len(hashes) else "")


@office("GET")
def signature(request: HttpRequest, visit: UUID) -> HttpResponse:
    """What was drawn at a pickup or delivery, reached through that visit, never by its hash."""
    return _picture(request, custody.drawing(visit))


def _picture(request: HttpRequest, sha256: str) -> HttpResponse:
    data = photos.read(sha256) if sha256 else None
    if data is None:
        return not_here(request)
    answer = HttpResponse(data, content_type="image/jpeg")
    answer._csp_config = BARE  # type: ignore[attr-defined]  # noqa: SLF001 - csp's own decorator would take the 403 along
    return answer


@require_safe
def icon(request: HttpRequest) -> HttpResponse:
    """The strokes, for a page that names no icon: a picture, a text, the records."""
    answer = HttpResponse(_strokes(), content_type="image/svg+xml")
    answer["Cache-Control"] = "public, max-age=86400"
    return answer


@cache
def _strokes() -> bytes:
    return (Path(__file__).parents[1] / "static" / "desk" / "strokes.svg").read_bytes()


@require_safe
def behind_the_qr(request: HttpRequest, rest: str) -> HttpResponse:
    """The same bytes for every label, known, unknown or void, and for every reader."""
    answer = HttpResponse(_property(settings.DEALER_NAME, settings.DEALER_PHONE))
    answer["Cache-Control"] = "public, max-age=3600"
    return answer


@cache
def _property(name: str, phone: str) -> bytes:
    tel = "".join(c for c in phone if c.isdigit() or c == "+")
    context = {"dealer": name, "phone": phone, "tel": tel}
    return render_to_string("desk/property.html", context).encode()
