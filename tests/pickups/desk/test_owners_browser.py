"""The page of a casing's owner in a real browser: accessible, and written without a mouse."""

from uuid import uuid4

import pytest
from playwright.sync_api import Browser
from pytest_django.live_server_helper import LiveServer

from pickups.custody.models import OwnerChange
from tests.pickups.desk.test_browser import browser, faults, opened
from tests.world import Phone, World

pytestmark = pytest.mark.django_db(transaction=True)
__all__ = ["browser"]  # a fixture that the other pages have too


def exchangeable(phone: Phone, world: World) -> str:
    """A casing for which one from stock comes back; its work order."""
    told = {"pickup": str(uuid4()), "yard": str(world.yard.uid), "label": world.a_label()}
    op = phone.enter("custody.pick_up", {**told, "basis": "exchange"}, version=3)
    assert phone.push().status == 200
    return str(op["id"])


@pytest.mark.parametrize(
    ("light", "language", "width"), [("light", "en", 1440), ("dark", "es", 360)]
)
def test_every_state_of_the_page_is_accessible_and_fits(
    browser: Browser, live_server: LiveServer, world: World, phone: Phone, light: str,
    language: str, width: int,
) -> None:  # fmt: skip
    uid = exchangeable(phone, world)
    size = {"width": width, "height": 900 if width > 400 else 740}
    context = opened(
        browser, live_server, world, viewport=size, color_scheme=light, locale=language,
        bypass_csp=True,
    )  # fmt: skip
    page = context.new_page()
    page.goto(f"/office/owners/{uid}/")
    found = faults(page)
    page.locator("#sell ~ form button").click()  # nothing filled in
    page.locator("#grade-fault").wait_for()
    found += faults(page)
    page.locator("#grade").fill("A")
    page.locator("#amount").fill("45.50")
    page.locator("#contact").select_option(index=1)
    page.locator("#sell ~ form button").click()
    page.locator("button.primary").wait_for()
    found += faults(page)
    page.locator("button.primary").click()
    page.locator("p.good").wait_for()
    found += faults(page)
    page.locator("ol.life form input[name=said]").fill("wrong price")
    page.locator("ol.life form button").click()
    page.locator("ol.life s").wait_for()
    found += faults(page)
    context.close()
    assert found == []


def test_an_exchange_is_written_and_undone_by_keyboard(
    browser: Browser, live_server: LiveServer, world: World, phone: Phone
) -> None:
    uid = exchangeable(phone, world)
    context = opened(browser, live_server, world)
    page = context.new_page()
    said: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.goto(f"/office/owners/{uid}/")
    for goal, then in (("/exchange", "button.primary"), ("sure", "p.good")):
        for _ in range(60):
            page.keyboard.press("Tab")
            at = page.evaluate(
                "[document.activeElement.form?.action ?? '', document.activeElement.name,"
                " document.activeElement.tagName].join(' ')"
            )
            if goal in at and "BUTTON" in at:
                break
        page.keyboard.press("Enter")
        page.locator(then).wait_for()
    assert OwnerChange.objects.get().kind == "exchanged"
    for _ in range(60):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.name") == "said":
            break
    page.keyboard.type("they kept their own")
    page.keyboard.press("Enter")
    page.locator("ol.life s").wait_for()
    context.close()
    assert said == []  # the security policy blocked nothing
    assert OwnerChange.objects.count() == 2
