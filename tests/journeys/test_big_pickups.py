"""Big and unattended pickups: a trailer taken closed and emptied elsewhere, a pile by label and
size, a yard where nobody is."""

import io
import re
from collections.abc import Iterator
from typing import Any

import pytest
from PIL import Image
from playwright.sync_api import FilePayload, Page, expect

from tests.journeys.barriers import look
from tests.journeys.clerk import Counter
from tests.journeys.conftest import OpenApp
from tests.world.mail import MailServer, running, text_of
from tests.world.stack import Stack

TO = "ines@tarn.example"


@pytest.fixture
def letters(monkeypatch: pytest.MonkeyPatch) -> Iterator[MailServer]:
    """The mail server that what is settled from now on is sent to, listening."""
    server = MailServer()
    monkeypatch.setenv("EMAIL_URL", f"smtp://127.0.0.1:{server.port}")
    with running(server):
        yield server


def sent(server: MailServer, stack: Stack) -> list[str]:
    """Everything that is owed goes out; what has come, as one line of text each."""
    stack.call("settle()")
    return [" ".join(f"{m['Subject']} {text_of(m)}".split()) for m in server.to(TO)]


def picture(colour: str) -> FilePayload:
    """A photo as a camera hands it over."""
    out = io.BytesIO()
    Image.new("RGB", (640, 480), colour).save(out, "JPEG")
    return {"name": "pile.jpg", "mimeType": "image/jpeg", "buffer": out.getvalue()}


def told(stack: Stack, kind: str, visit: str) -> list[dict[str, Any]]:
    query = "SELECT told FROM custody_fact WHERE kind = %s AND told->>'visit' = %s ORDER BY stamp"
    return [dict(row[0]) for row in stack.rows(query, kind, visit)]


def visit_of(page: Page) -> str:
    """The pickup that the page is about, by its address."""
    return page.url.split("/pickup/")[1].split("/")[0]


def open_questions(stack: Stack, visit: str) -> list[str]:
    query = "SELECT kind FROM questions_question WHERE subject = %s AND settled_at IS NULL"
    return [kind for (kind,) in stack.rows(query, f"pickup:{visit}")]


# --- A trailer ----------------------------------------------------------------------------------


def test_a_trailer_is_taken_closed_without_signal_and_emptied_at_the_store_by_another_device(
    store: Stack, open_app: OpenApp, counter: Counter, letters: MailServer
) -> None:
    stack, app = store, open_app()
    before = len(sent(letters, stack))
    app.set_offline(True)
    page = app.page
    visit = visit_of(page)
    page.get_by_test_id("take-trailer").click()
    page.get_by_test_id("trailer-end").click()
    expect(page.get_by_test_id("trailer-number-fault")).to_be_visible()
    page.get_by_test_id("trailer-number").fill("TW-118")
    page.get_by_test_id("trailer-seal").fill("0047112")
    page.get_by_test_id("trailer-left").fill("TW-109")
    page.get_by_test_id("customer-count").fill("3")
    page.get_by_test_id("photo").set_input_files(picture("gray"))
    expect(page.locator(".photos img")).to_have_count(1)
    look(page)
    # The phone dies in the middle of it.
    app.kill()
    page = app.open(offline=True)
    page.locator("[data-testid^='open-']").click()
    page.get_by_test_id("take-trailer").click()
    expect(page.get_by_test_id("trailer-seal")).to_have_value("0047112")
    expect(page.locator(".photos img")).to_have_count(1)
    # What is signed is the trailer: with another seal it has to be signed again.
    app.sign("R. Amsel")
    page.get_by_test_id("trailer-seal").fill("0047113")
    expect(page.get_by_test_id("sign-another")).to_be_visible()
    page.get_by_test_id("trailer-seal").fill("0047112")
    expect(page.get_by_test_id("sign-another")).to_have_count(0)
    page.get_by_test_id("trailer-end").click()
    receipt = page.get_by_test_id("receipt")
    expect(receipt).to_contain_text("Trailer TW-118, closed")
    expect(receipt).to_contain_text("Signed by R. Amsel")
    look(page)
    page.get_by_test_id("receipt-done").click()
    expect(page.get_by_test_id(f"empty-{visit}")).to_contain_text("seal 0047112")
    app.set_offline(False)
    app.expect_waiting(0)
    [end] = told(stack, "pickup_end", visit)
    assert end["trailer"] == {"number": "TW-118", "seal": "0047112", "left": "TW-109"}
    assert end.get("casings", []) == []
    assert open_questions(stack, visit) == []
    [first] = sent(letters, stack)[before:]
    assert "trailer TW-118 taken closed" in first
    assert "Your count: 3 casings." in first

    # At the store another device opens it, without signal: seal, own count, then label by label.
    counter.hears()
    counter.page.get_by_test_id(f"empty-{visit}").click()
    counter.set_offline(True)
    page = counter.page
    page.get_by_test_id("seal").fill("0047112")
    page.get_by_test_id("open-trailer").click()
    expect(page.get_by_text("Say how the seal is.")).to_be_visible()
    page.get_by_test_id("seal-state-whole").check()
    page.get_by_test_id("own-count").fill("2")
    look(page)
    page.get_by_test_id("open-trailer").click()
    expect(page.get_by_test_id("count")).to_have_text("0 labelled")
    page.get_by_test_id("way-quick").check()
    labels = sorted(stack.cast["labels"].pop() for _ in range(2))
    page.get_by_test_id("size").fill("295/75R22.5")
    for label in labels:
        scanned(page, label)
        expect(page.get_by_test_id(f"casing-{label}")).to_be_visible()
    look(page)
    counter.kill()
    page = counter.open(offline=True)
    page.get_by_test_id(f"empty-{visit}").click()
    expect(page.get_by_test_id("count")).to_have_text("2 labelled")
    page.get_by_test_id("emptied").click()
    expect(page.get_by_test_id("emptied-count")).to_contain_text(
        "2 labelled, you counted 2, customer says 3"
    )
    look(page)
    page.get_by_test_id("emptied-end").click()
    expect(page.get_by_test_id("trailer-emptied")).to_be_visible()
    counter.set_offline(False)
    counter.expect_waiting(0)
    [emptying] = told(stack, "emptied", visit)
    assert len(emptying["casings"]) == 2
    assert (emptying["seal"], emptying["seal_state"], emptying["counted"]) == (
        "0047112", "whole", 2,
    )  # fmt: skip
    assert open_questions(stack, visit) == ["count_differs"]
    query = "SELECT holder FROM casings_work_order WHERE label = ANY(%s)"
    assert stack.rows(query, labels) == [(f"site:{stack.cast['store']}",)] * 2
    [_, second] = sent(letters, stack)[before:]
    assert "It was opened and emptied at" in second
    assert "Your count was 3, ours is 2." in second
    assert all(f"{label[:4]} {label[4:]}" in second for label in labels)
    # Nobody else has it to empty any more.
    app.set_offline(True)
    app.set_offline(False)
    expect(app.page.get_by_test_id(f"empty-{visit}")).to_have_count(0)


def scanned(page: Page, label: str) -> None:
    """As a scanner gives it: keys without a pause, and Enter."""
    page.get_by_test_id("label").focus()
    page.keyboard.type(label)
    page.keyboard.press("Enter")


# --- A pile -------------------------------------------------------------------------------------

CASINGS = 20


def test_twenty_casings_by_label_and_size_are_looked_at_where_they_are_received(
    web: Stack, open_app: OpenApp
) -> None:
    stack, app = web, open_app()
    app.set_offline(True)
    page = app.page
    visit = visit_of(page)
    taps = 0
    labels = sorted(stack.cast["labels"].pop() for _ in range(CASINGS))
    page.get_by_test_id("way-quick").check()
    page.get_by_test_id("size").fill("11R22.5")
    taps += 2
    # Typed, it waits for the word of who types it.
    page.get_by_test_id("label").fill(labels[0])
    expect(page.get_by_test_id("save")).to_be_visible()
    expect(page.get_by_test_id(f"casing-{labels[0]}")).to_have_count(0)
    page.get_by_test_id("label").fill("")
    # The next one comes before the one before is saved: each in turn.
    for label in labels[:3]:
        scanned(page, label)
    for label in labels:
        if label not in labels[:3]:
            scanned(page, label)
        expect(page.get_by_test_id(f"casing-{label}")).to_be_visible()
        expect(page.get_by_test_id("label")).to_have_value("")
    print(f"\n  {CASINGS} casings by label and size: {taps} taps and {CASINGS} scans")
    assert taps <= 2
    expect(page.get_by_test_id("quick-size")).to_contain_text("11R22.5")
    look(page)
    # One label again is asked about, as on the whole sheet.
    scanned(page, labels[3])
    expect(page.get_by_test_id("save-anyway")).to_be_visible()
    page.get_by_test_id("label").fill("")
    app.finish(CASINGS)
    page.get_by_test_id("receipt-done").click()

    # Received: the list says what nobody has looked at, and opens the sheet of each; offline too.
    page.get_by_test_id("to-look-at").click()
    for label in labels:
        expect(page.get_by_test_id(f"look-{label}")).to_be_visible()
    # Others may wait from another visit of this driver.
    [every] = re.findall(r"^\d+", page.get_by_role("heading", level=1).inner_text())
    look(page)
    for label in labels[:2]:
        page.get_by_test_id(f"look-{label}").click()
        page.get_by_test_id("tin").fill("1M3F4A5B2319")
        page.get_by_test_id("tread-6").click()
        page.get_by_test_id("save").click()
        expect(page.get_by_test_id(f"look-{label}")).to_have_count(0)
    expect(page.get_by_role("heading", level=1)).to_have_text(f"{int(every) - 2} to look at")
    app.set_offline(False)
    app.expect_waiting(0, patience_s=60)
    query = "SELECT told FROM casings_work_order WHERE pickup = %s ORDER BY label"
    stands = [row[0] for row in stack.rows(query, visit)]
    assert [w["size"] for w in stands] == ["11R22.5"] * CASINGS
    assert [bool(w.get("tins")) for w in stands] == [True] * 2 + [False] * (CASINGS - 2)
    assert all("check" not in w for w in stands[2:]), "nobody has judged those"
    assert all(w["check"] for w in stands[:2])
    assert open_questions(stack, visit) == []


def test_one_that_should_have_stayed_is_told_at_receiving_and_asked_about(
    web: Stack, open_app: OpenApp
) -> None:
    stack, app = web, open_app()
    page = app.page
    label = stack.cast["labels"].pop()
    page.get_by_test_id("way-quick").check()
    page.get_by_test_id("size").fill("11R22.5")
    page.get_by_test_id("label").fill(label)
    page.get_by_test_id("save").click()
    expect(page.get_by_test_id(f"casing-{label}")).to_be_visible()
    app.finish(1)
    page.get_by_test_id("receipt-done").click()
    page.get_by_test_id("to-look-at").click()
    page.get_by_test_id(f"look-{label}").click()
    page.get_by_test_id("condition-open").click()
    page.get_by_test_id("zone-bead-serial").click()
    page.get_by_test_id("kind-bead_wire").click()
    page.get_by_test_id("finding-done").click()
    expect(page.get_by_test_id("spec")).to_have_attribute("data-verdict", "leave")
    page.get_by_test_id("save").click()
    expect(page.get_by_test_id(f"look-{label}")).to_have_count(0)
    app.expect_waiting(0)
    stack.call("settle()")
    query = (
        "SELECT q.kind FROM questions_question q JOIN custody_fact f"
        " ON q.subject = 'fact:' || f.uid WHERE f.label = %s AND q.settled_at IS NULL"
    )
    assert stack.rows(query, label) == [("not_accepted",)]


# --- Nobody there -------------------------------------------------------------------------------


def test_nobody_there_needs_the_pile_before_and_after_and_is_mailed(
    web: Stack, open_app: OpenApp, letters: MailServer
) -> None:
    stack, app = web, open_app()
    before = len(sent(letters, stack))
    app.set_offline(True)
    page = app.page
    visit = visit_of(page)
    app.add(stack.cast["labels"].pop(), 6)
    page.get_by_test_id("finish").click()
    page.get_by_test_id("sign-nobody").check()
    page.get_by_test_id("finish-confirm").click()
    expect(page.get_by_text("Take a photo of the pile as you found it.")).to_be_visible()
    page.get_by_test_id("pile-before").set_input_files(picture("brown"))
    expect(page.locator(".photos img")).to_have_count(1)
    page.get_by_test_id("finish-confirm").click()
    expect(page.get_by_text("Take a photo of the place as you leave it.")).to_be_visible()
    look(page)
    # Killed here, both what was taken and what is missing is known again.
    app.kill()
    page = app.open(offline=True)
    page.locator("[data-testid^='open-']").click()
    page.get_by_test_id("finish").click()
    expect(page.locator(".photos img")).to_have_count(1)
    page.get_by_test_id("pile-after").set_input_files(picture("green"))
    expect(page.locator(".photos img")).to_have_count(2)
    page.get_by_test_id("finish-confirm").click()
    expect(page.get_by_test_id("receipt")).to_be_visible()
    app.set_offline(False)
    app.expect_waiting(0)
    expect(page.get_by_test_id("photos-waiting")).to_have_count(0)
    [end] = told(stack, "pickup_end", visit)
    assert end["nobody_there"] is True
    assert "signed" not in end
    first, last = end["photos"]
    assert colours(stack, first) > colours(stack, last), "the brown one is before the green one"
    [mail] = sent(letters, stack)[before:]
    assert "Receipt: 1 casing" in mail
    assert "Nobody of yours was there" in mail
    assert "Photos of the pile before and after are on your page." in mail


def colours(stack: Stack, sha256: str) -> int:
    """How much redder than green a photo is."""
    path = next(stack.home.rglob(f"*{sha256}*"))
    red, green, _ = Image.open(path).convert("RGB").resize((1, 1)).getpixel((0, 0))  # type: ignore[misc]
    return int(red) - int(green)
