"""The mailed link: a button on GET, a session on POST, and every refusal like every other."""

from collections.abc import Iterator
from uuid import uuid4

import pytest
from django.contrib.sessions.models import Session
from django.core.cache import cache
from django.test import Client
from pytest_django import DjangoAssertNumQueries, Settings

from pickups.customers import services as customers
from pickups.customers.models import Contact, Link
from pickups.kernel import clock
from pickups.portal.rules import COOKIE
from tests.pickups.portal.conftest import Opened, in_past, text
from tests.world import World


@pytest.fixture
def contact(world: World) -> Contact:
    return Contact.objects.get(customer=world.customer)


@pytest.fixture
def path(contact: Contact) -> str:
    return customers.new_link(contact=contact.uid, at=clock.now())


def bad_links(world: World) -> Iterator[str]:
    """Unknown, shortened, run out, revoked, erased: everything that must open nothing."""
    ines = Contact.objects.get(customer=world.customer)
    abel = Contact.objects.get(customer=world.other_customer)
    good = customers.new_link(contact=ines.uid, at=clock.now())
    yield from (f"/c/{uuid4().hex}", "/c/", good[:-1], f"{good}/", f"{good}x")
    yield customers.new_link(contact=ines.uid, at=in_past(31))
    revoked = customers.new_link(contact=abel.uid, at=clock.now())
    customers.revoke_links(contact=abel.uid, at=clock.now())
    yield revoked
    erased = customers.add_contact(customer=world.customer, name="Gone", email="")
    of_erased = customers.new_link(contact=erased.uid, at=clock.now())
    erased.delete()
    yield of_erased


def test_a_scanner_that_follows_the_link_finds_one_button_and_spends_nothing(
    client: Client, path: str, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    with django_assert_num_queries(0):
        client.head(path)
        client.get(path)
        answer = client.get(path)
    page = answer.content.decode()
    assert (page.count("<button"), page.count("<form"), page.count("<a ")) == (1, 1, 0)
    assert "<input" not in page
    assert "<script" not in page
    assert "Set-Cookie" not in answer.headers
    assert Link.objects.get().used_at is None


def test_the_button_swaps_the_link_for_an_address_without_it(client: Client, path: str) -> None:
    answer = client.post(path)
    assert (answer.status_code, answer.headers["Location"]) == (302, "/casings/")
    cookie = answer.cookies[COOKIE]
    assert (cookie["path"], cookie["httponly"], cookie["samesite"]) == ("/casings/", True, "Lax")
    assert cookie.value not in path
    page = client.get("/casings/")
    assert page.status_code == 200
    assert path.removeprefix("/c/") not in page.content.decode()


def test_the_cookie_is_secure_where_the_address_is(
    client: Client, path: str, settings: Settings
) -> None:
    assert not client.post(path).cookies[COOKIE]["secure"]
    settings.SESSION_COOKIE_SECURE = True
    assert client.post(path).cookies[COOKIE]["secure"]


def test_the_page_of_a_link_is_the_same_bytes_for_every_token(
    client: Client, world: World, path: str
) -> None:
    addresses = [path, *bad_links(world)]
    answers = [client.get(address) for address in addresses]
    answers.append(client.get(path, headers={"Accept-Language": "es"}))
    assert len({answer.content for answer in answers}) == 1
    assert {answer.status_code for answer in answers} == {200}


def test_every_link_that_opens_nothing_is_answered_alike(client: Client, world: World) -> None:
    addresses = list(bad_links(world))
    answers = [client.post(address) for address in addresses]
    assert len(answers) == 8
    assert len({answer.content for answer in answers}) == 1
    timeless = [{k: v for k, v in a.headers.items() if k != "Expires"} for a in answers]
    assert all(headers == timeless[0] for headers in timeless)
    assert {answer.status_code for answer in answers} == {404}
    assert not any(answer.cookies for answer in answers)
    assert not Session.objects.exists()


def test_nothing_of_a_link_is_kept_or_passed_on(client: Client, path: str) -> None:
    answers = [client.get(path), client.post("/c/unknown"), client.post(path)]
    for answer in answers:
        assert "no-store" in answer.headers["Cache-Control"]
        assert answer.headers["Referrer-Policy"] == "no-referrer"
    page = client.get("/casings/")
    assert "no-store" in page.headers["Cache-Control"]
    assert page.headers["Referrer-Policy"] == "same-origin"


@pytest.mark.parametrize("method", ["put", "patch", "delete", "options"])
def test_a_link_does_nothing_else(client: Client, path: str, method: str) -> None:
    assert getattr(client, method)(path).status_code == 405
    assert Link.objects.get().used_at is None


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
def test_another_site_cannot_press_the_button(client: Client, path: str, site: str) -> None:
    answer = client.post(path, headers={"Sec-Fetch-Site": site})
    assert answer.status_code == 404
    assert answer.content == client.post("/c/unknown").content
    assert Link.objects.get().used_at is None
    # A page that sends no referrer sends "null" as its origin: that is our own button.
    own = {"Sec-Fetch-Site": "same-origin", "Origin": "null"}
    strict = Client(enforce_csrf_checks=True)
    assert strict.post(path, headers=own).status_code == 302


def test_the_eleventh_link_in_a_minute_has_to_wait(client: Client, path: str) -> None:
    for _ in range(10):
        assert client.post("/c/guess").status_code == 404
    answer = client.post(path)
    assert answer.status_code == 429
    assert int(answer.headers["Retry-After"]) > 0
    assert Link.objects.get().used_at is None
    cache.clear()
    assert client.post(path).status_code == 302


def test_without_a_cache_customers_still_get_in(
    client: Client, path: str, settings: Settings
) -> None:
    here = settings.CACHES["default"]
    settings.CACHES = {"default": {**here, "LOCATION": "unix:///nowhere/valkey.sock"}}
    assert client.post(path).status_code == 302


def test_a_link_opens_again_in_another_browser_and_each_has_its_own_session(path: str) -> None:
    one, two = Client(), Client()
    one.post(path)
    two.post(path)
    assert one.cookies[COOKIE].value != two.cookies[COOKIE].value
    one.post("/casings/sign-out")
    assert one.get("/casings/").status_code == 403
    assert two.get("/casings/").status_code == 200


def test_revoking_closes_what_is_open(ines: Client, contact: Contact) -> None:
    assert ines.get("/casings/").status_code == 200
    customers.revoke_links(contact=contact.uid, at=clock.now())
    assert ines.get("/casings/").status_code == 403


def test_a_session_ends_with_its_link(client: Client, contact: Contact) -> None:
    client.post(customers.new_link(contact=contact.uid, at=in_past(29)))
    assert client.get("/casings/").status_code == 200
    assert int(client.cookies[COOKIE]["max-age"]) <= 86_400
    Link.objects.update(expires_at=clock.now())
    assert client.get("/casings/").status_code == 403


def test_an_erased_contact_sees_nothing_more(ines: Client, contact: Contact) -> None:
    contact.delete()
    assert ines.get("/casings/").status_code == 403


def test_who_has_no_session_is_told_how_to_get_one_alike_at_every_address(
    client: Client, world: World
) -> None:
    answers = [
        client.get(address)
        for address in ("/casings/", f"/casings/{uuid4()}", f"/casings/{uuid4()}/photos/1",
                        "/casings/nothing/here", "/casings/?q=K72K54X2")
    ]  # fmt: skip
    for key in ("", "x", "../..", "a\x00b", "ñ" * 32, uuid4().hex):
        client.cookies[COOKIE] = key
        answers.append(client.get("/casings/"))
    assert {answer.status_code for answer in answers} == {403}
    assert len({answer.content for answer in answers}) == 1
    assert "open the one in our newest mail" in text(answers[0])
    assert "abra el del correo" in text(answers[0])


def test_a_form_of_another_site_ends_no_session(opened: Opened) -> None:
    strict = opened(enforce_csrf_checks=True)
    assert strict.post("/casings/sign-out").status_code == 403
    assert strict.get("/casings/").status_code == 200
