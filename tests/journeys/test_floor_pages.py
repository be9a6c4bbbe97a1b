"""The floor's screens are without barriers, in both languages, upright, lying and on a phone."""

import pytest
from playwright.sync_api import Page, Playwright, expect

from tests.journeys.barriers import AXE, GEOMETRY, LIGHTS, PHONE, WIDER, axe, sized
from tests.journeys.cargo import Cargo
from tests.journeys.tablet import LYING, UPRIGHT, Tablet, ordered, staffed, truck
from tests.world.stack import Stack

GLOVE_PX = 64
"""What a gloved hand hits at a station; a key of a screen that other places share has 48."""


# The room that the keys at the foot take is measured in the frame after they were drawn.
DRAWN = "() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))"


def hit(page: Page) -> list[str]:
    """Targets of the floor's own screens, and nothing wider than the screen; at each size."""
    found = []
    for size in (PHONE, LYING, UPRIGHT):
        sized(page, size)
        page.evaluate(DRAWN)
        found += [f"{size}: {one}" for one in page.evaluate(GEOMETRY, GLOVE_PX)]
        found += [f"{size}: {one}" for one in page.evaluate(WIDER)]
    return found


def barriers(page: Page, name: str) -> list[str]:
    found = [f"{name}: {one}" for one in hit(page)]
    for light in LIGHTS:
        page.emulate_media(reduced_motion="reduce", color_scheme=light)
        found += [f"{name}, {light}: {one}" for one in axe(page)]
    page.emulate_media(reduced_motion="reduce", color_scheme="light")
    return found


@pytest.mark.parametrize("language", ["en", "es"])
def test_no_barrier_is_found_on_any_screen_of_the_floor(
    web: Stack, playwright: Playwright, chromium: str, language: str
) -> None:
    assert AXE.exists()
    staffed(web)
    cargo = Cargo(web)
    label = ordered(cargo, tread_design="DL-41", fleet_brand="TVH", unit="T-118")
    nail = {"zone": "crown", "kind": "nail_hole", "size_mm": 8, "count": 2}
    cargo.plant.tell(label, "repair", station="initial-inspection", findings=[nail])
    held = web.cast["labels"].pop()
    cargo.plant.tell(held, "hold", station="shearography", note="odd at the bead")
    ordered(cargo)
    _, brings = truck(web, web.cast["other_store"], web.cast["other_driver"], "in")
    tablet = Tablet(playwright, chromium, web.url)
    found: list[str] = []
    try:
        tablet.enrol(web.fresh_code("plant"), web.cast["operator"])
        page = tablet.page
        if language == "es":
            page.get_by_test_id("language").click()
            expect(page.locator("html")).to_have_attribute("lang", "es")
        expect(page.get_by_test_id("station-choice")).to_be_visible()
        found += barriers(page, "stations")
        tablet.stand_at("electrical-test")
        found += barriers(page, "waits")
        tablet.scan(label)
        found += barriers(page, "casing")
        page.get_by_test_id("zone-sidewall-serial").click()
        found += barriers(page, "kinds")
        page.get_by_test_id("kind-cut").click()
        page.get_by_test_id("mm-25").click()
        found += barriers(page, "size")
        page.get_by_test_id("answer-rejected").click()
        page.get_by_test_id("reason-all").click()
        found += barriers(page, "reject")
        page.get_by_test_id("answer-back").click()
        tablet.answer(label, "repair")
        page.get_by_test_id(f"back-{label}").click()
        found += barriers(page, "take back")
        tablet.scan(held)
        found += barriers(page, "held")
        page.get_by_test_id("aside").click()
        for station in ("building", "final-inspection", "paint"):
            tablet.stand_at(station)
            tablet.scan(label)
            if station == "final-inspection":
                page.get_by_test_id("tread_design").fill("DL-40")
                expect(page.get_by_test_id("differs")).to_be_visible()
            found += barriers(page, station)
            page.get_by_test_id("aside").click()
        tablet.stand_at("curing")
        page.get_by_test_id("load-new").click()
        expect(page.get_by_test_id("load-begin")).to_be_visible()
        found += barriers(page, "new load")
        page.get_by_test_id("load-number").fill(f"26-{language}")
        page.get_by_test_id("chamber").fill("2")
        page.get_by_test_id("load-begin").click()
        page.get_by_test_id("label").fill(label)
        page.get_by_test_id("label").press("Enter")
        expect(page.get_by_test_id(f"in-{label}")).to_be_visible()
        found += barriers(page, "set in")
        tablet.stand_at("stripping")
        page.get_by_test_id(f"load-26-{language}").click()
        expect(page.get_by_test_id("missing")).to_be_visible()
        found += barriers(page, "missing")
        tablet.stand_at("receiving")
        found += barriers(page, "trucks")
        page.get_by_test_id(f"list-{brings}").click()
        page.get_by_test_id("count-done").click()  # its fault is there
        found += barriers(page, "count")
        page.get_by_test_id("own-count").fill("1")
        page.get_by_test_id("count-done").click()
        page.get_by_test_id("label").fill(web.cast["labels"].pop())
        page.get_by_test_id("label").press("Enter")
        expect(page.get_by_test_id("over")).to_be_visible()
        found += barriers(page, "scans")
        page.get_by_test_id("list-end").click()
        expect(page.get_by_test_id("short")).to_be_visible()
        found += barriers(page, "short")
    finally:
        tablet.close()
    assert found == [], "\n".join(sorted(set(found)))
