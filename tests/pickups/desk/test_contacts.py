"""The office hands a contact a link to their page, once, and can take every link back."""

import re
from uuid import uuid4

import pytest
from django.test import Client

from pickups.customers import services as customers
from pickups.customers.models import Contact, Link
from pickups.kernel import clock
from pickups.people.models import User
from tests.pickups.desk.conftest import SignedIn
from tests.world import World


@pytest.fixture
def ines(world: World) -> Contact:
    return Contact.objects.get(customer=world.customer)


def test_every_contact_is_listed_with_what_links_they_have(
    office: Client, world: World, ines: Contact
) -> None:
    page = office.get("/office/contacts").content.decode()
    assert page.index("Abel Quist") < page.index("Ines Corvo")  # by customer
    assert page.count("none in force") == 2
    assert "Revoke links" not in page
    path = customers.new_link(contact=ines.uid, at=clock.now())
    Client().post(path)
    page = office.get("/office/contacts").content.decode()
    assert "1 in force" in page
    assert page.count(">Revoke links<") == 1


def test_a_link_is_shown_once_and_opens_the_contacts_page(
    office: Client, world: World, ines: Contact
) -> None:
    answer = office.post(f"/office/contacts/{ines.uid}/link")
    assert "no-store" in answer.headers["Cache-Control"]
    found = re.search(r'value="http://[^"]+(/c/[\w-]{43})"', answer.content.decode())
    assert found is not None
    assert Link.objects.get().made_by == world.dispatcher.uid
    assert found[1] not in office.get("/office/contacts").content.decode()
    browser = Client()
    assert browser.post(found[1]).status_code == 302
    assert "Tarn Valley Haulage" in browser.get("/casings/").content.decode()


def test_links_are_revoked_after_a_question(office: Client, ines: Contact) -> None:
    browser = Client()
    browser.post(customers.new_link(contact=ines.uid, at=clock.now()))
    address = f"/office/contacts/{ines.uid}/revoke"
    asked = office.get(address).content.decode()
    assert "Revoke every link of Ines Corvo?" in asked
    assert 'href="/office/contacts"' in asked
    assert browser.get("/casings/").status_code == 200
    done = office.post(address, follow=True)
    assert done.redirect_chain == [("/office/contacts", 302)]
    page = done.content.decode()
    assert "No link of Ines Corvo opens anything now." in page
    assert page.count("none in force") == 2
    assert browser.get("/casings/").status_code == 403


def test_a_sales_manager_sees_the_contacts_and_makes_no_link(
    signed_in: SignedIn, ines: Contact
) -> None:
    browser = signed_in("sales")
    page = browser.get("/office/contacts").content.decode()
    assert "Ines Corvo" in page
    assert "Show a link" not in page
    for verb in ("link", "revoke"):
        assert browser.post(f"/office/contacts/{ines.uid}/{verb}").status_code == 403
    assert not Link.objects.exists()


def test_a_contact_who_was_erased_is_not_there(office: Client) -> None:
    assert office.post(f"/office/contacts/{uuid4()}/link").status_code == 404
    for send in (office.get, office.post):
        assert send(f"/office/contacts/{uuid4()}/revoke").status_code == 404


def test_an_empty_list_says_how_somebody_comes_onto_it(office: Client) -> None:
    Contact.objects.all().delete()
    assert "No contact is entered yet." in office.get("/office/contacts").content.decode()


def test_a_contact_with_another_address_loses_the_links_mailed_to_the_old_one(
    signed_in: SignedIn, world: World, ines: Contact
) -> None:
    root = signed_in("admin")
    User.objects.filter(role="admin").update(is_staff=True, is_superuser=True)
    browser = Client()
    browser.post(customers.new_link(contact=ines.uid, at=clock.now()))
    address = f"/admin/customers/contact/{ines.uid}/change/"
    form = {"name": "Ines Corvo", "email": "ines@tarn.example", "language": "es"}
    assert root.post(address, form).status_code == 302
    assert browser.get("/casings/").status_code == 200
    form |= {"email": "corvo@tarn.example", "customer": str(world.other_customer.uid)}
    assert root.post(address, form).status_code == 302
    assert browser.get("/casings/").status_code == 403
    ines.refresh_from_db()
    assert (ines.email, ines.customer) == ("corvo@tarn.example", world.customer)
