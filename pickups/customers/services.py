"""Write customers, yards, contacts and their links; what a phone should know goes into the feed.

Every change bumps the row's version under its lock and writes the feed in the same transaction.
A link's token is said once, in the return value, and kept only as SHA-256.
"""

from collections.abc import Iterable
from datetime import datetime, timedelta
from decimal import Decimal
from uuid import UUID

from django.db import transaction

from pickups.customers.models import (
    LEAST_PERCENT,
    MOST_PERCENT,
    Contact,
    Customer,
    Link,
    Yard,
)
from pickups.customers.queries import links_in_force, specifications_standing
from pickups.journal import services as journal
from pickups.kernel import clock
from pickups.people.models import Site
from pickups.people.rules import digest, new_secret
from pickups.sync import services as sync
from pickups.sync.rules import Change

LINK_DAYS = 30
LEAST_SURE, MOST_SURE = LEAST_PERCENT, MOST_PERCENT
"""How sure the days of an account may be, percent."""
Place = tuple[Decimal | None, Decimal | None]
"""Latitude and longitude in degrees (WGS 84); both or neither."""


def scope(site: UUID) -> str:
    """The scope key under which a store's devices see its customers' yards and work."""
    return f"site:{site}"


def enter(*, name: str, home_site: Site, uid: UUID | None = None) -> Customer:
    """A new customer of a store."""
    customer = Customer(name=name, home_site=home_site)
    if uid is not None:
        customer.uid = uid
    customer.save(force_insert=True)
    return customer


def open_yard(
    *,
    customer: Customer,
    name: str,
    address: str = "",
    at: Place = (None, None),
    uid: UUID | None = None,
) -> Yard:
    """A new yard of a customer; the home store's phones will know it. at: as `rename_yard`."""
    yard = Yard(customer=customer, name=name, address=address, lat=at[0], lon=at[1])
    if uid is not None:
        yard.uid = uid
    with transaction.atomic():
        yard.save(force_insert=True)
        sync.put([Change(scope(customer.home_site_id), "yard", yard.uid, yard.version)])
    return yard


def rename_yard(*, uid: UUID, name: str, address: str, at: Place | None = None) -> Yard:
    """Another name or address for a yard; at: where its gate is, None where that stays."""
    with transaction.atomic():
        yard = Yard.objects.select_for_update(no_key=True, of=("self",)).get(uid=uid)
        yard.name, yard.address, yard.version = name, address, yard.version + 1
        if at is not None:
            yard.lat, yard.lon = at
        yard.save()
        site = yard.customer.home_site_id
        sync.put([Change(scope(site), "yard", yard.uid, yard.version)])
    return yard


def publish_customer(*, uid: UUID) -> None:
    """Tell the phones of its store a customer's name, and whom drivers can call, which stand on
    its yards."""
    with transaction.atomic():
        customer = Customer.objects.get(uid=uid)
        for yard in customer.yards.select_for_update(no_key=True).order_by("uid"):
            yard.version += 1
            yard.save(update_fields=["version"])
            sync.put([Change(scope(customer.home_site_id), "yard", yard.uid, yard.version)])


def promise_with(*, uid: UUID, percent: int, at: datetime) -> Customer:
    """A customer's days are promised with another confidence: its phones hear of it, and the
    journal, so that what its store offers is computed for it. Raises ValueError for a percentage
    outside 50 to 99."""
    if not LEAST_PERCENT <= percent <= MOST_PERCENT:
        raise ValueError(f"percent is {percent}; {LEAST_PERCENT} to {MOST_PERCENT} are allowed")
    with transaction.atomic():
        customer = Customer.objects.select_for_update(no_key=True).get(uid=uid)
        if customer.promise_percent != percent:
            customer.promise_percent, customer.version = percent, customer.version + 1
            customer.save()
            publish_customer(uid=uid)
            body = {"customer": str(uid), "site": str(customer.home_site_id)}
            journal.record([journal.Note("customer.promised_with", f"customer:{uid}", body)], at=at)
    return customer


def move_customer(*, uid: UUID, home_site: Site) -> Customer:
    """Another home store: its phones get the yards, the old store's phones drop them."""
    with transaction.atomic():
        customer = Customer.objects.select_for_update(no_key=True).get(uid=uid)
        old = customer.home_site_id
        customer.home_site, customer.version = home_site, customer.version + 1
        customer.save()
        for yard in customer.yards.select_for_update(no_key=True).order_by("uid"):
            yard.version += 1
            yard.save()
            if old != home_site.uid:
                change = Change(scope(home_site.uid), "yard", yard.uid, yard.version)
                sync.move(change, old_scope=scope(old))
        if old != home_site.uid:
            _move_specifications(customer, old)
        # Its work stands above this app and follows by the journal.
        body = {"customer": str(uid), "site": str(home_site.uid)}
        journal.record([journal.Note("customer.moved", f"customer:{uid}", body)], at=clock.now())
    return customer


def _move_specifications(customer: Customer, old: UUID) -> None:
    """What a customer accepts goes where its yards go; what was withdrawn is on no phone."""
    rows = customer.specifications.select_for_update(no_key=True).order_by("uid")
    standing = {one.uid for one in specifications_standing(customers=[customer.uid])}
    for row in rows:
        row.version += 1
        row.save(update_fields=["version"])
        if row.uid in standing:
            change = Change(scope(customer.home_site_id), "specification", row.uid, row.version)
            sync.move(change, old_scope=scope(old))


def add_contact(
    *,
    customer: Customer,
    name: str,
    email: str,
    language: str = "en",
    may_sell: bool = False,
    phone: str = "",
    yard: Yard | None = None,
    uid: UUID | None = None,
) -> Contact:
    """Somebody at a customer who is told things; may_sell: accepts the sale of a casing, too.
    phone: drivers can call it, for this yard or, without one, for all of the customer's."""
    contact = Contact(
        customer=customer, name=name, email=email, language=language, may_sell=may_sell,
        phone=phone, yard=yard,
    )  # fmt: skip
    if uid is not None:
        contact.uid = uid
    with transaction.atomic():
        contact.save(force_insert=True)
        if phone:
            publish_customer(uid=customer.uid)
    return contact


def erase_contacts(contacts: Iterable[UUID]) -> None:
    """These people are erased with their links; what else keeps a name of theirs hears of it."""
    uids = sorted(contacts)
    with transaction.atomic():
        rows = Contact.objects.filter(uid__in=uids)
        called = set(rows.exclude(phone="").values_list("customer", flat=True))
        rows.delete()
        for customer in sorted(called):  # the name and the number leave the phones too
            publish_customer(uid=customer)
        notes = [journal.Note("contact.erased", f"contact:{uid}", {}) for uid in uids]
        journal.record(notes, at=clock.now())


def new_link(*, contact: UUID, at: datetime, by: UUID | None = None) -> str:
    """A new way to a contact's page, good for 30 days: the path, said once, `/c/<token>`.

    Earlier links stay good: each mail carries its own. by: who in the office made it, if anybody.
    """
    token = new_secret()
    Link.objects.create(
        token_hash=digest(token),
        contact_id=contact,
        made_at=at,
        made_by=by,
        expires_at=at + timedelta(days=LINK_DAYS),
    )
    return f"/c/{token}"


def open_link(*, token: str, at: datetime) -> Link | None:
    """Note that a link was opened; None alike for unknown, run out and revoked."""
    link = links_in_force(at).filter(token_hash=digest(token)).first()
    if link is not None:
        Link.objects.filter(id=link.id).update(used_at=at)
    return link


def revoke_links(*, contact: UUID, at: datetime) -> int:
    """Every link of a contact opens nothing from now on, nor what was opened by it: how many."""
    with transaction.atomic():
        ended = links_in_force(at).filter(contact=contact).update(revoked_at=at)
        if ended:
            body = {"links": ended}
            note = journal.Note("contact.links_revoked", f"contact:{contact}", body)
            journal.record([note], at=at)
    return ended
