"""The peer: the endpoint that one would write first, a row a request, into the same ledger table.

A ModelSerializer and a view set, no authentication, no fold, no receipts. Served beside the
product's own addresses by `tests.bench.naive:application`.
"""

import os

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "pickups.config.settings")
os.environ["BENCH_NAIVE"] = "1"

from django.core.wsgi import get_wsgi_application

application = get_wsgi_application()

from django.urls import path  # noqa: E402
from rest_framework import permissions, serializers, viewsets  # noqa: E402
from rest_framework.parsers import JSONParser  # noqa: E402

from pickups.config import urls  # noqa: E402
from pickups.custody.models import Fact  # noqa: E402


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


urls.urlpatterns[:0] = [path("naive", FactViewSet.as_view({"post": "create"}))]
