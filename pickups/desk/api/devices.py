"""The page of the phones: enrol one, close one, shut one out."""

from datetime import datetime
from uuid import UUID

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from pickups.desk.api.door import language, not_here, office, page, tell
from pickups.desk.queries import devices as queries
from pickups.kernel import clock
from pickups.people import queries as people
from pickups.people import services

SHOWN = "enrolment"
"""Where a session keeps the code that its page shows, until it has run out."""


class Enrolment(forms.Form):
    """For which store or plant a phone is to be enrolled."""

    site = forms.UUIDField()


@office("GET")
def devices(request: HttpRequest) -> HttpResponse:
    """Every phone, and a form to enrol another."""
    return _page(request)


def _page(request: HttpRequest, wrong: str = "", status: int = 200) -> HttpResponse:
    return page(
        request,
        "devices.html",
        status=status,
        here="devices",
        phones=queries.phones(language(request)),
        sites=queries.sites(),
        wrong=wrong,
    )


@office("POST", decides=True)
def enrol(request: HttpRequest) -> HttpResponse:
    """A new code; its page can be loaded again without making another."""
    form = Enrolment(request.POST)
    site = people.site(form.cleaned_data["site"]) if form.is_valid() else None
    if site is None:
        return _page(request, "enrol_no_site", status=400)
    plain = services.show_code(site=site, made_by=request.user)  # type: ignore[arg-type]
    request.session[SHOWN] = {"code": plain, "site": site.name, "at": clock.now().isoformat()}
    return redirect("enrolment")


@office("GET", decides=True)
def enrolment(request: HttpRequest) -> HttpResponse:
    """The code that this person had made, until it is used or has run out."""
    made = request.session.get(SHOWN)
    at = datetime.fromisoformat(made["at"]) if made else clock.now()
    if made is None or not people.code_is_good(made["code"], at=clock.now()):
        request.session.pop(SHOWN, None)
        tell(request, "enrol_over", wrong=True)
        return redirect("devices")
    shown = queries.enrolment(made["code"], made["site"], language(request), at=at)
    return page(request, "enrol.html", here="devices", **shown)


@office("GET", "POST", decides=True)
def close(request: HttpRequest, uid: UUID) -> HttpResponse:
    """Asked first, then done: the phone sends what it holds and fetches nothing."""
    return _end(request, uid, "close")


@office("GET", "POST", decides=True)
def revoke(request: HttpRequest, uid: UUID) -> HttpResponse:
    """Asked first, then done: lost or stolen, shut out at once."""
    return _end(request, uid, "revoke")


def _end(request: HttpRequest, uid: UUID, verb: str) -> HttpResponse:
    device = people.device(uid)
    if device is None:
        return not_here(request)
    if request.method == "GET":
        return page(request, "end.html", **queries.ending(device, verb, language(request)))
    if verb == "close":
        services.close_device(uid=uid)
        tell(request, "closed", name=device.name)
    else:
        services.revoke_device(uid=uid)
        tell(request, "revoked", name=device.name)
    return redirect("devices")
