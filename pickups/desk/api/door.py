"""Who passes the office's doors, and what every page of it shows around its own matter."""

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.conf import settings
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import get_language
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods

from pickups.desk import rules, words

View = Callable[..., HttpResponseBase]


def language(request: HttpRequest) -> str:
    """The reader's language: the switch on the page, else the browser's."""
    return words.spoken(get_language())


def page(request: HttpRequest, template: str, *, status: int = 200, **context: Any) -> HttpResponse:
    """A page of the office with its words."""
    spoken = language(request)
    role = getattr(request.user, "role", "")
    around = {
        "w": words.of(spoken),
        "lang": spoken,
        "dealer": settings.DEALER_NAME,
        "sees": role in rules.SEES,
        "decides": role in rules.DECIDES,
    }
    return render(request, f"desk/{template}", {**around, **context}, status=status)


def tell(request: HttpRequest, key: str, *, wrong: bool = False, **values: object) -> None:
    """Say on the next page what came of what was done here."""
    level = messages.ERROR if wrong else messages.SUCCESS
    messages.add_message(request, level, words.say(language(request), key, **values))


def office(*methods: str, decides: bool = False) -> Callable[[View], View]:
    """A page of the office: signed in, in a role that sees it and, where asked, decides in it.

    Nothing of it is kept by a browser or proxy.
    """

    def around(view: View) -> View:
        @wraps(view)
        def answer(request: HttpRequest, **kwargs: Any) -> HttpResponseBase:
            if not request.user.is_authenticated:
                back = {"next": request.get_full_path()} if request.method == "GET" else {}
                query = f"?{urlencode(back)}" if back else ""
                return redirect(reverse("sign-in") + query)
            role = request.user.role
            if role not in (rules.DECIDES if decides else rules.SEES):
                return not_for_you(request)
            return view(request, **kwargs)

        return never_cache(require_http_methods(list(methods))(answer))

    return around


def not_for_you(request: HttpRequest, key: str = "") -> HttpResponse:
    """A plain 403 that says why and what to do; in the words of `key`, where there are others."""
    role = getattr(request.user, "role", "")
    spoken = language(request)
    key = key or ("not_decide_say" if role in rules.SEES else "not_for_you_say")
    why = words.say(spoken, key, name=request.user, role=words.of(spoken)[f"role_{role}"])
    return page(request, "not_for_you.html", status=403, why=why)


def not_here(request: HttpRequest) -> HttpResponse:
    """404 in the office's own words."""
    return page(request, "not_here.html", status=404)
