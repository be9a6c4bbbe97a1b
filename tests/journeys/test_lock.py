"""A device that several people use: a PIN says who, a locked one only sends, ten wrong ones empty
it, and nothing that was entered is lost by any of it."""

import re

import pytest
from playwright.sync_api import Page, expect

from tests.journeys.app import PIN, App
from tests.journeys.barriers import look
from tests.journeys.conftest import OpenApp
from tests.world.stack import Stack

NOORS = "580264"
WRONG = "904417"


@pytest.fixture
def noor(web: Stack) -> str:
    """Another driver of the same store."""
    cast = web.cast
    if "noor" not in cast:
        cast["noor"] = web.call(f"hire({cast['store']!r}, 'driver', 'Noor', 'Vance')").strip()
        web.call("settle()")
    return str(cast["noor"])


@pytest.fixture
def app(noor: str, open_app: OpenApp) -> App:
    return open_app()


def told_by(stack: Stack, label: str) -> list[tuple[str]]:
    return stack.rows("SELECT by::text FROM custody_fact WHERE label = %s", label)


def device(stack: Stack) -> tuple[str, str]:
    [row] = stack.rows(
        "SELECT uid::text, status FROM people_device ORDER BY enrolled_at DESC LIMIT 1"
    )
    return row


def try_pin(page: Page, pin: str) -> None:
    """Six digits by the keys of the screen."""
    for digit in pin:
        page.get_by_test_id(f"pin-{digit}").click()


def test_each_goes_on_where_they_were_and_what_is_entered_is_of_who_unlocked(
    web: Stack, app: App, noor: str
) -> None:
    page, driver = app.page, web.cast["driver"]
    mine, half, hers = (web.cast["labels"].pop() for _ in range(3))
    a_plain_or_a_taken_pin_is_not_had(app, noor)
    app.add_person(noor, NOORS)
    expect(page.get_by_test_id("pin-set")).to_contain_text("Noor Vance has a PIN")
    look(page)
    page.locator(".back").click()
    page.locator("[data-testid^='open-']").click()
    app.set_offline(True)
    app.add(mine, 6)
    page.get_by_test_id("label").fill(half)

    # Locked, it shows nothing and sends what it has.
    app.by_hand()
    page.get_by_test_id("lock-now").click()
    expect(page.get_by_test_id("lock")).to_be_visible()
    expect(page.locator("main")).not_to_contain_text(mine[4:])
    app.expect_waiting(1)
    app.set_offline(False)
    app.expect_waiting(0)
    assert told_by(web, mine) == [(driver,)]
    look(page)

    # The same one is back at the half-filled sheet; the next one is not.
    try_pin(page, WRONG)
    expect(page.get_by_test_id("pin-said")).to_contain_text("No PIN of this device")
    try_pin(page, PIN)
    expect(page.get_by_test_id("label")).to_have_value(f"{half[:4]}\u2009{half[4:]}")
    page.get_by_test_id("lock-now").click()
    try_pin(page, NOORS)
    left = page.get_by_test_id("left-here")
    expect(left).to_contain_text(re.compile("has a pickup open here"))
    look(page)
    page.locator("[data-testid^='open-']").click()
    page.get_by_test_id("label").fill("")
    app.add(hers, 7)
    app.expect_waiting(0)
    assert told_by(web, hers) == [(noor,)]
    assert told_by(web, mine) == [(driver,)]

    # Killed and without signal: locked, and open by either PIN.
    app.pin = NOORS
    app.kill()
    page = app.open(offline=True)
    app.somebody_else(PIN)
    expect(page.get_by_test_id("left-here")).to_have_count(0)


def a_plain_or_a_taken_pin_is_not_had(app: App, noor: str) -> None:
    page = app.page
    page.get_by_test_id("who-change").click()
    look(page)
    page.get_by_test_id("who-add").click()
    look(page)
    page.get_by_test_id(f"person-{noor}").click()
    said = page.get_by_test_id("pin-said")
    for pin, why in (("111111", "one digit six times"), ("234567", "runs in order")):
        try_pin(page, pin)
        expect(said).to_contain_text(why)
    look(page)
    page.get_by_test_id("pin-new").fill(NOORS)
    page.get_by_test_id("pin-again").fill(WRONG)
    expect(said).to_contain_text("not the same")
    page.get_by_test_id("pin-new").fill(PIN)
    page.get_by_test_id("pin-again").fill(PIN)
    expect(said).to_contain_text("cannot be had")
    page.locator(".back").click()
    page.locator(".back").click()


def test_ten_wrong_pins_take_the_lists_and_leave_what_was_entered_which_is_sent(
    web: Stack, app: App, noor: str
) -> None:
    mine, half = web.cast["labels"].pop(), web.cast["labels"].pop()
    uid, _ = device(web)
    # Closed in peace, a browser has written its cookie down; it may be killed from then on.
    assert app.context is not None
    app.context.close()
    web.kill_web()  # a worker that has started anew knows of no offline
    page = app.open(offline=True)
    page.locator("[data-testid^='open-']").click()
    app.add(mine, 6)
    page.get_by_test_id("label").fill(half)
    expect(page.get_by_test_id("label")).to_have_value(f"{half[:4]}\u2009{half[4:]}")
    page.clock.install()
    app.by_hand()
    page.get_by_test_id("lock-now").click()
    for wrong in range(1, 7):
        a_wrong_one(page, wrong)
    expect(page.get_by_test_id("pin-left")).to_have_count(0)

    # The count and the waiting survive a kill.
    app.kill()
    page = app.open(offline=True)
    page.clock.install()
    expect(page.get_by_test_id("pin-said")).to_contain_text("The next try in")
    page.clock.fast_forward(61_000)
    for wrong in range(7, 10):
        a_wrong_one(page, wrong)
        expect(page.get_by_test_id("pin-left")).to_contain_text(re.compile(rf"^{10 - wrong} |One"))
    look(page)
    page.get_by_test_id("pin").fill(WRONG)
    expect(page.get_by_test_id("emptied")).to_contain_text("Ten wrong PINs")
    look(page)
    rows = "SELECT count(*) FROM custody_fact WHERE label = %s"
    assert web.rows(rows, mine) == [(0,)]
    app.expect_waiting(1)
    web.start_web()
    app.set_offline(False)
    app.expect_waiting(0)
    assert told_by(web, mine) == [(web.cast["driver"],)]

    # The office's code makes it the same device again, with the sheet as it was left.
    page.get_by_test_id("lock-code").click()
    page.get_by_test_id("enrol-code").fill(web.fresh_code())
    page.get_by_test_id("enrol-submit").click()
    app.choose(noor, NOORS)
    assert device(web) == (uid, "active")
    expect(page.get_by_test_id("left-here")).to_contain_text("has a pickup open here")
    page.locator("[data-testid^='open-']").click()
    expect(page.get_by_test_id("label")).to_have_value(f"{half[:4]}\u2009{half[4:]}")


def a_wrong_one(page: Page, wrong: int) -> None:
    """One more; waits until the next may be tried."""
    page.get_by_test_id("pin").fill(WRONG)
    expect(page.get_by_test_id("lock")).to_have_attribute("data-wrong", str(wrong))
    page.clock.fast_forward(61_000)
    expect(page.get_by_test_id("pin")).to_be_editable()


def test_nobody_touched_it_for_a_while_and_it_is_locked(web: Stack, app: App) -> None:
    page = app.page
    page.clock.install()
    page.get_by_test_id("who-change").click()
    page.get_by_test_id("idle-2").click()
    expect(page.get_by_test_id("idle-2")).to_have_attribute("aria-pressed", "true")
    app.by_hand()
    page.clock.fast_forward(110_000)
    page.mouse.move(50, 300)
    page.clock.fast_forward(110_000)
    expect(page.get_by_test_id("lock-now")).to_be_visible()
    page.clock.fast_forward(20_000)
    expect(page.get_by_test_id("lock")).to_be_visible()
    page.get_by_test_id("pin").fill(PIN)
    app.expect_open()
    # A phone that slept in a pocket runs no timer: it is looked at when it wakes, before a touch.
    page.clock.set_fixed_time(page.evaluate("Date.now()") / 1000 + 121)
    page.mouse.move(60, 310)
    expect(page.get_by_test_id("lock")).to_be_visible()
