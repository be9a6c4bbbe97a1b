"""The doors by which a phone is enrolled and keeps its means to send."""

import msgspec
from django.http import HttpResponse
from drf_spectacular.utils import extend_schema
from rest_framework.permissions import AllowAny
from rest_framework.request import Request
from rest_framework.views import APIView

from pickups.kernel import sealed
from pickups.kernel.openapi import answers, takes
from pickups.kernel.parsers import bounded
from pickups.kernel.throttles import FewPerAddress
from pickups.kernel.wire import parse, read, storable
from pickups.people import services
from pickups.people.doors import PUSH_COOKIE, ByPushCookie, ByReadToken, Known, device_of
from pickups.people.models import Device
from pickups.people.wire import (
    Enrolled,
    EnrolRequest,
    Renewed,
    SealingKey,
    SiteBrief,
    Standing,
    StandingRequest,
)

COOKIE_DAYS = 400
"""The longest that browsers keep a cookie (RFC 6265bis, section 5.5)."""


class EnrolView(APIView):
    """A phone becomes a device of ours."""

    authentication_classes = ()
    permission_classes = (AllowAny,)
    throttle_classes = (FewPerAddress,)

    @extend_schema(operation_id="enrol", request=takes(EnrolRequest), responses=answers(Enrolled))
    def post(self, request: Request) -> HttpResponse:
        """Spend an enrolment code; the push credential comes as a cookie no script can read."""
        value = parse(bounded(request._request, 8192, ("application/json",)))
        storable(value)
        asked = read(value, EnrolRequest)
        made = services.enrol(code=asked.code, device=asked.device, name=asked.name)
        site = SiteBrief(made.device.site_id, made.device.site.name)
        key = SealingKey(**sealed.public_key())
        body = Enrolled(made.device.uid, made.device.name, site, made.read_token, key)
        response = HttpResponse(msgspec.json.encode(body), content_type="application/json")
        return _with_push_cookie(response, made.push_secret)


class RenewView(APIView):
    """A phone that has its read token and lost its push cookie gets a new one."""

    authentication_classes = (ByReadToken,)
    permission_classes = (Known,)
    throttle_classes = (FewPerAddress,)

    @extend_schema(operation_id="renew_push", request=None, responses=answers(Renewed))
    def post(self, request: Request) -> HttpResponse:
        """Set a new push cookie; the old one, if it still is somewhere, opens nothing."""
        device = device_of(request).uid
        secret = services.renew_push(uid=device)
        body = msgspec.json.encode(Renewed(device))
        return _with_push_cookie(HttpResponse(body, content_type="application/json"), secret)


class StandingView(APIView):
    """A device that cannot fetch, locked or closing, says what it holds and hears how it stands."""

    authentication_classes = (ByPushCookie,)
    permission_classes = (Known,)

    @extend_schema(
        operation_id="standing", request=takes(StandingRequest), responses=answers(Standing)
    )
    def post(self, request: Request) -> HttpResponse:
        """One that is revoked hears that as at every door."""
        asked = read(parse(bounded(request._request, 1024, ("application/json",))), StandingRequest)
        device = services.hear_standing(uid=device_of(request).uid, waits=asked.waits)
        closing = device.status != Device.Status.ACTIVE
        body = Standing(device.uid, "closing" if closing else "active")
        return HttpResponse(msgspec.json.encode(body), content_type="application/json")


def _with_push_cookie(response: HttpResponse, secret: str) -> HttpResponse:
    response["Cache-Control"] = "no-store"
    response.set_cookie(
        PUSH_COOKIE,
        secret,
        max_age=COOKIE_DAYS * 86400,
        path="/",
        secure=True,
        httponly=True,
        samesite="Strict",
    )
    return response
