"""A new build of the app comes by consent: never under a half-filled sheet of any tab."""

import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, Playwright, expect

from pickups.config.places import PROJECT
from tests.journeys.app import App
from tests.world.stack import Stack

DIST = PROJECT / "frontend" / "dist"
NEXT = "BuiltNxt"
WAITING = "async () => (await navigator.serviceWorker.getRegistration()).waiting !== null"
LOOK = "async () => { await (await navigator.serviceWorker.getRegistration()).update(); }"
FORCE = """async () => {
    (await navigator.serviceWorker.getRegistration()).waiting.postMessage("take_over");
}"""


def copy(to: Path) -> None:
    shutil.copytree(DIST, to, ignore=shutil.ignore_patterns("*.gz", "*.br"))


def next_build(of: Path, to: Path) -> None:
    """The same app as a later build has it: its script has another name, each file another sign."""
    copy(to)
    page = (to / "index.html").read_text()
    found = re.search(r"assets/index-([\w-]{8})\.js", page)
    assert found is not None
    script = found.group(1)
    for file in [*to.rglob("*.js"), to / "index.html"]:
        text = file.read_text().replace(f"index-{script}.js", f"index-{NEXT}.js")
        if file.name == "sw.js":
            text = re.sub(r"([`\"'])([0-9a-f]{16})\1", lambda m: m[1] + m[2][::-1] + m[1], text)
            text = re.sub("(yardloop-app-|\\+`)([0-9a-f]{16})", lambda m: m[1] + m[2][::-1], text)
        file.write_text(text)
    (to / "assets" / f"index-{script}.js").rename(to / "assets" / f"index-{NEXT}.js")


@pytest.fixture(scope="module")
def builds(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("builds")
    copy(folder / "first")
    next_build(folder / "first", folder / "next")
    return folder


@pytest.fixture(scope="module")
def stack(builds: Path) -> Iterator[Stack]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("APP_UNDER_TEST", str(builds / "first"))
        with Stack(durable=True, wsgi="tests.journeys.served:application") as made:
            yield made


@pytest.fixture
def app(stack: Stack, playwright: Playwright, chromium: str, builds: Path) -> Iterator[App]:
    """A phone with the first build, in the middle of a pickup."""
    serve(stack, builds / "first")
    made = App(playwright, chromium, stack.url)
    made.enrol(stack.fresh_code(), stack.cast["driver"])
    made.start_pickup(stack.cast["yard"])
    yield made
    made.close()


def serve(stack: Stack, build: Path) -> None:
    stack.kill_web()
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("APP_UNDER_TEST", str(build))
        stack.start_web()


def facts(stack: Stack, label: str) -> int:
    return int(stack.rows("SELECT count(*) FROM custody_fact WHERE label = %s", label)[0][0])


def in_next(page: Page) -> bool:
    return page.locator(f"script[src*='index-{NEXT}.js']").count() == 1


def offered(stack: Stack, app: App, builds: Path) -> None:
    """The next build is there, and this phone has fetched it."""
    serve(stack, builds / "next")
    app.page.evaluate(LOOK)
    expect(app.page.get_by_test_id("new-version")).to_be_visible()


def test_it_waits_for_the_sheet_of_every_tab_and_for_a_word(
    stack: Stack, app: App, builds: Path
) -> None:
    page, label, half = app.page, stack.cast["labels"].pop(), stack.cast["labels"].pop()
    offered(stack, app, builds)
    app.set_offline(True)
    app.add(label, 6)
    app.expect_waiting(1)
    expect(page.get_by_test_id("new-version")).to_be_disabled()
    page.get_by_test_id("label").fill(half)

    other = app.new_page()
    other.goto(f"{app.url}/app/")
    expect(other.get_by_test_id("new-version")).to_be_disabled()
    expect(other.get_by_test_id("new-version")).to_have_text("After this pickup")
    other.evaluate(FORCE)
    assert other.evaluate(WAITING), "a sheet is half filled in the other tab"
    assert not in_next(page)
    assert not in_next(other)

    page.get_by_test_id("save").click()
    app.expect_standing(half, "waiting")
    expect(other.get_by_test_id("new-version")).to_have_text("Use it now")
    other.get_by_test_id("new-version").click()
    expect(other.locator(f"script[src*='index-{NEXT}.js']")).to_have_count(1)
    expect(other.get_by_test_id("waiting")).to_contain_text("2")
    other.get_by_test_id("device-open").click()
    expect(other.get_by_test_id("device-build")).to_have_text(NEXT)
    # The tab in which the pickup is open runs on with what it has.
    assert not in_next(page)
    expect(page.get_by_test_id("label")).to_be_visible()

    app.set_offline(False)
    app.expect_waiting(0)
    assert [facts(stack, one) for one in (label, half)] == [1, 1]


def test_a_kill_between_the_offer_and_the_word_loses_neither_sheet_nor_outbox(
    stack: Stack, app: App, builds: Path
) -> None:
    page, label, half = app.page, stack.cast["labels"].pop(), stack.cast["labels"].pop()
    offered(stack, app, builds)
    app.set_offline(True)
    app.add(label, 7)
    page.get_by_test_id("label").fill(half)
    expect(page.get_by_test_id("new-version")).to_be_disabled()
    # What is typed is on the disk a moment later; another look shows that it is.
    page.reload()
    expect(page.get_by_test_id("label")).to_have_value(f"{half[:4]}\u2009{half[4:]}")
    app.kill()

    # No tab was left: the next start may be the next build's, with all that was here.
    page = app.open(offline=True)
    app.expect_waiting(1)
    page.locator("[data-testid^='open-']").first.click()
    expect(page.get_by_test_id("label")).to_have_value(f"{half[:4]}\u2009{half[4:]}")
    page.get_by_test_id("save").click()
    app.expect_waiting(2)
    app.set_offline(False)
    app.expect_waiting(0)
    assert [facts(stack, one) for one in (label, half)] == [1, 1]
