"""The steps on a load sheet: each reads its form, calls one verb, and keeps how it is undone."""

from collections.abc import Callable
from typing import Any
from uuid import UUID

from django import forms
from django.db import OperationalError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from pickups.desk import words
from pickups.desk.api import undo as steps
from pickups.desk.api.door import View, language, not_here, office, page, tell
from pickups.desk.api.sheet import Wrong, busy, refusal, seen_in, sheet_of, show, step
from pickups.desk.api.sheets import HeadForm, to_sheet
from pickups.desk.api.undo import MoveStop, Nothing, SetStop
from pickups.desk.queries import sheet as queries
from pickups.runs import queries as runs_read
from pickups.runs import services as runs
from pickups.runs.models import Run
from pickups.runs.rules import Refusal, Refused, Said


class StopForm(forms.Form):
    """What is said of a stop."""

    begins = forms.TimeField(input_formats=["%H:%M"], required=False)
    to = forms.TimeField(input_formats=["%H:%M"], required=False)
    fetch = forms.IntegerField(required=False)
    note = forms.CharField(max_length=200, required=False)


class Moved(forms.Form):
    """Where a stop is to go."""

    to = forms.IntegerField(min_value=1, max_value=999)


def _name(request: HttpRequest, run: Run, stop: UUID) -> dict[str, str]:
    """What a stop is called, for the words about it."""
    return {"place": queries.stop_named(language(request), run, stop)}


@office("POST", decides=True)
def amend(request: HttpRequest, uid: UUID) -> HttpResponse:
    """Another head."""

    def act(run: Run, seen: int) -> tuple[Any, dict[str, str]]:
        form = HeadForm(request.POST)
        if not form.is_valid():
            raise Wrong("sheet_wrong_head", form.errors)
        return runs.amend(run=uid, head=form.head(), seen=seen), {}

    return step(request, uid, "amend", act, "head")


@office("POST", decides=True)
def add_stop(request: HttpRequest, uid: UUID) -> HttpResponse:
    """A stop at the end, at a yard or a site: `place` is its kind and id."""

    def act(run: Run, seen: int) -> tuple[Any, dict[str, str]]:
        kind, _, key = request.POST.get("place", "").partition(":")
        try:
            place: dict[str, Any] = {kind: UUID(key)} if kind in ("yard", "site") else {}
        except ValueError:
            place = {}
        made = runs.add_stop(run=uid, seen=seen, **place)
        known = runs_read.sheet(uid)
        return made, _name(request, known or run, made)

    return step(request, uid, "add_stop", act, "add")


@office("POST", decides=True)
def set_stop(request: HttpRequest, uid: UUID, stop: UUID) -> HttpResponse:
    """Another window, count or note."""

    def act(run: Run, seen: int) -> tuple[Any, dict[str, str]]:
        form = StopForm(request.POST)
        if not form.is_valid():
            raise Wrong("sheet_wrong_stop", form.errors)
        old = runs.set_stop(run=uid, stop=stop, said=Said(**form.cleaned_data), seen=seen)
        return SetStop(stop, old), _name(request, run, stop)

    return step(request, uid, "set_stop", act, f"stop-{stop}")


@office("POST", decides=True)
def move_stop(request: HttpRequest, uid: UUID, stop: UUID) -> HttpResponse:
    """Earlier or later: `to` is the place that it is to have."""

    def act(run: Run, seen: int) -> tuple[Any, dict[str, str]]:
        form = Moved(request.POST)
        if not form.is_valid():
            raise Refused(Refusal.STALE)
        old = runs.move_stop(run=uid, stop=stop, to=form.cleaned_data["to"], seen=seen)
        return MoveStop(stop, old), _name(request, run, stop)

    return step(request, uid, "move_stop", act, f"at-{stop}")


@office("POST", decides=True)
def remove_stop(request: HttpRequest, uid: UUID, stop: UUID) -> HttpResponse:
    """The stop goes; what was to be dropped there is loose."""

    def act(run: Run, seen: int) -> tuple[Any, dict[str, str]]:
        old = runs.remove_stop(run=uid, stop=stop, seen=seen)
        return old, _name(request, run, stop)

    return step(request, uid, "remove_stop", act, "stops")


@office("POST", decides=True)
def put(request: HttpRequest, uid: UUID) -> HttpResponse:
    """What is ticked, or the whole of a yard, on the stop chosen or on its own yard's."""

    def act(run: Run, seen: int) -> tuple[Any, dict[str, str]]:
        wanted = _uids(request.POST.get("all", "").split(",")) or _ticked(request)
        if not wanted:
            raise Wrong("sheet_wrong_none")
        chosen = _uids([request.POST.get("stop", "")])
        placed = runs.put(
            run=uid, work_orders=wanted, stop=chosen[0] if chosen else None, seen=seen
        )
        return placed, {"n": str(len(wanted))}

    return step(request, uid, "put", act, "loose")


def _ticked(request: HttpRequest) -> list[UUID]:
    return _uids(request.POST.getlist("work_order"))


def _uids(texts: list[str]) -> list[UUID]:
    """The ids among these texts, each once; what is none was never on our page."""
    found = []
    for text in texts:
        try:
            found.append(UUID(text))
        except ValueError:
            continue
    return list(dict.fromkeys(found))


@office("POST", decides=True)
def take_off(request: HttpRequest, uid: UUID) -> HttpResponse:
    """Casings are loose again."""

    def act(run: Run, seen: int) -> tuple[Any, dict[str, str]]:
        wanted = _ticked(request)
        return runs.take_off(run=uid, work_orders=wanted, seen=seen), {"n": str(len(wanted))}

    return step(request, uid, "take_off", act, "stops")


def _plain(verb: Callable[..., None], name: str) -> View:
    """A step that needs nothing but the sheet."""

    @office("POST", decides=True)
    def view(request: HttpRequest, uid: UUID) -> HttpResponse:
        def act(run: Run, seen: int) -> tuple[Any, dict[str, str]]:
            verb(run=uid, seen=seen)
            return Nothing(), {}

        return step(request, uid, name, act, "")

    return view


hand = _plain(runs.hand, "hand")
take_back = _plain(runs.take_back, "take_back")
come_back = _plain(runs.come_back, "come_back")
not_back = _plain(runs.not_back, "not_back")


@office("POST", decides=True)
def undo(request: HttpRequest, uid: UUID) -> HttpResponse:
    """Take the last step back."""
    run = sheet_of(request, uid)
    if run is None:
        return not_here(request)
    try:
        undone = steps.undo(request, uid, seen_in(request.POST.get("seen", "")))
    except Refused as refused:
        return refusal(request, uid, refused, "", "undo")
    except OperationalError:
        return busy(request, run)
    if undone is None:
        said = words.say(language(request), "sheet_wrong_undo_none")
        return show(request, run, wrong=said, status=409)
    said = words.say(language(request), f"sheet_step_{undone.verb}", **undone.values)
    tell(request, "sheet_did_undo", step=said)
    return to_sheet(uid)


@office("GET", "POST", decides=True)
def throw_away(request: HttpRequest, uid: UUID) -> HttpResponse:
    """Asked first, then done: it cannot be undone."""
    run = sheet_of(request, uid)
    if run is None:
        return not_here(request)
    if request.method == "GET":
        asked = queries.throwing(language(request), run)
        return page(request, "sheet_throw.html", here="sheets", **asked)
    try:
        runs.throw_away(run=uid, seen=seen_in(request.GET.get("seen", "")))
    except Refused as refused:
        return refusal(request, uid, refused, "", "throw_away")
    except OperationalError:
        return busy(request, run)
    tell(request, "sheet_did_throw_away")
    return redirect("sheets")
