"""Master data of people in the administration pages, with their history.

What phones should know goes through the services; devices and keys are ended at the office's own
page and by commands, so they are only read here.
"""

from typing import Any

from django.contrib import admin, messages
from django.contrib.auth.admin import UserAdmin
from django.contrib.auth.models import Group
from django.db.models import QuerySet
from django.forms import CheckboxSelectMultiple, ModelForm, MultipleChoiceField
from django.http import HttpRequest
from simple_history.admin import SimpleHistoryAdmin

from pickups.people import services
from pickups.people.models import Device, PlantKey, Site, User, Words
from pickups.people.rules import KeyScope, every_scope

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


class PlantKeyForm(ModelForm):  # type: ignore[type-arg]
    """A new key: for which plant, what uses it, what it opens."""

    scopes = MultipleChoiceField(
        choices=[(s.value, s.value) for s in KeyScope],
        initial=every_scope,
        widget=CheckboxSelectMultiple,
        help_text="events: post what stations did. loads: post cure loads. read: fetch.",
    )


@admin.register(PlantKey)
class PlantKeyAdmin(ReadOnly):
    """Keys of plants' systems, without their secrets: one is shown once, when it is made."""

    form = PlantKeyForm
    fields = ("plant", "name", "scopes")
    list_display = ("prefix", "name", "plant", "opens", "follows", "made_at", "revoked_at")
    actions = ("renew", "revoke")

    def formfield_for_foreignkey(self, field: Any, request: HttpRequest, **more: Any) -> Any:
        """A key is a plant's: of another place nothing is asked by one."""
        if field.name == "plant":
            more["queryset"] = Site.objects.filter(kind=Site.Kind.PLANT)
        return super().formfield_for_foreignkey(field, request, **more)

    @admin.display(description="opens")
    def opens(self, key: PlantKey) -> str:
        """Its scopes, in words of the form."""
        return ", ".join(key.scopes)

    def has_add_permission(self, request: HttpRequest) -> bool:
        """Who administers makes keys."""
        return bool(request.user.is_superuser)

    def save_model(
        self,
        request: HttpRequest,
        obj: PlantKey,
        form: ModelForm,  # type: ignore[type-arg]
        change: bool,
    ) -> None:
        """Made by the service, which alone knows the secret; said on the next page, never again."""
        scopes = [KeyScope(scope) for scope in obj.scopes]
        made, whole = services.issue_key(plant=obj.plant, name=obj.name, scopes=scopes)
        obj.pk = made.pk
        self._say(request, whole)

    @admin.action(description="Make a key in its place; both are good until you revoke the old one")
    def renew(self, request: HttpRequest, keys: QuerySet[PlantKey]) -> None:
        """For each that is in force."""
        for prefix in keys.values_list("prefix", flat=True):
            made = services.renew_key(prefix=prefix)
            if made is not None:
                self._say(request, made[1])

    @admin.action(description="Revoke at once")
    def revoke(self, request: HttpRequest, keys: QuerySet[PlantKey]) -> None:
        """From the next request on they open nothing."""
        for prefix in keys.values_list("prefix", flat=True):
            if services.revoke_key(prefix=prefix):
                self.message_user(request, f"{prefix} opens nothing from now on.")

    def _say(self, request: HttpRequest, whole: str) -> None:
        said = f"The new key, shown only now: {whole}"
        self.message_user(request, said, level=messages.WARNING)


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
