"""The counter's pages: without barriers in both languages, and loaded where a counter is worked."""

import re

import pytest
from playwright.sync_api import Page, Playwright, expect

from tests.journeys.barriers import look
from tests.journeys.cargo import Cargo
from tests.journeys.clerk import Counter
from tests.world.stack import Stack


@pytest.mark.parametrize("language", ["en", "es"])
def test_no_barrier_is_found_on_any_page_of_the_counter(
    store: Stack, counter: Counter, language: str
) -> None:
    page, cargo = counter.page, Cargo(store)
    finished, rejected = cargo.come_home(2, rejected=1)
    if language == "es":
        page.get_by_test_id("language").click()
    counter.hears()
    owner = page.get_by_test_id(f"waiting-{store.cast['customer']}")
    expect(owner).to_be_visible()
    page.get_by_test_id("find").fill("a")
    look(page)
    for address in ("waiting", "receive", f"customer/{store.cast['customer']}"):
        page.goto(f"{store.url}/app/{address}")
        look(page)
    page.get_by_test_id("drop-off").click()
    counter.expect_at("customer-count")  # the page's own first focus is over
    page.get_by_test_id("treads").fill("6 66 7")
    look(page)
    page.get_by_test_id("treads").fill("6 7")
    page.get_by_test_id("save").click()
    expect(page.locator("[data-testid^='casing-']")).to_have_count(1)
    page.locator("summary").first.click()
    look(page)
    counter.sign("Ines Corvo", draw=False)
    page.get_by_test_id("finish-confirm").click()
    expect(page.get_by_test_id("ticket")).to_be_visible()
    look(page)
    page.goto(f"{store.url}/app/hand-over/{store.cast['customer']}")
    for label in (finished, rejected):
        page.get_by_test_id("label").fill(label)
        page.keyboard.press("Enter")
    look(page)
    page.goto(f"{store.url}/app/")
    page.get_by_test_id("find").fill(rejected)
    page.keyboard.press("Enter")
    expect(page.get_by_test_id("about")).to_be_visible()
    look(page)


def scripts(page: Page) -> set[str]:
    """What the page itself has loaded, by name; what the worker keeps is another matter."""
    names = page.evaluate("performance.getEntriesByType('resource').map((one) => one.name)")
    return {match.group(1) for name in names if (match := re.search(r"/assets/(\w+)-", name))}


def test_a_drivers_phone_never_loads_the_counter_and_a_dispatcher_may_work_at_either(
    store: Stack, playwright: Playwright, chromium: str
) -> None:
    phone = Counter(playwright, chromium, store.url)
    try:
        phone.enrol(store.fresh_code(), store.cast["driver"])
        page = phone.page
        expect(page.get_by_test_id("yard-search")).to_be_visible()
        expect(page.get_by_test_id("workplace")).to_have_count(0)
        assert "Workplace" not in scripts(page)

        # Without a connection the counter comes from what the device has kept.
        phone.set_offline(True)
        [(dispatcher,)] = store.rows("SELECT uid FROM people_user WHERE role = 'dispatcher'")
        phone.add_person(dispatcher, "580264")
        phone.somebody_else("580264")
        expect(page.get_by_test_id("yard-search")).to_be_visible()
        page.get_by_test_id("workplace").click()
        phone.expect_at("find")
        assert "Workplace" in scripts(page)
        page.get_by_test_id("workplace").click()
        expect(page.get_by_test_id("yard-search")).to_be_visible()
    finally:
        phone.close()
