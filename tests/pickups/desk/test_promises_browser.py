"""The list of promises at risk in a real browser: told by keyboard alone, accessible as it is, with
what is wrong, and once it was told; the account with its pictures too."""

import pytest
from playwright.sync_api import Browser
from pytest_django import Settings
from pytest_django.live_server_helper import LiveServer

from tests.pickups.desk.test_browser import browser, faults, opened
from tests.pickups.promises.forecasting import DAY, back, forecast, trucks_every_day
from tests.pickups.promises.history import promised
from tests.pickups.promises.promising import sent, taken, today
from tests.world import Phone, World

pytestmark = pytest.mark.django_db(transaction=True)
__all__ = ["browser"]  # a fixture that the other pages have too


@pytest.mark.parametrize(
    ("light", "language", "width"), [("light", "en", 1440), ("dark", "es", 360)]
)
def test_a_new_day_is_told_by_keyboard_and_every_state_is_accessible(
    browser: Browser, live_server: LiveServer, world: World, phone: Phone, settings: Settings,
    light: str, language: str, width: int,
) -> None:  # fmt: skip
    trucks_every_day(world)
    op = taken(phone, world, back(3))
    promised(phone, world, on=today() - 5 * DAY, taken_on=today() - 14 * DAY, sure=90)
    sent(phone)
    forecast(world, (op, [6]))
    size = {"width": width, "height": 900 if width > 400 else 740}
    context = opened(
        browser, live_server, world, viewport=size, color_scheme=light, locale=language,
        bypass_csp=True,
    )  # fmt: skip
    page = context.new_page()
    page.goto("/office/promises/")
    found = faults(page)
    page.locator("input[name=seen]").first.focus()
    page.keyboard.press("Space")  # past its day, and no new one is known
    page.keyboard.press("Enter")
    page.locator("#seen-fault").wait_for()
    assert page.locator("input[name=seen]").first.is_checked()
    found += faults(page)
    page.locator("input[name=seen]").first.focus()
    page.keyboard.press("Space")
    while page.evaluate("(document.activeElement.value || '').split(' ').length") != 3:
        page.keyboard.press("Tab")
    page.keyboard.press("Space")
    page.keyboard.press("Enter")
    page.locator("p.good").wait_for()
    assert page.locator("input[name=seen]").count() == 1
    found += faults(page)
    page.goto("/office/promises/kept")
    assert page.locator("svg[role=img]").count() == 2
    found += faults(page)
    context.close()
    assert found == []


@pytest.mark.parametrize("width", [1440, 360])
def test_how_sure_days_are_stands_in_rows_of_a_number_and_a_button_for_gloves(
    browser: Browser, live_server: LiveServer, world: World, width: int
) -> None:
    context = opened(
        browser, live_server, world, viewport={"width": width, "height": 740}, bypass_csp=True
    )
    page = context.new_page()
    page.goto("/office/promises/sure")
    form = page.locator("td form").first
    assert form.inner_text().split() == ["Set"], "what only a screen reader says is not seen"
    box = form.locator("button").bounding_box()
    assert box is not None
    assert min(box["width"], box["height"]) >= 44
    name = f"Percent: {world.customer.name}"
    assert page.get_by_role("textbox", name=name).input_value() == "90"
    found = faults(page)
    context.close()
    assert found == []
