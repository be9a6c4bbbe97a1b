"""A pickup in a yard until it is signed, state by state: no barrier in either language, in
either light, at a glove's sizes, and at twice the size (tests/journeys/barriers.py).

A state that is no longer come by, or has no name in the table, fails.
"""

from collections.abc import Iterator
from itertools import chain

from playwright.sync_api import Page, Playwright, expect

from tests.journeys.app import App
from tests.journeys.barriers import gloved, walk_through
from tests.journeys.promised import publish
from tests.journeys.test_pickup_signed import offered
from tests.world.stack import Stack

PICKUP = """
    sheet: empty
    sheet: with fault
    sheet: half filled
    sheet: what is wanted
    sheet: where it ran
    condition: a zone open
    condition: a stop found
    scanning: no camera
    scrap: with fault
    left here
    sheet: two casings
    sheet: same label again
    correcting
    withdrawing
    relabelling: with fault
    relabelling: done
"""
SIGNING = """
    finishing: with fault
    finishing: read in the signer's language
    finishing: signed
    finishing: signed another list
    finishing: they will not sign, with fault
"""


class Yard:
    """A driver's phone that begins each of its pickups at the same yard."""

    def __init__(self, web: Stack, app: App) -> None:
        self.web, self.app, self.page = web, app, app.page

    def label(self) -> str:
        return str(self.web.cast["labels"].pop())

    def begin(self) -> None:
        self.page.locator("header .mark").click()
        self.app.start_pickup(self.web.cast["yard"])


def test_every_screen_of_a_pickup_is_without_a_barrier(
    web: Stack, playwright: Playwright, chromium: str
) -> None:
    publish(web, days=5)
    app = App(playwright, chromium, web.url)
    try:
        app.enrol(web.fresh_code(), web.cast["driver"])
        yard = Yard(web, app)
        walk = chain(picking_up(yard), signing(yard))
        walk_through(app.page, PICKUP + SIGNING, walk, gloved)
    finally:
        app.close()


def picking_up(yard: Yard) -> Iterator[str]:
    page, app = yard.page, yard.app
    first, second, third = yard.label(), yard.label(), yard.label()
    yard.begin()
    offered(page)
    yield "sheet: empty"
    page.get_by_test_id("label").fill("K7000000")
    page.get_by_test_id("save").click()
    expect(page.get_by_test_id("label-fault")).to_be_visible()
    yield "sheet: with fault"
    page.get_by_test_id("label").fill(first)
    page.get_by_test_id("size").fill("11R22.5")
    page.get_by_test_id("tread-6").click()
    page.get_by_test_id("tin").fill("DOT 4B08 4DHR 2910")
    yield "sheet: half filled"
    if page.get_by_test_id("work-repair").count() == 0:
        page.get_by_test_id("wanted-change").click()
    expect(page.get_by_test_id("work-repair")).to_be_visible()
    yield "sheet: what is wanted"
    page.get_by_test_id("wanted-change").click()
    page.get_by_test_id("ran-change").click()
    expect(page.get_by_test_id("odometer")).to_be_visible()
    yield "sheet: where it ran"
    page.get_by_test_id("ran-change").click()
    yield from seen(page)
    page.get_by_test_id("scan").click()
    expect(page.get_by_test_id("scan-type")).to_be_visible()
    expect(page.get_by_test_id("scan-said")).not_to_be_empty()
    yield "scanning: no camera"
    page.get_by_test_id("scan-type").click()
    page.get_by_test_id("save").click()
    expect(page.get_by_test_id(f"casing-{first}")).to_be_visible()
    page.get_by_test_id("scrap").click()
    page.get_by_test_id("pieces").fill("six")
    page.get_by_test_id("scrap-save").click()
    yield "scrap: with fault"
    page.get_by_test_id("pieces").fill("6")
    page.get_by_test_id("scrap-save").click()
    expect(page.get_by_test_id("scrap-line")).to_be_visible()
    yield from left(page, third)
    app.add(second, 5)
    yield "sheet: two casings"
    page.get_by_test_id("label").fill(first)
    page.get_by_test_id("save").click()
    expect(page.get_by_test_id("save-anyway")).to_be_visible()
    yield "sheet: same label again"
    page.get_by_test_id("label").fill("")
    yield from correcting(page, first, third)


def seen(page: Page) -> Iterator[str]:
    page.get_by_test_id("condition-open").click()
    page.get_by_test_id("zone-crown").click()
    expect(page.get_by_test_id("kinds")).to_be_visible()
    yield "condition: a zone open"
    page.get_by_test_id("kind-cord").click()
    expect(page.get_by_test_id("cautions")).not_to_be_empty()
    yield "condition: a stop found"
    page.get_by_test_id("finding-off").click()
    page.get_by_test_id("condition-open").click()


def left(page: Page, label: str) -> Iterator[str]:
    page.get_by_test_id("label").fill(label)
    page.get_by_test_id("condition-open").click()
    page.get_by_test_id("zone-crown").click()
    page.get_by_test_id("kind-cord").click()
    page.get_by_test_id("finding-done").click()
    page.get_by_test_id("leave-here").click()
    expect(page.get_by_test_id("left-line")).to_be_visible()
    page.get_by_test_id("correct-left").click()
    expect(page.get_by_test_id("left-said")).to_be_visible()
    yield "left here"
    page.locator(".back").click()


def correcting(page: Page, first: str, new: str) -> Iterator[str]:
    page.get_by_test_id(f"correct-{first}").click()
    expect(page.get_by_test_id("withdraw")).to_be_visible()
    yield "correcting"
    page.get_by_test_id("withdraw").click()
    expect(page.get_by_test_id("withdraw-confirm")).to_be_visible()
    yield "withdrawing"
    page.locator(".back").click()
    page.get_by_test_id(f"correct-{first}").click()
    page.get_by_test_id("relabel-open").click()
    page.get_by_test_id("relabel-now").fill(first)
    page.get_by_test_id("relabel-save").click()
    expect(page.locator("#relabel-now-said")).to_contain_text("That is the old label")
    yield "relabelling: with fault"
    page.get_by_test_id("relabel-now").fill(new)
    page.get_by_test_id("relabel-lost").click()
    page.get_by_test_id("known-by").fill("the only one")
    page.get_by_test_id("relabel-save").click()
    expect(page.get_by_test_id("relabelled")).to_be_visible()
    yield "relabelling: done"


def signing(yard: Yard) -> Iterator[str]:
    page, app = yard.page, yard.app
    page.locator("header .mark").click()
    page.locator("[data-testid^='open-']").click()
    page.get_by_test_id("finish").click()
    page.get_by_test_id("finish-confirm").click()
    expect(page.get_by_test_id("signer-fault")).to_be_visible()
    yield "finishing: with fault"
    page.get_by_test_id("read-in-es").check()
    expect(page.locator("html")).to_have_attribute("lang", "es")
    yield "finishing: read in the signer's language"
    page.get_by_test_id("language").click()  # the driver's own is the other one by now
    page.get_by_test_id("read-in-es").check()
    page.get_by_test_id("read-in-en").check()
    app.sign("R. Amsel")
    yield "finishing: signed"
    page.locator(".back").click()
    app.add(yard.label(), 7)
    page.get_by_test_id("finish").click()
    expect(page.get_by_test_id("sign-another")).to_be_visible()
    yield "finishing: signed another list"
    page.get_by_test_id("sign-refuses").check()
    page.get_by_test_id("finish-confirm").click()
    expect(page.get_by_test_id("refused-fault")).not_to_be_empty()
    yield "finishing: they will not sign, with fault"
