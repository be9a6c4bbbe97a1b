"""A phone that the office has shut goes on; odd entries are asked about in true words, once."""

from playwright.sync_api import Page, expect

from pickups.config import places
from tests.journeys.app import App
from tests.journeys.conftest import OpenApp
from tests.world.stack import Stack

AXE = places.PROJECT / "frontend" / "node_modules" / "axe-core" / "axe.min.js"


def facts(stack: Stack, label: str) -> int:
    return int(stack.rows("SELECT count(*) FROM custody_fact WHERE label = %s", label)[0][0])


def newest_device(stack: Stack) -> str:
    return str(stack.rows("SELECT uid FROM people_device ORDER BY enrolled_at DESC LIMIT 1")[0][0])


def link(app: App, code: str) -> str:
    return f"{app.url}/app/#enrol={code}"


def enrol_by_what_the_link_brought(app: App, stack: Stack, code: str) -> None:
    page = app.page
    expect(page.get_by_test_id("enrol-code")).to_have_value(code)
    assert code not in page.url, "it is not kept in the browser's history"
    expect(page.get_by_test_id("enrol-name")).to_have_value("Truck 4 phone")
    page.get_by_test_id("enrol-submit").click()
    app.choose(stack.cast["driver"])
    expect(page.get_by_test_id("shut")).to_have_count(0)


def test_a_revoked_phone_is_enrolled_again_by_the_link_and_sends_what_it_kept(
    web: Stack, open_app: OpenApp
) -> None:
    app = open_app()
    page = app.page
    label, half = web.cast["labels"].pop(), web.cast["labels"].pop()
    app.set_offline(True)
    app.add(label, 6)
    page.get_by_test_id("label").fill(half)
    web.call(f"people.revoke_device(uid={newest_device(web)!r})")
    app.set_offline(False)
    expect(page.get_by_test_id("shut")).to_contain_text("The office has shut this phone off")
    expect(page.get_by_test_id("save")).to_have_count(0)
    expect(page.locator("main")).to_contain_text("Nothing can be saved on this phone until")
    app.expect_waiting(1)

    # Without signal it is shut all the same, also after it was closed.
    app.kill()
    page = app.open(offline=True)
    expect(page.get_by_test_id("shut")).to_be_visible()
    expect(page.locator("main")).to_contain_text("Nothing new can be entered on this phone")
    expect(page.locator("main")).not_to_contain_text("No yards have arrived yet")
    app.set_offline(False)

    # The link comes to the open app, twice: the later code counts.
    page.get_by_test_id("enrol-again").click()
    expect(page.get_by_test_id("enrol-code")).to_have_value("")
    page.go_back()
    page.evaluate("location.hash = '#enrol=AN-OLDER-ONE'")
    expect(page.get_by_test_id("enrol-code")).to_have_value("AN-OLDER-ONE")
    code = web.fresh_code()
    page.evaluate("code => { location.hash = `#enrol=${code}` }", code)
    enrol_by_what_the_link_brought(app, web, code)
    app.expect_waiting(0)
    assert facts(web, label) == 1
    page.locator("[data-testid^='open-']").click()
    expect(page.get_by_test_id("label")).to_have_value(f"{half[:4]}\u2009{half[4:]}")
    page.get_by_test_id("save").click()
    app.expect_standing(half, "recorded")


def test_a_closing_phone_says_when_it_may_be_handed_back_and_the_link_opens_it_again(
    web: Stack, open_app: OpenApp
) -> None:
    app = open_app()
    app.set_offline(True)
    label = web.cast["labels"].pop()
    app.add(label, 6)
    web.call(f"people.close_device(uid={newest_device(web)!r})")
    app.set_offline(False)
    shut = app.page.get_by_test_id("shut")
    expect(shut).to_have_text("Everything is sent. You can hand this phone back.")
    assert facts(web, label) == 1
    app.page.close()
    assert app.context is not None
    app.page = app.new_page()
    code = web.fresh_code()
    app.page.goto(link(app, code))
    enrol_by_what_the_link_brought(app, web, code)
    expect(app.page.get_by_test_id(f"yard-{web.cast['yard']}")).to_be_visible()


def test_odd_entries_are_asked_about_in_true_words_and_once(web: Stack, open_app: OpenApp) -> None:
    app = open_app()
    page = app.page
    doubled, other = web.cast["labels"].pop(), web.cast["labels"].pop()
    app.add(doubled, 5)
    page.get_by_test_id("label").fill(doubled)
    expect(page.get_by_test_id("save-anyway")).to_have_text("Save as a second casing")
    page.get_by_test_id("save-anyway").click()
    expect(page.get_by_test_id(f"casing-{doubled}")).to_have_count(2)
    app.add(other, 7)
    a_correction_that_leaves_the_label_is_not_asked_about(page, doubled)
    one_that_takes_a_label_that_is_here_is(page, doubled, other)
    what_was_wrong_with_one_casing_is_not_said_of_the_next(app, web.cast["labels"].pop())
    a_reason_chosen_is_no_fault(page, other)
    nothing_waits_is_all_that_is_said_without_the_server(app, web)
    the_customers_count_is_kept_as_typed_and_asked_about_once(page)


def a_correction_that_leaves_the_label_is_not_asked_about(page: Page, doubled: str) -> None:
    page.get_by_test_id(f"correct-{doubled}").first.click()
    page.get_by_test_id("tread-9").click()
    expect(page.get_by_test_id("save-anyway")).to_have_count(0)
    page.get_by_test_id("save").click()
    expect(page.get_by_test_id(f"casing-{doubled}").first).to_contain_text("5 · 9 /32")


def one_that_takes_a_label_that_is_here_is(page: Page, doubled: str, other: str) -> None:
    page.get_by_test_id(f"correct-{other}").click()
    page.get_by_test_id("label").fill(doubled)
    page.get_by_test_id("save").click()
    expect(page.get_by_test_id("save-anyway")).to_be_focused()
    expect(page.get_by_test_id("save-anyway")).to_have_text("Save the correction with this label")
    expect(page.locator("main")).not_to_contain_text("second casing")
    leave(page)


def what_was_wrong_with_one_casing_is_not_said_of_the_next(app: App, label: str) -> None:
    page = app.page
    page.get_by_test_id("photo").set_input_files(
        {"name": "notes.txt", "mimeType": "text/plain", "buffer": b"no picture"}
    )
    expect(page.get_by_test_id("photo-fault")).to_contain_text("not a picture")
    page.get_by_test_id("note").fill("x" * 490)
    expect(page.locator("#note-said")).to_contain_text("10 more symbols fit")
    page.get_by_test_id("note").press_sequentially("y" * 11)
    expect(page.locator("#note-said")).to_contain_text("500 symbols are the most")
    app.add(label, 8)
    expect(page.get_by_test_id("photo-fault")).to_have_text("")
    expect(page.locator("#note-said")).to_have_text("")


def leave(page: Page) -> None:
    page.locator(".back").click()
    expect(page.get_by_test_id("count")).to_be_visible()


def a_reason_chosen_is_no_fault(page: Page, label: str) -> None:
    page.get_by_test_id(f"correct-{label}").click()
    page.get_by_test_id("withdraw").click()
    page.get_by_test_id("withdraw-confirm").click()
    expect(page.get_by_test_id("withdraw-reason-fault")).to_contain_text("Say why")
    page.get_by_role("button", name="Entered twice").click()
    expect(page.get_by_test_id("withdraw-reason-fault")).to_have_count(0)
    expect(page.get_by_test_id("withdraw-reason")).to_have_value("Entered twice")
    leave(page)


def nothing_waits_is_all_that_is_said_without_the_server(app: App, web: Stack) -> None:
    line = app.page.get_by_test_id("status-line")
    expect(line).to_contain_text("Everything is recorded")
    web.kill_web()
    app.page.evaluate("dispatchEvent(new Event('online'))")
    expect(line).to_contain_text("Nothing waits to be sent · the office's server does not answer")
    expect(line).not_to_contain_text("Everything is recorded")


def the_customers_count_is_kept_as_typed_and_asked_about_once(page: Page) -> None:
    page.get_by_test_id("finish").click()
    count, confirm = page.get_by_test_id("customer-count"), page.get_by_test_id("finish-confirm")
    count.press_sequentially("99999999")
    confirm.click()
    expect(page.get_by_test_id("customer-count-fault")).to_contain_text("0 to 9999")
    expect(count).to_have_value("99999999")
    page.get_by_test_id("signer").fill("R. Amsel")
    count.fill("40")
    confirm.click()
    expect(page.get_by_test_id("finish-ask")).to_have_text("You 4, customer 40?")
    # Another count is another question.
    count.fill("5")
    expect(page.get_by_test_id("finish-ask")).to_have_text("")
    confirm.click()
    expect(page.get_by_test_id("finish-ask")).to_have_text("You 4, customer 5?")
    confirm.click()
    expect(page.get_by_test_id("receipt")).to_contain_text("customer says 5")


def test_what_is_at_the_foot_covers_no_tread_key_half(web: Stack, open_app: OpenApp) -> None:
    page = open_app().page
    page.evaluate(AXE.read_text())
    for width, height in ((1440, 900), (360, 740)):
        page.set_viewport_size({"width": width, "height": height})
        for row_at in (0, 20, 40, 60):
            page.get_by_test_id("tread-15").evaluate(KEY_AT_THE_FOOT, row_at)
            said = page.evaluate("axe.run(document, {runOnly: ['target-size']})")
            assert said["passes"], "it did look"
            assert [v["nodes"][0]["target"] for v in said["violations"]] == []


KEY_AT_THE_FOOT = """(key, below) => {
    const scroll = document.getElementById("scroll");
    const foot = scroll.getBoundingClientRect().bottom;
    scroll.scrollBy(0, key.getBoundingClientRect().top + below - foot);
}"""
