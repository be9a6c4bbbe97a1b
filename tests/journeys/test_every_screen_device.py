"""The device itself, state by state: enrolled, held, locked, shut, in need of a person. No barrier
in either language, in either light, at a glove's sizes, and at twice the size (barriers.py).

A state that is no longer come by, or has no name in the table, fails.
"""

from collections.abc import Iterator
from itertools import chain
from uuid import UUID, uuid4

import pytest
from playwright.sync_api import Page, Playwright, expect

from tests.journeys.app import PIN, App
from tests.journeys.barriers import gloved, walk_through
from tests.journeys.test_device import newest_device
from tests.journeys.test_lock import NOORS, WRONG, a_wrong_one
from tests.world.phone import Phone
from tests.world.stack import Stack

HELD = """
    enrolling: empty
    enrolling: with fault
    who holds it: names
    a PIN: too plain
    a PIN: once more
    a PIN: two that differ
    who holds it: one has it
    who holds it: a person added
    the old PIN: asked
    the old PIN: wrong
    a sheet in question
    needs you: today
    needs you: the list
"""
LOCKED = """
    this device: unsent
    this device: saved to a file
    this device: while it is locked
    locked
    locked: a wrong PIN
    locked: a while to wait
    locked: few tries left
    emptied
    closing: today
    revoked: today
    revoked: a sheet
"""


@pytest.fixture
def ida(web: Stack) -> str:
    """Another driver of the same store."""
    cast = web.cast
    if "ida" not in cast:
        cast["ida"] = web.call(f"hire({cast['store']!r}, 'driver', 'Ida', 'Moss')").strip()
        web.call("settle()")
    return str(cast["ida"])


def test_every_screen_of_the_device_is_without_a_barrier(
    web: Stack, ida: str, playwright: Playwright, chromium: str
) -> None:
    app = App(playwright, chromium, web.url)
    try:
        walk = chain(held(app, web, ida), locked(app, web))
        walk_through(app.page, HELD + LOCKED, walk, gloved)
    finally:
        app.close()


def held(app: App, web: Stack, ida: str) -> Iterator[str]:
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
    expect(page.get_by_test_id(f"person-{ida}")).to_be_visible()
    yield "who holds it: names"
    page.get_by_test_id(f"person-{web.cast['driver']}").click()
    said = page.get_by_test_id("pin-said")
    page.get_by_test_id("pin-new").fill("111111")
    expect(said).to_contain_text("one digit six times")
    yield "a PIN: too plain"
    page.get_by_test_id("pin-new").fill(PIN)
    expect(page.get_by_test_id("pin-again")).to_be_visible()
    yield "a PIN: once more"
    page.get_by_test_id("pin-again").fill(PIN[::-1])
    expect(said).to_contain_text("not the same")
    yield "a PIN: two that differ"
    app.set_pin(PIN)
    page.get_by_test_id("who-change").click()
    expect(page.get_by_test_id("who-next")).to_be_visible()
    yield "who holds it: one has it"
    page.get_by_test_id("who-add").click()
    page.get_by_test_id(f"person-{ida}").click()
    app.set_pin(NOORS)
    expect(page.get_by_test_id("pin-set")).to_contain_text("Ida Moss has a PIN")
    yield "who holds it: a person added"
    page.get_by_test_id("who-change-pin").click()
    expect(page.get_by_test_id("pin-old")).to_be_visible()
    yield "the old PIN: asked"
    page.get_by_test_id("pin-old").fill(WRONG)
    expect(said).to_contain_text("not your PIN")
    yield "the old PIN: wrong"
    page.get_by_test_id("pin-old").fill(PIN)
    expect(page.get_by_test_id("pin-new")).to_be_visible()
    page.locator(".back").click()
    page.locator(".back").click()
    yield from answered_otherwise(app, web)


def answered_otherwise(app: App, web: Stack) -> Iterator[str]:
    """One casing's label was another's first; the id of another entry was, on another device."""
    page, cast = app.page, web.cast
    twice, reused = cast["labels"].pop(), cast["labels"].pop()
    app.start_pickup(cast["yard"])
    app.set_offline(True)
    app.add(twice, 6)
    app.add(reused, 7)
    ours = page.get_by_test_id(f"casing-{reused}").get_attribute("data-id") or ""
    other = Phone(web.door, UUID(cast["other_driver"]))
    assert other.enrol(web.fresh_code()).status == 200
    pickup = uuid4()
    other.pick_up(twice, UUID(cast["yard"]), pickup)
    entry = other.pick_up(cast["labels"].pop(), UUID(cast["yard"]), pickup)
    entry["id"] = ours
    assert other.push().status == 200
    app.set_offline(False)
    app.expect_standing(twice, "in_question")
    expect(page.get_by_test_id("needs-you")).to_be_visible()
    yield "a sheet in question"
    page.locator("header .mark").click()
    yield "needs you: today"
    page.get_by_test_id("needs-you").click()
    expect(page.get_by_test_id(f"again-{ours}")).to_be_visible()
    yield "needs you: the list"


def locked(app: App, web: Stack) -> Iterator[str]:
    page = app.page
    page.get_by_test_id("needs-device").click()
    expect(page.get_by_test_id("device-save")).to_be_visible()
    yield "this device: unsent"
    with page.expect_download():
        page.get_by_test_id("device-save").click()
    expect(page.get_by_test_id("device-saved")).not_to_be_empty()
    yield "this device: saved to a file"
    page.clock.install()
    page.get_by_test_id("lock-now").click()
    expect(page.get_by_test_id("device")).to_be_visible()
    yield "this device: while it is locked"
    page.locator(".back").click()
    expect(page.get_by_test_id("lock")).to_be_visible()
    yield "locked"
    a_wrong_one(page, 1)
    yield "locked: a wrong PIN"
    for wrong in range(2, 6):
        a_wrong_one(page, wrong)
    page.get_by_test_id("pin").fill(WRONG)
    expect(page.get_by_test_id("pin-said")).to_contain_text("The next try in")
    yield "locked: a while to wait"
    page.clock.fast_forward(61_000)
    expect(page.get_by_test_id("pin")).to_be_editable()
    for wrong in range(7, 10):
        a_wrong_one(page, wrong)
    expect(page.get_by_test_id("pin-left")).to_be_visible()
    yield "locked: few tries left"
    page.get_by_test_id("pin").fill(WRONG)
    expect(page.get_by_test_id("emptied")).to_be_visible()
    yield "emptied"
    page.get_by_test_id("lock-code").click()
    page.get_by_test_id("enrol-code").fill(web.fresh_code())
    page.get_by_test_id("enrol-submit").click()
    app.choose(web.cast["driver"])
    yield from shut(app, page, web)


def shut(app: App, page: Page, web: Stack) -> Iterator[str]:
    app.start_pickup(web.cast["yard"])
    page.locator("header .mark").click()
    web.call(f"people.close_device(uid={newest_device(web)!r})")
    app.set_offline(True)
    app.set_offline(False)
    expect(page.get_by_test_id("shut")).to_be_visible()
    yield "closing: today"
    web.call(f"people.revoke_device(uid={newest_device(web)!r})")
    page.reload()
    expect(page.get_by_test_id("shut")).to_contain_text("shut this phone off")
    yield "revoked: today"
    page.locator("[data-testid^='open-']").first.click()
    expect(page.locator("main")).to_contain_text("Nothing can be saved on this phone until")
    yield "revoked: a sheet"
