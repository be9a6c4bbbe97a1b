"""The forecast's page as a supervisor has it, in a real browser: with a forecast, and with what is
missing for one; no barrier, no page too wide."""

from datetime import timedelta

import pytest
from playwright.sync_api import Browser
from pytest_django.live_server_helper import LiveServer

from pickups.kernel import clock
from plant.dock.models import Calendar
from plant.forecast.models import Forecast, Learned
from tests.pickups.desk.test_browser import faults
from tests.plant.floor.browsing import opened
from tests.plant.forecast.plants import computed, enter, passed
from tests.world import World
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.mark.parametrize(
    ("language", "light", "width"), [("es", "dark", 360), ("en", "light", 1440)]
)
def test_the_forecast_is_accessible_and_fits(
    browser: Browser,
    live_server: LiveServer,
    world: World,
    gateway: Gateway,
    language: str,
    light: str,
    width: int,
) -> None:
    size = {"width": width, "height": 740}
    options = {"viewport": size, "color_scheme": light, "locale": language, "bypass_csp": True}
    page = opened(browser, live_server, world.operator, **options).new_page()
    found = []
    page.goto("/plant/forecast")  # nothing has been computed
    found += faults(page)
    enter(world.plant)
    for _ in range(3):
        passed(gateway, world.a_label(), "receiving", "initial-inspection")
    computed(world.plant.uid)
    kept = {"mean_h": 0.4, "n": 40}
    for days in (9, 5):
        on = (clock.now() - timedelta(days=days)).date()
        Learned.objects.create(plant=world.plant, station="paint", on=on, at=clock.now(),
                               figures=kept)  # fmt: skip
    Forecast.objects.update(failed_at=clock.now(), why="ZeroDivisionError")
    page.goto("/plant/forecast")
    assert page.locator("html").get_attribute("lang") == language
    assert page.locator("tbody tr").count() > 20
    page.locator("summary").click()
    found += faults(page)
    Calendar.objects.get(plant=world.plant).shifts.all().delete()
    computed(world.plant.uid)
    page.goto("/plant/forecast")
    assert page.locator("main ul.list li").count() == 1
    found += faults(page)
    assert found == []
