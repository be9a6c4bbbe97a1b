"""The peers: endpoints that one would write first, a row a request, into the same tables; and one
that does nothing.

A ModelSerializer and a view set each, no authentication, no fold, no receipts. Served beside the
product's own addresses by `tests.bench.naive:application`.
"""

import os

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "pickups.config.settings")
os.environ["BENCH_NAIVE"] = "1"

from django.core.wsgi import get_wsgi_application

application = get_wsgi_application()

from django.http import HttpRequest, HttpResponse  # noqa: E402
from django.urls import path  # noqa: E402
from django.views.decorators.csrf import csrf_exempt  # noqa: E402
from rest_framework import permissions, serializers, viewsets  # noqa: E402
from rest_framework.parsers import JSONParser  # noqa: E402

from pickups.config import urls  # noqa: E402
from pickups.custody.models import Fact  # noqa: E402
from plant.inspection.models import StationEvent  # noqa: E402


class FactSerializer(serializers.ModelSerializer):  # type: ignore[type-arg]
    class Meta:
        model = Fact
        fields = "__all__"
        extra_kwargs = {"uid": {"required": True}}  # noqa: RUF012


class FactViewSet(viewsets.ModelViewSet):  # type: ignore[type-arg]
    queryset = Fact.objects.all()
    serializer_class = FactSerializer
    permission_classes = (permissions.AllowAny,)
    authentication_classes = ()
    parser_classes = (JSONParser,)


class EventSerializer(serializers.ModelSerializer):  # type: ignore[type-arg]
    class Meta:
        model = StationEvent
        exclude = ("hash",)
        extra_kwargs = {"fact": {"required": True}}  # noqa: RUF012


class EventViewSet(viewsets.ModelViewSet):  # type: ignore[type-arg]
    queryset = StationEvent.objects.all()
    serializer_class = EventSerializer
    permission_classes = (permissions.AllowAny,)
    authentication_classes = ()
    parser_classes = (JSONParser,)

    def perform_create(self, serializer: serializers.BaseSerializer) -> None:  # type: ignore[type-arg]
        """The column that no JSON can hold."""
        serializer.save(hash=bytes(32))


@csrf_exempt
def nothing(request: HttpRequest) -> HttpResponse:
    """Reads the body and answers."""
    return HttpResponse(b"{}" if request.body else b"", content_type="application/json")


urls.urlpatterns[:0] = [
    path("naive", FactViewSet.as_view({"post": "create"})),
    path("naive-event", EventViewSet.as_view({"post": "create"})),
    path("nothing", nothing),
]
