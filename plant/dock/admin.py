"""Stations, calendar and standard times of the plants in the administration pages.

A plant's route is data. What promises are made from is published with every change.
"""

from typing import Any

from django import forms
from django.contrib import admin
from django.db.models import QuerySet
from django.http import HttpRequest
from simple_history.admin import SimpleHistoryAdmin

from pickups.kernel import clock
from plant.dock import rules, services
from plant.dock.models import (
    Calendar,
    Chamber,
    Holiday,
    RepairLimit,
    Route,
    Shift,
    StandardTime,
    Station,
    TreadTarget,
)


class OfRoute(SimpleHistoryAdmin):  # type: ignore[misc]
    """What the plant's devices are told anew with every change."""

    def save_model(self, request: HttpRequest, obj: Any, form: Any, change: bool) -> None:
        """Published to the plant that has it now and, where it was moved, to the one before."""
        before = type(obj).objects.filter(pk=obj.pk).values_list("plant_id", flat=True).first()
        super().save_model(request, obj, form, change)
        for plant in {obj.plant_id, before} - {None}:
            services.publish_route(plant=plant)

    def delete_model(self, request: HttpRequest, obj: Any) -> None:
        """Gone from the plant's devices too."""
        super().delete_model(request, obj)
        services.publish_route(plant=obj.plant_id)

    def delete_queryset(self, request: HttpRequest, queryset: QuerySet[Any]) -> None:
        """Several at once; one by one, so that each leaves its history."""
        for obj in queryset:
            self.delete_model(request, obj)


@admin.register(Station)
class StationAdmin(OfRoute):
    """A plant orders and omits stations as it likes. The order is changed on
    the plant's own page."""

    list_display = ("name", "code", "place", "scans", "optional", "machines", "cycle_min", "plant")
    list_filter = ("plant",)

    def get_readonly_fields(self, request: HttpRequest, obj: Any = None) -> tuple[str, ...]:
        """What machines post and what was told there names the code: it stays."""
        return ("plant", "code") if obj else ()


@admin.register(Chamber)
class ChamberAdmin(OfRoute):
    """The curing chambers."""

    list_display = (
        "name",
        "code",
        "holds",
        "cycle_min",
        "least",
        "max_wait_min",
        "starts",
        "plant",
    )
    list_filter = ("plant",)

    def get_readonly_fields(self, request: HttpRequest, obj: Any = None) -> tuple[str, ...]:
        """Loads name the code: it stays."""
        return ("plant", "code") if obj else ()


@admin.register(Route)
class RouteAdmin(OfRoute):
    """How often a casing may be worked again, and the code in the retread TINs branded there."""

    fields = ("plant", "rework_limit", "plant_code")
    list_display = ("plant", "rework_limit", "plant_code")

    def get_readonly_fields(self, request: HttpRequest, obj: Any = None) -> tuple[str, ...]:
        """It stays its plant's."""
        return ("plant",) if obj else ()

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        """A plant without a limit has an empty one."""
        return False


@admin.register(RepairLimit)
class RepairLimitAdmin(SimpleHistoryAdmin):  # type: ignore[misc]
    """Repair limits with what stood before: looked at here, entered on the plant's own page."""

    list_display = ("zone", "kind", "size_class", "most_mm", "most_count", "chart", "plant")
    list_filter = ("plant",)

    def has_add_permission(self, request: HttpRequest) -> bool:
        """On the plant's own page, which tells its devices."""
        return False

    def has_change_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        """Nor is one changed or an earlier one put back here."""
        return False

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        """Taken out on the plant's own page."""
        return False


@admin.register(TreadTarget)
class TreadTargetAdmin(SimpleHistoryAdmin):  # type: ignore[misc]
    """What is wanted of tread designs, with what stood before: looked at here, entered on the
    plant's own page."""

    list_display = ("tread_design", "size", "pitch_mm", "radius_mm", "sheet", "plant")
    list_filter = ("plant",)

    def has_add_permission(self, request: HttpRequest) -> bool:
        """On the plant's own page, which tells its devices."""
        return False

    def has_change_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        """Nor is one changed or an earlier one put back here."""
        return False

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        """Taken out on the plant's own page."""
        return False


class CalendarForm(forms.ModelForm):  # type: ignore[type-arg]
    """The weekdays as boxes to tick."""

    weekdays = forms.TypedMultipleChoiceField(
        choices=rules.WEEKDAYS,
        coerce=int,
        widget=forms.CheckboxSelectMultiple,
        help_text="The days on which the plant works.",
    )


class StandardTimes(admin.TabularInline):  # type: ignore[type-arg]
    """How long each work takes."""

    model = StandardTime
    extra = 0


class ShiftsTogether(forms.BaseInlineFormSet):  # type: ignore[type-arg]
    """Shifts that do not run into each other."""

    def clean(self) -> None:
        """Each pair that overlaps is named."""
        super().clean()
        told = [form.cleaned_data for form in self.forms if form.is_valid() and form.cleaned_data]
        whole = [one for one in told if not one.get("DELETE") and one.get("begins")]
        shifts = [rules.Shift(one["weekday"], one["begins"], one["ends"]) for one in whole]
        for one, other in rules.overlaps(shifts):
            raise forms.ValidationError(f"{_shift(one)} runs into {_shift(other)}.")


def _shift(one: rules.Shift) -> str:
    return f"{dict(rules.WEEKDAYS)[one.weekday]} {one.begins:%H:%M}-{one.ends:%H:%M}"


class Shifts(admin.TabularInline):  # type: ignore[type-arg]
    """The hours of each weekday; one that ends before it begins runs past midnight."""

    model = Shift
    formset = ShiftsTogether
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
    inlines = (Shifts, StandardTimes, Holidays)
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
