"""A driver's day of four stops, offline for most of it and killed twice: counted before loading, a
stop skipped, one of his own, a delivery in part, nobody there, one short at the dock. Then the
office's sheet says all of it.
"""

import re
from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import FilePayload, Locator, Page, Playwright, expect

from tests.journeys import barriers
from tests.journeys.app import App
from tests.journeys.cargo import Cargo
from tests.journeys.test_road import counted, nothing_left, said, taken
from tests.sync.test_photos import picture
from tests.world.stack import Stack

__all__ = ["nothing_left"]


@pytest.fixture(scope="module")
def cargo(stack: Stack) -> Cargo:
    return Cargo(stack)


@pytest.fixture
def app(web: Stack, playwright: Playwright, chromium: str) -> Iterator[Callable[[], App]]:
    """An enrolled phone in the hands of the store's driver, opened once its sheet is handed."""
    opened: list[App] = []

    def make() -> App:
        made = App(playwright, chromium, web.url)
        opened.append(made)
        made.enrol(web.fresh_code(), web.cast["driver"])
        return made

    yield make
    for one in opened:
        one.close()


def open_yard(web: Stack, name: str, gate: str, address: str = "") -> str:
    said_ = web.call(f"open_yard({web.cast['store']!r}, {name!r}, {gate!r}, {address!r})")
    return str(said_.split()[-1])


def stop(page: Page, uid: str) -> Locator:
    return page.get_by_test_id(f"stop-{uid}")


def shot(page: Page) -> None:
    """A photo of where something stands."""
    data = picture(size=(640, 480))
    file = FilePayload(name="there.jpg", mimeType="image/jpeg", buffer=data)
    page.get_by_test_id("photo").set_input_files(file)
    expect(page.get_by_role("img")).to_be_visible()


def test_a_day_with_everything_in_it_stands_on_the_offices_sheet(
    web: Stack, cargo: Cargo, app: Callable[[], App], chromium: str, playwright: Playwright
) -> None:
    cast = web.cast
    quarry = open_yard(web, "Orrow Stone", "Quarry gate", "12 Kiln Road")
    mill = open_yard(web, "Sable Mill", "Mill yard", "3 Weir Lane")
    far = open_yard(web, "Tansy Freight", "Depot", "40 Ridge Way")
    web.call(f"reachable({cast['yard']!r}, 'Ines Corvo', '+1 555 555 0142', 41.1234, -88.5)")
    north = cargo.come_home(3, rejected=1)
    stone, milled = cargo.come_home(1, quarry), cargo.come_home(1, mill)
    run, stops = cargo.sheet(
        [
            {"yard": cast["yard"], "drop": north, "to": "00:01"},
            {"yard": quarry, "drop": stone},
            {"yard": mill, "drop": milled},
            {"site": cast["store"]},
        ],
        vehicle="Truck 4",
    )
    phone = app()
    page = phone.page
    expect(stop(page, stops[0])).to_be_visible()
    phone.set_offline(True)

    # Loaded in reverse order of the stops, counted blind; one is left on the rack at first.
    page.get_by_test_id("next-action").click()
    counted(page, 5)
    heads = page.locator(".scan-page h2").all_inner_texts()
    assert [head[0] for head in heads[:3]] == ["3", "2", "1"]
    for label in [*milled, *stone, *north[:2]]:
        taken(page, label)
    page.get_by_test_id("drive-off").click()
    expect(page.get_by_test_id("short")).to_contain_text(north[2][4:])
    barriers.look(page)
    taken(page, north[2])
    page.get_by_test_id("drive-off").click()

    # The first stop: late, found by its place, its contact called by name.
    expect(stop(page, stops[0])).to_contain_text("The window ended at")
    stop(page, stops[0]).locator("button").first.click()
    way = page.get_by_test_id("way-there")
    expect(way).to_have_attribute("href", re.compile(r"^geo:41\.1234,-88\.5\?q=41"))
    call = page.get_by_test_id("call")
    expect(call).to_have_text("Call Ines Corvo")
    expect(call).to_have_attribute("href", "tel:+15555550142")
    expect(page.get_by_test_id("ways")).to_contain_text("4 Quarry Lane")
    page.get_by_test_id("arrive").click()
    expect(page.get_by_test_id("arrived")).to_be_visible()
    barriers.look(page)
    phone.kill()
    page = phone.open(offline=True)
    expect(stop(page, stops[0])).to_contain_text("Arrived")
    delivered_in_part(page, north)
    phone.sign("R. Amsel")
    page.get_by_test_id("finish-delivery").click()
    page.get_by_test_id("delivered-done").click()

    # The second is skipped; what was for it stays on the list of the truck.
    stop(page, stops[1]).locator("button").first.click()
    expect(page.get_by_test_id("way-there")).to_have_attribute("href", "geo:0,0?q=12%20Kiln%20Road")
    expect(page.get_by_test_id("call")).to_have_count(0)
    page.get_by_test_id("skip").click()
    page.get_by_test_id("skip-closed").check()
    page.get_by_test_id("skip-note").fill("chain on the gate")
    phone.kill()
    page = phone.open(offline=True)
    stop(page, stops[1]).locator("button").first.click()
    expect(page.get_by_test_id("skip-note")).to_have_value("chain on the gate")
    barriers.look(page)
    page.get_by_test_id("skip-confirm").click()
    expect(stop(page, stops[1])).to_contain_text("Skipped: Gate closed, chain on the gate")
    expect(stop(page, stops[1])).to_contain_text("1 casing on your truck, back on the list")

    # A yard that is on no sheet becomes a stop of the run, behind the one before.
    page.get_by_test_id("yard-search").fill("Tansy")
    page.get_by_test_id(f"yard-{far}").click()
    expect(page.get_by_test_id("run-grows")).to_be_visible()
    page.get_by_test_id("why-here").fill("waved in from the road")
    barriers.look(page)
    page.get_by_test_id("start-pickup").click()
    picked = cast["labels"].pop()
    phone.add(picked, 6, 6)
    phone.finish(1)
    page.get_by_test_id("receipt-done").click()
    own = page.locator("[data-state='done']", has_text="Tansy Freight")
    expect(own).to_have_count(1)

    # Nobody is there at the third: where it stands is told, with a photo.
    page.get_by_test_id("next-action").click()
    page.get_by_test_id(f"tick-{milled[0]}").click()
    said(page, "good", milled[0])
    page.get_by_test_id("end-delivery").click()
    page.get_by_test_id("sign-nobody").check()
    page.get_by_test_id("finish-delivery").click()
    page.get_by_test_id("set-down").fill("behind the shop, gate 2")
    page.get_by_test_id("unsigned").fill("nobody at the gate")
    shot(page)
    barriers.look(page)
    page.get_by_test_id("finish-delivery").click()
    page.get_by_test_id("delivered-done").click()

    # At the store four are counted and three come: one is short, by its label.
    page.get_by_test_id("next-action").click()
    counted(page, 4, "start-unloading")
    for label in [picked, stone[0]]:
        taken(page, label)
    page.get_by_test_id("end-unloading").click()
    expect(page.get_by_test_id("count-differs")).to_be_visible()
    expect(page.get_by_test_id("short")).to_contain_text(north[2][4:])
    barriers.look(page)
    page.get_by_test_id("unloaded").click()
    phone.set_offline(False)
    phone.expect_waiting(0, patience_s=40)

    query = "SELECT kind, count(*) FROM runs_happening WHERE run = %s GROUP BY kind"
    sheet = web.rows(query, run)
    assert dict(sheet) == {"counted": 2, "arrived": 1, "skipped": 1, "added": 1}
    on_the_sheet(web, playwright, chromium, run, stops, short=north[2])


def delivered_in_part(page: Page, north: list[str]) -> None:
    """One scanned, one ticked; the rejected one stays on the truck, and why is told."""
    page.get_by_test_id("next-action").click()
    expect(page.get_by_test_id("rejected")).to_contain_text("do not mount or inflate")
    taken(page, north[0])
    page.get_by_test_id(f"tick-{north[1]}").click()
    said(page, "good", north[1])
    barriers.look(page)
    page.get_by_test_id("end-delivery").click()
    left = page.get_by_test_id("not-delivered")
    left.get_by_role("button", name="They did not take it").click()


def on_the_sheet(
    web: Stack, playwright: Playwright, chromium: str, run: str, stops: list[str], *, short: str
) -> None:
    """What a dispatcher reads of it."""
    browser = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
    try:
        page = browser.new_page(viewport={"width": 1440, "height": 900}, locale="en-US")
        web.call("let_in('odile', 'three short words')")
        page.goto(f"{web.url}/office/sign-in")
        page.locator("#user").fill("odile")
        page.locator("#password").fill("three short words")
        page.keyboard.press("Enter")
        expect(page).to_have_url(f"{web.url}/office/")
        page.goto(f"{web.url}/office/sheets/{run}/")

        def at(uid: str) -> Locator:
            return page.locator(f"#at-{uid}")

        expect(at(stops[0])).to_contain_text("arrived")
        expect(at(stops[0])).to_contain_text("They did not take it")
        expect(at(stops[1])).to_contain_text("gate closed (“chain on the gate”)")
        expect(page.locator("#stops")).to_contain_text("waved in from the road")
        nobody = at(stops[2])
        expect(nobody).to_contain_text("Set down: behind the shop, gate 2")
        expect(nobody.locator("img").first).to_be_visible()
        expect(at(stops[3])).to_contain_text("counted 4, scanned 2")
        expect(at(stops[3])).to_contain_text(short[4:])
        order = page.locator("#stops h3").all_inner_texts()
        assert [i for i, head in enumerate(order) if "Tansy" in head] == [2], order
        assert barriers.axe(page) == []
    finally:
        browser.close()


def test_where_nothing_is_known_of_a_yard_nothing_is_offered(
    web: Stack, cargo: Cargo, app: Callable[[], App]
) -> None:
    bare = open_yard(web, "Nettle Haulage", "Lot")
    _, stops = cargo.sheet([{"yard": bare, "fetch": 2}])
    page = app().page
    stop(page, stops[0]).locator("button").first.click()
    expect(page.get_by_test_id("ways")).to_contain_text("No address is known")
    for link in ("way-there", "call", "copy"):
        expect(page.get_by_test_id(link)).to_have_count(0)
    page.get_by_test_id("arrive").click()
    page.get_by_test_id("not-arrived").click()
    expect(page.get_by_test_id("arrive")).to_be_visible()
    page.get_by_role("button", name="Back").click()
    expect(page.get_by_test_id("next-action")).to_have_text("Pick up here: 2 to fetch")
