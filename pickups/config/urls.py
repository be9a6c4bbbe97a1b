"""Every address of the product, by area. Wiring only."""

from django.contrib import admin
from django.urls import URLPattern, URLResolver, include, path, re_path
from django.views.generic import RedirectView
from drf_spectacular.views import SpectacularJSONAPIView

from pickups.desk.api.tickets import TicketView
from pickups.kernel.problems import page_not_found
from pickups.people.api import EnrolView, RenewView, StandingView
from pickups.sync.api import PhotoView, PullView, PushView
from plant.curing.api import LoadsView, LoadView, RecordView, TraceView
from plant.dock.api import RouteView
from plant.inspection.api import (
    CasingView,
    ChangesView,
    EventsView,
    PlantPhotoView,
    ReasonsView,
    WorkView,
)

api: list[URLPattern | URLResolver] = [
    path(
        "schema", SpectacularJSONAPIView.as_view(authentication_classes=(), permission_classes=())
    ),
    path("devices/enrol", EnrolView.as_view()),
    path("devices/renew", RenewView.as_view()),
    path("devices/standing", StandingView.as_view()),
    path("sync/push", PushView.as_view()),
    path("sync/pull", PullView.as_view()),
    path("photos/<str:sha256>", PhotoView.as_view()),
    path("labels/", include("pickups.labels.urls")),
    path("tickets/<uuid:visit>", TicketView.as_view()),
    path("plant/events", EventsView.as_view()),
    path("plant/photos/<str:sha256>", PlantPhotoView.as_view()),
    path("plant/work", WorkView.as_view()),
    path("plant/casings/<str:label>", CasingView.as_view()),
    path("plant/reasons", ReasonsView.as_view()),
    path("plant/changes", ChangesView.as_view()),
    path("plant/trace", TraceView.as_view()),
    path("plant/loads", LoadsView.as_view()),
    path("plant/loads/<str:number>", LoadView.as_view()),
    path("plant/loads/<str:number>/record", RecordView.as_view()),
    path("plant/route", RouteView.as_view()),
    re_path(".*", page_not_found, {"exception": None}),
]

handler400 = "pickups.kernel.problems.unreadable"
handler500 = "pickups.kernel.problems.broken"

urlpatterns = [
    path("api/", include(api)),
    # One sign-in for all, so that one limit on tries holds for all.
    path("admin/login/", RedirectView.as_view(pattern_name="sign-in", query_string=True)),
    path("admin/", admin.site.urls),
    path("", include("plant.floor.urls")),
    path("", include("pickups.desk.urls")),
    path("", include("pickups.portal.urls")),
    path("", include("pickups.config.health")),
    path("", include("pickups.config.shell")),
    path("", include("pickups.config.mailbox_pages")),
]
