"""Rush work in a real browser, on both widths: asked for, seen to be computed, approved."""

from datetime import timedelta

import pytest
from playwright.sync_api import Browser
from pytest_django.live_server_helper import LiveServer

from pickups.people.models import User
from plant.forecast import tasks
from plant.inspection import rushing
from plant.inspection.models import Rush
from tests.conftest import Enrol, in_process
from tests.pickups.desk.test_browser import faults
from tests.pickups.promises.promising import sent, taken, today
from tests.pickups.promises.trucks import publish
from tests.plant.floor.browsing import opened
from tests.plant.forecast.plants import enter, passed
from tests.world import World
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.mark.parametrize(
    ("language", "light", "width"), [("es", "dark", 360), ("en", "light", 1440)]
)
def test_asked_by_one_and_approved_by_another(
    browser: Browser,
    live_server: LiveServer,
    world: World,
    enrol: Enrol,
    language: str,
    light: str,
    width: int,
) -> None:
    enter(world.plant, cycle_min=60)
    publish(world)
    phone, gateway = enrol(), Gateway(in_process, world.plant_key)
    op = taken(phone, world, today() + timedelta(days=3), work="retread")
    sent(phone)
    label = op["payload"]["label"]
    passed(gateway, label, "receiving", "cleaning")
    size = {"width": width, "height": 740}
    options = {"viewport": size, "color_scheme": light, "locale": language, "bypass_csp": True}
    page = opened(browser, live_server, world.operator, **options).new_page()
    page.goto("/plant/rush/")
    found = faults(page)
    page.locator("form.limit button").click()
    assert page.locator("[aria-invalid=true]").count() == 1
    found += faults(page)
    page.locator("#label").fill(label)
    page.locator("#grounds").fill("Their truck stands still")
    page.locator("#grounds").press("Enter")
    page.wait_for_url("**/plant/rush/*-*/")
    found += faults(page)
    rush = Rush.objects.get()
    assert tasks.suppose(str(rush.uid)) == "done"
    page.locator("#now strong").first.wait_for()  # the page looks by itself
    boss = User.objects.create_user("boss", role="plant", site=world.plant)
    other = opened(browser, live_server, boss, **options).new_page()
    other.goto(f"/plant/rush/{rush.uid}/")
    found += faults(other)
    other.locator("button[value=approved]").click()
    other.locator("button[value=ended]").wait_for()
    found += faults(other)
    other.goto("/plant/at/initial-inspection")
    found += faults(other)
    assert rushing.in_force(world.plant.uid) == {rush.work_order}
    assert found == []
