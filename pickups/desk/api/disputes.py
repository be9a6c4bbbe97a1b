"""A pickup's own page, and the disputes about pickups: open one, work on it, settle it."""

from datetime import date
from typing import Any
from uuid import UUID

from django import forms
from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from pickups.custody import disputes as cases
from pickups.custody import queries as custody
from pickups.custody import receipt_links
from pickups.custody.disputes import SAID_MOST, Outcome
from pickups.desk import words
from pickups.desk.api.door import language, not_here, office, page, tell
from pickups.desk.queries import disputes as queries
from pickups.desk.queries import visits
from pickups.kernel import clock
from pickups.kernel.languages import LANGUAGES
from pickups.kernel.wire import shown
from pickups.notices.printing import receipt_pdf
from pickups.notices.queries import receipts


class Words(forms.Form):
    """1 to 500 characters that can be stored."""

    said = forms.CharField(max_length=SAID_MOST)


class Otherwise(Words):
    """What the customer says, and how many they count, if they say."""

    theirs = forms.IntegerField(min_value=0, max_value=9999, required=False)


class Assigned(forms.Form):
    """Who settles it, or nobody yet, and by when."""

    to = forms.UUIDField(required=False)
    due_on = forms.DateField()


class Settled(Words):
    """How it ends, and what the customer is told."""

    outcome = forms.ChoiceField(choices=[(o.value, o.value) for o in Outcome])


@office("GET")
def visit(request: HttpRequest, visit: UUID) -> HttpResponse:
    """A pickup that is over."""
    return _visit(request, visit)


@office("GET")
def receipt(request: HttpRequest, visit: UUID) -> HttpResponse:
    """Its receipt on paper, in the reader's language first."""
    pickup = custody.pickup(visit)
    spoken = language(request)
    tongues = [spoken, *(other for other in LANGUAGES if other != spoken)]
    sheets = [s for one in tongues if pickup and (s := receipts.sheet(pickup, one))]
    if not sheets:
        return not_here(request)
    data = receipt_pdf(sheets, dealer=settings.DEALER_NAME, phone=settings.DEALER_PHONE)
    answer = HttpResponse(data, content_type="application/pdf")
    answer["Content-Disposition"] = 'inline; filename="receipt.pdf"'
    return answer


@office("POST", decides=True)
def revoke(request: HttpRequest, visit: UUID) -> HttpResponse:
    """The links of its receipt open nothing from now on."""
    tell(request, "receipt_links_ended", n=receipt_links.revoke(visit, at=clock.now()))
    return redirect("visit", visit=visit)


@office("POST", decides=True)
def open_case(request: HttpRequest, visit: UUID) -> HttpResponse:
    """The customer has said, by phone or at a counter, that it was otherwise."""
    form = Otherwise(request.POST)
    if not form.is_valid():
        return _visit(request, visit, form)
    data = form.cleaned_data
    told = cases.tell(visit=visit, said=data["said"], theirs=data["theirs"], by=_by(request))
    if told is None:
        return not_here(request)
    tell(request, "case_opened")
    return redirect("dispute", uid=told.uid)


@office("GET")
def disputes(request: HttpRequest) -> HttpResponse:
    """Open ones, the one due first before the others; those that are settled."""
    open_ones, over = queries.listed(language(request))
    return page(request, "disputes.html", here="disputes", open_ones=open_ones, over=over)


@office("GET")
def dispute(request: HttpRequest, uid: UUID) -> HttpResponse:
    """One case."""
    return _case(request, uid)


@office("POST", decides=True)
def note(request: HttpRequest, uid: UUID) -> HttpResponse:
    """What somebody of ours found out."""
    form = Words(request.POST)
    if not form.is_valid():
        return _case(request, uid, "note", form)
    noted = cases.note(dispute=uid, said=form.cleaned_data["said"], by=_by(request))
    return _done(request, uid, noted, "case_noted")


@office("POST", decides=True)
def assign(request: HttpRequest, uid: UUID) -> HttpResponse:
    """Who settles it, by when."""
    form = Assigned(request.POST)
    known = {value for value, _ in found.people} if (found := _found(request, uid)) else set()
    if not form.is_valid() or str(form.cleaned_data["to"] or "") not in {"", *known}:
        return _case(request, uid, "assign", form)
    due_on: date = form.cleaned_data["due_on"]
    done = cases.assign(dispute=uid, to=form.cleaned_data["to"], due_on=due_on, by=_by(request))
    return _done(request, uid, done, "case_assigned")


@office("POST", decides=True)
def settle(request: HttpRequest, uid: UUID) -> HttpResponse:
    """It is over, and the customer is told. "Corrected" needs facts that corrected the list."""
    form = Settled(request.POST)
    if not form.is_valid():
        return _case(request, uid, "settle", form)
    outcome = Outcome(form.cleaned_data["outcome"])
    known = cases.dispute(uid)
    facts = queries.corrections(known) if known and outcome is Outcome.CORRECTED else []
    if known and outcome is Outcome.CORRECTED and not facts:
        form.add_error("outcome", "uncorrected")
        return _case(request, uid, "settle", form)
    said = form.cleaned_data["said"]
    done = cases.settle(dispute=uid, outcome=outcome, said=said, facts=facts, by=_by(request))
    return _done(request, uid, done, "case_over")


def _by(request: HttpRequest) -> UUID:
    by: UUID = request.user.uid  # type: ignore[union-attr]
    return by


def _found(request: HttpRequest, uid: UUID) -> queries.Opened | None:
    return queries.case(uid, language(request))


def _done(request: HttpRequest, uid: UUID, done: bool, key: str) -> HttpResponse:
    if cases.dispute(uid) is None:
        return not_here(request)
    tell(request, key if done else "case_over_before", wrong=not done)
    return redirect("dispute", uid=uid)


def _visit(request: HttpRequest, uid: UUID, form: forms.Form | None = None) -> HttpResponse:
    spoken = language(request)
    found = visits.visit(uid, spoken)
    if found is None:
        return not_here(request)
    rows = queries.of_visit(uid, spoken)
    return page(request, "visit.html", here="", visit=found, cases=rows, **_again(request, form))


def _case(
    request: HttpRequest, uid: UUID, at: str = "", form: forms.Form | None = None
) -> HttpResponse:
    found = _found(request, uid)
    if found is None:
        return not_here(request)
    outcomes = [(o.value, words.say(language(request), f"case_{o}")) for o in Outcome]
    return page(
        request,
        "dispute.html",
        here="disputes",
        case=found,
        at=at,
        outcomes=outcomes,
        **_again(request, form),
    )


def _again(request: HttpRequest, form: forms.Form | None) -> dict[str, Any]:
    """What was typed, and beside each field what is wrong with it."""
    if form is None:
        return {"status": 200, "typed": {}, "faults": {}}
    spoken, typed = language(request), {k: str(v)[:1000] for k, v in request.POST.items()}
    faults = {}
    for field, errors in form.errors.items():
        key = "case_no_correction" if "uncorrected" in errors else f"case_no_{field}"
        faults[field] = words.say(spoken, key, value=shown(typed.get(field, ""), 20))
    if not faults:
        faults["to"] = words.say(spoken, "case_no_to", value=shown(typed.get("to", ""), 20))
    return {"status": 400, "typed": typed, "faults": faults}
