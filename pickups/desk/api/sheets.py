"""The list of the load sheets, a new one, and the store's rack."""

from collections.abc import Sequence
from datetime import date, timedelta
from uuid import UUID, uuid4

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from pickups.desk import words
from pickups.desk.api.door import language, office, page, tell
from pickups.desk.queries import rack as rack_queries
from pickups.desk.queries import sheets as queries
from pickups.desk.queries.loose import loose, today_of
from pickups.kernel import clock
from pickups.kernel.languages import day_in_words
from pickups.people.models import Site
from pickups.runs import services as runs
from pickups.runs.rules import Head, Refusal, Refused

FAR = timedelta(days=366)
"""How far from today a sheet's day may lie."""


class HeadForm(forms.Form):
    """What stands at the head of a sheet."""

    on = forms.DateField(input_formats=["%Y-%m-%d"])
    start = forms.UUIDField()
    kind = forms.ChoiceField(choices=[("route", ""), ("transfer", "")])
    vehicle = forms.CharField(max_length=40, required=False)
    driver = forms.UUIDField(required=False)
    note = forms.CharField(max_length=200, required=False)

    def clean_on(self) -> date:
        """A day within a year: further off it is a slip of the hand."""
        on: date = self.cleaned_data["on"]
        if abs(on - today_of(clock.now())) > FAR:
            raise forms.ValidationError("too far")
        return on

    def head(self) -> Head:
        """The head, once the form is valid."""
        return Head(**self.cleaned_data)


FIELDS = ("on", "start", "kind", "vehicle", "driver", "note")


@office("GET")
def sheets(request: HttpRequest) -> HttpResponse:
    """Today's sheets and those of the next days, or of one day; the loose work beside them."""
    return _page(request)


def _page(request: HttpRequest, wrong: str = "", bad: Sequence[str] = ()) -> HttpResponse:
    store, stores = chosen(request)
    if store is None:
        return page(request, "sheets.html", here="sheets", store=None)
    spoken, at = language(request), clock.now()
    on = _day(request.GET.get("on", ""))
    typed = {name: request.POST.get(name, "") for name in FIELDS} if wrong else {}
    days = queries.days(spoken, store.uid, at=at, on=on)
    return page(
        request,
        "sheets.html",
        status=400 if wrong else 200,
        here="sheets",
        store=store,
        stores=stores,
        days=days,
        none_said=_none_said(spoken, days, on),
        on=on.isoformat() if on else "",
        loose=loose(spoken, store.uid, at=at),
        offered=queries.offered(spoken, store.uid),
        new_uid=request.POST.get("uid") or str(uuid4()),
        typed={"on": (on or today_of(at)).isoformat(), "start": str(store.uid), **typed},
        wrong=wrong,
        bad=bad,
    )


def _none_said(spoken: str, days: list[queries.Day], on: date | None) -> str:
    """What stands where a day has no sheet."""
    if on is not None:
        return words.say(spoken, "sheets_none_on", day=day_in_words(spoken, on))
    return words.say(spoken, "sheets_none_today" if any(d.sheets for d in days) else "sheets_none")


def chosen(request: HttpRequest) -> tuple[Site | None, list[Site]]:
    """The store that a page is about, and those that could be chosen."""
    stores = queries.stores_of(request.user)  # type: ignore[arg-type]  # the door lets users through only
    asked = request.POST.get("store") or request.GET.get("store", "")
    found = [s for s in stores if str(s.uid) == asked] or stores
    return (found[0] if found else None), stores


def _day(text: str) -> date | None:
    try:
        on = date.fromisoformat(text)
    except ValueError:
        return None
    return on if abs(on - today_of(clock.now())) <= FAR else None


@office("POST", decides=True)
def draw_up(request: HttpRequest) -> HttpResponse:
    """A new sheet, empty; its page comes next."""
    store, _ = chosen(request)
    form = HeadForm(request.POST)
    if store is None:
        return _page(request)
    if not form.is_valid():
        return _page(request, words.say(language(request), "sheet_wrong_head"), list(form.errors))
    try:
        run = runs.draw_up(site=store.uid, head=form.head(), uid=_uid(request))
    except Refused as refused:
        said = words.say(language(request), f"sheet_wrong_{refused.code}")
        return _page(request, said, ["driver" if refused.code is Refusal.NO_DRIVER else "start"])
    tell(request, "sheet_did_draw_up")
    return to_sheet(run.uid)


def _uid(request: HttpRequest) -> UUID:
    """The id that the form came with: sent twice it draws up one sheet."""
    try:
        return UUID(request.POST.get("uid", ""))
    except ValueError:
        return uuid4()


def to_sheet(uid: UUID, at: str = "") -> HttpResponse:
    """The page of a sheet, at the part that was worked on."""
    answer = redirect("sheet", uid=uid)
    if at:
        answer["Location"] += f"#{at}"
    return answer


@office("GET")
def rack(request: HttpRequest) -> HttpResponse:
    """Every casing on the store's rack."""
    store, stores = chosen(request)
    shown = rack_queries.rack(language(request), store, at=clock.now()) if store else None
    return page(request, "sheets_rack.html", here="rack", store=store, stores=stores, rack=shown)
