"""A driver's day: load, deliver with a signature, fetch, unload; no signal, and kills."""

import json
import re
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import FilePayload, Page, Playwright, expect

from pickups.config import places
from tests.journeys import film
from tests.journeys.app import App
from tests.journeys.cargo import Cargo
from tests.sync.test_photos import picture
from tests.world.stack import Stack

Ready = Callable[..., App]
# The dash is one that no keyboard has.
REJECTED = "REJECTED . do not mount or inflate"
PATIENCE_MS = 30_000
AXE = places.PROJECT / "frontend" / "node_modules" / "axe-core" / "axe.min.js"
RULES = ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa", "best-practice"]


@pytest.fixture(scope="module")
def cargo(stack: Stack) -> Cargo:
    return Cargo(stack)


@pytest.fixture
def ready(web: Stack, playwright: Playwright, chromium: str) -> Iterator[Ready]:
    """An enrolled phone on Today, in the hands of the driver of the store."""
    opened: list[App] = []

    def make(*flags: str) -> App:
        app = App(playwright, chromium, web.url, flags)
        opened.append(app)
        app.enrol(web.fresh_code(), web.cast["driver"])
        return app

    yield make
    for app in opened:
        app.close()


@pytest.fixture(autouse=True)
def nothing_left(web: Stack) -> Iterator[None]:
    """Each journey begins without sheets of another."""
    yield
    with web.connect() as c:
        c.execute("DELETE FROM runs_drop")
        c.execute("DELETE FROM runs_stop")
        c.execute("DELETE FROM sync_feed WHERE entity = 'run'")
        c.execute("DELETE FROM runs_run")


def counted(page: Page, number: int, start: str = "start-loading") -> None:
    """Counted by hand before anything is scanned."""
    page.get_by_test_id("own-count").fill(str(number))
    page.get_by_test_id(start).click()


def scan(page: Page, label: str) -> None:
    """Typed, since a camera shows one film only."""
    page.get_by_test_id("label").fill(label)
    page.get_by_test_id("label").press("Enter")


def taken(page: Page, label: str) -> None:
    """Scanned, and taken at once."""
    scan(page, label)
    said(page, "good", label)


def said(page: Page, tone: str, label: str = "") -> None:
    verdict = page.get_by_test_id("verdict")
    expect(verdict).to_have_attribute("data-tone", tone)
    expect(verdict).to_contain_text(f"{label[:4]}\u2009{label[4:]}" if label else "")


def clean(page: Page) -> None:
    """Nothing that axe-core finds, by WCAG 2.2 AA and its best practices."""
    page.emulate_media(reduced_motion="reduce")
    page.evaluate(AXE.read_text())
    found = page.evaluate("axe.run(document, {runOnly: " + json.dumps(RULES) + "})")
    assert found["passes"], "it did look"
    assert [(v["id"], v["nodes"][0]["html"]) for v in found["violations"]] == []


def facts(stack: Stack, label: str) -> list[str]:
    """Kinds of what the ledger holds of a label since the driver's day began, in order."""
    rows = stack.rows(
        "SELECT kind FROM custody_fact WHERE label = %s AND by = %s ORDER BY stamp, uid",
        label,
        stack.cast["driver"],
    )
    return [kind for (kind,) in rows]


def holder(stack: Stack, label: str) -> tuple[str, str]:
    rows = stack.rows("SELECT progress, holder FROM casings_work_order WHERE label = %s", label)
    assert len(rows) == 1
    return rows[0][0], rows[0][1]


def test_a_day_without_signal_and_through_kills_reaches_the_ledger_once(
    web: Stack, cargo: Cargo, ready: Ready
) -> None:
    cast = web.cast
    mine = cargo.come_home(3, rejected=1)
    cargo.sheet(
        [{"yard": cast["yard"], "drop": mine, "fetch": 1}, {"site": cast["plant"]}],
        vehicle="Truck 4",
    )
    app = ready()
    # Blind: the key does not say how many.
    expect(app.page.get_by_test_id("next-action")).to_have_text("Load")
    app.set_offline(True)
    web.kill_web()  # a worker of a browser that was killed knows of no offline

    load(app.page, mine)
    app.kill()
    app.open(offline=True)
    expect(app.page.get_by_test_id("on-truck")).to_contain_text("3")
    deliver(app, mine)
    picked = fetch(app, cast["labels"].pop())
    unload(app, picked)
    # Loaded, driven off, handed over, signed for; picked up and finished; handed in and counted.
    told = 3 + 1 + 3 + 1 + 2 + 1 + 1
    app.expect_waiting(told)
    app.kill()
    app.open(offline=True)
    app.expect_waiting(told)
    assert facts(web, mine[0]) == []
    web.start_web()
    app.set_offline(False)
    app.expect_waiting(0, patience_s=40)

    for label in mine:
        assert facts(web, label) == ["handed_out", "returned"]
        assert holder(web, label) == ("returned", f"customer:{cast['customer']}")
    assert facts(web, picked) == ["picked_up", "handed_in"]
    assert holder(web, picked) == ("picked_up", f"plant:{cast['plant']}")
    rows = web.rows(
        "SELECT d.casings, s.name, s.image <> '' FROM custody_delivery d"
        " JOIN custody_signature s ON s.visit = d.uid WHERE d.yard = %s",
        cast["yard"],
    )
    assert len(rows) == 1
    assert rows[0][1:] == ("R. Amsel", True)
    query = "SELECT uid FROM custody_fact WHERE kind = 'returned' AND label = ANY(%s)"
    ids = [str(uid) for (uid,) in web.rows(query, mine)]
    assert sorted(rows[0][0]) == sorted(ids), "the end names what was handed over"
    expect(app.page.locator("[data-state='done']")).to_have_count(2)
    expect(app.page.get_by_test_id("on-truck")).to_have_count(0)


def load(page: Page, labels: list[str]) -> None:
    page.get_by_test_id("next-action").click()
    counted(page, 3)
    expect(page.get_by_test_id("count")).to_have_text("0 of 3 loaded, you counted 3")
    expect(page.get_by_test_id("tag-before")).to_contain_text("1 rejected")
    for label in labels:
        taken(page, label)
    expect(page.get_by_test_id("verdict")).to_contain_text(re.compile(REJECTED))
    scan(page, labels[0])
    said(page, "again", labels[0])
    expect(page.get_by_test_id("count")).to_have_text("3 of 3 loaded, you counted 3")
    page.get_by_test_id("drive-off").click()
    expect(page.get_by_test_id("next-action")).to_have_text("Deliver 3")  # it is on the disk


def deliver(app: App, labels: list[str]) -> None:
    page = app.page
    expect(page.get_by_test_id("next-action")).to_have_text("Deliver 3")
    page.get_by_test_id("next-action").click()
    taken(page, labels[0])
    app.kill()
    page = app.open(offline=True)
    # It was begun and is carried on with, before anything else.
    page.locator("[data-testid^='open-']").click()
    expect(page.get_by_test_id("count")).to_have_text("1 of 3 handed over")
    scan(page, labels[0])
    said(page, "again", labels[0])
    for label in labels[1:]:
        taken(page, label)
    page.get_by_test_id("end-delivery").click()
    # What cannot be ridden on says so on its own line of the list that is signed.
    expect(page.get_by_test_id("sign-list")).to_contain_text(re.compile(REJECTED))
    app.sign("R. Amsel")
    page.get_by_test_id("finish-delivery").click()
    expect(page.get_by_test_id("delivered")).to_be_visible()


def fetch(app: App, label: str) -> str:
    page = app.page
    expect(page.get_by_test_id("fetch-here")).to_have_text("Pick up here: 1 to fetch")
    page.get_by_test_id("fetch-here").click()
    app.add(label, 6, 6)
    app.finish(1)
    page.get_by_test_id("receipt-done").click()
    return label


def unload(app: App, label: str) -> None:
    page = app.page
    page.get_by_test_id("next-action").click()
    # Blind: nothing here says how many it should be.
    expect(page.get_by_test_id("own-count")).to_be_visible()
    expect(page.get_by_test_id("on-truck")).to_have_count(0)
    page.get_by_test_id("start-unloading").click()
    expect(page.get_by_test_id("own-count-fault")).to_have_text("Count first, then scan.")
    page.get_by_test_id("own-count").fill("1")
    page.get_by_test_id("start-unloading").click()
    taken(page, label)
    page.get_by_test_id("end-unloading").click()
    expect(page.get_by_test_id("reckoned")).to_contain_text("agree")
    page.get_by_test_id("unloaded").click()


def test_another_customers_casing_is_stopped_and_what_is_left_is_told_with_the_delivery(
    web: Stack, cargo: Cargo, ready: Ready
) -> None:
    cast = web.cast
    said_ = web.call(f"open_yard({cast['store']!r}, 'Heron Cross Dairies', 'Cold store', '')")
    foreign_yard = said_.split()[-1]
    mine, foreign = cargo.come_home(2), cargo.come_home(1, foreign_yard)
    _, stops = cargo.sheet(
        [{"yard": cast["yard"], "drop": mine}, {"yard": foreign_yard, "drop": foreign}]
    )
    page = ready().page
    page.get_by_test_id("next-action").click()
    counted(page, 3)
    for label in (*foreign, mine[0]):
        taken(page, label)
    page.get_by_test_id("drive-off").click()
    expect(page.get_by_test_id("short")).to_contain_text("1 not loaded")
    expect(page.get_by_test_id("count-differs")).to_contain_text("counted 3 and scanned 2")
    expect(page.get_by_test_id("short")).to_contain_text(mine[1][4:])
    page.get_by_test_id("drive-off").click()

    page.get_by_test_id("next-action").click()
    scan(page, foreign[0])
    question = page.get_by_test_id("question")
    expect(question).to_contain_text("STOP")
    expect(question).to_contain_text("Heron Cross Dairies")
    scan(page, mine[0])
    expect(question).to_be_visible()
    said(page, "asks")  # nothing else is taken before there is an answer
    clean(page)
    page.get_by_test_id("answer-no").click()
    said(page, "again", foreign[0])
    taken(page, mine[0])
    page.get_by_test_id("end-delivery").click()
    left = page.get_by_test_id("not-delivered")
    clean(page)
    # What was never on the truck needs no word of the driver's.
    expect(left.get_by_role("button", name="Not on the truck")).to_have_attribute(
        "aria-pressed", "true"
    )
    page.get_by_test_id("finish-delivery").click()
    expect(page.get_by_test_id("signer-fault")).to_be_visible()
    page.get_by_test_id("sign-nobody").check()
    page.get_by_test_id("unsigned").fill("nobody at the gate")
    page.get_by_test_id("finish-delivery").click()
    # Nobody saw it: so where it stands has to be told, and shown.
    expect(page.get_by_test_id("set-down-fault")).to_be_visible()
    page.get_by_test_id("set-down").fill("behind the shop")
    data = picture(size=(640, 480))
    shot = FilePayload(name="there.jpg", mimeType="image/jpeg", buffer=data)
    page.get_by_test_id("photo").set_input_files(shot)
    expect(page.get_by_role("img")).to_be_visible()
    page.get_by_test_id("finish-delivery").click()
    page.get_by_test_id("delivered-done").click()
    expect(page.get_by_test_id(f"stop-{stops[0]}")).to_contain_text("1 casing not handed over")
    expect(page.get_by_test_id(f"stop-{stops[1]}")).to_have_attribute("data-state", "next")

    wait_for(web, "SELECT count(*) FROM custody_delivery WHERE unsigned <> ''", 1)
    note = web.rows("SELECT note FROM custody_delivery WHERE unsigned <> ''")[0][0]
    stayed = f"Not handed over: 1. Not on the truck: {mine[1]}"
    assert note == f"Set down: behind the shop. {stayed}"
    assert facts(web, foreign[0]) == ["handed_out"], "the answer no has told nothing"
    assert facts(web, mine[1]) == []


def wait_for(stack: Stack, query: str, value: int, patience_s: float = 15) -> None:
    end = time.monotonic() + patience_s
    while (found := stack.rows(query)[0][0]) != value:
        assert time.monotonic() < end, f"{query}: {found}, not {value}"
        time.sleep(0.1)


def test_what_is_odd_is_asked_and_short_and_over_are_named_at_the_dock(
    web: Stack, cargo: Cargo, ready: Ready
) -> None:
    cast = web.cast
    rack, other = cargo.at_rack(3), cargo.at_rack(1)
    cargo.sheet([{"site": cast["plant"], "drop": rack}], kind="transfer", start=cast["store"])
    page = ready().page
    page.get_by_test_id("next-action").click()
    counted(page, 3)
    scan(page, other[0])
    expect(page.get_by_test_id("question")).to_contain_text("Not on this load sheet")
    page.get_by_test_id("answer-no").click()
    for label in rack:
        taken(page, label)
    page.get_by_test_id("drive-off").click()

    page.get_by_test_id("next-action").click()
    page.get_by_test_id("own-count").fill("4")
    page.get_by_test_id("start-unloading").click()
    taken(page, rack[0])
    scan(page, rack[0])
    said(page, "again", rack[0])
    taken(page, rack[1])
    # It went along on the truck without a scan: asked, and written down all the same.
    scan(page, other[0])
    expect(page.get_by_test_id("question")).to_contain_text("at Bramblewick store")
    page.get_by_test_id("answer-yes").click()
    said(page, "good", other[0])
    # A label that no phone knows yet.
    stranger = cast["labels"].pop()
    scan(page, stranger)
    expect(page.get_by_test_id("question")).to_contain_text("knows no casing")
    page.get_by_test_id("answer-yes").click()
    said(page, "good", stranger)
    expect(page.get_by_test_id("count")).to_have_text("4 scanned, you counted 4")
    page.reload()
    page.locator("[data-testid='end-unloading']").click()
    expect(page.get_by_test_id("short")).to_contain_text(rack[2][4:])
    over = page.get_by_test_id("over")
    expect(over).to_contain_text(other[0][4:])
    expect(over).to_contain_text(stranger[4:])
    clean(page)
    page.get_by_test_id("unloaded").click()

    wait_for(web, f"SELECT count(*) FROM custody_fact WHERE label = '{stranger}'", 1)
    expect(page.get_by_test_id("on-truck")).to_have_text(
        re.compile(rf"\b{aboard(web)}$"), timeout=PATIENCE_MS
    )
    plant = f"plant:{cast['plant']}"
    assert [holder(web, label)[1] for label in (*rack[:2], *other)] == [plant] * 3
    assert holder(web, rack[2])[1] == f"person:{cast['driver']}"
    assert facts(web, rack[0]) == ["handed_in", "handed_in"], "loaded and unloaded, each once"


def aboard(stack: Stack) -> int:
    """What the driver holds by the office's word, earlier journeys' included."""
    mine = f"person:{stack.cast['driver']}"
    query = "SELECT count(*) FROM casings_work_order WHERE holder = %s AND NOT withdrawn"
    return int(stack.rows(query, mine)[0][0])


def test_a_stop_that_cannot_be_made_is_passed_by_and_can_be_taken_up_again(
    web: Stack, cargo: Cargo, ready: Ready
) -> None:
    store = web.cast["store"]
    yard = web.call(f"open_yard({store!r}, 'Pellow Brick', 'Kiln gate', '')").split()[-1]
    _, stops = cargo.sheet([{"yard": yard, "fetch": 2}, {"site": store}])
    page = ready().page
    stop = page.get_by_test_id(f"stop-{stops[0]}")
    expect(stop).to_have_attribute("data-state", "next")
    stop.locator("button").first.click()
    page.get_by_test_id("skip").click()
    page.get_by_test_id("skip-confirm").click()
    expect(page.get_by_test_id("skip-why-fault")).to_have_text(re.compile("Choose why"))
    page.get_by_test_id("skip-other").check()
    page.get_by_test_id("skip-confirm").click()
    expect(page.get_by_test_id("skip-note-fault")).to_be_visible()
    page.get_by_test_id("skip-closed").check()
    page.get_by_test_id("skip-confirm").click()
    expect(stop).to_contain_text("Skipped: Gate closed")
    clean(page)
    expect(page.get_by_test_id(f"stop-{stops[1]}")).to_have_attribute("data-state", "next")
    page.reload()
    stop.locator("button").first.click()
    page.get_by_test_id("resume").click()
    page.get_by_role("button", name="Back").click()
    expect(stop).to_have_attribute("data-state", "next")


def test_the_camera_stays_open_and_takes_each_label_once(
    web: Stack, cargo: Cargo, ready: Ready, tmp_path: Path
) -> None:
    mine = cargo.come_home(2)
    cargo.sheet([{"yard": web.cast["yard"], "drop": mine}])
    reel = tmp_path / "labels.mjpeg"
    reel.write_bytes(b"".join(film.after_another(mine, web.url)))
    app = ready(*film.camera(reel))
    page = app.page
    app.set_offline(True)
    page.get_by_test_id("next-action").click()
    counted(page, 2)
    page.get_by_test_id("scan").click()
    dialog = page.get_by_test_id("scan-dialog")
    expect(dialog).to_contain_text("1 of 2 loaded", timeout=PATIENCE_MS)
    expect(dialog).to_contain_text("2 of 2 loaded", timeout=PATIENCE_MS)
    # The film begins anew: what was read before is said quietly, and told no second time.
    expect(dialog.get_by_test_id("verdict")).to_have_attribute(
        "data-tone", "again", timeout=PATIENCE_MS
    )
    page.get_by_test_id("scan-done").click()
    expect(dialog).to_have_count(0)
    app.expect_waiting(2)


def wedge(page: Page, text: str) -> None:
    """What a hand scanner does: keys without a pause, and Enter."""
    page.keyboard.type(text)
    page.keyboard.press("Enter")


def test_a_wedge_scanner_is_heard_wherever_the_last_touch_was(
    web: Stack, cargo: Cargo, ready: Ready
) -> None:
    mine = cargo.come_home(2)
    cargo.sheet([{"yard": web.cast["yard"], "drop": mine}])
    page = ready().page
    page.get_by_test_id("next-action").click()
    counted(page, 2)
    expect(page.get_by_test_id("count")).to_have_text("0 of 2 loaded, you counted 2")
    page.get_by_test_id("drive-off").focus()
    for label in mine:
        wedge(page, f"{web.url}/L/{label}")
    said(page, "good", mine[1])
    expect(page.get_by_test_id("count")).to_have_text("2 of 2 loaded, you counted 2")
    expect(page.get_by_test_id("label")).to_have_value("")
    wedge(page, "https://elsewhere.example/item/K72K54X2")
    said(page, "fault")
    expect(page.get_by_test_id("count")).to_have_text("2 of 2 loaded, you counted 2")
