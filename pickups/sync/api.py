"""The doors of the sync: push, pull, photos. Parse, call one service, render."""

import msgspec
from django.http import HttpResponse
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework.request import Request
from rest_framework.views import APIView

from pickups.kernel import clock
from pickups.kernel.openapi import answers, takes
from pickups.kernel.parsers import bounded
from pickups.kernel.problems import Code, Problem
from pickups.kernel.wire import Fault, Malformed, parse, read
from pickups.people.doors import ByPushCookie, ByReadToken, Known, device_of
from pickups.sync import photos, queries, registry
from pickups.sync.batch import TooMany, open_batch
from pickups.sync.push import push
from pickups.sync.wire import (
    BATCH,
    BODY_BYTES,
    PHOTO_BYTES,
    PhotoAnswer,
    PullPage,
    PullRequest,
    PushAnswer,
    PushRequest,
)

JSON = ("application/json",)


def _reply(answer: msgspec.Struct) -> HttpResponse:
    return HttpResponse(msgspec.json.encode(answer), content_type="application/json")


class PushView(APIView):
    """A device sends what it holds."""

    authentication_classes = (ByPushCookie,)
    permission_classes = (Known,)

    @extend_schema(operation_id="push", request=takes(PushRequest), responses=answers(PushAnswer))
    def post(self, request: Request) -> HttpResponse:
        """An ordered batch of operations; the answers stand in the same order."""
        body = bounded(request._request, BODY_BYTES, JSON)
        try:
            batch = open_batch(body)
        except TooMany as e:
            raise Problem(
                Code.TOO_LARGE, Fault("operations", str(e.count), f"at most {BATCH}")
            ) from None
        return _reply(push(device=device_of(request).uid, request=batch))


class PullView(APIView):
    """A device fetches what is new for it."""

    authentication_classes = (ByReadToken,)
    permission_classes = (Known,)

    @extend_schema(operation_id="pull", request=takes(PullRequest), responses=answers(PullPage))
    def post(self, request: Request) -> HttpResponse:
        """The next page of the feed for the device's scope keys."""
        asked = read(parse(bounded(request._request, BODY_BYTES, JSON)), PullRequest)
        scopes = registry.scopes(device_of(request).uid)
        return _reply(queries.page(scopes=scopes, cursor=asked.cursor, limit=asked.limit))


class PhotoView(APIView):
    """A device sends a photo, whole."""

    authentication_classes = (ByPushCookie,)
    permission_classes = (Known,)

    @extend_schema(
        operation_id="photo",
        parameters=[OpenApiParameter("sha256", str, "path", pattern="^[0-9a-f]{64}$")],
        request={"image/jpeg": {"type": "string", "format": "binary"}},
        responses=answers(PhotoAnswer),
    )
    def put(self, request: Request, sha256: str) -> HttpResponse:
        """Keep a photo under the hash of its bytes; safe to repeat."""
        if len(sha256) != 64 or set(sha256) - set("0123456789abcdef"):
            raise Malformed(Fault("sha256", sha256[:80], "64 hexadecimal digits, lower case"))
        kinds = ("image/jpeg", "image/png", "image/webp")
        data = bounded(request._request, PHOTO_BYTES, kinds)
        photos.keep(sha256=sha256, data=data, device=device_of(request).uid, at=clock.now())
        return _reply(PhotoAnswer(sha256))
