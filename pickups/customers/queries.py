"""Reads of customers, yards, contacts and their links."""

from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import Any
from uuid import UUID

from django.db.models import Count, Max, Q, QuerySet

from pickups.customers.models import Contact, Customer, Link, Yard
from pickups.people.rules import digest


def owners(yards: Iterable[UUID]) -> dict[UUID, tuple[UUID, UUID]]:
    """For each known yard: its customer and that customer's home store."""
    rows = Yard.objects.filter(uid__in=list(yards)).values_list(
        "uid", "customer_id", "customer__home_site_id"
    )
    return {uid: (customer, site) for uid, customer, site in rows}


def names(uids: Iterable[UUID]) -> dict[UUID, str]:
    """What these customers are called."""
    return dict(Customer.objects.filter(uid__in=list(uids)).values_list("uid", "name"))


def yards_of(site: UUID) -> list[Yard]:
    """The yards of a store's customers, with the customer, in the order of their names."""
    rows = Yard.objects.select_related("customer").filter(customer__home_site=site)
    return list(rows.order_by("customer__name", "name", "uid"))


def yard(uid: UUID) -> Yard | None:
    """One yard with its customer, if it is there."""
    return Yard.objects.select_related("customer").filter(uid=uid).first()


def receipt_contacts(customer: UUID) -> list[Contact]:
    """Who at a customer is sent receipts."""
    return list(
        Contact.objects.filter(customer=customer, wants_receipts=True)
        .exclude(email="")
        .order_by("uid")
    )


def progress_contacts(customers: Iterable[UUID]) -> list[Contact]:
    """Who at these customers is told what the plant finished or rejected."""
    return list(
        Contact.objects.filter(customer__in=list(customers), wants_progress=True)
        .exclude(email="")
        .order_by("uid")
    )


def contact(uid: UUID) -> Contact | None:
    """One contact with its customer, unless erased."""
    return Contact.objects.select_related("customer").filter(uid=uid).first()


def everybody(*, at: datetime) -> list[tuple[Contact, int, datetime | None]]:
    """Every contact with its customer, how many of its links are in force, when one was opened."""
    good = Q(links__expires_at__gt=at, links__revoked_at=None)
    rows = Contact.objects.select_related("customer").order_by("customer__name", "name", "uid")
    told = rows.annotate(good=Count("links", filter=good), opened=Max("links__used_at"))
    return [(c, c.good, c.opened) for c in told]


def links_in_force(at: datetime) -> QuerySet[Link]:
    """The links that open something: not run out, not revoked."""
    return Link.objects.filter(expires_at__gt=at, revoked_at=None)


def contact_by_link(token: str, *, at: datetime) -> Contact | None:
    """Whose link this is; unknown, run out and revoked are alike None."""
    link = links_in_force(at).select_related("contact").filter(token_hash=digest(token)).first()
    return link.contact if link else None


def contact_behind(link: int, *, at: datetime) -> Contact | None:
    """Whose link has this id, with the customer and its store, while the link is in force."""
    rows = links_in_force(at).select_related("contact__customer__home_site")
    row = rows.filter(id=link).first()
    return row.contact if row else None


def every_customer() -> list[Customer]:
    """Every customer with its store, in the order of their names."""
    return list(Customer.objects.select_related("home_site").order_by("name", "uid"))


def every_yard() -> list[Yard]:
    """Every yard with its customer, by the customers' names, then their own."""
    rows = Yard.objects.select_related("customer")
    return list(rows.order_by("customer__name", "customer", "name", "uid"))


def every_contact() -> list[Contact]:
    """Every contact with its customer, by the customers' names, then their own."""
    rows = Contact.objects.select_related("customer")
    return list(rows.order_by("customer__name", "customer", "name", "uid"))


def yard_bodies(uids: Sequence[UUID]) -> dict[UUID, dict[str, Any]]:
    """Yards as the feed gives them to a phone."""
    rows = Yard.objects.select_related("customer").filter(uid__in=list(uids))
    return {
        y.uid: {
            "name": y.name,
            "customer": str(y.customer_id),
            "customer_name": y.customer.name,
            "address": y.address,
        }
        for y in rows
    }
