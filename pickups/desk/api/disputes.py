"""A pickup's own page, and the disputes about pickups: open one, work on it, settle it."""

from typing import Any, cast
from uuid import UUID

from django import forms
from django.conf import settings
from django.db import OperationalError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from rest_framework.request import Request
from rest_framework.views import APIView

from pickups.custody import disputes as cases
from pickups.custody import queries as custody
from pickups.custody import receipt_links
from pickups.custody.disputes import SAID_MOST, Outcome
from pickups.desk import rules, words
from pickups.desk.api.door import language, not_here, office, page, tell
from pickups.desk.queries import disputes as queries
from pickups.desk.queries import visits
from pickups.desk.queries.loose import today_of
from pickups.kernel import clock
from pickups.kernel.languages import LANGUAGES
from pickups.kernel.throttles import FailOpen
from pickups.kernel.wire import shown
from pickups.notices.printing import receipt_pdf
from pickups.notices.queries import receipts
from pickups.people import queries as people


class Papers(FailOpen):
    """Ten papers a minute for one person, as for a customer: each is typeset anew. An office has
    one address for many, so it is not the address that counts here."""

    scope = "office_paper"
    rate = "10/min"

    def get_cache_key(self, request: Request, view: APIView) -> str:
        """One count a person."""
        return f"throttle:{self.scope}:{request.user.pk}"


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
    throttle = Papers()
    # The rate limit reads who is signed in only, which both kinds of request carry.
    if not throttle.allow_request(cast(Request, request), cast(APIView, None)):
        answer = _visit(request, visit, often=True)
        answer["Retry-After"] = str(max(1, round(throttle.wait() or 60)))
        return answer
    pickup = custody.pickup(visit)
    spoken = language(request)
    tongues = [spoken, *(other for other in LANGUAGES if other != spoken)]
    sheets = [s for one in tongues if pickup and (s := receipts.sheet(pickup, one))]
    if pickup is None or not sheets:
        return not_here(request)
    data = receipt_pdf(sheets, dealer=settings.DEALER_NAME, phone=receipts.phone(pickup))
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
    try:
        told = cases.tell(visit=visit, said=data["said"], theirs=data["theirs"], by=_by(request))
    except OperationalError:
        return _visit(request, visit, form, busy=True)
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
    try:
        noted = cases.note(dispute=uid, said=form.cleaned_data["said"], by=_by(request))
    except OperationalError:
        return _case(request, uid, "note", form, busy=True)
    return _done(request, uid, noted, "case_noted")


@office("POST", decides=True)
def assign(request: HttpRequest, uid: UUID) -> HttpResponse:
    """Who settles it, by when."""
    form = Assigned(request.POST)
    if not form.is_valid():
        return _case(request, uid, "assign", form)
    to, due_on = form.cleaned_data["to"], form.cleaned_data["due_on"]
    if to and to not in {user.uid for user in people.working(rules.DECIDES)}:
        form.add_error("to", "not_there")
    known = cases.dispute(uid)
    if not rules.due_ok(due_on, today=today_of(clock.now()), was=known.due_on if known else None):
        form.add_error("due_on", "too_far")
    if form.errors:
        return _case(request, uid, "assign", form)
    try:
        done = cases.assign(dispute=uid, to=to, due_on=due_on, by=_by(request))
    except OperationalError:
        return _case(request, uid, "assign", form, busy=True)
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
    try:
        done = cases.settle(dispute=uid, outcome=outcome, said=said, facts=facts, by=_by(request))
    except OperationalError:
        return _case(request, uid, "settle", form, busy=True)
    return _done(request, uid, done, "case_over")


def _by(request: HttpRequest) -> UUID:
    by: UUID = request.user.uid  # type: ignore[union-attr]
    return by


def _done(request: HttpRequest, uid: UUID, done: bool, key: str) -> HttpResponse:
    if cases.dispute(uid) is None:
        return not_here(request)
    tell(request, key if done else "case_over_before", wrong=not done)
    return redirect("dispute", uid=uid)


def _visit(
    request: HttpRequest,
    uid: UUID,
    form: forms.Form | None = None,
    *,
    busy: bool = False,
    often: bool = False,
) -> HttpResponse:
    spoken = language(request)
    found = visits.visit(uid, spoken)
    if found is None:
        return not_here(request)
    around: dict[str, Any] = {"visit": found, "cases": queries.of_visit(uid, spoken)}
    around |= _again(request, form, busy) | ({"status": 429, "often": True} if often else {})
    return page(request, "visit.html", here="", **around)


def _case(
    request: HttpRequest,
    uid: UUID,
    at: str = "",
    form: forms.Form | None = None,
    *,
    busy: bool = False,
) -> HttpResponse:
    found = queries.case(uid, language(request))
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
        **_again(request, form, busy),
    )


def _again(request: HttpRequest, form: forms.Form | None, busy: bool) -> dict[str, Any]:
    """What was typed, and beside each field what is wrong with it; busy: nothing is, but somebody
    is at the same case for longer than a lock is waited for."""
    if form is None:
        return {"status": 200, "typed": {}, "faults": {}}
    spoken, typed = language(request), {k: str(v)[:1000] for k, v in request.POST.items()}
    faults = {}
    for field, errors in form.errors.items():
        key = "case_no_correction" if "uncorrected" in errors else f"case_no_{field}"
        faults[field] = words.say(spoken, key, value=shown(typed.get(field, ""), 20))
    if busy:
        tell(request, "case_busy", wrong=True)
        return {"status": 503, "typed": typed, "faults": {}}
    return {"status": 400, "typed": typed, "faults": faults}
