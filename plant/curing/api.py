"""The doors by which a plant's systems tell of loads and read them."""

from collections.abc import Iterator

import msgspec
from django.http import HttpResponse
from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.views import APIView

from pickups.kernel.openapi import answers, takes
from pickups.kernel.parsers import bounded
from pickups.kernel.problems import Code, Problem
from pickups.kernel.throttles import PerSender
from pickups.kernel.wire import Fault, parse, read, shown, storable
from pickups.people.doors import ByPlantKey, Known, key_of
from pickups.people.rules import KeyScope
from plant.curing import queries, services
from plant.curing.models import CureRecord
from plant.curing.series import MOST_BYTES, Unreadable
from plant.curing.wire import LoadAnswer, LoadPosted, LoadSaid, RecordPosted

JSON, TABLE = "application/json", "text/csv"
LOAD_BYTES = 64 * 1024


class LoadsView(APIView):
    """A plant tells of its cure loads."""

    authentication_classes = (ByPlantKey,)
    permission_classes = (Known,)
    throttle_classes = (PerSender,)
    key_scope = KeyScope.LOADS

    @extend_schema(
        operation_id="post_cure_load", request=takes(LoadPosted), responses=answers(LoadAnswer)
    )
    def post(self, request: Request) -> HttpResponse:
        """One word about a load: chamber, start, end, lots, operator. Safe to repeat.

        Which casings went in and came out is told by station events that name the load.
        """
        value = parse(bounded(request._request, LOAD_BYTES, (JSON,)))
        storable(value)
        posted = read(value, LoadPosted)
        key = key_of(request)
        repeat = services.tell(plant=key.plant_id, posted=posted, key=key.prefix)
        return _answer(LoadAnswer(posted.number, repeat=repeat))


class LoadView(APIView):
    """A plant's system reads one load."""

    authentication_classes = (ByPlantKey,)
    permission_classes = (Known,)
    throttle_classes = (PerSender,)

    @extend_schema(operation_id="cure_load", responses=answers(LoadSaid))
    def get(self, request: Request, number: str) -> HttpResponse:
        """A load as it stands: what went in, what came out, what its record showed."""
        load = queries.load(key_of(request).plant_id, number) if number.isprintable() else None
        if load is None:
            raise Problem(Code.NOT_FOUND)
        return _answer(queries.said(load))


class RecordView(APIView):
    """A plant's recorder hands in what it wrote."""

    authentication_classes = (ByPlantKey,)
    permission_classes = (Known,)
    throttle_classes = (PerSender,)
    key_scope = KeyScope.LOADS

    @extend_schema(
        operation_id="post_cure_record",
        request=takes(RecordPosted) | {(TABLE): {"type": "string"}},
        responses=answers(LoadAnswer),
    )
    def post(self, request: Request, number: str) -> HttpResponse:
        """The temperature and pressure record of a load: a series, or a table with a head that
        names columns and units. The one that came last is read. Safe to repeat."""
        raw = bounded(request._request, MOST_BYTES, (JSON, TABLE))
        table = request._request.headers["Content-Type"].split(";")[0].strip().lower() == TABLE
        if not table:
            value = parse(raw)
            storable(value)
            posted = read(value, RecordPosted)
            raw = msgspec.json.encode(posted)
        form = CureRecord.Form.TABLE if table else CureRecord.Form.SERIES
        key = key_of(request)
        if not number.isprintable():
            raise Problem(Code.NOT_FOUND)
        try:
            repeat = services.take_record(
                plant=key.plant_id, number=number, raw=raw, form=form, key=key.prefix
            )
        except services.NoSuchLoad:
            raise Problem(Code.NOT_FOUND) from None
        except Unreadable as e:
            raise Problem(Code.MALFORMED, *_faults(e, table=table)) from None
        return _answer(LoadAnswer(number, repeat=repeat))


def _faults(e: Unreadable, *, table: bool) -> Iterator[Fault]:
    """Each names its row (of a table as a spreadsheet counts, the head is 1) and its column."""
    for fault in e.faults:
        where = f"row {fault.row}" if table else f"readings[{fault.row - 1}]"
        at = ".".join(filter(None, (where if fault.row else "", fault.column)))
        yield Fault(at or "body", shown(fault.value), fault.allowed)


def _answer(said: msgspec.Struct) -> HttpResponse:
    return HttpResponse(msgspec.json.encode(said), content_type=JSON)
