"""A customer's session and the office's open nothing of each other, by whatever cookie."""

import pytest
from django.conf import settings
from django.contrib.sessions.backends.db import SessionStore
from django.test import Client

from pickups.customers import services as customers
from pickups.customers.models import Contact
from pickups.kernel import clock
from pickups.people.models import User
from pickups.portal.rules import COOKIE
from tests.house.test_matrix import MODELS, OWN_DOORS, ROWS
from tests.pickups.portal.conftest import Opened
from tests.world import World

OFFICE = [row.split(" ")[1] for row in ROWS if row.startswith("GET office/")]


def filled(route: str, world: World) -> str:
    for name, value in {
        "<uuid:uid>": world.driver.uid,
        "<uuid:fact>": world.driver.uid,
        "<str:code>": "K72K54X2",
        "<int:number>": 1,
        "<path:rest>": "nowhere",
    }.items():
        route = route.replace(name, str(value))
    return f"/{route}"


def test_a_customer_gets_at_the_office_what_nobody_gets(ines: Client, world: World) -> None:
    nobody = Client()
    shut = [route for route in OFFICE if route not in OWN_DOORS]
    assert len(shut) > 5
    for route in [*shut, *MODELS, "admin/"]:
        address = filled(route, world)
        answer = ines.get(address)
        assert (answer.status_code, answer.headers.get("Location")) == (
            302, nobody.get(address).headers.get("Location")
        ), address  # fmt: skip


def test_the_office_gets_of_the_customers_pages_what_nobody_gets(world: World) -> None:
    administrator = User.objects.create_user(
        "root", role="admin", is_staff=True, is_superuser=True, site=world.store
    )
    for user in (world.dispatcher, administrator):
        browser = Client()
        browser.force_login(user)
        answer = browser.get("/casings/")
        assert (answer.status_code, answer.content) == (403, Client().get("/casings/").content)


def test_the_key_of_a_customers_session_is_empty_as_one_of_the_office(
    ines: Client, world: World
) -> None:
    key = ines.cookies[COOKIE].value
    assert dict(SessionStore(key).items()) == {}
    browser = Client()
    browser.cookies[settings.SESSION_COOKIE_NAME] = key
    assert browser.get("/office/").headers["Location"].startswith("/office/sign-in")


def test_the_key_of_the_offices_session_opens_no_customers_page(world: World) -> None:
    browser = Client()
    browser.force_login(world.dispatcher)
    browser.cookies[COOKIE] = browser.cookies[settings.SESSION_COOKIE_NAME].value
    assert browser.get("/casings/").status_code == 403
    # Nor does one in which somebody has written a link's number.
    store = SessionStore()
    store["link"] = 1
    store.create()
    store.save()
    contact = Contact.objects.get(customer=world.customer)
    customers.new_link(contact=contact.uid, at=clock.now())
    browser.cookies[COOKIE] = store.session_key or ""
    assert browser.get("/casings/").status_code == 403


@pytest.mark.parametrize("way", ["/office/sign-out", "/casings/sign-out"])
def test_signing_out_of_one_leaves_the_other(opened: Opened, world: World, way: str) -> None:
    browser = opened()
    browser.force_login(world.dispatcher)
    assert browser.post(way).status_code == 302
    office, own = browser.get("/office/").status_code, browser.get("/casings/").status_code
    assert (office, own) == ((302, 200) if way == "/office/sign-out" else (200, 403))
