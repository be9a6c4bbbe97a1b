"""The doors by which a plant's systems tell what its stations did, and read where casings stand."""

from dataclasses import replace
from typing import Any

import msgspec
from django.http import HttpResponse
from drf_spectacular.utils import OpenApiExample, OpenApiParameter, extend_schema
from rest_framework.request import Request
from rest_framework.views import APIView

from pickups.kernel import clock
from pickups.kernel.openapi import also, answers, takes
from pickups.kernel.parsers import bounded
from pickups.kernel.throttles import PerSender
from pickups.kernel.wire import Fault, Malformed, parse, read, shown, storable
from pickups.labels.rules import fault
from pickups.people.doors import ByPlantKey, Known, key_of
from pickups.people.rules import KeyScope
from pickups.sync import photos
from pickups.sync.queries import missing_photos
from pickups.sync.wire import PHOTO_BYTES, PhotoAnswer
from plant.dock import queries as dock
from plant.inspection import reading, services
from plant.inspection.examples import BATCH_EXAMPLE, FINDING_EXAMPLE, LINES_EXAMPLE
from plant.inspection.wire import BATCH, EventAnswers, StationEvent, StationEvents
from plant.inspection.wire.events import NO_LABEL
from plant.inspection.wire.reads import PAGE, CasingTold, Catalogue, Changes, WorkPage

BYTES = 1024 * 1024
JSON, LINES = "application/json", "application/x-ndjson"
PICTURES = ("image/jpeg", "image/png", "image/webp")
also(StationEvent)

CURSOR = OpenApiParameter("cursor", str, description="As the page before gave it; empty at first.")
LIMIT = OpenApiParameter(
    "limit",
    {"type": "integer", "minimum": 1, "maximum": PAGE, "default": PAGE},
    description="How many at most.",
)


class EventsView(APIView):
    """A plant tells what its stations did."""

    authentication_classes = (ByPlantKey,)
    permission_classes = (Known,)
    throttle_classes = (PerSender,)
    key_scope = KeyScope.EVENTS

    @extend_schema(
        operation_id="post_station_events",
        request=takes(StationEvents) | takes(StationEvent, LINES),
        responses=answers(EventAnswers),
        examples=[
            OpenApiExample("a batch", BATCH_EXAMPLE, request_only=True, media_type=JSON),
            OpenApiExample("one, with a finding", FINDING_EXAMPLE, request_only=True,
                           media_type=JSON),
            OpenApiExample("a line an event", LINES_EXAMPLE, request_only=True, media_type=LINES),
        ],
    )  # fmt: skip
    def post(self, request: Request) -> HttpResponse:
        """One event, a batch under `events`, or a line an event; safe to repeat.

        All of a batch is recorded or, where one event is wrong, nothing: the answer names the
        event or the line, the field, its value and what is allowed. Events may come late and in
        any order.
        """
        body = bounded(request._request, BYTES, (JSON, LINES))
        kind = request._request.headers["Content-Type"].split(";")[0].strip().lower()
        told, name = _lines(body) if kind == LINES else _document(body)
        try:
            made = services.post(key=key_of(request), events=told)
        except Malformed as e:
            place, _, field = e.fault.field.removeprefix("events[").partition("].")
            named = name.format(n=int(place), line=_line(body, int(place)))
            raise Malformed(replace(e.fault, field=f"{named}{field}")) from None
        hashes = sorted({photo for event, _ in told for photo in _photos(event)})
        return _answer(EventAnswers(made, missing_photos(hashes) if hashes else []))


def _photos(event: StationEvent) -> list[str]:
    return [*event.photos, *(photo for finding in event.findings for photo in finding.photos)]


Posted = list[tuple[StationEvent, dict[str, Any]]]


def _document(body: bytes) -> tuple[Posted, str]:
    """One event or a batch, and how its fields are named."""
    value: Any = parse(body)
    storable(value)
    if isinstance(value, dict) and "events" not in value:
        return [(read(value, StationEvent), value)], ""
    posted = read(value, StationEvents).events
    return list(zip(posted, value["events"], strict=True)), "events[{n}]."


def _lines(body: bytes) -> tuple[Posted, str]:
    """A line an event; empty ones are left out."""
    told: Posted = []
    for number, line in enumerate(body.split(b"\n"), 1):
        if not line.strip():
            continue
        if len(told) == BATCH:
            raise Malformed(Fault(f"line {number}", "one more", f"at most {BATCH} events"))
        try:
            value: Any = parse(line)
            storable(value)
            told.append((read(value, StationEvent), value))
        except Malformed as e:
            field = f"line {number}.{e.fault.field}"
            raise Malformed(replace(e.fault, field=field)) from None
    if not told:
        raise Malformed(Fault("body", "", "at least one line with an event"))
    return told, "line {line}."


def _line(body: bytes, place: int) -> int:
    """The number of the line that holds the event of this place."""
    full = [n for n, line in enumerate(body.split(b"\n"), 1) if line.strip()]
    return full[place] if place < len(full) else 0


class PlantPhotoView(APIView):
    """A plant's system sends a photo that a finding names, whole."""

    authentication_classes = (ByPlantKey,)
    permission_classes = (Known,)
    throttle_classes = (PerSender,)
    key_scope = KeyScope.EVENTS

    @extend_schema(
        operation_id="plant_photo",
        parameters=[OpenApiParameter("sha256", str, "path", pattern="^[0-9a-f]{64}$")],
        request={"image/jpeg": {"type": "string", "format": "binary"}},
        responses=answers(PhotoAnswer),
    )
    def put(self, request: Request, sha256: str) -> HttpResponse:
        """Keep a photo under the hash of its bytes; safe to repeat, before its event or after."""
        if len(sha256) != 64 or set(sha256) - set("0123456789abcdef"):
            raise Malformed(Fault("sha256", shown(sha256), "64 hexadecimal digits, lower case"))
        data = bounded(request._request, PHOTO_BYTES, PICTURES)
        photos.keep(sha256=sha256, data=data, device=key_of(request).plant_id, at=clock.now())
        return _answer(PhotoAnswer(sha256))


class WorkView(APIView):
    """A plant's system asks what is inside."""

    authentication_classes = (ByPlantKey,)
    permission_classes = (Known,)
    throttle_classes = (PerSender,)

    @extend_schema(
        operation_id="plant_work",
        parameters=[
            OpenApiParameter("station", str, description="Only what was seen there last."),
            CURSOR,
            LIMIT,
        ],
        responses=answers(WorkPage),
    )
    def get(self, request: Request) -> HttpResponse:
        """Every casing that came into the plant and has not left it, in pages."""
        plant, station = key_of(request).plant_id, _asked(request, "station")
        if station and station not in (known := dock.codes(plant)):
            raise Malformed(Fault("station", shown(station), ", ".join(known)))
        page = reading.work_page(
            plant=plant, station=station, cursor=_asked(request, "cursor"), limit=_limit(request)
        )
        return _answer(page)


class CasingView(APIView):
    """A plant's system asks about one casing."""

    authentication_classes = (ByPlantKey,)
    permission_classes = (Known,)
    throttle_classes = (PerSender,)

    @extend_schema(
        operation_id="plant_casing",
        parameters=[OpenApiParameter("label", str, "path", description="As it is printed.")],
        responses=answers(CasingTold),
    )
    def get(self, request: Request, label: str) -> HttpResponse:
        """What this plant has told of it: the same answer for a label that nobody knows and one
        of which this plant has told nothing."""
        wrong = fault(label)
        if wrong is not None:
            allowed = NO_LABEL.get(wrong, "a label: eight symbols, digits and capital letters")
            raise Malformed(Fault("label", shown(label), allowed))
        return _answer(reading.casing(plant=key_of(request).plant_id, label=label))


class ReasonsView(APIView):
    """A plant's system asks what a rejection may name."""

    authentication_classes = (ByPlantKey,)
    permission_classes = (Known,)
    throttle_classes = (PerSender,)

    @extend_schema(operation_id="plant_reasons", responses=answers(Catalogue))
    def get(self, request: Request) -> HttpResponse:
        """The catalogue of reasons with their words and sources, the causes and the zones."""
        return _answer(reading.catalogue())


class ChangesView(APIView):
    """A plant's system asks what is new."""

    authentication_classes = (ByPlantKey,)
    permission_classes = (Known,)
    throttle_classes = (PerSender,)

    @extend_schema(
        operation_id="plant_changes", parameters=[CURSOR, LIMIT], responses=answers(Changes)
    )
    def get(self, request: Request) -> HttpResponse:
        """What changed since a cursor, however it was told. 410: begin with an empty cursor."""
        plant, cursor = key_of(request).plant_id, _asked(request, "cursor")
        return _answer(reading.changes(plant=plant, cursor=cursor, limit=_limit(request)))


def _asked(request: Request, name: str) -> str:
    value = request.query_params.get(name, "")
    storable(value, name)
    return str(value)


def _limit(request: Request) -> int:
    text = _asked(request, "limit") or str(PAGE)
    if not (text.isascii() and text.isdigit() and len(text) < 6 and 1 <= int(text) <= PAGE):
        raise Malformed(Fault("limit", shown(text), f"a whole number from 1 to {PAGE}"))
    return int(text)


def _answer(body: msgspec.Struct) -> HttpResponse:
    return HttpResponse(msgspec.json.encode(body), content_type=JSON)
