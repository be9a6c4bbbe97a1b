"""Suppose something in a real browser: asked by keyboard, seen to be computed, read without barrier
on both widths."""

from datetime import date, timedelta

import pytest
from playwright.sync_api import Browser
from pytest_django.live_server_helper import LiveServer

from pickups.casings.models import WorkOrder
from plant.floor import words
from plant.forecast import tasks
from plant.forecast.models import Supposed
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
def test_asked_computed_and_read_without_barrier(
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
    passed(gateway, op["payload"]["label"], "receiving", "initial-inspection")
    size = {"width": width, "height": 740}
    options = {"viewport": size, "color_scheme": light, "locale": language, "bypass_csp": True}
    page = opened(browser, live_server, world.operator, **options).new_page()
    page.goto("/plant/suppose/")
    found = faults(page)
    page.locator("form.limit button").click()  # nothing is supposed: it comes back with its fault
    assert page.locator("[aria-invalid=true]").count() == 1
    found += faults(page)
    page.locator("#more").fill("60")
    page.locator("#on").fill(str(today()))
    page.locator("#more").press("Enter")
    page.wait_for_url("**/plant/suppose/*-*/")
    found += faults(page)
    row = Supposed.objects.get()
    assert tasks.suppose(str(row.uid)) == "done"
    page.locator("table").first.wait_for()  # the page looks by itself
    row.refresh_from_db()
    order = WorkOrder.objects.get()
    row.came["moved"] = [
        {"uid": str(order.uid), "promised": "2027-01-12", "before": "2027-01-12",
         "after": "2027-01-14", "kept": [0.93, 0.41]},
    ]  # fmt: skip
    row.save()
    page.reload()
    page.get_by_text(words.day_in_words(language, date(2027, 1, 14))).wait_for()
    found += faults(page)
    assert found == []
