"""Who comes to the plant's pages, and which plant they are about. Statuses by role stand in
tests/house/test_matrix.py."""

from django.test import Client

from pickups.people import services as people
from pickups.people.models import Site, User
from tests.plant.floor.conftest import SignedIn
from tests.world import World


def text(client: Client, address: str = "/plant/") -> str:
    return client.get(address).content.decode()


def test_an_operator_who_signs_in_comes_to_the_plant_and_everybody_else_to_the_office(
    world: World,
) -> None:
    for name, role, home in (("ivo", "plant", "/plant/"), ("pia", "dispatcher", "/office/")):
        User.objects.create_user(name, password="long-as-a-rope", role=role, site=world.plant)
        browser = Client()
        typed = {"user": name, "password": "long-as-a-rope"}
        assert browser.post("/office/sign-in", typed).headers["Location"] == home
        assert browser.get("/").headers["Location"] == home


def test_who_works_at_a_plant_sees_that_one_and_no_other(world: World, signed_in: SignedIn) -> None:
    other = people.open_site(name="Ashmere plant", kind=Site.Kind.PLANT)
    operator = signed_in()
    assert operator.post("/plant/choose", {"plant": str(other.uid)}).status_code == 302
    assert "Fernhollow plant" in text(operator)
    assert "Ashmere plant" not in text(operator)


def test_the_office_chooses_a_plant_and_stays_with_it(world: World, signed_in: SignedIn) -> None:
    other = people.open_site(name="Ashmere plant", kind=Site.Kind.PLANT)
    desk = signed_in("dispatcher")
    assert "<title>Today · Ashmere plant</title>" in text(desk)
    desk.post("/plant/choose", {"plant": str(world.plant.uid)})
    assert "<title>Today · Fernhollow plant</title>" in text(desk)
    desk.post("/plant/choose", {"plant": "no plant at all"})
    assert f"<title>Today · {other}</title>" in text(desk)


def test_an_operator_without_a_plant_is_told_what_is_missing(world: World) -> None:
    browser = Client()
    browser.force_login(User.objects.create_user("stray", role="plant", site=world.store))
    answer = browser.get("/plant/")
    assert answer.status_code == 403
    assert "no plant is set as the place where you work" in answer.content.decode()


def test_without_any_plant_the_office_is_told_how_to_enter_one(signed_in: SignedIn) -> None:
    desk = signed_in("dispatcher")
    Site.objects.filter(kind="plant").update(kind="store")
    answer = desk.get("/plant/")
    assert answer.status_code == 403
    assert "No plant is entered yet" in answer.content.decode()


def test_the_language_switch_leads_back_to_the_page(signed_in: SignedIn) -> None:
    desk = signed_in("dispatcher")
    answer = desk.post("/office/language", {"language": "es", "next": "/plant/"}, follow=True)
    assert "<title>Hoy · Fernhollow plant</title>" in answer.content.decode()
