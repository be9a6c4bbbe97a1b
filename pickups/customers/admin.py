"""Customers, yards and contacts in the administration pages.

Yards and home stores change through the services, so that phones hear of it. Contacts keep no
history: what is erased is gone.
"""

from typing import Any

from django.contrib import admin
from django.db.models import QuerySet
from django.forms import ModelForm
from django.http import HttpRequest
from simple_history.admin import SimpleHistoryAdmin

from pickups.customers import services
from pickups.customers.models import Contact, Customer, Yard
from pickups.kernel import clock


class Kept(SimpleHistoryAdmin):  # type: ignore[misc]
    """Never deleted: facts name it."""

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False


@admin.register(Customer)
class CustomerAdmin(Kept):
    """Fleets."""

    list_display = ("name", "number", "home_site", "promise_percent")
    search_fields = ("name", "number")

    def save_model(
        self,
        request: HttpRequest,
        obj: Customer,
        form: ModelForm,  # type: ignore[type-arg]
        change: bool,
    ) -> None:
        """Another home store moves the yards between the stores' phones; a name goes to them, and
        how sure its days are promised to what they offer."""
        if "home_site" in form.changed_data and change:
            moved = services.move_customer(uid=obj.uid, home_site=obj.home_site)
            obj.version = moved.version
        if "promise_percent" in form.changed_data and change:
            percent = obj.promise_percent
            told = services.promise_with(uid=obj.uid, percent=percent, at=clock.now())
            obj.version = told.version
        super().save_model(request, obj, form, change)
        if "name" in form.changed_data and change:
            services.publish_customer(uid=obj.uid)


@admin.register(Yard)
class YardAdmin(Kept):
    """Yards of the fleets."""

    list_display = ("name", "customer", "address")
    search_fields = ("name", "customer__name")

    def get_readonly_fields(self, request: HttpRequest, obj: Any = None) -> tuple[str, ...]:
        """A yard stays its customer's."""
        return ("customer",) if obj else ()

    def save_model(self, request: HttpRequest, obj: Yard, form: ModelForm, change: bool) -> None:  # type: ignore[type-arg]
        """By the service, so that the store's phones hear of it."""
        if change:
            name, address, at = obj.name, obj.address, (obj.lat, obj.lon)
            services.rename_yard(uid=obj.uid, name=name, address=address, at=at)
        else:
            services.open_yard(
                customer=obj.customer,
                name=obj.name,
                address=obj.address,
                at=(obj.lat, obj.lon),
                uid=obj.uid,
            )


@admin.register(Contact)
class ContactAdmin(admin.ModelAdmin):  # type: ignore[type-arg]
    """People at the fleets who are told things; deleting one erases the person."""

    list_display = ("name", "customer", "language", "wants_receipts", "wants_progress", "may_sell")
    search_fields = ("name", "customer__name")

    def get_readonly_fields(self, request: HttpRequest, obj: Any = None) -> tuple[str, ...]:
        """A contact stays its customer's: links that were mailed show that customer's casings."""
        return ("customer",) if obj else ()

    def save_model(self, request: HttpRequest, obj: Contact, form: ModelForm, change: bool) -> None:  # type: ignore[type-arg]
        """With another address the links in mails to the old one open nothing."""
        super().save_model(request, obj, form, change)
        if change and "email" in form.changed_data:
            services.revoke_links(contact=obj.uid, at=clock.now())
        if {"name", "phone", "yard"} & set(form.changed_data):
            services.publish_customer(uid=obj.customer_id)

    def delete_model(self, request: HttpRequest, obj: Contact) -> None:
        """By the service, so that the name goes wherever else it is kept."""
        services.erase_contacts([obj.uid])

    def delete_queryset(self, request: HttpRequest, queryset: QuerySet[Contact]) -> None:
        """Several at once, the same way."""
        services.erase_contacts(queryset.values_list("uid", flat=True))

    def log_addition(self, request: HttpRequest, obj: Contact, message: Any) -> None:  # type: ignore[override]
        """Not logged: the log would keep the name after it was erased."""

    def log_change(self, request: HttpRequest, obj: Contact, message: Any) -> None:  # type: ignore[override]
        """Not logged, for the same reason."""

    def log_deletions(self, request: HttpRequest, queryset: Any) -> None:  # type: ignore[override]
        """Not logged, for the same reason."""
