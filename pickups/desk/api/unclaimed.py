"""The page of casings that wait for their owners, and what a supervisor decides about them."""

from datetime import date
from typing import Any
from uuid import UUID

from django.db import OperationalError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from pickups.custody import deciding
from pickups.custody.reminding import Decision
from pickups.custody.wire.reminding import LAST_YEAR
from pickups.desk import words
from pickups.desk.api.door import language, office, page, tell
from pickups.desk.api.sheets import chosen
from pickups.desk.queries import unclaimed as queries
from pickups.desk.queries.loose import today_of
from pickups.kernel import clock
from pickups.kernel.wire import shown

GROUNDS_MOST = 500


@office("GET")
def unclaimed(request: HttpRequest) -> HttpResponse:
    """What waits at a store, the longest there first, each with its steps."""
    return _page(request)


@office("POST", decides=True)
def decide(request: HttpRequest) -> HttpResponse:
    """One decision, with its grounds, about what was ticked."""
    typed = {name: request.POST.get(name, "").strip() for name in ("decision", "grounds", "until")}
    store, _ = chosen(request)
    there = queries.waiting(language(request), store, at=clock.now()) if store else []
    ticked = [one for one in there if one.label in request.POST.getlist("label")]
    until, faults = _day(typed["until"]), {}
    if not request.POST.getlist("label"):
        faults["label"] = _say(request, "unclaimed_no_label")
    if typed["decision"] not in set(Decision):
        value = shown(typed["decision"], 20)
        faults["decision"] = _say(request, "unclaimed_no_decision", value=value)
    if not 1 <= len(typed["grounds"]) <= GROUNDS_MOST:
        faults["grounds"] = _say(request, "unclaimed_no_grounds")
    if until is None and (typed["until"] or typed["decision"] == Decision.KEEP):
        faults["until"] = _say(request, "unclaimed_no_day", value=shown(typed["until"], 20))
    if faults:
        return _page(request, typed, faults)
    by: UUID = request.user.uid  # type: ignore[union-attr]
    decision = Decision(typed["decision"])
    labels, grounds = [one.label for one in ticked], typed["grounds"]
    try:
        noted = deciding.decide(
            labels=labels, decision=decision, grounds=grounds, until=until, by=by
        )
    except OperationalError:
        return _page(request, typed, {"label": _say(request, "busy")}, status=503)
    if not noted:
        tell(request, "unclaimed_gone", wrong=True)
        return redirect(_address(request))
    said = _say(request, f"decision_{decision}")
    tell(request, "unclaimed_noted", n=noted, decision=said)
    if decision is Decision.BUY and len(ticked) == 1:
        return redirect("owner", uid=ticked[0].work_order)
    return redirect(_address(request))


def _day(typed: str) -> date | None:
    """A day from today on that a step may name; None for what is none."""
    try:
        day = date.fromisoformat(typed)
    except ValueError:
        return None
    return day if day >= today_of(clock.now()) and day.year <= LAST_YEAR else None


def _say(request: HttpRequest, key: str, **values: object) -> str:
    return words.say(language(request), key, **values)


def _address(request: HttpRequest) -> str:
    store = request.GET.get("store", "")
    return f"{reverse('unclaimed')}?store={store}" if store else reverse("unclaimed")


def _page(
    request: HttpRequest,
    typed: dict[str, Any] | None = None,
    faults: dict[str, str] | None = None,
    status: int = 400,
) -> HttpResponse:
    store, stores = chosen(request)
    spoken, days = language(request), queries.days()
    return page(
        request,
        "unclaimed.html",
        status=status if faults else 200,
        here="unclaimed",
        store=store,
        stores=stores,
        title=words.say(spoken, "unclaimed_title", store=store.name) if store else "",
        days=words.say(spoken, "unclaimed_days", call=days.call, write=days.write, hold=days.hold),
        waiting=queries.waiting(spoken, store, at=clock.now()) if store else [],
        decisions=[(one.value, words.say(spoken, f"decision_{one}")) for one in Decision],
        ticked=request.POST.getlist("label"),
        typed=typed or {},
        faults=faults or {},
        today=today_of(clock.now()).isoformat(),
    )
