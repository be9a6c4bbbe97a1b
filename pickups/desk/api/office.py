"""The first page, and what is decided on it."""

from uuid import UUID

from django import forms
from django.db import OperationalError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from pickups.desk import services, words
from pickups.desk.api.door import language, not_for_you, not_here, office, page, tell
from pickups.desk.api.sheets import chosen
from pickups.desk.queries import at_risk
from pickups.desk.queries.office import Office
from pickups.desk.queries.office import office as first_page
from pickups.kernel import clock


class Reason(forms.Form):
    """Why something is decided: 1 to 500 characters that can be stored."""

    said = forms.CharField(max_length=500)


class Withdrawal(Reason):
    """Which casing was the mistake, and why."""

    work_order = forms.UUIDField()


@office("GET")
def first(request: HttpRequest) -> HttpResponse:
    """What needs a person, what is still to be told, what waits."""
    return page(
        request, "office.html", here="office", office=_shown(request), risks=_risks(request)
    )


@office("POST", decides=True)
def withdraw(request: HttpRequest, question: int) -> HttpResponse:
    """One of the casings on a contested label was a mistake."""
    form = Withdrawal(request.POST)
    if not form.is_valid():
        return _again(request, question, "reason_needed")
    data = form.cleaned_data
    try:
        came = services.withdraw(
            question=question,
            work_order=data["work_order"],
            reason=data["said"],
            by=request.user.uid,  # type: ignore[union-attr]
        )
    except OperationalError:
        return _again(request, question, "busy", status=503)
    tell(request, came, wrong=came not in ("withdrawn", "withdrawn_still"))
    return redirect("office")


class TakenBack(Reason):
    """Which relabelling was the mistake, and why."""

    fact = forms.UUIDField()


@office("POST", decides=True)
def take_label_back(request: HttpRequest, question: int) -> HttpResponse:
    """A label that came in another's place was put on the wrong casing."""
    form = TakenBack(request.POST)
    if not form.is_valid():
        return _again(request, question, "reason_needed")
    data = form.cleaned_data
    by: UUID = request.user.uid  # type: ignore[union-attr]
    try:
        came = services.take_label_back(
            question=question, fact=data["fact"], reason=data["said"], by=by
        )
    except OperationalError:
        return _again(request, question, "busy", status=503)
    tell(request, came, wrong=came != "swap_taken")
    return redirect("office")


@office("POST", decides=True)
def settle(request: HttpRequest, question: int) -> HttpResponse:
    """A person has found the answer."""
    form = Reason(request.POST)
    if not form.is_valid():
        return _again(request, question, "note_needed")
    came = services.settle(
        question=question,
        note=form.cleaned_data["said"],
        by=request.user.uid,  # type: ignore[union-attr]
        role=request.user.role,  # type: ignore[union-attr]
    )
    if came == "not_yours":
        return not_for_you(request, "not_yours_say")
    tell(request, came, wrong=came != "settled")
    return redirect("office")


@office("GET")
def nothing(request: HttpRequest, rest: str) -> HttpResponse:
    """An address of the office that does not exist."""
    return not_here(request)


def _again(request: HttpRequest, question: int, wrong: str, status: int = 400) -> HttpResponse:
    """The page again with what is wrong beside the field, and what was typed kept."""
    typed = {
        "question": question,
        "work_order": request.POST.get("work_order", ""),
        "fact": request.POST.get("fact", ""),
        "said": request.POST.get("said", ""),
        "wrong": wrong,
    }
    shown = _shown(request)
    return page(request, "office.html", status=status, here="office", office=shown, typed=typed)


def _risks(request: HttpRequest) -> str:
    """How many promises of the reader's store need somebody, in words; nothing where none does."""
    store, _ = chosen(request)
    n = at_risk.count(store.uid, at=clock.now()) if store else 0
    return words.say(language(request), "risk_n", n=n) if n else ""


def _shown(request: HttpRequest) -> Office:
    return first_page(language(request), request.user.role)  # type: ignore[union-attr]
