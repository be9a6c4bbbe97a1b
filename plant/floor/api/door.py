"""Who passes the doors of the plant's pages, which plant a page is about, and what every page shows
around its own matter.

A page is made so: `@floor("GET")` over `def view(request, plant)`, then `page(request, plant,
"name.html", here="its address's name", ...)` and a line in `rules.WAYS`.
"""

from collections.abc import Callable, Iterable
from functools import wraps
from typing import Any

from django.conf import settings
from django.contrib import messages
from django.db import OperationalError
from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import get_language
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods

from pickups.kernel.wire import Malformed, shown, storable
from pickups.people.models import Site
from plant.floor import rules, words
from plant.floor.queries import plants

View = Callable[..., HttpResponseBase]
CHOSEN = "plant"
"""Under which name the session keeps the plant that was chosen."""

CALLED = {
    "size": "unlabelled_size", "brand": "unlabelled_brand", "rack": "unlabelled_rack",
    "new": "unlabelled_new", "told_by": "unlabelled_told_by", "said": "adjust_said",
    "complaint": "claim_complaint", "q": "claim_found", "grounds": "decide_grounds",
    "source": "cure_source", "number": "load_number", "operator": "load_operator",
    "lots": "load_lots", "note": "load_note", "chart": "limits_chart", "label": "held",
    "tread_design": "targets_tread_design", "sheet": "targets_sheet",
    "why_en": "stop_why_en", "why_es": "stop_why_es", "heard": "stop_heard",
}  # fmt: skip
"""What fields in which somebody types are called on the pages."""


def language(request: HttpRequest) -> str:
    """The reader's language: the switch on the page, else the browser's."""
    return words.spoken(get_language())


def page(
    request: HttpRequest, plant: Site | None, template: str, *, status: int = 200, **context: Any
) -> HttpResponse:
    """A page of the plant with its words; `here` is the name of the way that it stands under."""
    spoken = language(request)
    known = words.of(spoken)
    role = getattr(request.user, "role", "")
    others = plants.everyone(request.user) if request.user.is_authenticated else []
    around = {
        "w": known,
        "lang": spoken,
        "dealer": settings.DEALER_NAME,
        "plant": plant,
        "plants": others if len(others) > 1 else [],
        "ways": [(name, known[word]) for name, word in rules.WAYS] if plant else [],
        "decides": role in rules.DECIDES,
        "stops": role in rules.STOPS,
        "desk": role in rules.SEES - {"plant"},
    }
    return render(request, f"floor/{template}", {**around, **context}, status=status)


def tell(request: HttpRequest, key: str, *, wrong: bool = False, **values: object) -> None:
    """Say on the next page what came of what was done here."""
    level = messages.ERROR if wrong else messages.SUCCESS
    messages.add_message(request, level, words.say(language(request), key, **values))


def floor(*methods: str, decides: bool = False, stops: bool = False) -> Callable[[View], View]:
    """A page of the plant: signed in, in a role that sees it and, where asked, decides on it or
    writes to owners about tires in service.

    The view is given the plant that the page is about. Nothing of it is kept by a browser or proxy.
    A form with text that no table keeps comes back before the view sees it; one whose casing or
    load somebody else is working on comes back after, with nothing of it done.
    """

    def around(view: View) -> View:
        @wraps(view)
        def answer(request: HttpRequest, **kwargs: Any) -> HttpResponseBase:
            if not request.user.is_authenticated:
                back = {"next": request.get_full_path()} if request.method == "GET" else {}
                query = f"?{urlencode(back)}" if back else ""
                return redirect(reverse("sign-in") + query)
            role = request.user.role
            if role not in rules.SEES:
                return _refused(request, None, "not_for_you_say")
            plant = plants.of(request.user, request.session.get(CHOSEN))
            if plant is None:
                key = "not_yours_say" if role == "plant" else "no_plant_say"
                return _refused(request, None, key)
            if decides and role not in rules.DECIDES:
                return _refused(request, plant, "not_decide_say")
            if stops and role not in rules.STOPS:
                return _refused(request, plant, "not_stop_say")
            if (odd := _odd(request)) is not None:
                field = words.say(language(request), CALLED.get(odd[0], "again_field"))
                why = words.say(language(request), "again_odd", field=field, value=shown(odd[1]))
                return _again(request, plant, why, status=400)
            try:
                return view(request, plant=plant, **kwargs)
            except OperationalError:
                if request.method != "POST":
                    raise
                why = words.say(language(request), "again_busy")
                return _again(request, plant, why, status=503)

        return never_cache(require_http_methods(list(methods))(answer))

    return around


def posted(request: HttpRequest, names: Iterable[str]) -> dict[str, str]:
    """What was typed into these fields, without the space around it; `floor` has seen to it that
    tables can keep it."""
    return {name: request.POST.get(name, "").strip() for name in names}


def _odd(request: HttpRequest) -> tuple[str, str] | None:
    """The first field with U+0000 or a lone surrogate in it, and what was typed."""
    for name, values in request.POST.lists():
        for text in (name, *values):
            try:
                storable(text)
            except Malformed:
                return name, text
    return None


def _again(request: HttpRequest, plant: Site, why: str, *, status: int) -> HttpResponse:
    """A form that did nothing, with all that was typed, to be sent again by one key."""
    typed = [
        (_kept(name), _kept(value))
        for name, values in request.POST.lists()
        for value in values
        if name != "csrfmiddlewaretoken"
    ]
    return page(request, plant, "again.html", status=status, why=why, typed=typed, to=request.path)


def _kept(text: str) -> str:
    return text.replace("\0", "").encode("utf-8", "ignore").decode()


def _refused(request: HttpRequest, plant: Site | None, key: str) -> HttpResponse:
    """A plain 403 that says why and what to do."""
    role = getattr(request.user, "role", "")
    spoken = language(request)
    why = words.say(spoken, key, name=request.user, role=words.of(spoken)[f"role_{role}"])
    return page(request, plant, "not_for_you.html", status=403, why=why)


def not_here(request: HttpRequest, plant: Site) -> HttpResponse:
    """404 in the plant's own words."""
    return page(request, plant, "not_here.html", status=404)
