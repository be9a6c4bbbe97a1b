"""Refusals of the HTTP doors as RFC 9457 problem details; one place maps a code to a status.

A problem names what is wrong (`code`), and for each faulty field its value and what is allowed.
Device operations are answered by pickups.sync, never with these.
"""

import logging
from collections.abc import Mapping, Sequence
from enum import StrEnum
from typing import Any

from django.db import IntegrityError, OperationalError
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.views import defaults
from psycopg import errors
from rest_framework import exceptions
from rest_framework.response import Response

from pickups.kernel.wire import Fault, Malformed, shown

CONTENT_TYPE = "application/problem+json"
DOORS = "/api/"
"""Below this address everything is answered with a document, whatever happens."""

log = logging.getLogger(__name__)


class Code(StrEnum):
    """Every reason for which a door says no."""

    MALFORMED = "malformed"
    NOT_SIGNED_IN = "not_signed_in"
    DEVICE_UNKNOWN = "device_unknown"
    DEVICE_REVOKED = "device_revoked"
    DEVICE_CLOSING = "device_closing"
    KEY_UNKNOWN = "key_unknown"
    NOT_ALLOWED = "not_allowed"
    NOT_FOUND = "not_found"
    METHOD = "method_not_allowed"
    CODE_SPENT = "code_spent"
    EPOCH_CHANGED = "epoch_changed"
    PAST_HORIZON = "past_horizon"
    TOO_LARGE = "too_large"
    MEDIA_TYPE = "media_type"
    ID_REUSED = "id_reused"
    TOO_MANY = "too_many"
    TRY_LATER = "try_later"
    BROKEN = "broken"


STATUS: dict[Code, tuple[int, str]] = {
    Code.MALFORMED: (400, "The request could not be read"),
    Code.NOT_SIGNED_IN: (401, "Sign in first"),
    Code.DEVICE_UNKNOWN: (401, "This device is not enrolled here"),
    Code.DEVICE_REVOKED: (401, "This device was taken out of use"),
    Code.KEY_UNKNOWN: (401, "This key opens nothing here"),
    Code.DEVICE_CLOSING: (403, "This device may only send what it holds"),
    Code.NOT_ALLOWED: (403, "You may not do this"),
    Code.NOT_FOUND: (404, "There is nothing here"),
    Code.METHOD: (405, "This address does not do that"),
    Code.ID_REUSED: (409, "This id was used for something else"),
    Code.CODE_SPENT: (410, "This code was used or has run out; ask the office for a new one"),
    Code.EPOCH_CHANGED: (410, "The server was restored; start afresh"),
    Code.PAST_HORIZON: (410, "Too long away; start afresh"),
    Code.TOO_LARGE: (413, "More than one request may carry"),
    Code.MEDIA_TYPE: (415, "This form of content is not taken here"),
    Code.TOO_MANY: (429, "Too many requests; wait and try again"),
    Code.BROKEN: (500, "Something broke here; nothing was recorded"),
    Code.TRY_LATER: (503, "Not now; try again"),
}

_FROM_STATUS = {
    400: Code.MALFORMED,
    401: Code.NOT_SIGNED_IN,
    403: Code.NOT_ALLOWED,
    404: Code.NOT_FOUND,
    405: Code.METHOD,
    406: Code.MEDIA_TYPE,
    413: Code.TOO_LARGE,
    415: Code.MEDIA_TYPE,
    429: Code.TOO_MANY,
}


class Problem(Exception):
    """A door says no. Raise it anywhere below a door; nothing is written."""

    def __init__(
        self, code: Code, *faults: Fault, detail: str = "", retry_after_s: int | None = None
    ) -> None:
        super().__init__(detail or STATUS[code][1])
        self.code, self.faults, self.detail = code, faults, detail
        self.retry_after_s = retry_after_s


def body(code: Code, faults: Sequence[Fault] = (), detail: str = "") -> dict[str, Any]:
    """The members of a problem document."""
    status, title = STATUS[code]
    said = detail or "; ".join(f"{f.field}: {f.value}; allowed: {f.allowed}" for f in faults)
    return {
        "type": f"urn:yardloop:problem:{code}",
        "title": title,
        "status": status,
        "detail": said or title,
        "code": str(code),
        "faults": [{"field": f.field, "value": f.value, "allowed": f.allowed} for f in faults],
    }


def exception_handler(exc: Exception, context: Mapping[str, Any]) -> Response:
    """DRF's door for exceptions.

    A database that is busy or away, or a race lost to a writer of the same id, answers 503 with
    Retry-After: nothing was written, and the next try finds what won. What nobody foresaw is
    logged whole and answered 500; the answer tells nothing of it.
    """
    headers: dict[str, str] = {}
    faults: list[Fault] = []
    detail = ""
    if isinstance(exc, Problem):
        code, faults, detail = exc.code, list(exc.faults), exc.detail
        if exc.retry_after_s is not None:
            headers["Retry-After"] = str(exc.retry_after_s)
    elif isinstance(exc, Malformed):
        code, faults = Code.MALFORMED, [exc.fault]
    elif isinstance(exc, OperationalError | IntegrityError) or _ran_out_of_time(exc):
        code = Code.TRY_LATER
        headers["Retry-After"] = "2"
    elif isinstance(exc, exceptions.APIException):
        code = _FROM_STATUS.get(exc.status_code, Code.BROKEN)
        detail = shown(str(exc.detail), 300)
        wait: float | None = getattr(exc, "wait", None)  # of a Throttled
        if wait is not None:
            headers["Retry-After"] = str(max(1, round(wait)))
        if isinstance(exc, exceptions.MethodNotAllowed):
            headers["Allow"] = ", ".join(context["view"].allowed_methods)
    else:
        log.error("%s broke", context["request"].path, exc_info=exc)
        code = Code.BROKEN
    # Here, not above: that module reads the settings, which name our parser, which imports us.
    from rest_framework.views import set_rollback

    set_rollback()
    document = body(code, faults, detail)
    return Response(document, document["status"], headers=headers, content_type=CONTENT_TYPE)


def _ran_out_of_time(exc: Exception) -> bool:
    """Whether a transaction outlived its bounds (settings): the driver takes that for a fault of
    the database itself."""
    bounds = (errors.IdleInTransactionSessionTimeout, errors.TransactionTimeout)
    return isinstance(exc.__cause__, bounds)


def page_not_found(request: HttpRequest, exception: Exception | None) -> JsonResponse:
    """What an address under /api/ that does not exist answers."""
    return _document(Code.NOT_FOUND)


def broken(request: HttpRequest) -> HttpResponse:
    """handler500: what broke outside of every door."""
    if request.path.startswith(DOORS):
        return _document(Code.BROKEN)
    return defaults.server_error(request)


def unreadable(request: HttpRequest, exception: Exception) -> HttpResponse:
    """handler400: a request that Django itself would not take (its host, its size)."""
    if request.path.startswith(DOORS):
        return _document(Code.MALFORMED)
    return defaults.bad_request(request, exception)


def _document(code: Code) -> JsonResponse:
    return JsonResponse(body(code), status=STATUS[code][0], content_type=CONTENT_TYPE)
