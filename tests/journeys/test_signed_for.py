"""Signing: in the signer's own language, refused with why; the receipt on their own phone."""

import io
from collections.abc import Callable, Iterator

import pypdfium2
import pytest
import zxingcpp
from PIL import Image
from playwright.sync_api import Locator, Page, Playwright, expect

from tests.journeys.app import FLAGS
from tests.journeys.barriers import look
from tests.journeys.conftest import OpenApp
from tests.journeys.promised import publish
from tests.journeys.test_pickup_signed import end_of, labels, offered, told
from tests.world.stack import Stack

Elsewhere = Callable[[], Page]


@pytest.fixture
def elsewhere(playwright: Playwright, chromium: str) -> Iterator[Elsewhere]:
    """A page in a browser of somebody else's: the signer's own phone."""
    browser = playwright.chromium.launch(executable_path=chromium, headless=True, args=FLAGS)

    def make() -> Page:
        return browser.new_context(viewport={"width": 360, "height": 740}).new_page()

    yield make
    browser.close()


def root_of(page: Page) -> Locator:
    return page.locator("html")


def scanned(page: Page) -> str:
    """What a camera reads off the receipt's screen."""
    square = page.get_by_test_id("receipt-square").locator("svg")
    square.scroll_into_view_if_needed()
    (found,) = zxingcpp.read_barcodes(Image.open(io.BytesIO(square.screenshot())))
    return found.text


def test_who_signs_reads_in_spanish_and_takes_the_receipt_along(
    web: Stack, open_app: OpenApp, elsewhere: Elsewhere
) -> None:
    publish(web, days=5)
    app = open_app()
    offered(app.page)
    first, second = labels(web, 2)
    app.set_offline(True)
    web.kill_web()
    page = app.page
    app.add(first, 6)
    app.add(second, 5)
    page.get_by_test_id("finish").click()
    expect(root_of(page)).to_have_attribute("lang", "en")
    page.get_by_test_id("read-in-es").check()
    expect(root_of(page)).to_have_attribute("lang", "es")
    expect(page.get_by_test_id("sign-promised")).to_contain_text("Cada una prometida para el")
    expect(page.get_by_text("sujeto a inspección en planta")).to_be_visible()
    look(page)
    app.sign("R. Amsel")
    # The phone dies in the signer's hands, and is still in the signer's language.
    app.kill()
    page = app.open(offline=True)
    page.locator("[data-testid^='open-']").click()
    expect(root_of(page)).to_have_attribute("lang", "en")
    page.get_by_test_id("finish").click()
    expect(root_of(page)).to_have_attribute("lang", "es")
    expect(page.get_by_test_id("signer")).to_have_value("R. Amsel")
    page.get_by_test_id("finish-confirm").click()
    # Back for the driver, who never chose another language.
    expect(page.get_by_test_id("receipt")).to_contain_text("Signed by R. Amsel")
    expect(root_of(page)).to_have_attribute("lang", "en")
    look(page)
    address = scanned(page)
    assert address.startswith(f"{web.url.upper()}/R/")

    web.start_web()
    theirs = elsewhere()
    theirs.goto(address)
    theirs.get_by_role("button").click()
    expect(theirs.locator("body")).to_contain_text("try again in an hour")
    app.set_offline(False)
    app.expect_waiting(0)
    assert end_of(web, first)["signed_in"] == "es"
    theirs.goto(address)
    theirs.get_by_role("button").click()
    expect(theirs).to_have_url(f"{web.url}/receipt/")
    main = theirs.locator("main")
    expect(main).to_contain_text("Contadas; estado sujeto a inspección en planta")
    expect(main).to_contain_text("Firmado por R. Amsel. La lista se leyó en español.")
    for label in (first, second):
        expect(main).to_contain_text(f"{label[:4]}\u2009{label[4:]}")
    paper = theirs.context.request.get(f"{web.url}/receipt/receipt.pdf")
    sheets = pypdfium2.PdfDocument(paper.body())
    spanish, english = (sheet.get_textpage().get_text_range() for sheet in sheets)
    assert "Prometida para el" in spanish
    assert "Promised for" in english

    # "You took three": said on the spot, and answered with a day.
    theirs.locator("#said").fill("Eran tres, no dos.")
    theirs.locator("#theirs").fill("3")
    theirs.locator("form[action$='otherwise'] button").click()
    expect(main.get_by_role("status")).to_contain_text("Lo aclaramos a más tardar el")
    [(said, count)] = web.rows(
        "SELECT w.text, d.theirs FROM custody_dispute d JOIN custody_dispute_step s"
        " ON s.dispute_id = d.uid JOIN people_words w ON w.uid = s.words WHERE d.visit = %s",
        told(web, first)["pickup"],
    )
    assert (said, count) == ("Eran tres, no dos.", 3)


def test_who_will_not_sign_says_why_and_the_receipt_says_it_in_any_language(
    web: Stack, open_app: OpenApp
) -> None:
    app = open_app()
    page = app.page
    [label] = labels(web, 1)
    app.add(label, 6)
    page.get_by_test_id("finish").click()
    page.get_by_test_id("sign-refuses").check()
    page.get_by_test_id("finish-confirm").click()
    expect(page.get_by_test_id("refused-fault")).to_have_text(
        "Choose why they will not sign; the reason is kept."
    )
    page.get_by_test_id("refused-other").check()
    page.get_by_test_id("finish-confirm").click()
    expect(page.get_by_test_id("unsigned-fault")).to_be_visible()
    page.get_by_test_id("refused-count").check()
    page.get_by_test_id("unsigned").fill("they say two")
    look(page)
    page.get_by_test_id("finish-confirm").click()
    signed = page.get_by_test_id("receipt-signed")
    expect(signed).to_have_text("They would not sign: they dispute the count. they say two")
    page.get_by_test_id("read-in-es").check()
    expect(signed).to_have_text("No quisieron firmar: no aceptan la cuenta. they say two")
    page.get_by_test_id("receipt-done").click()
    expect(root_of(page)).to_have_attribute("lang", "en")
    app.expect_waiting(0)
    end = end_of(web, label)
    assert (end["refused"], end["unsigned"]) == ("count", "they say two")
    assert end["nobody_there"] is False
    assert {"signed", "signer", "receipt_key"}.isdisjoint(end), "nobody signed, nothing opens it"
