"""Rolls of labels in the administration pages, to look at; they are printed by the service."""

from typing import Any

from django.contrib import admin
from django.http import HttpRequest

from pickups.labels.models import Roll


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
