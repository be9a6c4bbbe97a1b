"""The doors by which a store's device gets labels: new codes, and their drawing as a PDF.

A device names no store and no range: both are its own. What was not printed for its store it is
not given, and whether such a code exists at all it does not learn.
"""

from typing import Any

import msgspec
from django.conf import settings
from django.http import HttpResponse
from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.views import APIView

from pickups.kernel import clock
from pickups.kernel.openapi import answers, takes
from pickups.kernel.parsers import bounded
from pickups.kernel.problems import Code, Problem
from pickups.kernel.throttles import PerSender
from pickups.kernel.wire import Fault, parse, read
from pickups.labels import printing, queries, services
from pickups.labels.wire import PrintRequest, RollPrinted, RollRequest
from pickups.people.doors import ByReadToken, Known, device_of

BODY_BYTES = 8192
JSON = ("application/json",)
MOST_A_DAY = 2000
"""For all devices of a store; a busy counter sticks a hundred a day."""
STOCKS = {"roll": printing.ROLL, "sheet": printing.LETTER}
PDF: dict[Any, Any] = {(200, "application/pdf"): {"type": "string", "format": "binary"}}


class PrintsPerDevice(PerSender):
    """A drawing takes a tenth of a second: two a second are more than a counter can stick on."""

    scope = "labels"
    rate = "120/min"


class RollView(APIView):
    """A device is given new labels."""

    authentication_classes = (ByReadToken,)
    permission_classes = (Known,)
    throttle_classes = (PrintsPerDevice,)

    @extend_schema(
        operation_id="print_roll", request=takes(RollRequest), responses=answers(RollPrinted)
    )
    def post(self, request: Request) -> HttpResponse:
        """New labels of the device's store, safe to repeat; the range is the store's own."""
        asked = read(parse(bounded(request._request, BODY_BYTES, JSON)), RollRequest)
        site = device_of(request).site
        try:
            roll = services.print_for(
                site=site, count=asked.count, at=clock.now(), uid=asked.id, most_a_day=MOST_A_DAY
            )
        except services.OtherRoll:
            raise Problem(
                Code.ID_REUSED, Fault("id", str(asked.id), "a new id for other labels")
            ) from None
        except services.EnoughToday:
            allowed = f"at most {MOST_A_DAY} labels of a store within a day; the office prints more"
            raise Problem(Code.TOO_MANY, Fault("count", str(asked.count), allowed)) from None
        except services.RangeFull:
            raise Problem(Code.BROKEN, detail="every range of labels is used up") from None
        codes = queries.codes_of(roll)
        body = RollPrinted(codes, settings.DEALER_NAME, settings.DEALER_PHONE)
        return HttpResponse(msgspec.json.encode(body), content_type="application/json")


class PrintView(APIView):
    """A device has labels drawn."""

    authentication_classes = (ByReadToken,)
    permission_classes = (Known,)
    throttle_classes = (PrintsPerDevice,)

    @extend_schema(operation_id="print_labels", request=takes(PrintRequest), responses=PDF)
    def post(self, request: Request) -> HttpResponse:
        """The labels as a PDF, each with its twin."""
        asked = read(parse(bounded(request._request, BODY_BYTES, JSON)), PrintRequest)
        ours = queries.printed_for(device_of(request).site, asked.labels)
        for i, label in enumerate(asked.labels):
            if label not in ours:
                raise Problem(
                    Code.NOT_ALLOWED,
                    Fault(f"labels[{i}]", label, "a label that was printed for this store"),
                )
        answer = HttpResponse(
            drawn(asked.labels, asked.stock),
            content_type="application/pdf",
            headers={"Content-Disposition": 'inline; filename="labels.pdf"'},
        )
        answer["Cache-Control"] = "no-store"
        return answer


def drawn(labels: list[str], stock: str) -> bytes:
    """The PDF; Problem(broken) where the dealer's name, phone or address fits on no label."""
    try:
        return printing.roll_pdf(
            labels,
            base_url=settings.PUBLIC_BASE_URL,
            dealer=settings.DEALER_NAME,
            phone=settings.DEALER_PHONE,
            stock=STOCKS[stock],
        )
    except ValueError as too_long:
        raise Problem(Code.BROKEN, detail=str(too_long)) from too_long
