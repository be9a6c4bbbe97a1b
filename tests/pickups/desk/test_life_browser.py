"""A label's page with a signature and everything that is wanted, in a real browser."""

import pytest
from playwright.sync_api import Browser
from pytest_django.live_server_helper import LiveServer

from tests.pickups.desk.test_browser import browser, faults, opened
from tests.pickups.desk.test_life import PROMISED, drawn, over, sent, taken
from tests.world import Phone, World

pytestmark = pytest.mark.django_db(transaction=True)
__all__ = ["browser"]  # a fixture that the other pages have too


@pytest.mark.parametrize(("light", "language"), [("light", "en"), ("dark", "es")])
def test_a_signed_casing_is_accessible_and_fits_a_small_phone(
    browser: Browser,
    live_server: LiveServer,
    world: World,
    phone: Phone,
    light: str,
    language: str,
) -> None:
    label = world.a_label()
    op = taken(phone, world, label, promised=PROMISED, tread_design="X" * 40, unit="T-118")
    over(phone, op, signer="N" * 120, signature=drawn(phone), shown="b" * 64)
    sent(phone)
    phone_sized = {"width": 360, "height": 740}
    context = opened(
        browser, live_server, world, viewport=phone_sized, color_scheme=light, locale=language
    )
    page = context.new_page()
    page.goto(f"/office/labels/{label}")
    picture = page.locator(".signature img")
    picture.scroll_into_view_if_needed()
    assert picture.evaluate("async it => { await it.decode(); return it.naturalWidth; }") > 0
    assert page.locator(".life .late").count() == 1
    assert faults(page) == []
    context.close()
