"""A stop-use notice from the trace to the customer's own button, in a real browser: no barrier on
any page of the way, at a phone's width and a desk's."""

import os
from uuid import uuid4

import pytest
from playwright.sync_api import Browser
from pytest_django.live_server_helper import LiveServer

from pickups.customers import services as customers
from pickups.kernel import clock
from tests.conftest import Enrol, in_process
from tests.pickups.desk.test_browser import faults
from tests.plant.floor.browsing import opened
from tests.sync.batches import push
from tests.world import World
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db(transaction=True)
LOT = {"kind": "cushion_gum", "number": "CG-0417"}


@pytest.mark.parametrize(
    ("language", "light", "width"), [("es", "dark", 360), ("en", "light", 1440)]
)
def test_it_is_written_looked_at_sent_and_confirmed(
    browser: Browser,
    live_server: LiveServer,
    world: World,
    enrol: Enrol,
    language: str,
    light: str,
    width: int,
) -> None:
    gateway, phone, label = Gateway(in_process, world.plant_key), enrol(), world.a_label()
    phone.pick_up(label, world.yard.uid, uuid4(), size="11R22.5", tin="1YB2 4F7 2318")
    assert push(phone) == ["accepted"]
    gateway.tell(label, "passed", station="cushion-gum", lots=[LOT])
    gateway.tell(world.a_label(), "passed", station="cushion-gum", lots=[LOT])
    world.customer.contacts.update(language=language)
    options = {"viewport": {"width": width, "height": 740}, "color_scheme": light,
               "locale": language, "bypass_csp": True}  # fmt: skip
    page = opened(browser, live_server, world.dispatcher, **options).new_page()
    found = []

    def look(name: str) -> None:
        assert page.locator("html").get_attribute("lang") == language
        found.extend(faults(page))
        if folder := os.environ.get("PICTURES"):
            page.screenshot(path=f"{folder}/{name}-{width}.png", full_page=True)

    page.goto("/plant/trace/?lot=CG-0417")
    page.locator("a[href^='/plant/stop-use/new']").click()
    page.locator("main form button.primary").click()
    assert page.get_by_role("alert").count() == 1  # nothing is chosen: it is with us still
    page.locator("input[name=order]").check()
    page.locator("#why_es").fill("Faltó curado.")
    look("form")
    page.locator("main form button.primary").click()
    look("look")
    page.locator("#count").fill("2")
    page.locator("main form button.primary").click()
    assert page.locator("#count[aria-invalid=true]").count() == 1
    look("look-wrong")
    page.locator("#count").fill("1")
    page.locator("main form button.primary").click()
    page.wait_for_url("**/plant/stop-use/*/")
    page.locator("summary").last.click()
    look("one")
    page.goto("/plant/stop-use/")
    look("list")
    contact = world.customer.contacts.get()
    page.goto(customers.new_link(contact=contact.uid, at=clock.now()))
    page.locator("main button").click()
    page.wait_for_url("**/casings/stop-use/*")
    look("owner")
    page.locator("main button.primary").click()
    page.get_by_role("status").wait_for()
    look("owner-done")
    page.goto("/casings/")
    look("owner-mine")
    assert found == []
