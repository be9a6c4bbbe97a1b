"""A driver's day on the road, state by state: no barrier in either language, in either light, at a
glove's sizes, and at twice the size (tests/journeys/barriers.py).

A state that is no longer come by, or has no name in the table, fails.
"""

import re
from collections.abc import Iterator

from playwright.sync_api import FilePayload, Page, Playwright, expect

from tests.journeys.app import App
from tests.journeys.barriers import gloved, walk_through
from tests.journeys.cargo import Cargo
from tests.sync.test_photos import picture
from tests.world.stack import Stack

ROAD = """
    today: no sheet
    today: a sheet to be loaded
    today: a yard searched for
    loading: not counted
    loading: empty
    loading: a rejected one
    loading: short
    today: what is next
    stop: next
    stop: arrived
    delivering: empty
    delivering: not the customer's
    delivering: one handed over
    delivery's end: with fault
    delivery's end: signed
    delivery's end: they will not sign
    delivery's end: nobody there, with fault
    delivered
    skipping: with fault
    stop: skipped
    a stop of one's own
    today: what was done
    on the truck
    unloading: count first
    unloading: empty
    unloading: reckoned
    today: no signal
"""


def test_every_screen_of_the_road_is_without_a_barrier(
    web: Stack, playwright: Playwright, chromium: str
) -> None:
    app = App(playwright, chromium, web.url)
    try:
        app.enrol(web.fresh_code(), web.cast["driver"])
        walk_through(app.page, ROAD, on_the_road(app, web), gloved)
    finally:
        app.close()


def open_yard(web: Stack, name: str, gate: str, address: str) -> str:
    said = web.call(f"open_yard({web.cast['store']!r}, {name!r}, {gate!r}, {address!r})")
    return str(said.split()[-1])


def on_the_road(app: App, web: Stack) -> Iterator[str]:
    cast, cargo, page = web.cast, Cargo(web), app.page
    quarry = open_yard(web, "Orrow Stone and Gravel", "Quarry gate", "12 Kiln Road")
    far = open_yard(web, "Tansy Freight", "Depot", "40 Ridge Way")
    web.call(f"reachable({cast['yard']!r}, 'Ines Corvo', '+1 555 555 0142', 41.1234, -88.5)")
    expect(page.get_by_test_id("yard-search")).to_be_visible()
    yield "today: no sheet"
    mine, foreign = cargo.come_home(3, rejected=1), cargo.come_home(1, quarry)
    drops = {"yard": cast["yard"], "drop": mine, "fetch": 2, "note": "gate 4", "to": "00:01"}
    _, stops = cargo.sheet(
        [drops, {"yard": quarry, "drop": foreign}, {"site": cast["plant"]}], vehicle="Truck 4"
    )
    app.set_offline(True)
    app.set_offline(False)
    expect(page.get_by_test_id("next-action")).to_be_visible()
    yield "today: a sheet to be loaded"
    page.get_by_test_id("yard-search").fill("tan")
    yield "today: a yard searched for"
    page.get_by_test_id("yard-search").fill("")
    yield from loading(page, mine, foreign)
    yield from delivering(app, stops[0], mine, foreign[0])
    yield from on_the_way(app, stops[1], far, cast["labels"].pop())
    yield from unloading(app)


def scan(page: Page, label: str) -> None:
    page.get_by_test_id("label").fill(label)
    page.get_by_test_id("label").press("Enter")
    expect(page.get_by_test_id("label")).to_have_value("")
    shown = f"{label[:4]}\N{THIN SPACE}{label[4:]}"
    asked, said = page.get_by_test_id("question"), page.get_by_test_id("verdict")
    expect(asked.or_(said.filter(has_text=shown)).first).to_be_visible()


def stop(page: Page, uid: str) -> None:
    page.get_by_test_id(f"stop-{uid}").locator("button").first.click()
    expect(page.get_by_test_id("stop")).to_be_visible()


def loading(page: Page, mine: list[str], foreign: list[str]) -> Iterator[str]:
    page.get_by_test_id("next-action").click()
    expect(page.get_by_test_id("own-count")).to_be_visible()
    yield "loading: not counted"
    page.get_by_test_id("own-count").fill("4")
    page.get_by_test_id("start-loading").click()
    expect(page.get_by_test_id("label")).to_be_visible()
    yield "loading: empty"
    scan(page, mine[2])
    yield "loading: a rejected one"
    page.get_by_test_id("drive-off").click()
    expect(page.get_by_test_id("short")).to_be_visible()
    yield "loading: short"
    for label in (mine[0], mine[1], *foreign):
        scan(page, label)
    page.get_by_test_id("drive-off").click()
    expect(page.locator("[data-state='next']")).to_have_count(1)
    yield "today: what is next"


def delivering(app: App, uid: str, mine: list[str], foreign: str) -> Iterator[str]:
    page = app.page
    stop(page, uid)
    yield "stop: next"
    page.get_by_test_id("arrive").click()
    expect(page.get_by_test_id("arrived")).to_be_visible()
    yield "stop: arrived"
    page.get_by_test_id("next-action").click()
    expect(page.get_by_test_id("label")).to_be_visible()
    yield "delivering: empty"
    scan(page, foreign)
    expect(page.get_by_test_id("question")).to_be_visible()
    yield "delivering: not the customer's"
    page.get_by_test_id("answer-no").click()
    scan(page, mine[2])
    yield "delivering: one handed over"
    page.get_by_test_id("end-delivery").click()
    page.get_by_test_id("finish-delivery").click()
    expect(page.get_by_test_id("signer-fault")).to_be_visible()
    yield "delivery's end: with fault"
    page.get_by_test_id("not-delivered").get_by_role("button").first.click()
    app.sign("R. Amsel")
    yield "delivery's end: signed"
    page.get_by_test_id("sign-refuses").check()
    yield "delivery's end: they will not sign"
    page.get_by_test_id("sign-nobody").check()
    page.get_by_test_id("finish-delivery").click()
    expect(page.get_by_test_id("set-down-fault")).to_be_visible()
    yield "delivery's end: nobody there, with fault"
    page.get_by_test_id("set-down").fill("behind the shop")
    data = picture(size=(640, 480))
    shot = FilePayload(name="there.jpg", mimeType="image/jpeg", buffer=data)
    page.get_by_test_id("photo").set_input_files(shot)
    expect(page.get_by_role("img")).to_be_visible()
    page.get_by_test_id("finish-delivery").click()
    expect(page.get_by_test_id("delivered")).to_be_visible()
    yield "delivered"
    page.locator("header .mark").click()


def on_the_way(app: App, uid: str, far: str, label: str) -> Iterator[str]:
    page = app.page
    stop(page, uid)
    page.get_by_test_id("skip").click()
    page.get_by_test_id("skip-other").check()
    page.get_by_test_id("skip-confirm").click()
    expect(page.get_by_test_id("skip-note-fault")).to_be_visible()
    yield "skipping: with fault"
    page.get_by_test_id("skip-note").fill("chain on the gate")
    page.get_by_test_id("skip-confirm").click()
    expect(page.get_by_test_id(f"stop-{uid}")).to_have_attribute("data-state", "passed")
    stop(page, uid)
    expect(page.get_by_test_id("resume")).to_be_visible()
    yield "stop: skipped"
    page.locator(".back").click()
    page.get_by_test_id("yard-search").fill("Tansy")
    page.get_by_test_id(f"yard-{far}").click()
    page.get_by_test_id("why-here").fill("waved in from the road")
    yield "a stop of one's own"
    page.get_by_test_id("start-pickup").click()
    app.add(label, 6, 6)
    app.finish(1)
    page.get_by_test_id("receipt-done").click()
    expect(page.locator("[data-state='done']")).not_to_have_count(0)
    yield "today: what was done"


def unloading(app: App) -> Iterator[str]:
    page = app.page
    page.get_by_test_id("on-truck").click()
    expect(page.get_by_test_id("truck")).to_be_visible()
    yield "on the truck"
    page.go_back()
    page.get_by_test_id("unload").click()
    page.locator("[data-testid^='site-']").first.check()
    page.get_by_test_id("start-unloading").click()
    expect(page.get_by_test_id("own-count-fault")).to_be_visible()
    yield "unloading: count first"
    page.get_by_test_id("own-count").fill("9")
    page.get_by_test_id("start-unloading").click()
    expect(page.get_by_test_id("label")).to_be_visible()
    yield "unloading: empty"
    app.set_offline(True)
    page.get_by_test_id("end-unloading").click()
    expect(page.get_by_test_id("reckoned")).to_be_visible()
    yield "unloading: reckoned"
    page.get_by_test_id("unloaded").click()
    expect(page.get_by_test_id("status-line")).to_have_attribute("data-reach", re.compile("no_s"))
    yield "today: no signal"
