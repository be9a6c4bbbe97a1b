"""The pages of what customers accept in a real browser: accessible, small and wide, no mouse."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Playwright
from pytest_django.live_server_helper import LiveServer

from pickups.customers import queries, specifying
from pickups.customers.rules import Terms
from pickups.kernel import clock
from tests.pickups.desk.test_browser import faults, opened
from tests.pickups.desk.test_specifications import FULL
from tests.world import World

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture(scope="module")
def browser(playwright: Playwright, chromium: str) -> Iterator[Browser]:
    started = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
    yield started
    started.close()


@pytest.mark.parametrize(
    ("width", "light", "language"),
    [(1440, "light", "en"), (360, "dark", "es"), (360, "light", "en"), (1440, "dark", "es")],
)
def test_pages_are_accessible_and_a_specification_is_written_without_a_mouse(
    browser: Browser, live_server: LiveServer, world: World, width: int, light: str, language: str
) -> None:
    by, at = world.dispatcher.uid, clock.now()
    for told in (Terms(oldest_years=9), FULL):
        specifying.specify(customer=world.customer.uid, terms=told, by=by, at=at)
    options = {"viewport": {"width": width, "height": 800}, "color_scheme": light,
               "locale": language, "bypass_csp": True}  # fmt: skip
    context = opened(browser, live_server, world, **options)
    page = context.new_page()
    page.goto("/office/specifications/")
    found = faults(page)
    page.locator("#customer").focus()
    page.keyboard.type("tarn")
    page.keyboard.press("Enter")
    page.locator("td.do a").first.focus()
    page.keyboard.press("Enter")
    page.locator("#oldest_years").wait_for()
    found += faults(page)
    page.locator("#oldest_years").focus()
    page.keyboard.press("Control+A")
    page.keyboard.type("none")
    page.keyboard.press("Enter")
    page.locator("#oldest_years[aria-invalid]").wait_for()
    found += faults(page)
    page.locator("#oldest_years").focus()
    page.keyboard.press("Control+A")
    page.keyboard.type("5")
    page.keyboard.press("Enter")
    page.locator(".good").wait_for()
    assert queries.specifications_standing()[0].terms.oldest_years == 5
    page.locator("#try-tin").focus()
    page.keyboard.type("4B08 4DHR 1214")
    page.keyboard.press("Enter")
    page.locator(".verdict.leave").wait_for()
    found += faults(page)
    page.locator("#stands-head ~ p a").focus()
    page.keyboard.press("Enter")
    page.locator("form.end").wait_for()
    found += faults(page)
    page.goto("/office/specifications/?customer=nobody")
    found += faults(page)
    context.close()
    assert found == []
