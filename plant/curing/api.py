"""The doors by which a plant's systems tell of loads and read them."""

from collections.abc import Iterator
from datetime import datetime
from uuid import UUID

import msgspec
from django.http import HttpResponse
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework.request import Request
from rest_framework.views import APIView

from pickups.kernel.openapi import answers, takes
from pickups.kernel.parsers import bounded
from pickups.kernel.problems import Code, Problem
from pickups.kernel.throttles import PerSender
from pickups.kernel.wire import Fault, Malformed, instant, parse, read, shown, storable
from pickups.people.doors import ByPlantKey, Known, key_of
from pickups.people.rules import KeyScope
from plant.curing import queries, services, tracing
from plant.curing.models import CureRecord
from plant.curing.series import MOST_BYTES, Unreadable
from plant.curing.wire import (
    LifeSaid,
    LoadAnswer,
    LoadPosted,
    LoadSaid,
    RecordPosted,
    TracedSaid,
    TraceSaid,
)
from plant.inspection.tracing import Asked
from plant.inspection.wire import Lot

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


class TraceView(APIView):
    """A plant's system asks what touched a casing, or which casings something touched."""

    authentication_classes = (ByPlantKey,)
    permission_classes = (Known,)
    throttle_classes = (PerSender,)

    @extend_schema(
        operation_id="trace",
        parameters=[
            OpenApiParameter(name, str, description=says)
            for name, says in {
                "q": "A label, a finished tag, a TIN or a retread TIN; alone.",
                "lot": "The number of a lot.",
                "lot_kind": "What the lot is of: cushion_gum, tread, repair_unit and so on.",
                "load": "The number of a cure load.",
                "operator": "The plant's own code of a person.",
                "machine": "The plant's own code of a machine.",
                "station": "The code of a station; beside something else.",
                "since": "RFC 3339, with its zone; the first moment that counts.",
                "until": "RFC 3339, with its zone; the first moment that counts no more.",
            }.items()
        ],
        responses=answers(TraceSaid),
    )
    def get(self, request: Request) -> HttpResponse:
        """By `q` from a casing to all that touched it; by the others, which have to hold of one and
        the same scan, to every casing. Ask by a lot, a load, an operator, a machine or both times.
        """
        asked = {name: str(value)[:80] for name, value in request.query_params.items()}
        storable(asked)
        plant = key_of(request).plant_id
        if text := asked.get("q", "").strip():
            return _answer(_of_text(plant, text))
        found = tracing.trace(plant, _asked(asked))
        return _answer(TraceSaid([_traced(c) for c in found.casings], found.more))


def _of_text(plant: UUID, text: str) -> TraceSaid:
    labels = tracing.named(plant, text)
    life = tracing.life(plant, labels[0]) if len(labels) == 1 else None
    said = TraceSaid([_traced(c) for c in tracing.standing(plant, labels)])
    if life is None:
        return said
    lots = [tuple(lot.items()) for s in life.seen for lot in s.lots]
    lots += [tuple(lot.items()) for load in life.loads for lot in load.lots]
    people = [*(s.operator for s in life.seen), *(load.operator for load in life.loads)]
    said.life = LifeSaid(
        loads=[load.number for load in life.loads],
        lots=[Lot(**dict(lot)) for lot in dict.fromkeys(lots)],  # type: ignore[arg-type]
        operators=[p for p in dict.fromkeys(people) if p],
        machines=[m for m in dict.fromkeys(s.machine for s in life.seen) if m],
        mates=life.mates,
    )
    return said


def _asked(asked: dict[str, str]) -> Asked:
    moments: dict[str, datetime] = {}
    for name in ("since", "until"):
        if text := asked.get(name, ""):
            moments[name] = instant(_moment(name, text), name)
    made = Asked(
        load=asked.get("load", ""),
        lot=asked.get("lot", ""),
        lot_kind=asked.get("lot_kind", ""),
        operator=asked.get("operator", ""),
        machine=asked.get("machine", ""),
        station=asked.get("station", ""),
        since=moments.get("since"),
        until=moments.get("until"),
    )
    if not made.asks:
        allowed = "q, lot, load, operator, machine, or since and until together"
        raise Malformed(Fault("query", ", ".join(sorted(asked))[:80], allowed))
    return made


def _moment(name: str, text: str) -> datetime:
    allowed = "a time with its zone (RFC 3339)"
    try:
        at = datetime.fromisoformat(text)
    except ValueError:
        raise Malformed(Fault(name, shown(text), allowed)) from None
    if at.tzinfo is None:
        raise Malformed(Fault(name, shown(text), allowed))
    return at


def _traced(c: tracing.Traced) -> TracedSaid:
    return TracedSaid(c.label, list(c.every), c.owner_name, c.dealers, c.holder, c.progress,
                      c.station, c.corrected)  # fmt: skip


def _faults(e: Unreadable, *, table: bool) -> Iterator[Fault]:
    """Each names its row (of a table as a spreadsheet counts, the head is 1) and its column."""
    for fault in e.faults:
        where = f"row {fault.row}" if table else f"readings[{fault.row - 1}]"
        at = ".".join(filter(None, (where if fault.row else "", fault.column)))
        yield Fault(at or "body", shown(fault.value), fault.allowed)


def _answer(said: msgspec.Struct) -> HttpResponse:
    return HttpResponse(msgspec.json.encode(said), content_type=JSON)
