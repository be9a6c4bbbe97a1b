"""Write customers, yards and contacts; what a phone should know goes into the feed.

Every change bumps the row's version under its lock and writes the feed in the same transaction.
"""

from uuid import UUID

from django.db import transaction

from pickups.customers.models import Contact, Customer, Yard
from pickups.journal import services as journal
from pickups.kernel import clock
from pickups.people.models import Site
from pickups.sync import services as sync
from pickups.sync.rules import Change


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


def open_yard(*, customer: Customer, name: str, address: str = "", uid: UUID | None = None) -> Yard:
    """A new yard of a customer; the home store's phones will know it."""
    yard = Yard(customer=customer, name=name, address=address)
    if uid is not None:
        yard.uid = uid
    with transaction.atomic():
        yard.save(force_insert=True)
        sync.put([Change(scope(customer.home_site_id), "yard", yard.uid, yard.version)])
    return yard


def rename_yard(*, uid: UUID, name: str, address: str) -> Yard:
    """Another name or address for a yard."""
    with transaction.atomic():
        yard = Yard.objects.select_for_update(no_key=True, of=("self",)).get(uid=uid)
        yard.name, yard.address, yard.version = name, address, yard.version + 1
        yard.save()
        site = yard.customer.home_site_id
        sync.put([Change(scope(site), "yard", yard.uid, yard.version)])
    return yard


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
        # Its work stands above this app and follows by the journal.
        body = {"customer": str(uid), "site": str(home_site.uid)}
        journal.record([journal.Note("customer.moved", f"customer:{uid}", body)], at=clock.now())
    return customer


def add_contact(
    *, customer: Customer, name: str, email: str, language: str = "en", uid: UUID | None = None
) -> Contact:
    """Somebody at a customer who is told things."""
    contact = Contact(customer=customer, name=name, email=email, language=language)
    if uid is not None:
        contact.uid = uid
    contact.save(force_insert=True)
    return contact
