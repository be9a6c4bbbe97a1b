"""Reads of customers, yards, what they accept, contacts and their links."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

import msgspec
from django.db.models import Count, F, Max, Q, QuerySet

from pickups.customers.models import Contact, Customer, Link, SpecificationVersion, Yard
from pickups.customers.rules import Terms
from pickups.people.rules import digest


def owners(yards: Iterable[UUID]) -> dict[UUID, tuple[UUID, UUID]]:
    """For each known yard: its customer and that customer's home store."""
    if not (uids := list(yards)):
        return {}
    rows = Yard.objects.filter(uid__in=uids).values_list(
        "uid", "customer_id", "customer__home_site_id"
    )
    return {uid: (customer, site) for uid, customer, site in rows}


def names(uids: Iterable[UUID]) -> dict[UUID, str]:
    """What these customers are called."""
    return dict(Customer.objects.filter(uid__in=list(uids)).values_list("uid", "name"))


def called(uids: Iterable[UUID]) -> dict[UUID, tuple[str, str]]:
    """The number and the name of each of these customers."""
    rows = Customer.objects.filter(uid__in=list(uids)).values_list("uid", "number", "name")
    return {uid: (number, name) for uid, number, name in rows}


def customer(uid: UUID) -> Customer | None:
    """One customer, if it is there."""
    return Customer.objects.filter(uid=uid).first()


def percents(uids: Iterable[UUID]) -> dict[UUID, int]:
    """How sure the days are that each of these customers is promised, in percent."""
    rows = Customer.objects.filter(uid__in=list(uids))
    return dict(rows.values_list("uid", "promise_percent"))


def percents_of(site: UUID) -> set[int]:
    """What a store's customers are promised their days with."""
    rows = Customer.objects.filter(home_site=site)
    return set(rows.values_list("promise_percent", flat=True).distinct())


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


def written_to(customers: Iterable[UUID]) -> list[Contact]:
    """Everybody at these customers who has an address, whatever they want to be told of."""
    rows = Contact.objects.filter(customer__in=list(customers)).exclude(email="")
    return list(rows.order_by("name", "uid"))


def contact(uid: UUID) -> Contact | None:
    """One contact with its customer, unless erased."""
    return Contact.objects.select_related("customer").filter(uid=uid).first()


def contact_held(uid: UUID) -> Contact | None:
    """One contact, who is not erased before the transaction is over."""
    rows = Contact.objects.select_for_update(of=("self",), no_key=True)
    return rows.filter(uid=uid).first()


def sellers_of(customer: UUID) -> list[Contact]:
    """Who may accept the sale of a casing for a customer, in the order of their names."""
    rows = Contact.objects.filter(customer=customer, may_sell=True)
    return list(rows.order_by("name", "uid"))


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
    """Every customer, in the order of their names."""
    return list(Customer.objects.order_by("name", "uid"))


def every_yard() -> list[Yard]:
    """Every yard, by the customers' names, then their own."""
    return list(Yard.objects.order_by("customer__name", "customer", "name", "uid"))


def every_contact() -> list[Contact]:
    """Every contact, by the customers' names, then their own."""
    return list(Contact.objects.order_by("customer__name", "customer", "name", "uid"))


def yard_bodies(uids: Sequence[UUID]) -> dict[UUID, dict[str, Any]]:
    """Yards as the feed gives them to a phone."""
    rows = list(Yard.objects.select_related("customer").filter(uid__in=list(uids)))
    reachable = Contact.objects.filter(customer__in={y.customer_id for y in rows})
    reachable = reachable.exclude(phone="").order_by("uid")
    by_place: dict[tuple[UUID, UUID | None], Contact] = {}
    for c in reachable:
        by_place.setdefault((c.customer_id, c.yard_id), c)
    return {y.uid: _yard_body(y, by_place) for y in rows}


def _yard_body(y: Yard, by_place: Mapping[tuple[UUID, UUID | None], Contact]) -> dict[str, Any]:
    """by_place: who can be called, at a yard, or (None) at every yard of a customer."""
    contact = by_place.get((y.customer_id, y.uid)) or by_place.get((y.customer_id, None))
    return {
        "name": y.name,
        "customer": str(y.customer_id),
        "promise_percent": y.customer.promise_percent,
        "customer_name": y.customer.name,
        "address": y.address,
        "contact_name": contact.name if contact else "",
        "contact_phone": contact.phone if contact else "",
        "lat": None if y.lat is None else float(y.lat),
        "lon": None if y.lon is None else float(y.lon),
    }


@dataclass(frozen=True, slots=True)
class Specified:
    """A specification as it stands: whose, its number, its terms, who said so and when."""

    uid: UUID
    customer: UUID
    yard: UUID | None
    number: int
    terms: Terms
    by: UUID | None
    at: datetime


def specifications_standing(
    *, customers: Iterable[UUID] | None = None, uids: Iterable[UUID] | None = None
) -> list[Specified]:
    """What stands and was not withdrawn, a customer's own before those of its yards."""
    rows = SpecificationVersion.objects.select_related("specification").filter(terms__isnull=False)
    rows = rows.filter(number=F("specification__number"))
    if customers is not None:
        rows = rows.filter(specification__customer__in=list(customers))
    if uids is not None:
        rows = rows.filter(specification__in=list(uids))
    ordered = rows.order_by(F("specification__yard__name").asc(nulls_first=True), "specification")
    return [_specified(v) for v in ordered]


def specification_for(yard: UUID) -> Specified | None:
    """What holds at a yard: its own, or else its customer's."""
    owner = owners([yard]).get(yard)
    found = specifications_standing(customers=[owner[0]]) if owner else []
    return next(
        (s for s in found if s.yard == yard), next((s for s in found if s.yard is None), None)
    )


def rejects(whose: Iterable[tuple[UUID, UUID]]) -> dict[tuple[UUID, UUID], str]:
    """What is done with rejects, by customer and yard of theirs; "ask" where nothing says it."""
    wanted = set(whose)
    standing = specifications_standing(customers={customer for customer, _ in wanted})
    said = {(s.customer, s.yard): s.terms.rejects for s in standing}
    return {
        (customer, yard): said.get((customer, yard)) or said.get((customer, None), "ask")
        for customer, yard in wanted
    }


@dataclass(frozen=True, slots=True)
class Stood:
    """What stood at some yards at any time: every version, and whose each yard is."""

    owners: dict[UUID, UUID]
    versions: list[SpecificationVersion]

    def at(self, yard: UUID, moment: datetime) -> Specified | None:
        """What held at a yard at a moment: its own, or else its customer's."""
        for place in (yard, None):
            last = None
            for version in self.versions:  # in the order of their numbers
                row = version.specification
                if (row.customer_id, row.yard_id) == (self.owners.get(yard), place):
                    last = version if version.at <= moment else last
            if last is not None and last.terms is not None:
                return _specified(last)
        return None


def specifications_stood(yards: Iterable[UUID]) -> Stood:
    """Everything that was ever accepted at these yards."""
    owner = {yard: customer for yard, (customer, _) in owners(yards).items()}
    rows = SpecificationVersion.objects.select_related("specification").order_by("number")
    return Stood(owner, list(rows.filter(specification__customer__in=set(owner.values()))))


def specification_versions(customer: UUID, yard: UUID | None) -> list[SpecificationVersion]:
    """Every word about one specification, the newest first; withdrawals have no terms."""
    rows = SpecificationVersion.objects.filter(
        specification__customer=customer, specification__yard=yard
    )
    return list(rows.order_by("-number"))


def specification_bodies(uids: Sequence[UUID]) -> dict[UUID, dict[str, Any]]:
    """Specifications as the feed gives them to a phone."""
    return {
        s.uid: {
            "customer": str(s.customer),
            "yard": str(s.yard) if s.yard else None,
            "number": s.number,
            **msgspec.to_builtins(s.terms),
        }
        for s in specifications_standing(uids=uids)
    }


def _specified(v: SpecificationVersion) -> Specified:
    row = v.specification
    terms = msgspec.convert(v.terms, Terms)
    return Specified(row.uid, row.customer_id, row.yard_id, v.number, terms, v.by, v.at)
