"""The regular runs in the administration pages; what is saved or deleted there is published."""

from collections.abc import Iterable
from typing import Any
from uuid import UUID

from django import forms
from django.contrib import admin
from django.db.models import QuerySet
from django.forms import ModelForm
from django.http import HttpRequest
from simple_history.admin import SimpleHistoryAdmin

from pickups.kernel import clock
from pickups.runs import rules, services
from pickups.runs.models import RegularRun

DAYS = ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"]


class RegularRunForm(forms.ModelForm):  # type: ignore[type-arg]
    """A regular run with its weekdays as boxes to tick."""

    weekdays = forms.TypedMultipleChoiceField(
        coerce=int, choices=list(enumerate(DAYS)), widget=forms.CheckboxSelectMultiple
    )

    class Meta:
        model = RegularRun
        fields = ("name", "site", "kind", "weekdays", "plant", "yards")

    def clean(self) -> dict[str, Any] | None:
        """What no regular run can be is said beside the field that is wrong."""
        said = super().clean() or {}
        site, plant, yards = said.get("site"), said.get("plant"), list(said.get("yards") or ())
        if site is not None and site.kind != "store":
            self.add_error("site", f"{site} is no store; regular runs belong to a store.")
        if plant is not None and plant.kind != "plant":
            self.add_error("plant", f"{plant} is no plant.")
        if site is not None and (far := [y for y in yards if y.customer.home_site_id != site.pk]):
            names = ", ".join(map(str, far))
            self.add_error("yards", f"Yards of customers of {site} are allowed; not: {names}.")
        kind, days = said.get("kind"), said.get("weekdays")
        if kind and days:
            wrong = rules.regular(kind, days, yards=len(yards), plant=plant is not None)
            if wrong:
                self.add_error("yards" if kind == "route" else "plant", f"{wrong.capitalize()}.")
        return said


@admin.register(RegularRun)
class RegularRunAdmin(SimpleHistoryAdmin):  # type: ignore[misc]
    """Trips that are made every week; promises are made from them."""

    form = RegularRunForm
    list_display = ("name", "site", "kind", "on_weekdays")
    list_filter = ("site", "kind")
    filter_horizontal = ("yards",)

    @admin.display(description="weekdays")
    def on_weekdays(self, run: RegularRun) -> str:
        """The weekdays by name."""
        return ", ".join(DAYS[day] for day in run.weekdays)

    def save_related(
        self,
        request: HttpRequest,
        form: ModelForm,  # type: ignore[type-arg]
        formsets: Any,
        change: bool,
    ) -> None:
        """Its yards are saved after it, and only then is it whole."""
        super().save_related(request, form, formsets, change)
        left = [form.initial["site"]] if change else []
        _publish([form.instance.site_id, *left])

    def delete_model(self, request: HttpRequest, obj: RegularRun) -> None:
        """Gone, and the timetable without it."""
        super().delete_model(request, obj)
        _publish([obj.site_id])

    def delete_queryset(self, request: HttpRequest, queryset: QuerySet[RegularRun]) -> None:
        """Several at once."""
        stores = set(queryset.values_list("site_id", flat=True))
        super().delete_queryset(request, queryset)
        _publish(stores)


def _publish(stores: Iterable[UUID]) -> None:
    at = clock.now()
    for store in sorted(set(stores)):
        services.publish_timetable(site=store, at=at)
