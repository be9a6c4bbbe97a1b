"""A scanner that types, on the counter's first page and in every field of its check-in."""

from playwright.sync_api import Page, expect

from tests.journeys.cargo import Cargo
from tests.journeys.clerk import Counter
from tests.world.stack import Stack


def label_of(page: Page) -> str:
    return page.get_by_test_id("label").input_value().replace("\u2009", "")


def scan(counter: Counter, text: str) -> None:
    """As a scanner does it: keys without a pause, then Enter."""
    counter.page.wait_for_timeout(150)  # the hand's last key belongs to no scan
    counter.type(text)


def test_a_scan_counts_on_the_first_page_and_in_every_field_of_the_check_in(
    store: Stack, counter: Counter
) -> None:
    page, cargo = counter.page, Cargo(store)
    (ready,) = cargo.come_home(1)
    counter.hears()
    link = f"{store.url}/L/".upper()

    # The first page: with the cursor nowhere, and as the link that the square holds.
    expect(page.get_by_test_id(f"waiting-{store.cast['customer']}")).to_be_visible()
    page.evaluate("document.activeElement.blur()")
    scan(counter, link + ready)
    expect(page.get_by_test_id("where")).to_contain_text("Ready here, on the rack.")
    page.get_by_test_id("counter-back").click()

    # A free one waits for its customer, and is that of the first casing.
    free = store.cast["labels"].pop()
    counter.expect_at("find")
    scan(counter, free)
    expect(page.get_by_test_id("find-said")).to_contain_text("no casing here wears")
    page.get_by_test_id("find").fill("")
    counter.type("hollow")
    counter.expect_at("drop-off")
    expect(page.get_by_test_id("drop-off")).to_contain_text(f"{free[:4]}\u2009{free[4:]}")
    counter.press("Enter")
    counter.expect_at("customer-count")
    counter.type("1")
    counter.expect_at("tin")
    assert label_of(page) == free

    # Check-in: from each field, which keeps what was in it and nothing of the scan.
    kept = {"tin": "2923", "size": "11R22.5", "brand": "Kordan", "treads": "666"}
    for name, value in kept.items():
        page.get_by_test_id(name).fill(value)
    page.get_by_test_id("ran").click()
    page.get_by_test_id("condition-part").click()
    others = ("unit", "odometer", "seen-code", "wheel", "customer-count")
    for name in (*kept, *others, "position", "line-retread", "save"):
        label = store.cast["labels"].pop()
        field = page.get_by_test_id(name)
        field.focus()
        before = field.evaluate("at => at.value")
        scan(counter, label)
        counter.expect_at("tin")
        assert (label_of(page), field.evaluate("at => at.value")) == (label, before), name
    expect(page.get_by_test_id("line-retread")).to_be_checked()
    expect(page.locator("[data-testid^='casing-']")).to_have_count(0)  # its Enter saved nothing
    last = label_of(page)
    page.get_by_test_id("treads").focus()
    counter.press("Enter")
    expect(page.get_by_test_id(f"casing-{last}")).to_be_visible()

    counter.sends()
