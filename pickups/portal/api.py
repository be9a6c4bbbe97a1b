"""The doors of the customer's pages: read the request, call one service or query, render.

The mailed link itself is never looked up on GET (scanners open every link in a mail): the page is
the same bytes for every token there is or is not. A page that refuses says no more to anybody.
"""

from collections.abc import Callable
from functools import wraps
from typing import Any, cast
from uuid import UUID

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.cache import patch_vary_headers
from django.views.decorators.cache import never_cache
from django.views.decorators.csrf import csrf_exempt
from django.views.decorators.http import require_http_methods
from rest_framework.request import Request
from rest_framework.views import APIView

from pickups.kernel import clock
from pickups.kernel.languages import spoken
from pickups.kernel.throttles import FewPerAddress
from pickups.portal import services, words
from pickups.portal.queries import mine as lists
from pickups.portal.queries import story as stories
from pickups.portal.rules import COOKIE, COOKIE_PATH
from pickups.portal.services import Guest
from pickups.sync import photos

View = Callable[..., HttpResponse]


class LinkTries(FewPerAddress):
    """Ten links a minute opened from one address, counted apart from those of other doors."""

    scope = "customer_link"


# Django's own check reads Origin, and a page without a referrer sends "null" there: the browser's
# word on where the form stood (Fetch Metadata) is asked instead, so that no other site signs
# anybody in.
@csrf_exempt
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def link(request: HttpRequest, token: str) -> HttpResponse:
    """GET: one button, whatever the token. POST: a session, and an address without the token."""
    answer = _swap(request, token) if request.method == "POST" else _bare(request, "link.html")
    answer["Referrer-Policy"] = "no-referrer"
    return answer


def _swap(request: HttpRequest, token: str) -> HttpResponse:
    throttle = LinkTries()
    # The rate limit reads the request's address only, which both kinds of request carry.
    if not throttle.allow_request(cast(Request, request), cast(APIView, None)):
        answer = _bare(request, "often.html", status=429)
        answer["Retry-After"] = str(max(1, round(throttle.wait() or 60)))
        return answer
    own = request.headers.get("Sec-Fetch-Site", "none") in ("same-origin", "none")
    begun = services.begin(token=token, at=clock.now()) if own else None
    if begun is None:
        return _closed(request, status=404)
    key, seconds = begun
    opened = redirect("casings")
    opened.set_cookie(
        COOKIE,
        key,
        max_age=seconds,
        path=COOKIE_PATH,
        httponly=True,
        secure=settings.SESSION_COOKIE_SECURE,
        samesite="Lax",
    )
    return opened


def customer(*methods: str) -> Callable[[View], View]:
    """A page for a customer's session; everybody else is told how to get one, at any address."""

    def around(view: View) -> View:
        @wraps(view)
        def answer(request: HttpRequest, **kwargs: Any) -> HttpResponse:
            key = request.COOKIES.get(COOKIE, "")
            guest = services.guest(key=key, at=clock.now()) if key else None
            said = view(request, guest, **kwargs) if guest else _closed(request, status=403)
            patch_vary_headers(said, ["Cookie"])
            return said

        return never_cache(require_http_methods(list(methods))(answer))

    return around


@customer("GET", "HEAD")
def mine(request: HttpRequest, guest: Guest) -> HttpResponse:
    """What is with us, or what a search finds."""
    text = request.GET.get("q", "").strip()[:80]
    whose = guest.contact.customer_id
    if text:
        found = lists.find(whose, text, guest.language, phone=_phone(guest))
        status = 400 if found.fault else 200
        return _page(request, guest, "found.html", status=status, searched=text, found=found)
    asked = request.GET.get("page", "1")
    number = int(asked) if asked.isascii() and asked.isdigit() and len(asked) < 6 else 1
    return _page(request, guest, "mine.html", mine=lists.mine(whose, guest.language, page=number))


@customer("GET", "HEAD")
def story(request: HttpRequest, guest: Guest, order: UUID) -> HttpResponse:
    """One of the customer's own casings."""
    whose = guest.contact.customer_id
    told = stories.story(whose, order, guest.language, phone=_phone(guest))
    return _page(request, guest, "story.html", story=told) if told else _not_here(request, guest)


@customer("GET", "HEAD")
def photo(request: HttpRequest, guest: Guest, order: UUID, number: int) -> HttpResponse:
    """A photo of one of the customer's own, reached through its record, never by its hash."""
    sha256 = stories.photo(guest.contact.customer_id, order, number)
    data = photos.read(sha256) if sha256 else None
    return HttpResponse(data, content_type="image/jpeg") if data else _not_here(request, guest)


@customer("GET", "HEAD")
def nothing(request: HttpRequest, guest: Guest, rest: str) -> HttpResponse:
    """An address of these pages that does not exist."""
    return _not_here(request, guest)


@customer("POST")
def speak(request: HttpRequest, guest: Guest) -> HttpResponse:
    """The language switch; back to where it was pressed."""
    services.speak(key=guest.key, language=spoken(request.POST.get("language")))
    back = request.POST.get("next", "")
    # A path of these pages, and nothing that a browser could read as another host.
    ours = back.startswith(COOKIE_PATH) and back.isprintable() and "\\" not in back
    return redirect(back if ours else "casings")


@customer("POST")
def sign_out(request: HttpRequest, guest: Guest) -> HttpResponse:
    """Ends the session; the link in the mail opens another."""
    services.end(key=guest.key)
    answer = redirect("casings")
    answer.delete_cookie(COOKIE, path=COOKIE_PATH, samesite="Lax")
    return answer


def _phone(guest: Guest) -> str:
    """Whom to call: the customer's own store."""
    return guest.contact.customer.home_site.phone or settings.DEALER_PHONE


def _page(
    request: HttpRequest, guest: Guest, template: str, *, status: int = 200, **context: Any
) -> HttpResponse:
    around = {
        "w": words.of(guest.language),
        "lang": guest.language,
        "here": request.get_full_path() if status == 200 else "",
        "dealer": settings.DEALER_NAME,
        "tel": _tel(_phone(guest)),
        "call": words.say(guest.language, "call", phone=_phone(guest)),
        "opened_for": words.say(guest.language, "opened_for", name=guest.contact.name),
        "customer": guest.contact.customer.name,
    }
    answer = render(request, f"portal/{template}", {**around, **context}, status=status)
    answer["Content-Language"] = guest.language
    return answer


def _not_here(request: HttpRequest, guest: Guest) -> HttpResponse:
    """The same for what is another's and for what is nobody's."""
    return _page(request, guest, "not_here.html", status=404)


def _closed(request: HttpRequest, *, status: int) -> HttpResponse:
    return _bare(request, "closed.html", status=status)


def _bare(request: HttpRequest, template: str, *, status: int = 200) -> HttpResponse:
    """A page in both languages, for who is not known yet; the same bytes for everybody."""
    phone = settings.DEALER_PHONE
    context = {"dealer": settings.DEALER_NAME, "phone": phone, "tel": _tel(phone)}
    return render(request, f"portal/{template}", context, status=status)


def _tel(phone: str) -> str:
    return "".join(c for c in phone if c.isdigit() or c == "+")
