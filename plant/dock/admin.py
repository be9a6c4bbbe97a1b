"""Stations of the plants in the administration pages: a plant's route is data."""

from django.contrib import admin
from simple_history.admin import SimpleHistoryAdmin

from plant.dock.models import Station


@admin.register(Station)
class StationAdmin(SimpleHistoryAdmin):  # type: ignore[misc]
    """A plant orders and omits stations as it likes."""

    list_display = ("name", "code", "place", "plant")
    list_filter = ("plant",)
