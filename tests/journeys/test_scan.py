"""A label filmed by the camera, or typed by a wedge scanner, on a phone without signal."""

import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.journeys import film
from tests.journeys.conftest import OpenApp
from tests.world.stack import Stack


def facts(stack: Stack, label: str) -> list[tuple[object, ...]]:
    return stack.rows(
        "SELECT told->>'tin', told->'tread_32nds' FROM custody_fact WHERE label = %s", label
    )


def label_is(page: Page, code: str) -> None:
    expect(page.get_by_test_id("label")).to_have_value(f"{code[:4]}\u2009{code[4:]}")


def test_a_printed_label_is_read_by_camera_without_signal_and_reaches_the_ledger(
    web: Stack, open_app: OpenApp, tmp_path: Path
) -> None:
    code = web.cast["labels"].pop()
    paper = film.printed(code, web.url)
    app = open_app(flags=film.camera(film.write(tmp_path / "label.mjpeg", paper)))
    page = app.page
    asked: list[str] = []
    page.context.on("request", lambda request: asked.append(request.url))
    app.set_offline(True)

    page.get_by_test_id("scan").click()
    # Something else is in sight first: it is told in words, and looking goes on.
    expect(page.get_by_test_id("scan-said")).to_contain_text("Not one of our labels")
    expect(page.get_by_test_id("tin")).to_be_focused()
    label_is(page, code)
    expect(page.get_by_test_id("scan-dialog")).to_have_count(0)
    assert {url.split("/app/")[0] for url in asked} == {web.url}, "nobody else is asked"

    page.keyboard.type("291O")
    said = page.locator("#tin-said")
    expect(said).to_contain_text(re.compile(r"^Week 29 of 2010, \d+ years old\."))
    expect(said).to_contain_text("Read O as 0")
    for tread in (6, 7, 7):
        page.get_by_test_id(f"tread-{tread}").click()
    expect(page.get_by_test_id("tread-sum")).to_contain_text("Lowest 6 (4.8")
    expect(page.get_by_test_id("tread-sum")).to_contain_text("mean 6.7 (5.3")
    page.get_by_test_id("save").click()
    expect(page.get_by_test_id(f"casing-{code}")).to_contain_text("week 29 of 2010")
    app.expect_waiting(1)
    assert facts(web, code) == []

    app.set_offline(False)
    app.expect_waiting(0)
    assert facts(web, code) == [("2910", [6, 7, 7])], "a round letter is put right"
    app.expect_standing(code, "recorded")


def test_the_bars_alone_are_enough_where_the_square_is_torn_off(
    web: Stack, open_app: OpenApp, tmp_path: Path
) -> None:
    code = web.cast["labels"].pop()
    bars = film.torn(film.printed(code, web.url))
    app = open_app(flags=film.camera(film.write(tmp_path / "bars.mjpeg", bars, film.FAR)))
    app.set_offline(True)
    app.page.get_by_test_id("scan").click()
    expect(app.page.get_by_test_id("tin")).to_be_focused()
    label_is(app.page, code)


@pytest.mark.parametrize(
    ("flags", "said"),
    [
        (["--use-fake-device-for-media-stream", "--deny-permission-prompts"], "may not use"),
        (["--use-fake-ui-for-media-stream"], "No camera"),
    ],
)
def test_without_a_camera_the_way_out_is_named(
    open_app: OpenApp, flags: list[str], said: str
) -> None:
    page = open_app(flags=flags).page
    page.get_by_test_id("scan").click()
    expect(page.get_by_test_id("scan-said")).to_contain_text(said)
    expect(page.get_by_test_id("scan-said")).to_contain_text(
        "type the eight symbols", ignore_case=True
    )
    page.get_by_test_id("scan-type").click()
    expect(page.get_by_test_id("label")).to_be_focused()


def wedge(page: Page, text: str) -> None:
    """What a hand scanner does: keys without a pause, and Enter."""
    page.keyboard.type(text)
    page.keyboard.press("Enter")


def test_a_wedge_scanner_is_heard_wherever_the_last_touch_was(
    web: Stack, open_app: OpenApp
) -> None:
    page = open_app().page
    first, second, third = (web.cast["labels"].pop() for _ in range(3))
    label, tin = page.get_by_test_id("label"), page.get_by_test_id("tin")

    label.focus()
    wedge(page, f"HTTP://ELSEWHERE.EXAMPLE/L/{first}")
    expect(tin).to_be_focused()
    label_is(page, first)
    page.keyboard.type("2910")
    page.get_by_test_id("save").click()
    expect(page.get_by_test_id(f"casing-{first}")).to_be_visible()

    # In another field: what fell into it is taken out again, and nothing is saved by its Enter.
    page.get_by_test_id("size").fill("11R22.5")
    wedge(page, second)
    expect(tin).to_be_focused()
    label_is(page, second)
    expect(page.get_by_test_id("size")).to_have_value("11R22.5")
    expect(page.get_by_test_id("rating")).to_have_value("")

    # On a list of choices: its letters choose nothing.
    page.get_by_test_id("wanted-change").click()
    page.get_by_test_id("label").fill("")
    page.get_by_test_id("basis").focus()
    wedge(page, second)
    expect(tin).to_be_focused()
    label_is(page, second)
    expect(page.get_by_test_id("basis")).to_have_value("own")
    page.get_by_test_id("basis").focus()
    wedge(page, "ONCE-AND-FOR-ALL")
    expect(page.get_by_test_id("basis")).to_have_value("own")

    # On a tread key, with another label on the sheet: told, and neither pressed nor replaced.
    page.get_by_test_id("tread-7").click()
    wedge(page, third)
    expect(page.get_by_test_id("label-fault")).to_contain_text("this sheet has another label")
    label_is(page, second)
    expect(page.get_by_test_id("tread-readings")).to_contain_text("groove 2")
    wedge(page, "HTTPS://ELSEWHERE.EXAMPLE/A/1")
    expect(page.get_by_test_id("label-fault")).to_contain_text("Not one of our labels")
    expect(page.get_by_test_id("tread-readings")).to_contain_text("groove 2")
    # In a field that holds no label: what was typed stays, and its Enter saves nothing.
    page.get_by_test_id("brand").focus()
    wedge(page, "KORDAN RIB 2")
    expect(page.get_by_test_id("brand")).to_have_value("KORDAN RIB 2")
    # None of all that saved the casing: the next one is the second.
    page.get_by_test_id("save").click()
    expect(page.get_by_test_id(f"casing-{second}")).to_be_visible()
    expect(page.get_by_test_id("count")).to_contain_text("2 on this pickup")


def test_a_fast_typists_enter_and_tab_lead_on(web: Stack, open_app: OpenApp) -> None:
    page = open_app().page
    page.get_by_test_id("tin").focus()
    wedge(page, "MILEAGE CONTRACT")
    expect(page.get_by_test_id("tin")).to_have_value("MILEAGE CONTRACT")
    expect(page.get_by_test_id("size")).to_be_focused()
    page.keyboard.type("295/75R22.5")
    page.keyboard.press("Tab")
    expect(page.get_by_test_id("size")).not_to_be_focused()
    expect(page.get_by_test_id("size")).to_have_value("295/75R22.5")


HARDWARE = """
window.told = { shakes: [], tones: [], lights: [] };
navigator.vibrate = (pattern) => { told.shakes.push(pattern); return true; };
const start = OscillatorNode.prototype.start;
OscillatorNode.prototype.start = function (...at) {
  told.tones.push(this.frequency.value);
  return start.apply(this, at);
};
const track = MediaStreamTrack.prototype;
track.getCapabilities = () => ({ torch: true });
track.applyConstraints = async (wanted) => { told.lights.push(wanted.advanced[0].torch); };
"""


def test_at_dusk_in_a_moving_hand_the_light_helps_and_the_hand_feels_what_was_read(
    web: Stack, open_app: OpenApp, tmp_path: Path
) -> None:
    code = web.cast["labels"].pop()
    paper = film.printed(code, web.url)
    app = open_app(flags=film.camera(film.write(tmp_path / "dusk.mjpeg", paper, film.DUSK)))
    page = app.page
    assert app.context is not None
    app.context.add_init_script(HARDWARE)
    page.reload()
    # Until the label is in sight: what reading costs is told, and the light goes on and off.
    page.get_by_test_id("scan").click()
    video = page.get_by_test_id("scan-video")
    expect(video).to_have_attribute("data-decode-ms-per-s", re.compile(r"^\d+\.\d$"))
    page.get_by_test_id("scan-torch").click()
    expect(page.get_by_test_id("tin")).to_be_focused()
    label_is(page, code)
    told = page.evaluate("told")
    assert told == {"shakes": [[80]], "tones": [1976], "lights": [True]}


def test_each_stage_of_a_look_costs_time_that_is_counted(
    web: Stack, open_app: OpenApp, tmp_path: Path
) -> None:
    film_of_none = tmp_path / "tire.mjpeg"
    film_of_none.write_bytes(film.jpeg(film.on_a_tire(None)) * 30)
    page = open_app(flags=film.camera(film_of_none)).page
    page.get_by_test_id("scan").click()
    video = page.get_by_test_id("scan-video")
    expect(video).to_have_attribute("data-looks", re.compile(r"^([5-9]|\d\d+)$"))
    spent = float(video.get_attribute("data-decode-ms-per-s") or "")
    assert 0 < spent < 1000, "one thread reads: no more than the second itself"


def test_a_label_is_typed_with_its_eight_symbols_and_no_more(web: Stack, open_app: OpenApp) -> None:
    page, code = open_app().page, web.cast["labels"].pop()
    page.get_by_test_id("label").focus()
    page.keyboard.type(code.lower(), delay=150)  # slower than a scanner
    label_is(page, code)
    expect(page.locator("#label-said")).to_contain_text("reads well")
