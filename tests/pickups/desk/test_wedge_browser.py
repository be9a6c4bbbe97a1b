"""A wedge scanner in the office: a label is heard wherever the last click was."""

import pytest
from playwright.sync_api import Browser, Page, expect
from pytest_django.live_server_helper import LiveServer

from pickups.casings.models import WorkOrder
from pickups.runs.models import Drop
from tests.pickups.desk.sheets import draw_up
from tests.pickups.desk.test_browser import browser, opened
from tests.pickups.runs.yard import Yard
from tests.world import Phone, World
from tests.world.plant import Gateway

__all__ = ["browser"]
pytestmark = pytest.mark.django_db(transaction=True)


def scan(page: Page, text: str) -> None:
    page.keyboard.type(text)
    page.keyboard.press("Enter")


def test_a_scan_opens_a_label_from_any_page_and_ticks_it_on_a_sheet(
    browser: Browser, live_server: LiveServer, world: World, phone: Phone, gateway: Gateway
) -> None:
    yard = Yard(world, phone, gateway)
    one, two = (WorkOrder.objects.get(uid=yard.home()).label for _ in "ab")
    sheet = draw_up(world)
    page = opened(browser, live_server, world).new_page()
    page.goto(f"{live_server.url}/office/rolls/")
    page.locator("#count").fill("12")
    scan(page, f"HTTPS://ANY.EXAMPLE/L/{one}")
    page.wait_for_url(f"**/office/labels/{one}")

    page.goto(f"{live_server.url}/office/sheets/{sheet.uid}/")
    page.locator("h1").click()
    for label in (one, two):
        scan(page, label)
        expect(page.locator(f'[data-label="{label}"]')).to_be_checked()
    assert not Drop.objects.exists(), "no letter of a label is a key of the sheet"
    stranger = world.a_label()
    scan(page, stranger)
    expect(page.locator("[data-scanned]")).to_have_text(
        f"{stranger} is not among the casings below."
    )
    expect(page.locator("[data-label]:checked")).to_have_count(2)
    page.keyboard.type("MUAB")
    expect(page.locator("[data-label]:checked")).to_have_count(2)
    assert not Drop.objects.exists()
    # A hand that types is no scanner.
    page.locator("#q").fill("")
    page.locator("#q").focus()
    page.keyboard.type(one, delay=120)
    page.keyboard.press("Enter")
    page.wait_for_url(f"**/office/labels/{one}")
