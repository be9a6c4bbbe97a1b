"""The door by which a plant's systems read its route."""

import msgspec
from django.http import HttpResponse
from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.views import APIView

from pickups.kernel.openapi import answers
from pickups.kernel.throttles import PerSender
from pickups.people.doors import ByPlantKey, Known, key_of
from plant.dock import queries
from plant.dock.wire import PlantRoute


class RouteView(APIView):
    """A plant's system asks which stations there are."""

    authentication_classes = (ByPlantKey,)
    permission_classes = (Known,)
    throttle_classes = (PerSender,)

    @extend_schema(operation_id="plant_route", responses=answers(PlantRoute))
    def get(self, request: Request) -> HttpResponse:
        """The stations in their order, the chambers and the rework limit of the key's plant."""
        body = msgspec.json.encode(queries.route(key_of(request).plant_id))
        return HttpResponse(body, content_type="application/json")
