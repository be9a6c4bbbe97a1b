"""How a secret link is opened, and what every page of a customer shows around its own matter.

The link itself is never looked up on GET (scanners open every link in a mail, and cameras show what
is behind a square): the page is the same bytes for every token there is or is not. A page that
refuses says no more to anybody.
"""

from collections.abc import Callable
from functools import wraps
from typing import Any, cast

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.cache import patch_vary_headers
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods
from rest_framework.request import Request
from rest_framework.views import APIView

from pickups.kernel.throttles import FewPerAddress
from pickups.portal import words
from pickups.portal.rules import Way

View = Callable[..., HttpResponse]


class LinkTries(FewPerAddress):
    """Ten links a minute opened from one address, counted apart from those of other doors."""

    scope = "customer_link"


def often(request: HttpRequest, throttle: FewPerAddress) -> HttpResponse | None:
    """The answer to who comes too often, or None."""
    # The rate limit reads the request's address only, which both kinds of request carry.
    if throttle.allow_request(cast(Request, request), cast(APIView, None)):
        return None
    answer = bare(request, "often.html", status=429)
    answer["Retry-After"] = str(max(1, round(throttle.wait() or 60)))
    return answer


def swapped(
    request: HttpRequest,
    way: Way,
    begin: Callable[[], tuple[str, int] | None],
    *,
    closed: str,
    first: Callable[[], str] | None = None,
) -> HttpResponse:
    """The link swapped for a session, and an address without the token; `closed` for a bad one.
    first: which page is shown first, where that is not the way's own."""
    if (refused := often(request, LinkTries())) is not None:
        return refused
    # A page without a referrer sends Origin "null", so the browser's word on where the form stood
    # (Fetch Metadata) is asked instead of Django's own check: no other site signs anybody in.
    own = request.headers.get("Sec-Fetch-Site", "none") in ("same-origin", "none")
    begun = begin() if own else None
    if begun is None:
        return bare(request, closed, status=404)
    key, seconds = begun
    opened = redirect(first() if first else way.first)
    opened.set_cookie(
        way.cookie,
        key,
        max_age=seconds,
        path=way.path,
        httponly=True,
        secure=settings.SESSION_COOKIE_SECURE,
        samesite="Lax",
    )
    return opened


def held(
    way: Way, who: Callable[[str], object | None], *methods: str, closed: str
) -> Callable[[View], View]:
    """A page for who holds a session of this way, given to the view as `who` finds it; everybody
    else is told by `closed` how to get one, at any address."""

    def around(view: View) -> View:
        @wraps(view)
        def answer(request: HttpRequest, **kwargs: Any) -> HttpResponse:
            key = request.COOKIES.get(way.cookie, "")
            found = who(key) if key else None
            shut = bare(request, closed, status=403)
            said = view(request, found, **kwargs) if found else shut
            patch_vary_headers(said, ["Cookie"])
            return said

        return never_cache(require_http_methods(list(methods))(answer))

    return around


def page(
    request: HttpRequest,
    template: str,
    *,
    way: Way,
    language: str,
    phone: str,
    status: int = 200,
    **context: Any,
) -> HttpResponse:
    """A page in its reader's language."""
    around = {
        "w": words.of(language),
        "lang": language,
        "way": way,
        "here": request.get_full_path() if request.method == "GET" and status == 200 else "",
        "dealer": settings.DEALER_NAME,
        "tel": tel(phone),
        "call": words.say(language, "call", phone=phone),
    }
    answer = render(request, f"portal/{template}", {**around, **context}, status=status)
    answer["Content-Language"] = language
    return answer


def back(request: HttpRequest, way: Way) -> str:
    """Where a form stood: a path of these pages, and nothing that a browser could read as another
    host."""
    asked = request.POST.get("next", "")
    ours = asked.startswith(way.path) and asked.isprintable() and "\\" not in asked
    return asked if ours else way.path


def bare(request: HttpRequest, template: str, *, status: int = 200) -> HttpResponse:
    """A page in both languages, for who is not known yet; the same bytes for everybody."""
    phone = settings.DEALER_PHONE
    context = {"dealer": settings.DEALER_NAME, "phone": phone, "tel": tel(phone)}
    return render(request, f"portal/{template}", context, status=status)


def tel(phone: str) -> str:
    """A phone number as a link dials it."""
    return "".join(c for c in phone if c.isdigit() or c == "+")
