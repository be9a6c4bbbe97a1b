"""The receipt of a visit: by the square on a driver's screen, and on a customer's own pages.

Who has the link of a receipt sees this one receipt and, of a pickup, may say that it is wrong;
nothing else. About a delivery they call: its page says whom.
"""

from collections.abc import Callable
from functools import partial
from typing import Any
from uuid import UUID

from django import forms
from django.db import OperationalError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.cache import never_cache
from django.views.decorators.csrf import csrf_exempt
from django.views.decorators.http import require_http_methods

from pickups.custody import disputes
from pickups.custody.queries import Delivery, Pickup
from pickups.kernel import clock
from pickups.kernel.languages import spoken
from pickups.kernel.throttles import FewPerAddress
from pickups.notices.queries.receipts import phone
from pickups.portal import services, words
from pickups.portal.api import door, pages
from pickups.portal.api.door import View
from pickups.portal.queries import receipts
from pickups.portal.rules import SCANNED
from pickups.portal.services import Bearer, Guest, ReceiptSession
from pickups.sync import photos


class DisputeTries(FewPerAddress):
    """Ten a minute from one address; what a customer may add to one case is bounded apart."""

    scope = "dispute"


class PaperTries(FewPerAddress):
    """Ten papers a minute to one address: each is typeset anew."""

    scope = "receipt_paper"


class Otherwise(forms.Form):
    """What was otherwise, 1 to 500 characters that can be stored, and how many they count."""

    said = forms.CharField(max_length=disputes.SAID_MOST)
    theirs = forms.IntegerField(min_value=0, max_value=9999, required=False)


# The forms' secret needs a cookie, which who scans a square has none of yet; see door.swapped.
@csrf_exempt
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def link(request: HttpRequest, key: str) -> HttpResponse:
    """GET: one button, whatever the key. POST: a session, and an address without the key."""
    begin = partial(services.begin_receipt, key=key, at=clock.now())
    if request.method == "POST":
        answer = door.swapped(request, SCANNED, begin, closed="receipt_closed.html")
    else:
        answer = door.bare(request, "receipt_link.html")
    answer["Referrer-Policy"] = "no-referrer"
    return answer


def bearer(*methods: str) -> Callable[[View], View]:
    """A page for who has the link of a receipt."""
    return door.held(SCANNED, _bearer, *methods, closed="receipt_closed.html")


def _bearer(key: str) -> Bearer | None:
    return services.bearer(key=key, at=clock.now())


@bearer("GET", "HEAD")
def receipt(request: HttpRequest, found: Bearer) -> HttpResponse:
    """The one receipt."""
    return _of_bearer(request, found)


@bearer("GET", "HEAD")
def paper(request: HttpRequest, found: Bearer) -> HttpResponse:
    """The same as a PDF."""
    if (refused := door.often(request, PaperTries())) is not None:
        return refused
    return _pdf(found.visit, found.language) or _of_bearer(request, found, status=404)


@bearer("POST")
def say_otherwise(request: HttpRequest, found: Bearer) -> HttpResponse:
    """They say that it was otherwise."""
    if isinstance(found.visit, Delivery):
        return _of_bearer(request, found, status=404)
    return _dispute(request, found.visit, partial(_of_bearer, request, found), reverse("receipt"))


@bearer("POST")
def speak(request: HttpRequest, found: Bearer) -> HttpResponse:
    """The language switch."""
    language = spoken(request.POST.get("language"))
    services.speak(key=found.key, language=language, kind=ReceiptSession)
    return redirect(door.back(request, SCANNED))


@bearer("POST")
def leave(request: HttpRequest, found: Bearer) -> HttpResponse:
    """Ends the session; the link opens another."""
    services.end(key=found.key, kind=ReceiptSession)
    answer = redirect("receipt")
    answer.delete_cookie(SCANNED.cookie, path=SCANNED.path, samesite="Lax")
    return answer


@bearer("GET", "HEAD")
def nothing(request: HttpRequest, found: Bearer, rest: str) -> HttpResponse:
    """An address of these pages that does not exist."""
    return _of_bearer(request, found, status=404)


@pages.customer("GET", "HEAD")
def mine(request: HttpRequest, guest: Guest, visit: UUID) -> HttpResponse:
    """A receipt on its customer's own pages."""
    found = receipts.of_customer(guest.contact.customer_id, visit)
    return _of_guest(request, guest, found) if found else pages.not_here(request, guest)


@pages.customer("GET", "HEAD")
def my_paper(request: HttpRequest, guest: Guest, visit: UUID) -> HttpResponse:
    """The same as a PDF."""
    found = receipts.of_customer(guest.contact.customer_id, visit)
    if (refused := door.often(request, PaperTries())) is not None:
        return refused
    made = _pdf(found, guest.language) if found else None
    return made or pages.not_here(request, guest)


@pages.customer("GET", "HEAD")
def my_photo(request: HttpRequest, guest: Guest, visit: UUID, number: int) -> HttpResponse:
    """The pile where nobody was there: reached through the visit, never by a photo's hash."""
    found = receipts.of_customer(guest.contact.customer_id, visit)
    sha256 = receipts.photo(found, number) if found else None
    data = photos.read(sha256) if sha256 else None
    made = HttpResponse(data, content_type="image/jpeg") if data else None
    return made or pages.not_here(request, guest)


@pages.customer("POST")
def my_otherwise(request: HttpRequest, guest: Guest, visit: UUID) -> HttpResponse:
    """A customer says that it was otherwise."""
    pickup = receipts.of_customer(guest.contact.customer_id, visit)
    if not isinstance(pickup, Pickup):
        return pages.not_here(request, guest)
    shown = partial(_of_guest, request, guest, pickup)
    return _dispute(request, pickup, shown, reverse("casings-receipt", args=[visit]))


def _dispute(request: HttpRequest, pickup: Pickup, shown: View, back: str) -> HttpResponse:
    if (refused := door.often(request, DisputeTries())) is not None:
        return refused
    form = Otherwise(request.POST)
    if not form.is_valid():
        return shown(status=400, typed=_typed(request), faults=set(form.errors))
    data = form.cleaned_data
    try:
        told = disputes.tell(visit=pickup.uid, said=data["said"], theirs=data["theirs"], by=None)
    except OperationalError:  # somebody is at the same pickup for longer than a lock is waited for
        return shown(status=503, typed=_typed(request), busy=True)
    if told is None:
        return shown(status=429, enough=True)
    return redirect(back)


def _typed(request: HttpRequest) -> dict[str, str]:
    return {name: request.POST.get(name, "")[:1000] for name in ("said", "theirs")}


def _pdf(visit: Pickup | Delivery, language: str) -> HttpResponse | None:
    data = receipts.pdf(visit, language)
    if data is None:
        return None
    answer = HttpResponse(data, content_type="application/pdf")
    answer["Content-Disposition"] = 'inline; filename="receipt.pdf"'
    return answer


def _of_bearer(request: HttpRequest, found: Bearer, **context: Any) -> HttpResponse:
    return door.page(
        request,
        "receipt.html",
        way=SCANNED,
        language=found.language,
        phone=phone(found.visit),
        paper=receipts.paper(found.visit, found.language),
        pdf_at=reverse("receipt-pdf"),
        say_at=reverse("receipt-otherwise"),
        **_counts(found.language, context),
    )


def _of_guest(
    request: HttpRequest, guest: Guest, visit: Pickup | Delivery, **context: Any
) -> HttpResponse:
    return pages.page(
        request,
        guest,
        "receipt.html",
        paper=receipts.paper(visit, guest.language),
        pdf_at=reverse("casings-receipt-pdf", args=[visit.uid]),
        say_at=reverse("casings-otherwise", args=[visit.uid]),
        **_counts(guest.language, context),
    )


def _counts(language: str, context: dict[str, Any]) -> dict[str, Any]:
    """What was typed that cannot be, said with what is allowed."""
    faults, typed = context.get("faults", set()), context.get("typed", {})
    said = {name: words.say(language, f"otherwise_no_{name}", value=typed[name]) for name in faults}
    return {**context, "faults": said}
