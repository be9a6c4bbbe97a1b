"""Suppose something of the plant: asked, watched while it is computed, stopped, answered."""

import re
from dataclasses import dataclass
from datetime import date, time
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from pickups.kernel import clock, ids
from pickups.people.models import Site
from plant.dock import queries as dock
from plant.dock.models import Chamber
from plant.floor import rules, words
from plant.floor.api.door import floor, language, not_here, page, posted, tell
from plant.floor.queries import suppose as read
from plant.forecast import queries
from plant.forecast.doors import supposing, trying

NOTHING = supposing.Supposed()
FIELDS = ("more", "on", "without", "from", "to")


@dataclass(frozen=True, slots=True)
class Typed:
    """What was supposed as it was read; key: why it is not allowed, field: where."""

    what: supposing.Supposed = NOTHING
    field: str = ""
    key: str = ""


@floor("GET", "POST")
def suppose(request: HttpRequest, plant: Site) -> HttpResponse:
    """The form and what was asked before; a form that is in order is kept and answered apart."""
    if request.method != "POST":
        return _page(request, plant, {})
    typed = posted(request, FIELDS)
    told = _read(typed, plant.uid)
    if told.key:
        return _page(request, plant, typed, wrong=told)
    if (form := _form(request)) is None:
        return _page(request, plant, typed, wrong=Typed(key="fault_sup_form"))
    try:
        uid = trying.ask(
            plant=plant.uid,
            what=told.what,
            by=request.user,  # type: ignore[arg-type]  # the door let a signed-in person through
            at=clock.now(),
            uid=form,
        )
    except trying.OneAtATime:
        return _page(request, plant, typed, wrong=Typed(key="fault_sup_one"))
    return redirect("suppose-one", uid=uid)


@floor("GET")
def one(request: HttpRequest, plant: Site, uid: UUID) -> HttpResponse:
    """One question, and what came of it so far."""
    found = read.answer(plant.uid, uid, language(request), at=clock.now())
    if found is None:
        return not_here(request, plant)
    stops = found.open and _stops(request, plant, uid)
    return page(request, plant, "suppose_one.html", here="suppose", one=found, stops=stops)


@floor("GET")
def live(request: HttpRequest, plant: Site, uid: UUID) -> HttpResponse:
    """The same without what stands around it; 204 where nothing differs from what was `seen`."""
    spoken = language(request)
    found = read.answer(plant.uid, uid, spoken, at=clock.now())
    if found is None:
        return not_here(request, plant)
    if found.mark == request.GET.get("seen"):
        return HttpResponse(status=204)
    return render(request, "floor/suppose_now.html", {"w": words.of(spoken), "one": found})


@floor("POST")
def stop(request: HttpRequest, plant: Site, uid: UUID) -> HttpResponse:
    """Nothing more of it is computed; said by who asked, or who decides for the plant."""
    if trying.one(plant.uid, uid) is None:
        return not_here(request, plant)
    if not _stops(request, plant, uid):
        tell(request, "sup_not_yours", wrong=True)
        return redirect("suppose-one", uid=uid)
    stopped = trying.stop(uid=uid, plant=plant.uid)
    tell(request, "sup_stopped" if stopped else "sup_over")
    return redirect("suppose-one", uid=uid)


def _stops(request: HttpRequest, plant: Site, uid: UUID) -> bool:
    row, user = trying.one(plant.uid, uid), request.user
    own = row is not None and row.by_id == user.pk
    return own or getattr(user, "role", "") in rules.DECIDES


def _form(request: HttpRequest) -> UUID | None:
    """The id that the form was shown with."""
    try:
        return UUID(request.POST.get("uid", ""))
    except ValueError:
        return None


def _page(
    request: HttpRequest, plant: Site, typed: dict[str, str], *, wrong: Typed | None = None
) -> HttpResponse:
    spoken, today = language(request), _today()
    bounds = {
        "most": supposing.MOST_MORE,
        "first": words.day_in_words(spoken, today),
        "last": words.day_in_words(spoken, supposing.last_day(today)),
    }
    why = ""
    if wrong is not None:
        called = words.of(spoken).get(f"sup_{wrong.field}", "")
        value = typed.get(wrong.field, "")[:40]
        why = words.say(spoken, wrong.key, field=called, value=value, **bounds)
    return page(
        request,
        plant,
        "suppose.html",
        status=400 if wrong else 200,
        here="suppose",
        asked=read.latest(plant.uid, spoken, at=clock.now()),
        chambers=[(one.code, one.name) for one in _spare(plant.uid)],
        typed=typed | {"begins": typed.get("from", ""), "ends": typed.get("to", "")},
        wrong=why,
        wrong_at=wrong.field if wrong else "",
        uid=ids.uuid7(),
        more_hint=words.say(spoken, "sup_more_hint", **bounds),
        on_hint=words.say(spoken, "sup_on_hint", **bounds),
        first=today.isoformat(),
        last=supposing.last_day(today).isoformat(),
    )


def _today() -> date:
    return clock.local(clock.now(), queries.zone()).date()


def _spare(plant: UUID) -> list[Chamber]:
    """The chambers of which one may be left out: none where there is but one."""
    found = dock.chambers(plant)
    return found if len(found) > 1 else []


def _read(typed: dict[str, str], plant: UUID) -> Typed:
    """The first field that is not allowed, in the order of the form, else what is supposed."""
    more, on, shift = 0, None, None
    if typed["more"] or typed["on"]:
        plain = re.fullmatch(r"[0-9]{1,4}", typed["more"]) is not None
        more = int(typed["more"]) if plain else 0
        if not 1 <= more <= supposing.MOST_MORE:
            return Typed(field="more", key="fault_sup_more")
        on = _day(typed["on"])
        if on is None or not _today() <= on <= supposing.last_day(_today()):
            return Typed(field="on", key="fault_sup_on")
    if typed["without"] and typed["without"] not in {one.code for one in _spare(plant)}:
        return Typed(field="without", key="fault_sup_without")
    if typed["from"] or typed["to"]:
        begins, ends = _clock(typed["from"]), _clock(typed["to"])
        if begins is None:
            return Typed(field="from", key="fault_sup_shift")
        if ends is None or ends == begins:
            return Typed(field="to", key="fault_sup_shift")
        shift = (begins, ends)
    what = supposing.Supposed(more, on, typed["without"], shift)
    return Typed(what) if what != NOTHING else Typed(field="more", key="fault_sup_nothing")


def _day(text: str) -> date | None:
    if re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text) is None:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None


def _clock(text: str) -> time | None:
    if re.fullmatch(r"(?:[01]?[0-9]|2[0-3]):[0-5][0-9]", text) is None:
        return None
    hours, minutes = text.split(":")
    return time(int(hours), int(minutes))
