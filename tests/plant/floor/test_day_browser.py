"""The plant's day in a real browser: it follows by itself, says when it is stale, recovers."""

import re

import pytest
from playwright.sync_api import Browser, Page, Route, expect
from pytest_django.live_server_helper import LiveServer

from tests.conftest import in_process
from tests.plant.floor.browsing import opened
from tests.world import World
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db(transaction=True)


def day(browser: Browser, server: LiveServer, world: World) -> Page:
    """The day's page, whose clock runs as the test says: five seconds pass at once."""
    page = opened(browser, server, world.operator).new_page()
    page.clock.install()
    page.goto("/plant/")
    expect(page.locator("#now")).to_contain_text("Nothing is inside.")
    return page


def asked(page: Page, seconds: int) -> None:
    """So many seconds pass, in which the page asks once more."""
    with page.expect_request(re.compile("/plant/live")):
        page.clock.run_for(seconds * 1000)


def test_the_day_follows_by_itself_and_keeps_what_the_keyboard_holds(
    browser: Browser,
    live_server: LiveServer,
    world: World,
) -> None:
    page = day(browser, live_server, world)
    page.get_by_role("link", name="Buffing").focus()
    Gateway(in_process, world.plant_key).tell(world.a_label(), "received", station="receiving")
    asked(page, 5)
    expect(page.locator("#now")).to_contain_text("1 in process")
    expect(page.get_by_role("link", name="Buffing")).to_be_focused()
    expect(page.locator("#fresh")).to_be_hidden()


def test_without_an_answer_it_says_so_keeps_its_figures_and_recovers(
    browser: Browser,
    live_server: LiveServer,
    world: World,
) -> None:
    page = day(browser, live_server, world)
    away = [True]

    def line(route: Route) -> None:
        if away[0]:
            route.abort()
        else:
            route.continue_()

    page.route("**/plant/live*", line)
    asked(page, 5)
    expect(page.locator("#fresh")).to_contain_text("No answer since")
    expect(page.locator("#now")).to_contain_text("Nothing is inside.")
    asked(page, 8)
    away[0] = False
    Gateway(in_process, world.plant_key).tell(world.a_label(), "received", station="receiving")
    asked(page, 30)
    expect(page.locator("#now")).to_contain_text("1 in process")
    expect(page.locator("#fresh")).to_be_hidden()


def test_who_was_signed_out_is_told_and_nothing_is_asked_any_more(
    browser: Browser,
    live_server: LiveServer,
    world: World,
) -> None:
    page = day(browser, live_server, world)
    page.context.clear_cookies()
    asked(page, 5)
    expect(page.locator("#fresh")).to_contain_text("You were signed out")
