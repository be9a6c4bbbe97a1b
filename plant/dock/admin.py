"""Stations, calendar and standard times of the plants in the administration pages.

A plant's route is data. What promises are made from is published with every change.
"""

from typing import Any

from django import forms
from django.contrib import admin
from django.http import HttpRequest
from simple_history.admin import SimpleHistoryAdmin

from pickups.kernel import clock
from plant.dock import services
from plant.dock.models import Calendar, Holiday, StandardTime, Station

WEEKDAYS = (
    (0, "Monday"),
    (1, "Tuesday"),
    (2, "Wednesday"),
    (3, "Thursday"),
    (4, "Friday"),
    (5, "Saturday"),
    (6, "Sunday"),
)


@admin.register(Station)
class StationAdmin(SimpleHistoryAdmin):  # type: ignore[misc]
    """A plant orders and omits stations as it likes."""

    list_display = ("name", "code", "place", "plant")
    list_filter = ("plant",)


class CalendarForm(forms.ModelForm):  # type: ignore[type-arg]
    """The weekdays as boxes to tick."""

    weekdays = forms.TypedMultipleChoiceField(
        choices=WEEKDAYS,
        coerce=int,
        widget=forms.CheckboxSelectMultiple,
        help_text="The days on which the plant works.",
    )


class StandardTimes(admin.TabularInline):  # type: ignore[type-arg]
    """How long each work takes."""

    model = StandardTime
    extra = 0


class Holidays(admin.TabularInline):  # type: ignore[type-arg]
    """The days on which it does not work all the same."""

    model = Holiday
    extra = 0


@admin.register(Calendar)
class CalendarAdmin(SimpleHistoryAdmin):  # type: ignore[misc]
    """One page a plant: when it works, and how long it needs."""

    form = CalendarForm
    fields = ("plant", "weekdays")
    inlines = (StandardTimes, Holidays)
    list_display = ("plant",)

    def get_readonly_fields(self, request: HttpRequest, obj: Any = None) -> tuple[str, ...]:
        """A calendar stays its plant's."""
        return ("plant",) if obj else ()

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        """A plant that promises nothing has no standard times; it keeps its calendar."""
        return False

    def save_model(self, request: HttpRequest, obj: Calendar, form: Any, change: bool) -> None:
        """Published here too: an earlier state that is put back is saved by this alone."""
        super().save_model(request, obj, form, change)
        services.publish(plant=obj.pk, at=clock.now())

    def save_related(self, request: HttpRequest, form: Any, formsets: Any, change: bool) -> None:
        """Published once all of the page is saved."""
        super().save_related(request, form, formsets, change)
        services.publish(plant=form.instance.pk, at=clock.now())
