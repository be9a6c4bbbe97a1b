"""A truck at a plant's dock, on a tablet as hands use it: counted by hand before anything says how
many it should be, then scan by scan against its list, without signal and with kills."""

from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import Page, Playwright, expect

from pickups.labels import rules
from tests.journeys.barriers import look
from tests.journeys.cargo import Cargo
from tests.journeys.tablet import Tablet, ordered, staffed, told, truck
from tests.world.stack import Stack

Stand = Callable[[str], Tablet]


@pytest.fixture
def stand(web: Stack, playwright: Playwright, chromium: str) -> Iterator[Stand]:
    """A tablet of the plant's operator at a station, once all that it should hear of is there."""
    made: list[Tablet] = []

    def at(station: str) -> Tablet:
        staffed(web)
        tablet = Tablet(playwright, chromium, web.url)
        made.append(tablet)
        tablet.enrol(web.fresh_code("plant"), web.cast["operator"])
        tablet.stand_at(station)
        return tablet

    yield at
    for tablet in made:
        tablet.close()


def strange() -> str:
    """A sound label of a range that this dealer never printed."""
    return next(
        code for serial in range(50) if (code := rules.code("M9", serial, "00")) is not None
    )


def as_read(label: str) -> str:
    return f"{label[:4]} {label[4:]}"


def scan(page: Page, label: str, tone: str, said: str) -> None:
    """Type a label and Enter; returns when the tablet has said so of it."""
    page.get_by_test_id("label").fill(label)
    page.get_by_test_id("label").press("Enter")
    verdict = page.get_by_test_id("verdict")
    expect(verdict).to_have_attribute("data-tone", tone)
    expect(verdict).to_contain_text(said)
    expect(verdict).to_contain_text(as_read(label))


def outcomes(web: Stack, label: str) -> list[str]:
    return [str(one["outcome"]) for one in told(web, label)]


def test_a_truck_is_counted_blind_and_received_scan_by_scan_without_signal_and_with_kills(
    web: Stack, stand: Stand
) -> None:
    cargo = Cargo(web)
    first, second, short = listed = sorted(ordered(cargo) for _ in range(3))
    [elsewhere] = cargo.at_rack(1)
    cast, unknown = web.cast, web.cast["labels"].pop()
    run, brings = truck(web, cast["other_store"], cast["other_driver"], "in")
    truck(web, cast["store"], cast["driver"], "in", drop=[cargo.orders[elsewhere]])
    tablet = stand("receiving")
    page = tablet.page

    # Nothing says how many it should be, or which, until a hand has counted.
    key = page.get_by_test_id(f"list-{brings}")
    expect(key).to_contain_text("Truck from Saltmarsh store")
    tablet.set_offline(True)
    key.click()
    expect(page.get_by_test_id("own-count")).to_be_visible()
    seen = page.locator("body").inner_text()
    assert not [label for label in listed if as_read(label) in seen]
    expect(page.get_by_test_id("label")).to_have_count(0)
    page.get_by_test_id("count-done").click()
    expect(page.locator("#own-count-said")).to_be_visible()
    page.get_by_test_id("own-count").fill("five")
    page.get_by_test_id("count-done").click()
    expect(page.locator("#own-count-said")).to_contain_text("five")
    look(page)

    # It dies between the count and its key: what was typed is there.
    page.get_by_test_id("own-count").fill("5")
    tablet.kill()
    page = tablet.open(offline=True)
    page.get_by_test_id(f"list-{brings}").click()
    expect(page.get_by_test_id("own-count")).to_have_value("5")
    page.get_by_test_id("count-done").click()
    count = page.get_by_test_id("list-count")
    expect(count).to_have_text("0 scanned, 5 counted")

    scan(page, first, "good", "Tarn Valley Haulage")
    scan(page, first, "again", "scanned already")
    expect(count).to_have_text("1 scanned, 5 counted")
    scan(page, second, "good", "295/75R22.5")
    tablet.kill()  # and in the middle of the scans
    page = tablet.open(offline=True)
    page.get_by_test_id(f"list-{brings}").click()
    count = page.get_by_test_id("list-count")
    expect(count).to_have_text("2 scanned, 5 counted")

    scan(page, elsewhere, "asks", "on another truck's list")
    scan(page, unknown, "asks", "on no list")
    expect(count).to_have_text("4 scanned, 5 counted")
    scan(page, strange(), "fault", "not one of our labels")
    expect(count).to_have_text("4 scanned, 5 counted")
    over = page.get_by_test_id("over")
    for label in (elsewhere, unknown):
        expect(over).to_contain_text(as_read(label))
    look(page)

    page.get_by_test_id("list-end").click()
    expect(page.get_by_test_id("reckoned")).to_contain_text("Counted 5, scanned 4")
    expect(page.get_by_test_id("short").locator("li")).to_have_count(1)
    expect(page.get_by_test_id("short")).to_contain_text(as_read(short))
    look(page)
    # It lay under the others: the last scan makes the count whole.
    page.get_by_test_id("list-on").click()
    scan(page, short, "good", "Tarn Valley Haulage")
    page.get_by_test_id("list-end").click()
    expect(page.get_by_test_id("reckoned")).to_contain_text("Counted and scanned: 5.")
    expect(page.get_by_test_id("short")).to_have_count(0)
    page.get_by_test_id("list-over").click()
    expect(page.get_by_test_id("lists")).to_be_visible()

    tablet.expect_waiting(6)
    tablet.set_offline(False)
    tablet.expect_waiting(0)
    for label in (*listed, elsewhere, unknown):
        assert outcomes(web, label) == ["received"]
    assert told(web, strange()) == []
    assert web.rows("SELECT counted FROM dock_count WHERE consignment = %s", brings) == [(5,)]

    # The truck is back home: what was over is asked about, and its list goes from the tablet.
    web.call(f"come_back({run!r})")
    [(compared,)] = web.rows("SELECT compared FROM dock_consignment WHERE uid = %s", brings)
    assert (compared["counted"], compared["scanned"], compared["short"]) == (5, 4, [])
    assert compared["unknown"] == [unknown]


def test_a_truck_is_loaded_scan_by_scan_and_what_is_not_done_stays(
    web: Stack, stand: Stand
) -> None:
    cargo = Cargo(web)
    done, bad, held, working = labels = [ordered(cargo) for _ in range(4)]
    for label in labels:
        cargo.plant.tell(label, "received", station="receiving")
    for label in (done, held):
        cargo.plant.tell(label, "finished", station="paint")
    cargo.plant.tell(bad, "rejected", station="initial-inspection", reason="ZIPPER", cause="casing")
    cargo.plant.tell(held, "hold", station="paint", note="odd at the bead")
    cargo.plant.tell(working, "passed", station="buffing")
    web.call("settle()")
    _, takes = truck(web, web.cast["store"], web.cast["driver"], "out")
    tablet = stand("shipping")
    page = tablet.page

    page.get_by_test_id(f"list-{takes}").click()
    tablet.set_offline(True)
    page.get_by_test_id("own-count").fill("2")
    page.get_by_test_id("count-done").click()
    count = page.get_by_test_id("list-count")
    expect(count).to_have_text("0 scanned, 2 counted")
    # What has to stay is told as nothing: it was not loaded.
    scan(page, held, "fault", "is on hold: it stays here")
    scan(page, working, "fault", "is not finished: it stays here")
    expect(count).to_have_text("0 scanned, 2 counted")
    scan(page, done, "good", "Tarn Valley Haulage")
    expect(count).to_have_text("1 scanned, 2 counted")
    tablet.kill()
    page = tablet.open(offline=True)
    page.get_by_test_id(f"list-{takes}").click()
    count = page.get_by_test_id("list-count")
    expect(count).to_have_text("1 scanned, 2 counted")
    scan(page, bad, "good", "Tarn Valley Haulage")
    expect(page.get_by_test_id("verdict")).to_contain_text("REJECTED")
    look(page)
    page.get_by_test_id("list-end").click()
    expect(page.get_by_test_id("reckoned")).to_contain_text("Counted and scanned: 2.")
    # That one is not missing: it is said why it stays.
    expect(page.get_by_test_id("short")).to_have_count(0)
    expect(page.get_by_test_id("stays")).to_contain_text(as_read(held))
    look(page)

    tablet.expect_waiting(3)
    tablet.set_offline(False)
    tablet.expect_waiting(0)
    for label in (done, bad):
        assert outcomes(web, label)[-1] == "shipped"
    for label in (held, working):
        assert "shipped" not in outcomes(web, label)
