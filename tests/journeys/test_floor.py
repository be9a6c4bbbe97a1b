"""A shift at a station and a casing's way through all of them, on tablets as hands use them."""

import re
from collections.abc import Iterator
from zoneinfo import ZoneInfo

import pytest
from django.conf import settings
from playwright.sync_api import Playwright, expect

from pickups.casings.tin import code_of
from pickups.kernel import clock
from tests.journeys.cargo import Cargo
from tests.journeys.tablet import Tablet, ordered, staffed, told
from tests.sync.test_photos import picture
from tests.world.stack import Stack


@pytest.fixture
def tablet(web: Stack, playwright: Playwright, chromium: str) -> Iterator[Tablet]:
    """A tablet that the plant's operator holds; it has no station yet."""
    staffed(web)
    made = Tablet(playwright, chromium, web.url)
    made.enrol(web.fresh_code("plant"), web.cast["operator"])
    yield made
    made.close()


def outcomes(web: Stack, label: str) -> list[str]:
    return sorted(str(one["outcome"]) for one in told(web, label))


def test_a_shift_at_one_station_without_signal_and_with_kills_loses_and_doubles_nothing(
    web: Stack, tablet: Tablet
) -> None:
    first, second, third, fourth = (web.cast["labels"].pop() for _ in range(4))
    tablet.stand_at("initial-inspection")
    tablet.set_offline(True)
    # Nothing was ever heard of these labels: they can be told of all the same.
    tablet.scan(first)
    expect(tablet.page.get_by_test_id("unheard")).to_be_visible()
    tablet.answer(first, "passed")
    tablet.scan(second)
    tablet.find("crown", "nail_hole", 5)
    tablet.page.get_by_test_id("find-1").click()
    tablet.page.get_by_test_id("finding-photo").set_input_files(
        {"name": "nail.jpg", "mimeType": "image/jpeg", "buffer": picture(size=(1600, 1200))}
    )
    expect(tablet.page.get_by_test_id("finding-photo")).to_be_enabled()
    expect(tablet.page.get_by_test_id("findings")).to_contain_text("1.")
    tablet.page.get_by_test_id("finding-done").click()
    tablet.answer(second, "repair")
    expect(tablet.page.get_by_test_id("photos-waiting")).to_be_visible()

    # Half an answer is on the sheet when the tablet dies: it is there when it is opened again.
    tablet.scan(third)
    tablet.find("sidewall-serial", "separation", None)
    expect(tablet.page.get_by_test_id("findings")).to_contain_text("Separation")
    tablet.kill()
    page = tablet.open(offline=True)
    expect(page.get_by_test_id("at-casing")).to_have_attribute("data-label", third)
    expect(page.get_by_test_id("findings")).to_contain_text("Separation")
    page.get_by_test_id("answer-rejected").click()
    page.get_by_test_id("reason-SW_SEPARATION").click()
    page.get_by_test_id("cause-casing").click()
    page.get_by_test_id("answer-confirm").click()
    expect(page.get_by_test_id(f"last-{third}")).to_contain_text("Rejected")
    tablet.expect_waiting(3)

    # Killed right after an answer: told once, and the sheet waits for the next scan.
    tablet.scan(fourth)
    tablet.answer(fourth, "passed")
    tablet.kill()
    page = tablet.open(offline=True)
    expect(page.get_by_test_id("label")).to_be_visible()
    tablet.expect_waiting(4)
    expect(page.get_by_test_id("last-scans").locator("li")).to_have_count(4)

    # The wrong casing was scanned: taken back with why, and seen at once.
    page.get_by_test_id(f"back-{fourth}").click()
    page.get_by_test_id("back-why-1").click()
    expect(page.get_by_test_id(f"last-{fourth}")).to_have_attribute("data-back", "true")
    expect(page.get_by_test_id("today")).to_contain_text("3")

    tablet.set_offline(False)
    tablet.expect_waiting(0)
    assert outcomes(web, first) == ["passed"]
    assert outcomes(web, second) == ["repair"]
    assert outcomes(web, third) == ["rejected"]
    assert outcomes(web, fourth) == ["passed", "withdrawn"]
    [repair] = told(web, second)
    [nail] = repair["findings"]
    assert (nail["zone"], nail["kind"], nail["size_mm"]) == ("crown", "nail_hole", 5)
    assert len(nail["photos"]) == 1
    expect(page.get_by_test_id("photos-waiting")).to_have_count(0)

    # What may never be released has no key, for the operator and for who answers for the plant.
    tablet.scan(third)
    expect(page.get_by_test_id("never")).to_be_visible()
    expect(page.get_by_test_id("release-1")).to_have_count(0)
    for answer in ("passed", "repair", "rejected", "hold"):
        expect(page.get_by_test_id(f"answer-{answer}")).to_have_count(0)


def test_a_casing_goes_through_the_stations_to_its_finished_tag(web: Stack, tablet: Tablet) -> None:
    cargo = Cargo(web)
    label = ordered(cargo, tread_design="DL-41", fleet_brand="TVH")
    tag = web.cast["labels"].pop()
    page = tablet.page

    tablet.stand_at("initial-inspection")
    tablet.scan(label)
    tablet.find("shoulder-other", "cut", 25)
    tablet.answer(label, "repair")
    tablet.expect_waiting(0)

    tablet.stand_at("repair")
    expect(page.get_by_test_id("queue")).to_be_visible()
    tablet.scan(label)
    expect(page.get_by_test_id("findings")).to_contain_text("other side")
    # The order came with what the plant has told: it is said in words.
    expect(page.get_by_test_id("wanted")).to_contain_text("DL-41")
    page.get_by_test_id("lot-repair_unit").fill("RU-2291")
    tablet.answer(label, "passed")

    tablet.stand_at("buffing")
    tablet.scan(label)
    expect(page.get_by_test_id("findings")).to_have_count(0)  # it is done
    page.get_by_test_id("circumference_mm").fill("3180")
    page.get_by_test_id("crown_width_mm").fill("221")
    tablet.answer(label, "passed")

    tablet.stand_at("building")
    tablet.scan(label)
    page.get_by_test_id("pitch").fill("76.2")
    # 3180 / 76.2 is 41.7: 42 pitches are 3200.4 mm.
    expect(page.get_by_test_id("tread-length")).to_contain_text(re.compile(r"42 .*3,200\.4 mm"))
    page.get_by_test_id("tread_length_mm").fill("3190")
    expect(page.get_by_test_id("length-off")).to_contain_text("10.4 mm shorter")
    page.get_by_test_id("tread_length_mm").fill("3200.4")
    expect(page.get_by_test_id("length-off")).to_have_count(0)
    page.get_by_test_id("tread_width_mm").fill("220")
    # Without a lot it goes on only once that was asked.
    page.get_by_test_id("answer-passed").click()
    expect(page.get_by_test_id("answer-fault")).to_contain_text("No lot")
    page.get_by_test_id("lot-tread").fill("T-88")
    tablet.answer(label, "passed")

    tablet.stand_at("enveloping")
    tablet.scan(label)
    page.get_by_test_id("answer-passed").click()
    expect(page.get_by_test_id("answer-fault")).to_contain_text("envelope")
    page.get_by_test_id("envelope").fill("E-14")
    tablet.answer(label, "passed")

    tablet.stand_at("curing")
    page.get_by_test_id("load-new").click()
    page.get_by_test_id("load-number").fill(f"26-{label}")
    page.get_by_test_id("chamber").fill("2")
    page.get_by_test_id("load-begin").click()
    expect(page.get_by_test_id("load-title")).to_contain_text(f"26-{label}")
    # The label is out of sight: the envelope's number says which casing it is.
    page.get_by_test_id("label").fill("E-14")
    page.get_by_test_id("label").press("Enter")
    expect(page.get_by_test_id(f"in-{label}")).to_contain_text("E-14")
    # A tap too early is taken back; what was forgotten can still be scanned while it lasts.
    page.get_by_test_id("cure-begins").click()
    expect(page.get_by_test_id("label")).to_be_visible()
    page.get_by_test_id("load-take-back").click()
    page.get_by_test_id("load-back-now").click()
    page.get_by_test_id("cure-begins").click()
    page.get_by_test_id("cure-ends").click()
    expect(page.get_by_test_id("cure-ends")).to_have_count(0)
    expect(page.get_by_test_id("load-take-back")).to_be_visible()

    tablet.stand_at("stripping")
    page.get_by_test_id(f"load-26-{label}").click()
    expect(page.get_by_test_id(f"missing-{label}")).to_be_visible()
    page.get_by_test_id("label").fill(label)
    page.get_by_test_id("label").press("Enter")
    expect(page.get_by_test_id("missing")).to_have_count(0)
    expect(page.get_by_test_id("load-count")).to_contain_text("1 of 1")

    tablet.stand_at("final-inspection")
    tablet.scan(label)
    page.get_by_test_id("tread_design").fill("DL-40")
    expect(page.get_by_test_id("differs")).to_contain_text("ordered DL-41, found DL-40")
    page.get_by_test_id("as-ordered-tread_design").click()
    page.get_by_test_id("as-ordered-fleet_brand").click()
    code = code_of(clock.local(clock.now(), ZoneInfo(settings.DEALER_TIME_ZONE)).date())
    page.get_by_test_id("retread_tin").fill(f"7HK {code.digits}")
    expect(page.get_by_test_id("differs")).to_have_count(0)
    tablet.answer(label, "passed")

    tablet.stand_at("paint")
    tablet.scan(label)
    page.get_by_test_id("tag").fill(tag)
    tablet.answer(label, "finished")
    tablet.expect_waiting(0)

    # From now on the tag is the casing, for the office, for drivers and here.
    [(worn, progress)] = web.rows(
        "SELECT label, progress FROM casings_work_order WHERE uid = %s", cargo.orders[label]
    )
    assert (worn, progress) == (tag, "finished")
    every = [one["station"] for one in told(web, label)]
    assert every == [
        "initial-inspection", "repair", "buffing", "building", "enveloping", "curing",
        "stripping", "final-inspection", "paint",
    ]  # fmt: skip
    tablet.scan(tag)
    expect(page.get_by_test_id("casing-label")).to_contain_text(tag[:4])
