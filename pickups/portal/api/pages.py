"""A customer's own pages: the mailed link, the casings, the story of one, the receipts."""

from collections.abc import Callable
from functools import partial
from typing import Any
from uuid import UUID

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.cache import never_cache
from django.views.decorators.csrf import csrf_exempt
from django.views.decorators.http import require_http_methods

from pickups.customers import queries as customers
from pickups.kernel import clock
from pickups.kernel.languages import spoken
from pickups.portal import services, words
from pickups.portal.api import door
from pickups.portal.api.door import View
from pickups.portal.queries import mine as lists
from pickups.portal.queries import stop_use
from pickups.portal.queries import story as stories
from pickups.portal.rules import MAILED
from pickups.portal.services import Guest
from pickups.sync import photos


# The forms' secret needs a cookie, which who opens a link has none of yet; see door.swapped.
@csrf_exempt
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def link(request: HttpRequest, token: str) -> HttpResponse:
    """GET: one button, whatever the token. POST: a session, and an address without the token."""
    begin = partial(services.begin, token=token, at=clock.now())
    post = request.method == "POST"
    answer = (
        door.swapped(request, MAILED, begin, closed="closed.html", first=partial(_first, token))
        if post
        else door.bare(request, "link.html")
    )
    answer["Referrer-Policy"] = "no-referrer"
    return answer


def _first(token: str) -> str:
    """What is to be confirmed comes before all else."""
    contact = customers.contact_by_link(token, at=clock.now())
    stop = stop_use.first_open(contact.customer_id) if contact else None
    return reverse("casings-stop-use", args=[stop]) if stop else MAILED.first


def customer(*methods: str) -> Callable[[View], View]:
    """A page for a customer's session."""
    return door.held(MAILED, _guest, *methods, closed="closed.html")


def _guest(key: str) -> Guest | None:
    return services.guest(key=key, at=clock.now())


@customer("GET", "HEAD")
def mine(request: HttpRequest, guest: Guest) -> HttpResponse:
    """What is with us, or what a search finds."""
    text = request.GET.get("q", "").strip()[:80]
    whose = guest.contact.customer_id
    if text:
        found = lists.find(whose, text, guest.language, phone=_phone(guest))
        status = 400 if found.fault else 200
        return page(request, guest, "found.html", status=status, searched=text, found=found)
    asked = request.GET.get("page", "1")
    number = int(asked) if asked.isascii() and asked.isdigit() and len(asked) < 6 else 1
    mine = lists.mine(whose, guest.language, page=number)
    unread, read = stop_use.standing(guest.contact, guest.language)
    return page(request, guest, "mine.html", mine=mine, unread=unread, read=read)


@customer("GET", "HEAD")
def story(request: HttpRequest, guest: Guest, order: UUID) -> HttpResponse:
    """One of the customer's own casings."""
    whose = guest.contact.customer_id
    told = stories.story(whose, order, guest.language, phone=_phone(guest))
    if told is None:
        return not_here(request, guest)
    stop = stop_use.about([order], whose).get(order)
    read = stop is not None and stop_use.has_read(guest.contact, stop)
    return page(request, guest, "story.html", story=told, stop=stop, read=read)


@customer("GET", "HEAD")
def photo(request: HttpRequest, guest: Guest, order: UUID, number: int) -> HttpResponse:
    """A photo of one of the customer's own, reached through its record, never by its hash."""
    sha256 = stories.photo(guest.contact.customer_id, order, number)
    data = photos.read(sha256) if sha256 else None
    return HttpResponse(data, content_type="image/jpeg") if data else not_here(request, guest)


@customer("GET", "HEAD")
def nothing(request: HttpRequest, guest: Guest, rest: str) -> HttpResponse:
    """An address of these pages that does not exist."""
    return not_here(request, guest)


@customer("POST")
def speak(request: HttpRequest, guest: Guest) -> HttpResponse:
    """The language switch; back to where it was pressed."""
    services.speak(key=guest.key, language=spoken(request.POST.get("language")))
    return redirect(door.back(request, MAILED))


@customer("POST")
def sign_out(request: HttpRequest, guest: Guest) -> HttpResponse:
    """Ends the session; the link in the mail opens another."""
    services.end(key=guest.key)
    answer = redirect("casings")
    answer.delete_cookie(MAILED.cookie, path=MAILED.path, samesite="Lax")
    return answer


def _phone(guest: Guest) -> str:
    """Whom to call: the customer's own store."""
    return guest.contact.customer.home_site.phone or settings.DEALER_PHONE


def page(request: HttpRequest, guest: Guest, template: str, **context: Any) -> HttpResponse:
    """A page for a customer's session."""
    around = {
        "opened_for": words.say(guest.language, "opened_for", name=guest.contact.name),
        "customer": guest.contact.customer.name,
    }
    return door.page(
        request,
        template,
        way=MAILED,
        language=guest.language,
        phone=_phone(guest),
        **{**around, **context},
    )


def not_here(request: HttpRequest, guest: Guest) -> HttpResponse:
    """The same for what is another's and for what is nobody's."""
    return page(request, guest, "not_here.html", status=404)
