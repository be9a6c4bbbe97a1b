"""Master data of people in the administration pages, with their history.

What phones should know goes through the services; devices and keys are ended at the office's own
page and by commands, so they are only read here.
"""

from typing import Any

from django.contrib import admin
from django.contrib.auth.admin import UserAdmin
from django.contrib.auth.models import Group
from django.db.models import QuerySet
from django.forms import ModelForm
from django.http import HttpRequest
from simple_history.admin import SimpleHistoryAdmin

from pickups.people import services
from pickups.people.models import Device, PlantKey, Site, User, Words

admin.site.unregister(Group)  # roles say who may do what


@admin.register(User)
class PersonAdmin(UserAdmin):  # type: ignore[type-arg]
    """People, with role and site."""

    list_display = ("username", "first_name", "last_name", "role", "site", "is_active")
    list_filter = ("role", "site", "is_active")
    fieldsets = (*(UserAdmin.fieldsets or ()), ("Work", {"fields": ("role", "site")}))
    add_fieldsets = (*UserAdmin.add_fieldsets, ("Work", {"fields": ("role", "site")}))

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        """Who leaves is made inactive: phones drop the name, facts keep the id."""
        return False

    def save_model(self, request: HttpRequest, obj: User, form: ModelForm, change: bool) -> None:  # type: ignore[type-arg]
        """Saved, and told to the phones of the site, and of the one that was left."""
        left = User.objects.filter(pk=obj.pk).values_list("site_id", flat=True).first()
        super().save_model(request, obj, form, change)
        services.publish_person(obj, left=left)


@admin.register(Site)
class SiteAdmin(SimpleHistoryAdmin):  # type: ignore[misc]
    """Stores and plants."""

    list_display = ("name", "kind", "phone")

    def save_model(self, request: HttpRequest, obj: Site, form: ModelForm, change: bool) -> None:  # type: ignore[type-arg]
        """A new one is opened by the service, so that phones hear of it."""
        if change:
            super().save_model(request, obj, form, change)
            services.publish_site(obj)
            return
        kind = Site.Kind(obj.kind)
        services.open_site(name=obj.name, kind=kind, phone=obj.phone, uid=obj.uid)

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        """A place is never deleted: facts name it."""
        return False


class ReadOnly(SimpleHistoryAdmin):  # type: ignore[misc]
    """Looked at here, changed by services only."""

    def has_add_permission(self, request: HttpRequest) -> bool:
        return False

    def has_change_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False


@admin.register(Device)
class DeviceAdmin(ReadOnly):
    """Phones and tablets."""

    list_display = ("name", "site", "status", "seen_at")


@admin.register(PlantKey)
class PlantKeyAdmin(ReadOnly):
    """Keys of plants' systems, without their secrets."""

    list_display = ("prefix", "name", "plant", "made_at", "revoked_at")


@admin.register(Words)
class WordsAdmin(admin.ModelAdmin):  # type: ignore[type-arg]
    """What was typed beside facts: found by what it says, and erased; never changed."""

    list_display = ("text", "kind", "said_at")
    list_filter = ("kind",)
    search_fields = ("text",)
    ordering = ("-said_at", "uid")

    def has_add_permission(self, request: HttpRequest) -> bool:
        return False

    def has_change_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False

    def delete_model(self, request: HttpRequest, obj: Words) -> None:
        """By the service, so that what shows them hears of it."""
        services.erase_words([obj.uid])

    def delete_queryset(self, request: HttpRequest, queryset: QuerySet[Words]) -> None:
        """Several at once, the same way."""
        services.erase_words(queryset.values_list("uid", flat=True))
