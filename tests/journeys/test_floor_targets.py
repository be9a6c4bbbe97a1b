"""What a plant wants of a tread design, on its tablets: shown beside what is measured, the pitch
filled in, the length reckoned with the gum, and said in words where the two differ."""

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Playwright, expect

from tests.journeys.barriers import look
from tests.journeys.cargo import Cargo
from tests.journeys.tablet import Tablet, ordered, staffed
from tests.world.stack import Stack

FIGURES = {"pitch_mm": 76.2, "gum_mm": 1.5, "radius_mm": 560.0, "radius_off_mm": 3.0,
           "texture_least": 2.0, "texture_most": 4.0, "tread_width_mm": 220.0,
           "width_off_mm": 4.0}  # fmt: skip


@pytest.fixture
def tablet(web: Stack, playwright: Playwright, chromium: str) -> Iterator[Tablet]:
    """A tablet that the plant's operator holds; it has no station yet."""
    staffed(web)
    made = Tablet(playwright, chromium, web.url)
    made.enrol(web.fresh_code("plant"), web.cast["operator"])
    yield made
    made.close()


def test_wanted_figures_stand_beside_what_is_measured(web: Stack, tablet: Tablet) -> None:
    cargo = Cargo(web)
    web.call(f"want({web.cast['plant']!r}, 'dl-41', **{FIGURES!r})")
    label = ordered(cargo, tread_design="DL-41")
    other = ordered(cargo, tread_design="DX-7")
    page = tablet.page

    # What is ordered comes with what the plant has told of a casing.
    tablet.stand_at("initial-inspection")
    for one in (other, label):
        tablet.scan(one)
        tablet.answer(one, "passed")
    tablet.expect_waiting(0)

    tablet.stand_at("buffing")
    tablet.scan(other)
    expect(page.get_by_test_id("wanted-figures")).to_contain_text("no figure entered")
    page.get_by_test_id("aside").click()
    tablet.scan(label)
    wanted = page.get_by_test_id("wanted-figures")
    expect(wanted).to_contain_text("wanted 560, up to 3 off")
    expect(wanted).to_contain_text("2 to 4")
    page.get_by_test_id("circumference_mm").fill("3100")
    page.get_by_test_id("crown_width_mm").fill("221")
    page.get_by_test_id("buffed_radius_mm").fill("562")
    page.get_by_test_id("texture").fill("1")
    expect(page.get_by_test_id("off-texture")).to_contain_text("1 less")
    expect(page.get_by_test_id("off-crown_width_mm")).to_have_count(0)
    expect(page.get_by_test_id("off-buffed_radius_mm")).to_have_count(0)
    page.get_by_test_id("buffed_radius_mm").fill("571")
    expect(page.get_by_test_id("off-buffed_radius_mm")).to_contain_text("11 more")
    look(page)
    tablet.answer(label, "passed")  # it is said, and nothing is forbidden

    tablet.stand_at("building")
    tablet.scan(label)
    expect(page.get_by_test_id("pitch")).to_have_value("76.2")
    # 3100 and 2 pi 1.5 are 3109.4 mm; by 76.2 that is 40.8: 41 pitches.
    expect(page.get_by_test_id("tread-length")).to_contain_text(re.compile(r"41 .*3,124\.2 mm"))
    expect(page.get_by_test_id("length-gum")).to_contain_text("3,109.4 mm")
    page.get_by_test_id("pitch").fill("75")
    expect(page.locator("#pitch-said")).to_contain_text("76.2 mm")
    page.get_by_test_id("tread_width_mm").fill("223")
    expect(page.get_by_test_id("width")).to_have_class("soft")  # 2 mm apart, up to 4 was entered
    page.get_by_test_id("tread_width_mm").fill("230")
    expect(page.get_by_test_id("width")).to_have_class("asks")
    expect(page.get_by_test_id("off-tread_width_mm")).to_contain_text("10 more")
    expect(page.get_by_test_id("off-crown_width_mm")).to_have_count(0)  # said once, beside it
    look(page)
