"""A drop-off's ticket as a PDF, for a device of its store; the office has it with the visit.

It is the receipt of the visit, with the ticket's number and the day to come back in large type, in
both languages. While a label in it is in question or its list is not what was taken in there is
none yet, as there is no receipt.
"""

from typing import Any
from uuid import UUID

from django.conf import settings
from django.http import HttpResponse
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework.request import Request
from rest_framework.views import APIView

from pickups.custody import queries as custody
from pickups.custody.queries import Pickup
from pickups.kernel.languages import LANGUAGES, spoken
from pickups.kernel.problems import Code, Problem
from pickups.kernel.throttles import PerSender
from pickups.notices.printing import receipt_pdf
from pickups.notices.queries import receipts
from pickups.people.doors import ByReadToken, Known, device_of

PDF: dict[Any, Any] = {(200, "application/pdf"): {"type": "string", "format": "binary"}}


class TicketsPerDevice(PerSender):
    """One a customer; a drawing takes a tenth of a second."""

    scope = "tickets"
    rate = "60/min"


class TicketView(APIView):
    """A device has a ticket drawn."""

    authentication_classes = (ByReadToken,)
    permission_classes = (Known,)
    throttle_classes = (TicketsPerDevice,)

    @extend_schema(
        operation_id="print_ticket",
        parameters=[OpenApiParameter("language", str, enum=list(LANGUAGES))],
        responses=PDF,
    )
    def get(self, request: Request, visit: UUID) -> HttpResponse:
        """The ticket of a drop-off that this device's store took in, its reader's language first.
        Others', unknown ones and those that wait are answered alike."""
        pickup = custody.pickup(visit)
        ours = pickup is not None and pickup.store == device_of(request).site_id
        drawn = _drawn(pickup, spoken(request.GET.get("language"))) if pickup and ours else None
        if drawn is None:
            raise Problem(Code.NOT_FOUND)
        answer = HttpResponse(
            drawn,
            content_type="application/pdf",
            headers={"Content-Disposition": 'inline; filename="ticket.pdf"'},
        )
        answer["Cache-Control"] = "no-store"
        return answer


def _drawn(pickup: Pickup, reader: str) -> bytes | None:
    tongues = [reader, *(one for one in LANGUAGES if one != reader)]
    sheets = [sheet for one in tongues if (sheet := receipts.sheet(pickup, one))]
    if not sheets:
        return None
    return receipt_pdf(sheets, dealer=settings.DEALER_NAME, phone=settings.DEALER_PHONE)
