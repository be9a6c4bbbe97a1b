"""Who is told things: contacts are erased for good, and nobody without an address is asked for."""

import uuid

import pytest

from pickups.customers import queries, services
from pickups.customers.models import Contact
from pickups.sync.models import Feed
from tests.world import World

pytestmark = pytest.mark.django_db


def test_receipts_go_to_contacts_who_want_them_and_have_an_address(world: World) -> None:
    ines = Contact.objects.get(customer=world.customer)
    services.add_contact(customer=world.customer, name="No Address", email="")
    silent = services.add_contact(customer=world.customer, name="Rolf Ahn", email="r@tarn.example")
    Contact.objects.filter(uid=silent.uid).update(wants_receipts=False)
    assert [c.uid for c in queries.receipt_contacts(world.customer.uid)] == [ines.uid]


def test_an_erased_contact_is_nobody_and_leaves_no_history(world: World) -> None:
    contact = Contact.objects.get(customer=world.customer)
    uid = contact.uid
    contact.delete()
    assert queries.contact(uid) is None
    assert queries.receipt_contacts(world.customer.uid) == []
    assert not hasattr(Contact, "history")


def test_owners_are_told_for_known_yards_only(world: World) -> None:
    known, unknown = world.yard.uid, uuid.uuid4()
    assert queries.owners([known, unknown]) == {known: (world.customer.uid, world.store.uid)}


def test_a_customer_that_moves_takes_its_yards_along(world: World) -> None:
    services.move_customer(uid=world.customer.uid, home_site=world.other_store)
    rows = Feed.objects.filter(entity="yard", uid=world.yard.uid)
    assert {r.scope: (r.version, r.gone) for r in rows} == {
        f"site:{world.store.uid}": (2, True),
        f"site:{world.other_store.uid}": (2, False),
    }
    assert queries.owners([world.yard.uid])[world.yard.uid][1] == world.other_store.uid
