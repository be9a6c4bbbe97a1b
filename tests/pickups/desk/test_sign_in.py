"""Who gets in: generic errors, a limit on tries, roles."""

import re

import pytest
from django.test import Client
from pytest_django import Settings

from pickups.people.models import User
from pickups.questions.models import Question
from tests.pickups.desk.conftest import Contested, SignedIn
from tests.world import World

PASSWORD = "as-long-as-a-rope"


@pytest.fixture
def odile(world: World) -> User:
    world.dispatcher.set_password(PASSWORD)
    world.dispatcher.save()
    return world.dispatcher


def signs_in(client: Client, user: str, password: str, **more: str) -> tuple[int, str]:
    answer = client.post("/office/sign-in", {"user": user, "password": password, **more})
    return answer.status_code, answer.headers.get("Location", "") or answer.content.decode()


@pytest.mark.django_db
def test_the_right_password_opens_the_office(client: Client, odile: User) -> None:
    assert client.get("/").headers["Location"] == "/office/sign-in"
    assert signs_in(client, "odile", PASSWORD) == (302, "/office/")
    assert client.get("/office/").status_code == 200
    assert client.get("/").headers["Location"] == "/office/"


def test_a_wrong_name_and_a_wrong_password_are_answered_alike(client: Client, odile: User) -> None:
    def plain(page: str) -> str:
        return re.sub(r'value="[^"]*"', "", page)

    status, known = signs_in(client, "odile", "wrong")
    assert status == 400
    assert plain(known) == plain(signs_in(client, "nobody-here", "wrong")[1])
    odile.is_active = False
    odile.save()
    assert plain(known) == plain(signs_in(client, "odile", PASSWORD)[1])
    assert "_auth_user_id" not in client.session


def test_the_eleventh_try_in_a_minute_has_to_wait(client: Client, odile: User) -> None:
    for _ in range(10):
        assert signs_in(client, "", "")[0] == 400
    answer = client.post("/office/sign-in", {"user": "odile", "password": PASSWORD})
    assert answer.status_code == 429
    assert int(answer.headers["Retry-After"]) > 0
    assert "_auth_user_id" not in client.session


def test_an_address_that_the_sender_wrote_gives_no_new_tries(client: Client, odile: User) -> None:
    statuses = [
        client.post("/office/sign-in", {}, headers={"X-Forwarded-For": f"192.0.2.{i}"}).status_code
        for i in range(11)
    ]
    assert statuses[-1] == 429


def test_without_a_cache_people_still_get_in(
    client: Client, odile: User, settings: Settings
) -> None:
    cache = settings.CACHES["default"]
    settings.CACHES = {"default": {**cache, "LOCATION": "unix:///nowhere/valkey.sock"}}
    assert signs_in(client, "odile", PASSWORD) == (302, "/office/")


@pytest.mark.parametrize("typed", ["odile\x00", "o" * 151, "", "\ud800"])
def test_a_name_that_cannot_be_stored_is_only_wrong(
    client: Client, odile: User, typed: str
) -> None:
    body = {"user": typed.encode("utf-8", "surrogatepass"), "password": PASSWORD}
    assert client.post("/office/sign-in", body).status_code == 400


@pytest.mark.parametrize(
    ("asked", "led"),
    [
        ("/office/devices", "/office/devices"),
        ("https://elsewhere.example/", "/office/"),
        ("//elsewhere.example/", "/office/"),
        ("javascript:alert(1)", "/office/"),
    ],
)
def test_signing_in_never_leads_to_another_host(
    client: Client, odile: User, asked: str, led: str
) -> None:
    assert signs_in(client, "odile", PASSWORD, next=asked) == (302, led)


def test_who_is_not_signed_in_is_led_there_and_back(client: Client, odile: User) -> None:
    answer = client.get("/office/devices")
    assert answer.headers["Location"] == "/office/sign-in?next=%2Foffice%2Fdevices"


@pytest.mark.parametrize("role", ["dispatcher", "sales", "driver"])
def test_the_records_are_not_for_everybody_and_say_so(signed_in: SignedIn, role: str) -> None:
    answer = signed_in(role).get("/admin/people/user/", follow=True)
    assert answer.status_code == 403
    page = answer.content.decode()
    assert "This page is not for you" in page
    assert "The records are kept by an administrator" in page
    assert 'type="password"' not in page


def test_who_is_signed_in_is_led_on_from_the_sign_in(
    signed_in: SignedIn, client: Client, world: World
) -> None:
    asked = signed_in().get("/office/sign-in", {"next": "/office/devices"})
    assert asked.headers["Location"] == "/office/devices"
    assert client.get("/admin/", follow=True).redirect_chain[-1][0].startswith("/office/sign-in?")
    elsewhere = {"next": "https://elsewhere.example/"}
    assert signed_in().get("/office/sign-in", elsewhere).status_code == 200


def test_a_session_ends_with_sign_out(signed_in: SignedIn) -> None:
    browser = signed_in()
    assert browser.post("/office/sign-out").status_code == 302
    assert browser.get("/office/").headers["Location"].startswith("/office/sign-in")


@pytest.mark.parametrize("role", ["driver", "counter", "plant"])
def test_the_office_is_not_for_everybody_and_says_so(signed_in: SignedIn, role: str) -> None:
    answer = signed_in(role).get("/office/")
    assert answer.status_code == 403
    page = answer.content.decode()
    assert "not for you" in page
    assert "Find a label" not in page


def test_a_sales_manager_reads_and_does_not_decide(
    signed_in: SignedIn, contested: Contested
) -> None:
    browser = signed_in("sales")
    page = browser.get("/office/").content.decode()
    assert "One label on two casings" in page
    assert "Withdraw it" not in page
    address = f"/office/questions/{contested.question}/withdraw"
    answer = browser.post(address, {"work_order": str(contested.ours), "said": "mine"})
    assert answer.status_code == 403
    assert "You may read these pages" in answer.content.decode()
    assert Question.objects.get(id=contested.question).settled_at is None


def test_a_form_from_another_site_is_refused(world: World) -> None:
    strict = Client(enforce_csrf_checks=True)
    strict.force_login(world.dispatcher)
    for address in ("/office/sign-out", "/office/devices/enrol", "/office/language"):
        assert strict.post(address, {"site": str(world.store.uid)}).status_code == 403


def test_the_switch_changes_the_language_and_holds(signed_in: SignedIn) -> None:
    browser = signed_in()
    assert browser.post("/office/language", {"language": "es"}).status_code == 302
    page = browser.get("/office/").content.decode()
    assert '<html lang="es">' in page
    assert "Espera a una persona" in page
