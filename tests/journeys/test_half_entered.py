"""What is half entered on a driver's phone is neither lost at the end of a pickup nor mixed up with
another casing, and what was not saved yet does not get into what is."""

from PIL import Image
from playwright.sync_api import FilePayload, Page, expect

from tests.journeys.conftest import OpenApp
from tests.journeys.film import jpeg
from tests.world.stack import Stack

SLOW = """() => {
  const real = createImageBitmap;
  window.createImageBitmap = async (...told) => {
    await new Promise((done) => { window.developed = done; });
    return real(...told);
  };
}"""
"""A photo is made small when the test says so: a weak phone takes seconds for it."""


def photo() -> FilePayload:
    picture = jpeg(Image.effect_noise((64, 48), 60))
    return {"name": "a.jpg", "mimeType": "image/jpeg", "buffer": picture}


def note(page: Page, kind: str) -> None:
    page.get_by_test_id("zone-crown").click()
    page.get_by_test_id(f"kind-{kind}").click()


def test_a_photo_that_is_made_small_goes_to_the_finding_it_was_taken_of(
    web: Stack, open_app: OpenApp
) -> None:
    page = open_app().page
    page.evaluate(SLOW)
    page.get_by_test_id("label").fill(web.cast["labels"].pop())
    page.get_by_test_id("condition-open").click()
    note(page, "cut")
    note(page, "nail_hole")
    page.get_by_test_id("finding-photo").set_input_files([photo()])
    # Until it is there no finding changes its number.
    for blocked in ("noted-off-1", "finding-off", "save"):
        expect(page.get_by_test_id(blocked)).to_be_disabled()
    page.evaluate("window.developed()")
    expect(page.get_by_test_id("noted").locator("li").nth(1)).to_contain_text("1 photo")
    expect(page.get_by_test_id("noted").locator("li").nth(0)).not_to_contain_text("photo")
    expect(page.get_by_test_id("noted-off-1")).to_be_enabled()

    # What was taken off is put back as long as no other finding is looked at.
    page.get_by_test_id("noted-off-1").click()
    expect(page.get_by_test_id("noted-back")).to_be_visible()
    page.get_by_test_id("noted-change-1").click()
    expect(page.get_by_test_id("noted-back")).to_have_count(0)


def test_scrap_that_was_not_saved_holds_the_finish_up(web: Stack, open_app: OpenApp) -> None:
    app = open_app()
    page, label = app.page, web.cast["labels"].pop()
    page.get_by_test_id("label").fill(label)
    page.get_by_test_id("save").click()
    expect(page.get_by_test_id(f"casing-{label}")).to_be_visible()
    page.get_by_test_id("scrap").click()
    page.get_by_test_id("scrap-step-5").click()
    expect(page.get_by_test_id("pieces")).to_have_value("6")
    page.locator(".back").click()
    page.get_by_test_id("finish").click()
    expect(page.get_by_test_id("finish-error")).to_contain_text("scrap")
    expect(page.get_by_test_id("finish-confirm")).to_be_disabled()
    page.get_by_role("button", name="Clear what is half entered").click()
    expect(page.get_by_test_id("finish-error")).to_have_count(0)
    expect(page.get_by_test_id("finish-confirm")).to_be_enabled()
