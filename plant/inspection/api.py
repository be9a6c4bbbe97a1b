"""The door by which a plant's systems post station events."""

from dataclasses import replace
from typing import Any

import msgspec
from django.http import HttpResponse
from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.views import APIView

from pickups.kernel.openapi import also, answers, takes
from pickups.kernel.parsers import bounded
from pickups.kernel.throttles import PerSender
from pickups.kernel.wire import Malformed, parse, read, storable
from pickups.people.doors import ByPlantKey, Known, key_of
from plant.inspection import services
from plant.inspection.wire import EventAnswers, StationEvent, StationEvents

BYTES = 1024 * 1024
also(StationEvent)


class EventsView(APIView):
    """A plant tells what its stations did."""

    authentication_classes = (ByPlantKey,)
    permission_classes = (Known,)
    throttle_classes = (PerSender,)

    @extend_schema(
        operation_id="post_station_events",
        request=takes(StationEvents),
        responses=answers(EventAnswers),
    )
    def post(self, request: Request) -> HttpResponse:
        """One event, or a batch under `events`; safe to repeat."""
        value: Any = parse(bounded(request._request, BYTES, ("application/json",)))
        storable(value)
        single = isinstance(value, dict) and "events" not in value
        batch = {"events": [value]} if single else value
        if single:
            read(value, StationEvent)  # names the field as the sender wrote it
        posted = read(batch, StationEvents).events
        told = list(zip(posted, batch["events"], strict=True))
        try:
            made = services.post(key=key_of(request), events=told)
        except Malformed as e:
            if single:  # as above
                field = e.fault.field.removeprefix("events[0].")
                raise Malformed(replace(e.fault, field=field)) from None
            raise
        return HttpResponse(
            msgspec.json.encode(EventAnswers(made)), content_type="application/json"
        )
