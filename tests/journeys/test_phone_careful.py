"""Where a hand or a kill comes between: the old PIN is asked, absent signers are proven, a photo
keeps its side, a drawing that is being kept holds the end back."""

from playwright.sync_api import Page, expect

from tests.journeys.app import PIN, SCRAWL
from tests.journeys.clerk import Counter, a_drop_off
from tests.journeys.conftest import OpenApp
from tests.journeys.test_big_pickups import picture, told, visit_of
from tests.journeys.test_lock import NOORS, WRONG
from tests.world.stack import Stack


def test_whoever_changes_a_pin_types_the_one_of_now(web: Stack, open_app: OpenApp) -> None:
    app = open_app()
    page = app.page
    app.by_hand()
    page.get_by_test_id("who-change").click()
    page.get_by_test_id("who-change-pin").click()
    expect(page.get_by_test_id("pin-new")).to_have_count(0)
    page.get_by_test_id("pin-old").fill(WRONG)
    expect(page.get_by_test_id("pin-said")).to_contain_text("That is not your PIN.")
    expect(page.get_by_test_id("pin-new")).to_have_count(0)
    page.get_by_test_id("pin-old").fill(PIN)
    app.set_pin(NOORS)
    page.get_by_test_id("lock-now").click()
    page.get_by_test_id("pin").fill(PIN)
    expect(page.get_by_test_id("pin-said")).to_contain_text("No PIN of this device")
    page.get_by_test_id("pin").fill(NOORS)
    app.expect_open()


def test_a_trailer_that_nobody_signs_for_and_nobody_saw_leave_is_photographed(
    web: Stack, open_app: OpenApp
) -> None:
    app = open_app()
    page = app.page
    visit = visit_of(page)
    page.get_by_test_id("take-trailer").click()
    page.get_by_test_id("trailer-number").fill("TW-120")
    page.get_by_test_id("sign-nobody").check()
    page.get_by_test_id("trailer-end").click()
    expect(page.get_by_test_id("trailer-photo-fault")).to_contain_text("take a photo")
    expect(page.get_by_test_id("photo")).to_be_focused()
    page.get_by_test_id("photo").set_input_files(picture("gray"))
    expect(page.locator(".photos img")).to_have_count(1)
    page.get_by_test_id("trailer-end").click()
    expect(page.get_by_test_id("receipt")).to_contain_text("TW-120")
    app.expect_waiting(0)
    [end] = told(web, "pickup_end", visit)
    assert end["nobody_there"] is True
    assert len(end["photos"]) == 1


CUT_OFF_AFTER_THE_PHOTO = """() => {
    const real = IDBObjectStore.prototype.put;
    let photo = false;
    IDBObjectStore.prototype.put = function (value, key) {
        const asked = real.call(this, value, key);
        if (this.name === "draft_photos") photo = true;
        else if (photo && this.name === "drafts") this.transaction.abort();
        return asked;
    };
}"""
"""As a kill does right after a photo was written: nothing of its sheet is written any more."""


def test_a_photo_of_a_pile_that_outlived_a_kill_stands_at_its_side(
    web: Stack, open_app: OpenApp
) -> None:
    app = open_app()
    page = app.page
    app.add(web.cast["labels"].pop(), 6)
    page.get_by_test_id("finish").click()
    page.get_by_test_id("sign-nobody").check()
    expect(page.get_by_test_id("pile-after")).to_be_visible()
    page.evaluate(CUT_OFF_AFTER_THE_PHOTO)
    page.get_by_test_id("pile-after").set_input_files(picture("green"))
    expect(page.locator(".photos img")).to_have_count(1)
    app.kill()
    page = app.open()
    page.locator("[data-testid^='open-']").click()
    page.get_by_test_id("finish").click()
    expect(page.get_by_role("img", name="What is left after")).to_have_count(1)


def stroke(page: Page) -> None:
    box = page.get_by_test_id("sign-pad").bounding_box()
    assert box is not None
    at = [(box["x"] + x * box["width"], box["y"] + y * box["height"]) for x, y in SCRAWL]
    page.mouse.move(*at[0])
    page.mouse.down()
    for point in at[1:]:
        page.mouse.move(*point, steps=5)
    page.mouse.up()


HELD_BACK = """() => {
    const real = crypto.subtle.digest.bind(crypto.subtle);
    window.held = [];
    crypto.subtle.digest = (...what) =>
        new Promise((go) => window.held.push(() => go(real(...what))));
    const drawn = HTMLCanvasElement.prototype.toBlob;
    window.drawn = 0;
    HTMLCanvasElement.prototype.toBlob = function (then, ...more) {
        return drawn.call(this, (blob) => { then(blob); window.drawn++; }, ...more);
    };
}"""


def test_a_counter_has_no_absent_signer_and_waits_for_each_drawing_that_is_being_kept(
    store: Stack, counter: Counter
) -> None:
    page = counter.page
    a_drop_off(counter, 1)
    counter.expect_at("tin")
    page.get_by_test_id("tin").fill("2924")
    page.get_by_test_id("treads").fill("5 5 6")
    page.get_by_test_id("save").click()
    expect(page.get_by_test_id("sign-refuses")).to_be_visible()
    expect(page.get_by_test_id("sign-nobody")).to_have_count(0)

    page.get_by_test_id("sign-pad").scroll_into_view_if_needed()
    page.evaluate(HELD_BACK)
    stroke(page)
    page.wait_for_function("() => held.length === 1")
    stroke(page)
    page.wait_for_function("() => drawn === 2")
    # The first is kept while the second has not begun to be.
    for _ in range(2):
        page.wait_for_function("() => held.length > 0")
        page.evaluate("held.shift()()")
    page.wait_for_function("() => held.length === 1")
    expect(page.get_by_test_id("finish-confirm")).to_be_disabled()
    for _ in range(2):
        page.wait_for_function("() => held.length > 0")
        page.evaluate("held.shift()()")
    expect(page.get_by_test_id("finish-confirm")).to_be_enabled()
