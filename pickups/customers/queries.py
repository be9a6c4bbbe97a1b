"""Reads of customers, yards and contacts."""

from collections.abc import Iterable, Sequence
from typing import Any
from uuid import UUID

from pickups.customers.models import Contact, Yard


def owners(yards: Iterable[UUID]) -> dict[UUID, tuple[UUID, UUID]]:
    """For each known yard: its customer and that customer's home store."""
    rows = Yard.objects.filter(uid__in=list(yards)).values_list(
        "uid", "customer_id", "customer__home_site_id"
    )
    return {uid: (customer, site) for uid, customer, site in rows}


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


def contact(uid: UUID) -> Contact | None:
    """One contact, unless erased."""
    return Contact.objects.filter(uid=uid).first()


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
