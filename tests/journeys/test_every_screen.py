"""A driver's phone from its enrolment until the truck is loaded, state by state: no barrier in
either language, in either light, at a glove's sizes, and at twice the size.

A walk stops at each state and says its name; what is found at all of them is told at once. A state
that is no longer come by, or has no name in the table, fails.
"""

import re
from collections.abc import Iterator

from playwright.sync_api import Page, Playwright, expect

from tests.journeys.app import PIN, App
from tests.journeys.barriers import gloved, sweep
from tests.journeys.cargo import Cargo
from tests.world.stack import Stack

DRIVER = """
    enrolling: empty
    enrolling: with fault
    who holds it: names
    a PIN: two that differ
    today: a sheet to be loaded
    today: searched
    loading: not counted
    loading: empty
    loading: a rejected one
    loading: short
"""


def names(table: str) -> list[str]:
    return [line.strip() for line in table.strip().splitlines()]


def both(page: Page) -> Iterator[str]:
    """Each language in turn, by the switch of every screen; English again at the end."""
    for language, other in (("en", "es"), ("es", "en")):
        yield language
        # A dialog lies over the switch: it is pressed all the same.
        page.evaluate("document.querySelector('[data-testid=language]').click()")
        expect(page.locator("html")).to_have_attribute("lang", other)


def test_every_screen_until_a_truck_is_loaded_is_without_a_barrier(
    web: Stack, playwright: Playwright, chromium: str
) -> None:
    app = App(playwright, chromium, web.url)
    try:
        found, seen = [], []
        for name in driver(app, web):
            seen.append(name)
            found += sweep(app.page, name, both(app.page), gloved)
        assert seen == names(DRIVER)
        assert found == []
    finally:
        app.close()


def driver(app: App, web: Stack) -> Iterator[str]:
    """Where a driver comes by, from the enrolment until the truck is loaded."""
    cast, cargo = web.cast, Cargo(web)
    mine = cargo.come_home(2, rejected=1)
    cargo.sheet(
        [
            {"yard": cast["yard"], "drop": mine, "fetch": 2, "note": "gate 4"},
            {"site": cast["plant"]},
        ],
        vehicle="Truck 4",
    )
    yield from enrolling(app, web)
    yield from loading(app, mine[1])


def enrolling(app: App, web: Stack) -> Iterator[str]:
    page = app.page
    expect(page.get_by_test_id("enrol-code")).to_be_visible()
    yield "enrolling: empty"
    page.get_by_test_id("enrol-code").fill("NOT-A-CODE")
    page.get_by_test_id("enrol-name").fill("Truck 4 phone")
    page.get_by_test_id("enrol-submit").click()
    expect(page.get_by_test_id("enrol-code")).to_have_attribute("aria-invalid", "true")
    yield "enrolling: with fault"
    page.get_by_test_id("enrol-code").fill(web.fresh_code())
    page.get_by_test_id("enrol-submit").click()
    expect(page.get_by_test_id(f"person-{web.cast['driver']}")).to_be_visible()
    yield "who holds it: names"
    page.get_by_test_id(f"person-{web.cast['driver']}").click()
    page.get_by_test_id("pin-new").fill(PIN)
    page.get_by_test_id("pin-again").fill(PIN[::-1])
    yield "a PIN: two that differ"
    app.set_pin(PIN)
    app.pin = PIN
    expect(page.get_by_test_id("next-action")).to_be_visible()
    yield "today: a sheet to be loaded"
    page.get_by_test_id("yard-search").fill("nor")
    yield "today: searched"


def scan(page: Page, label: str) -> None:
    page.get_by_test_id("label").fill(label)
    page.get_by_test_id("label").press("Enter")
    expect(page.get_by_test_id("verdict")).to_have_attribute("data-tone", re.compile("."))


def loading(app: App, rejected: str) -> Iterator[str]:
    page = app.page
    page.get_by_test_id("next-action").click()
    expect(page.get_by_test_id("own-count")).to_be_visible()
    yield "loading: not counted"
    page.get_by_test_id("own-count").fill("2")
    page.get_by_test_id("start-loading").click()
    expect(page.get_by_test_id("label")).to_be_visible()
    yield "loading: empty"
    scan(page, rejected)
    yield "loading: a rejected one"
    page.get_by_test_id("drive-off").click()
    expect(page.get_by_test_id("short")).to_be_visible()
    yield "loading: short"
