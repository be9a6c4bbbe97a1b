"""The pages of what each customer accepts of a casing: list, change, withdraw, try."""

import re
from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from pickups.customers import specifying
from pickups.customers.rules import PLACES, REJECTS, REPAIRS, WHOLE
from pickups.desk import words
from pickups.desk.api import specification_form
from pickups.desk.api.door import language, not_here, office, page, tell
from pickups.desk.api.specification_form import Fault, Typed
from pickups.desk.queries import specifications as queries
from pickups.desk.queries.loose import today_of
from pickups.kernel import clock

TRIED = ("tin", "retreads", "size", "brand", "holes")


@office("GET")
def specifications(request: HttpRequest) -> HttpResponse:
    """Every customer with what it accepts, or those whose name holds a text."""
    text = request.GET.get("customer", "").strip()[:120]
    lines = queries.listed(language(request), text)
    none = words.say(language(request), "specs_none_found", text=text) if text else ""
    return page(
        request, "specifications.html", here="specs", lines=lines, typed=text, none_found=none
    )


@office("GET")
def specification(request: HttpRequest, customer: UUID, yard: UUID | None = None) -> HttpResponse:
    """What stands at one place, the form to change it, every earlier version, a casing to try."""
    place = queries.place(language(request), customer, yard)
    if place is None:
        return not_here(request)
    return _page(request, place, specification_form.of_terms(place.terms))


def _page(request: HttpRequest, place: queries.Place, typed: Typed, **more: Any) -> HttpResponse:
    spoken = language(request)
    faults = {name: _fault(spoken, f) for name, f in typed.faults.items()}
    tried, casing = _tried(request, place)
    around = {
        "here": "specs",
        "place": place,
        "typed": typed.fields,
        "any_repair": typed.any_repair,
        "repairs": [(k, words.say(spoken, f"repair_{k}"), k in typed.repairs) for k in REPAIRS],
        "rejects": [(k, words.say(spoken, f"spec_rejects_{k}")) for k in REJECTS],
        "wholes": _labelled(spoken, WHOLE, typed, faults, hint=True),
        "lines": _labelled(spoken, (*PLACES, "fleet_brand"), typed, faults),
        "lists": _labelled(spoken, ("brands", "sizes"), typed, faults, hint=True),
        "faults": faults,
        "mend": words.say(spoken, "spec_faults", n=len(faults)) if faults else "",
        "knowing": place.number,
        "tried": tried,
        "casing": casing,
        "action": _address(place),
    }
    return page(request, "specification.html", **{**around, **more})


def _fault(spoken: str, fault: Fault) -> str:
    """A fault in words; kinds of repair by their own."""
    told = dict(fault.values)
    if isinstance(told.get("value"), list):
        told["value"] = ", ".join(words.say(spoken, f"repair_{kind}") for kind in told["value"])
    return words.say(spoken, fault.key, **told)


def _labelled(
    spoken: str, names: Any, typed: Typed, faults: dict[str, str], *, hint: bool = False
) -> list[dict[str, Any]]:
    return [
        {
            "name": name,
            "label": words.say(spoken, f"spec_{name}"),
            "hint": words.say(spoken, f"spec_{name}_hint") if hint else "",
            "value": typed.fields[name],
            "fault": faults.get(name, ""),
            "first": name == next(iter(faults), ""),
        }
        for name in names
    ]


def _tried(
    request: HttpRequest, place: queries.Place
) -> tuple[queries.Tried | None, dict[str, str]]:
    """A casing that was typed in, held against what stands here."""
    casing = {name: request.GET.get(name, "")[:200] for name in TRIED}
    if "try" not in request.GET:
        return None, casing
    yard = place.yard.uid if place.yard else None
    terms = queries.terms_at(place.customer.uid, yard)
    holes = int(casing["holes"]) if re.fullmatch("[0-9]{1,2}", casing["holes"].strip()) else 0
    today = today_of(clock.now())
    return queries.tried(language(request), terms, casing, holes, today), casing


@office("POST", decides=True)
def specify(request: HttpRequest, customer: UUID, yard: UUID | None = None) -> HttpResponse:
    """Save what was typed as a new number, or show it in words first."""
    spoken = language(request)
    place = queries.place(spoken, customer, yard)
    if place is None:
        return not_here(request)
    typed = specification_form.read(request.POST)
    if typed.terms is None:
        return _page(request, place, typed, status=400, knowing=request.POST.get("knowing", ""))
    if "look" in request.POST:
        looks = words.say(spoken, "spec_looks", said=queries.in_words(typed.terms, spoken))
        return _page(request, place, typed, looks=looks, knowing=request.POST.get("knowing", ""))
    try:
        said = specifying.specify(
            customer=customer,
            yard=yard,
            terms=typed.terms,
            by=request.user.uid,  # type: ignore[union-attr]
            at=clock.now(),
            knowing=_number(request.POST.get("knowing", "")),
        )
    except specifying.Outdated:
        place = queries.place(spoken, customer, yard) or place
        return _page(request, place, typed, status=409, outdated=_outdated(spoken, place))
    if said.number == place.number:
        tell(request, "spec_same", number=said.number)
    else:
        told = queries.in_words(typed.terms, spoken)
        tell(request, "spec_saved", number=said.number, said=told)
    return redirect(_address(place))


def _outdated(spoken: str, place: queries.Place, to: str = "") -> str:
    """What somebody else has written since this form was opened, to save or `_withdraw`."""
    yard = place.yard.uid if place.yard else None
    last = queries.who_said(spoken, place.customer.uid, yard)
    if place.terms is None:
        return words.say(spoken, "spec_outdated_none", who=last.who)
    told = {"who": last.who, "number": last.number, "said": last.accepts}
    return words.say(spoken, f"spec_outdated{to}", **told)


@office("GET", "POST", decides=True)
def withdraw(request: HttpRequest, customer: UUID, yard: UUID | None = None) -> HttpResponse:
    """Asked first, then done."""
    spoken = language(request)
    place = queries.place(spoken, customer, yard)
    if place is None:
        return not_here(request)
    if request.method == "GET":
        return _ask(request, place)
    by: UUID = request.user.uid  # type: ignore[union-attr]
    stood = place.terms is not None
    try:
        specifying.withdraw_specification(
            customer=customer,
            yard=yard,
            by=by,
            at=clock.now(),
            knowing=_number(request.POST.get("knowing", "")),
        )
    except specifying.Outdated:
        place = queries.place(spoken, customer, yard) or place
        stood = False
        if place.terms is not None:
            return _ask(request, place, status=409, outdated=_outdated(spoken, place, "_withdraw"))
    tell(request, "spec_withdrawn" if stood else "spec_withdrawn_before")
    return redirect(_address(place))


def _ask(request: HttpRequest, place: queries.Place, **more: Any) -> HttpResponse:
    """Whether what stands at a place is to be withdrawn."""
    spoken = language(request)
    around: dict[str, Any] = {
        "here": "specs",
        "title": words.say(spoken, "spec_withdraw_title", name=place.title),
        "says": words.say(spoken, f"spec_withdraw_say{'_yard' if place.yard else ''}"),
        "go": words.say(spoken, "spec_withdraw_go"),
        "knowing": place.number,
        "leads_back": "specifications",
    }
    return page(request, "end.html", **around, **more)


def _address(place: queries.Place) -> str:
    if place.yard is None:
        return reverse("specification", args=[place.customer.uid])
    return reverse("yard-specification", args=[place.customer.uid, place.yard.uid])


def _number(text: str) -> int:
    """The number that the form was opened with; one that somebody changed is none that stands."""
    return int(text) if re.fullmatch("[0-9]{1,9}", text) else -1
