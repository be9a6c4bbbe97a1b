"""How sure promised days are, set by the office: kept with its history, heard by phones."""

import pytest
from django.test import Client

from pickups.customers.models import Customer
from pickups.journal.models import Entry
from pickups.people.models import User
from tests.pickups.desk.conftest import SignedIn
from tests.pickups.portal.conftest import text
from tests.world import World

pytestmark = pytest.mark.django_db


def test_a_dispatcher_sets_it_and_its_history_says_who(office: Client, world: World) -> None:
    address = f"/office/promises/sure/{world.customer.uid}"
    answer = office.post(address, {"percent": " 80 "}, follow=True)
    assert "Tarn Valley Haulage: days are promised with 80 % from now on." in text(answer)
    world.customer.refresh_from_db()
    assert world.customer.promise_percent == 80
    assert world.other_customer.promise_percent == 90
    last = world.customer.history.first()
    assert (last.promise_percent, last.history_user.role) == (80, "dispatcher")
    noted = Entry.objects.get(kind="customer.promised_with")
    assert noted.body == {"customer": str(world.customer.uid), "site": str(world.store.uid)}
    before = Entry.objects.count()
    office.post(address, {"percent": "80"})
    assert Entry.objects.count() == before, "the same again is no news"


@pytest.mark.parametrize("typed", ["49", "100", "", "ninety", "90.5", "-80", "٩٩٩", "9" * 400])
def test_what_is_no_such_percentage_stays_in_its_field(
    office: Client, world: World, typed: str
) -> None:
    answer = office.post(f"/office/promises/sure/{world.customer.uid}", {"percent": typed})
    assert answer.status_code == 400
    page = text(answer)
    assert "a whole number from 50 to 99 is allowed" in page
    assert f'value="{typed}"' in answer.content.decode()
    assert Customer.objects.get(uid=world.customer.uid).promise_percent == 90


def test_a_sales_manager_reads_it_in_spanish_and_sets_nothing(
    signed_in: SignedIn, world: World
) -> None:
    sales = signed_in("sales", "es")
    answer = sales.get("/office/promises/sure")
    assert "Qué tan seguros son los días prometidos" in text(answer)
    assert b"<form method=" not in answer.content.split(b"<table")[1].split(b"</table")[0]


def test_in_the_records_it_is_bounded_too(world: World) -> None:
    admin = Client()
    admin.force_login(User.objects.create_superuser("records", role="admin"))
    address = f"/admin/customers/customer/{world.customer.uid}/change/"
    fields = {"number": "", "name": world.customer.name, "home_site": str(world.store.uid)}
    refused = admin.post(address, fields | {"promise_percent": "100"})
    assert "less than or equal to 99" in text(refused)
    assert admin.post(address, fields | {"promise_percent": "95"}).status_code == 302
    world.customer.refresh_from_db()
    assert world.customer.promise_percent == 95
    assert Entry.objects.filter(kind="customer.promised_with").count() == 1
