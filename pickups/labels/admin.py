"""Rolls of labels in the administration pages, to look at; they are printed by the service. Stock
and its trials are entered here, with their history."""

from typing import Any

from django.contrib import admin
from django.http import HttpRequest
from simple_history.admin import SimpleHistoryAdmin

from pickups.labels.models import LabelStock, Roll, Trial


@admin.register(Roll)
class RollAdmin(admin.ModelAdmin):  # type: ignore[type-arg]
    """Which serials were printed for whom."""

    list_display = ("range", "first", "last", "site", "printed_at")

    def has_add_permission(self, request: HttpRequest) -> bool:
        return False

    def has_change_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False


class TrialsInline(admin.TabularInline):  # type: ignore[type-arg]
    """The trials of a stock, the newest first; none is deleted, a change is kept in its history."""

    model = Trial
    extra = 1
    ordering = ("-on", "-id")
    can_delete = False


@admin.register(LabelStock)
class LabelStockAdmin(SimpleHistoryAdmin):  # type: ignore[misc]
    """What labels are printed on, and what was tried with it."""

    list_display = ("name", "use")
    inlines = (TrialsInline,)

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False
