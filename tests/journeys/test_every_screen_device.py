"""A device until somebody holds it, state by state: no barrier in either language, in either light,
at a glove's sizes, and at twice the size (tests/journeys/barriers.py).

A state that is no longer come by, or has no name in the table, fails.
"""

from collections.abc import Iterator

from playwright.sync_api import Playwright, expect

from tests.journeys.app import PIN, App
from tests.journeys.barriers import gloved, walk_through
from tests.world.stack import Stack

ENROLLING = """
    enrolling: empty
    enrolling: with fault
    who holds it: names
    a PIN: two that differ
"""


def test_every_screen_until_somebody_holds_it_is_without_a_barrier(
    web: Stack, playwright: Playwright, chromium: str
) -> None:
    app = App(playwright, chromium, web.url)
    try:
        walk_through(app.page, ENROLLING, enrolling(app, web), gloved)
    finally:
        app.close()


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
