"""What an administrator changes in the records reaches the phones, and what is erased is gone."""

import pytest
from django.contrib.admin.models import LogEntry
from django.test import Client

from pickups.customers.models import Contact, Customer, Yard
from pickups.people.models import Site, User
from pickups.sync.models import Feed
from tests.pickups.desk.conftest import SignedIn
from tests.pickups.notices.test_owned import sold
from tests.pickups.notices.visits import drain_all, taken
from tests.world import Phone, World


@pytest.fixture
def records(world: World, signed_in: SignedIn) -> Client:
    User.objects.create_user(
        "root", role="admin", site=world.store, is_staff=True, is_superuser=True
    )
    return signed_in("admin")


def feed(world: World, yard: Yard) -> dict[str, tuple[int, bool]]:
    rows = Feed.objects.filter(entity="yard", uid=yard.uid)
    return {row.scope.removeprefix("site:"): (row.version, row.gone) for row in rows}


def test_a_renamed_yard_is_told_to_the_stores_phones(records: Client, world: World) -> None:
    form = {"name": "East gate", "address": "5 Quarry Lane"}
    answer = records.post(f"/admin/customers/yard/{world.yard.uid}/change/", form)
    assert answer.status_code == 302
    assert Yard.objects.get(uid=world.yard.uid).name == "East gate"
    assert feed(world, world.yard) == {str(world.store.uid): (2, False)}


def test_another_home_store_moves_the_yards(records: Client, world: World) -> None:
    form = {
        "name": "Tarn Valley Haulage",
        "home_site": str(world.other_store.uid),
        "promise_percent": "90",
    }
    answer = records.post(f"/admin/customers/customer/{world.customer.uid}/change/", form)
    assert answer.status_code == 302
    assert Customer.objects.get(uid=world.customer.uid).home_site == world.other_store
    assert feed(world, world.yard) == {
        str(world.store.uid): (2, True),
        str(world.other_store.uid): (2, False),
    }


def test_a_new_yard_and_a_new_store_are_entered_by_the_services(
    records: Client, world: World
) -> None:
    form = {"customer": str(world.customer.uid), "name": "Wash bay", "address": ""}
    assert records.post("/admin/customers/yard/add/", form).status_code == 302
    made = Yard.objects.get(name="Wash bay")
    assert feed(world, made) == {str(world.store.uid): (1, False)}
    form = {"name": "Third store", "kind": "store", "phone": ""}
    assert records.post("/admin/people/site/add/", form).status_code == 302
    assert Site.objects.filter(name="Third store").exists()


def test_erasing_a_contact_leaves_nothing_of_the_person(records: Client, world: World) -> None:
    contact = Contact.objects.get(customer=world.customer)
    address = f"/admin/customers/contact/{contact.uid}"
    form = {"customer": str(world.customer.uid), "name": "Ines Corvo-Bell", "language": "en"}
    assert records.post(f"{address}/change/", form).status_code == 302
    assert records.post(f"{address}/delete/", {"post": "yes"}).status_code == 302
    assert not Contact.objects.filter(uid=contact.uid).exists()
    assert not LogEntry.objects.filter(object_repr__contains="Corvo").exists()


@pytest.mark.parametrize("several", [False, True])
def test_who_is_erased_is_not_named_as_who_accepted_a_sale(
    records: Client, world: World, phone: Phone, several: bool
) -> None:
    op = taken(phone, world)
    sold(world, op["id"])
    page = f"/office/owners/{op['id']}/"
    assert "Accepted by Ines Corvo" in records.get(page).content.decode()
    contact = Contact.objects.get(customer=world.customer)
    address = "/admin/customers/contact/" + ("" if several else f"{contact.uid}/delete/")
    chosen = {"action": "delete_selected", "_selected_action": str(contact.uid)}
    body = {"post": "yes", **(chosen if several else {})}
    assert records.post(address, body).status_code == 302
    assert not Contact.objects.filter(uid=contact.uid).exists()
    drain_all()
    assert "whose name was erased" in records.get(page).content.decode()


def test_a_roll_is_called_by_its_range_and_serials(records: Client, world: World) -> None:
    page = records.get(f"/admin/labels/roll/{world.store.rolls.get().pk}/change/").content.decode()
    assert "K7 0 to 29" in page
    assert "Roll object" not in page


def test_a_printed_roll_is_not_changed_in_the_records(records: Client, world: World) -> None:
    roll = world.store.rolls.get()
    assert records.post(f"/admin/labels/roll/{roll.pk}/change/", {"range": "XX"}).status_code == 403
