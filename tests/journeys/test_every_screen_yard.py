"""A pickup in a yard, small, big and closed, state by state: no barrier in either language, in
either light, at a glove's sizes, and at twice the size (tests/journeys/barriers.py).

A state that is no longer come by, or has no name in the table, fails.
"""

from collections.abc import Iterator
from itertools import chain

import pytest
from playwright.sync_api import Page, Playwright, expect

from tests.journeys.app import App
from tests.journeys.barriers import gloved, walk_through
from tests.journeys.promised import publish
from tests.journeys.test_big_pickups import picture, visit_of
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
    finishing: nobody there, with fault
    finishing: the counts differ
    receipt
    receipt: they would not sign
"""
PILE = """
    quick: empty
    quick: two casings
    to look at: the list
    to look at: one
"""
TRAILER = """
    trailer: with fault
    trailer: signed
    trailer: receipt
    today: a trailer to empty
    opening a trailer: with fault
    emptying a trailer
    emptied: the counts differ
    emptied
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

    def finished(self) -> None:
        self.page.get_by_test_id("receipt-done").click()
        expect(self.page.get_by_test_id("yard-search")).to_be_visible()


@pytest.fixture
def yard(web: Stack, playwright: Playwright, chromium: str) -> Iterator[Yard]:
    publish(web, days=5)
    app = App(playwright, chromium, web.url)
    app.enrol(web.fresh_code(), web.cast["driver"])
    yield Yard(web, app)
    app.close()


def test_every_screen_of_a_pickup_is_without_a_barrier(yard: Yard) -> None:
    walk = chain(picking_up(yard), signing(yard))
    walk_through(yard.page, PICKUP + SIGNING, walk, gloved)


def test_every_screen_of_a_big_pickup_is_without_a_barrier(yard: Yard) -> None:
    walk_through(yard.page, PILE + TRAILER, chain(a_pile(yard), a_trailer(yard)), gloved)


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
    page.get_by_test_id("sign-nobody").check()
    page.get_by_test_id("finish-confirm").click()
    expect(page.get_by_text("Take a photo of the pile as you found it.")).to_be_visible()
    yield "finishing: nobody there, with fault"
    page.get_by_test_id("sign-signs").check()
    page.get_by_test_id("sign-again").click()
    page.get_by_test_id("customer-count").fill("14")
    page.get_by_test_id("finish-confirm").click()
    expect(page.get_by_test_id("finish-ask")).not_to_be_empty()
    yield "finishing: the counts differ"
    page.get_by_test_id("finish-confirm").click()
    expect(page.get_by_test_id("receipt")).to_be_visible()
    yield "receipt"
    yard.finished()
    yard.begin()
    app.add(yard.label(), 7)
    page.get_by_test_id("finish").click()
    page.get_by_test_id("sign-refuses").check()
    page.get_by_test_id("refused-count").check()
    page.get_by_test_id("finish-confirm").click()
    expect(page.get_by_test_id("receipt-signed")).to_be_visible()
    yield "receipt: they would not sign"
    yard.finished()


def quick(page: Page, label: str) -> None:
    page.get_by_test_id("label").fill(label)
    page.get_by_test_id("save").click()
    expect(page.get_by_test_id(f"casing-{label}")).to_be_visible()


def a_pile(yard: Yard) -> Iterator[str]:
    page, app = yard.page, yard.app
    first, second = yard.label(), yard.label()
    yard.begin()
    page.get_by_test_id("way-quick").check()
    expect(page.get_by_test_id("quick-form")).to_be_visible()
    yield "quick: empty"
    page.get_by_test_id("size").fill("11R22.5")
    quick(page, first)
    quick(page, second)
    yield "quick: two casings"
    app.finish(2)
    yard.finished()
    page.get_by_test_id("to-look-at").click()
    expect(page.get_by_test_id(f"look-{first}")).to_be_visible()
    yield "to look at: the list"
    page.get_by_test_id(f"look-{first}").click()
    expect(page.get_by_test_id("tread-6")).to_be_visible()
    yield "to look at: one"


def a_trailer(yard: Yard) -> Iterator[str]:
    page, app = yard.page, yard.app
    yard.begin()
    visit = visit_of(page)
    page.get_by_test_id("take-trailer").click()
    page.get_by_test_id("trailer-end").click()
    expect(page.get_by_test_id("trailer-number-fault")).to_be_visible()
    yield "trailer: with fault"
    page.get_by_test_id("trailer-number").fill("TW-118")
    page.get_by_test_id("trailer-seal").fill("0047112")
    page.get_by_test_id("trailer-left").fill("TW-109")
    page.get_by_test_id("customer-count").fill("3")
    page.get_by_test_id("photo").set_input_files(picture("gray"))
    expect(page.locator(".photos img")).to_have_count(1)
    app.sign("R. Amsel")
    yield "trailer: signed"
    page.get_by_test_id("trailer-end").click()
    expect(page.get_by_test_id("receipt")).to_contain_text("closed")
    yield "trailer: receipt"
    yard.finished()
    expect(page.get_by_test_id(f"empty-{visit}")).to_be_visible()
    yield "today: a trailer to empty"
    page.get_by_test_id(f"empty-{visit}").click()
    page.get_by_test_id("seal").fill("0047112")
    page.get_by_test_id("open-trailer").click()
    expect(page.get_by_text("Say how the seal is.")).to_be_visible()
    yield "opening a trailer: with fault"
    page.get_by_test_id("seal-state-whole").check()
    page.get_by_test_id("own-count").fill("2")
    page.get_by_test_id("open-trailer").click()
    app.add(yard.label(), 6)
    yield "emptying a trailer"
    page.get_by_test_id("emptied").click()
    page.get_by_test_id("emptied-end").click()
    expect(page.get_by_test_id("emptied-ask")).not_to_be_empty()
    yield "emptied: the counts differ"
    page.get_by_test_id("emptied-end").click()
    expect(page.get_by_test_id("trailer-emptied")).to_be_visible()
    yield "emptied"
