"""A drop-off at a counter by keyboard alone, booked in without a connection and through kills,
its labels and its ticket."""

import io
from datetime import date

import pytest
import zxingcpp
from PIL import Image
from playwright.sync_api import Page, expect

from tests.journeys.clerk import Counter, a_drop_off, facts, overheard, read_back, sound_label
from tests.journeys.promised import offer
from tests.world.mail import MailServer, running, text_of
from tests.world.stack import Stack


def test_a_drop_off_is_booked_in_without_a_mouse_without_a_connection_and_through_kills(
    store: Stack, counter: Counter, monkeypatch: pytest.MonkeyPatch
) -> None:
    page, on_roll = counter.page, [store.cast["labels"].pop() for _ in range(2)]
    a_drop_off(counter, 3)
    expect(page.get_by_test_id("label")).not_to_have_value("")  # the next of its own is proposed
    counter.expect_at("tin")

    # With a connection: the label is printed while the customer is speaking.
    counter.type("4B08 2923")  # leads on to the size, which nobody knows yet
    counter.type("11R22.5")
    drawn = overheard(page, "**/api/labels/print")
    counter.type("6 7 6 5")
    printed = sound_label(page.locator("[data-testid='booked'] .code").inner_text())
    expect(page.get_by_test_id("print-said")).to_contain_text("sent to the printer")
    read_back(drawn, store.url, printed)

    # Without: one of the roll, scanned while the cursor stands in the TIN.
    counter.set_offline(True)
    expect(page.locator("#label-said")).to_contain_text("use a label from the roll")
    counter.expect_at("tin")
    counter.scan(on_roll[0], "tin")
    counter.expect_at("tin")
    counter.type("2924")  # the size is as before
    counter.type("5 5 6")
    counter.expect_waiting(1)

    # Killed over a casing that is half entered; the server too, so that nothing leaves by itself.
    counter.expect_at("label")
    counter.type(on_roll[1])
    counter.type("4B08 2925", end="Tab")
    expect(page.get_by_test_id("tin")).to_have_value("4B08 2925")
    page.wait_for_timeout(300)  # a keystroke is on the disk soon, not at once
    store.kill_web()
    counter.kill()
    page = counter.open(offline=True)
    counter.expect_at("find")
    expect(page.locator("[data-testid^='open-']")).to_contain_text("2 booked in")
    counter.press("Tab", "Enter")
    expect(page.get_by_test_id("tin")).to_have_value("4B08 2925")
    counter.expect_at("tin")
    counter.press("Enter", "Enter")  # to the treads, saved without them

    # All three are there: the signature comes next, then the ticket.
    counter.expect_at("signer")
    counter.type("Ines Corvo")
    counter.expect_at("finish-confirm")
    counter.press("Enter")
    counter.expect_at("ticket-print")
    number = the_ticket(page, [printed, *on_roll], offer(store, "store", "retread"))
    counter.press("Enter")  # to the printer
    counter.expect_waiting(3)

    counter.kill()
    store.start_web()
    page = counter.open()
    counter.sends()
    everything_arrived(store, [printed, *on_roll])
    the_receipt(store, [printed, *on_roll], monkeypatch)

    # The customer is back and has the ticket.
    counter.expect_at("find")
    counter.type(number)
    expect(page.get_by_test_id("ticket-number")).to_have_text(f"{number[:3]}\u2009{number[3:]}")


def the_ticket(page: Page, labels: list[str], promised: str) -> str:
    """Says when to come back, what could change it, and whose casings; returns its number."""
    ticket = page.get_by_test_id("ticket")
    day = date.fromisoformat(promised)
    expect(page.get_by_test_id("ticket-days")).to_contain_text(f"{day:%A, %B} {day.day}")
    expect(ticket).to_contain_text("Tarn Valley Haulage")
    expect(ticket).to_contain_text("condition is subject to the plant's inspection")
    expect(ticket).to_contain_text("555 0100")
    listed = page.get_by_test_id("ticket-labels").locator(".code").all_inner_texts()
    assert [sound_label(text) for text in listed] == labels
    number = sound_label(page.get_by_test_id("ticket-number").inner_text())
    square = Image.open(io.BytesIO(page.locator(".ticket .mark-of .square").screenshot()))
    assert [found.text for found in zxingcpp.read_barcodes(square)] == [f"T/{number}"]
    return number


def everything_arrived(store: Stack, labels: list[str]) -> None:
    """Each casing once, on the store's rack, with what was wanted and promised; and the end."""
    rack, promised = f"site:{store.cast['store']}", offer(store, "store", "retread")
    found = facts(store, "picked_up", labels)
    for holder, told in found.values():
        assert holder == rack
        assert told["store"] == store.cast["store"]
        assert (told["back_to"], told["size"]) == ("store", "11R22.5")
        assert (told["promised"]["on"], told["promised"]["basis"]) == (promised, "standard_time")
    tins = [[tin["tin"] for tin in found[label][1]["tins"]] for label in labels]
    assert tins == [["4B08 2923"], ["2924"], ["4B08 2925"]]
    assert [found[label][1].get("treads_32nds") for label in labels] == [
        [[6, 7, 6, 5]],
        [[5, 5, 6]],
        None,
    ]
    visit = found[labels[0]][1]["pickup"]
    query = "SELECT told FROM custody_fact WHERE kind = 'pickup_end' AND told->>'visit' = %s"
    [(end,)] = store.rows(query, visit)
    assert (end["store"], end["customer_count"], len(end["casings"])) == (
        store.cast["store"],
        3,
        3,
    )
    assert store.rows("SELECT name FROM custody_signature WHERE visit = %s", visit) == [
        ("Ines Corvo",)
    ]


def the_receipt(store: Stack, labels: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    """The customer's mail arrives, by a mail server, with every casing."""
    server = MailServer()
    monkeypatch.setenv("EMAIL_URL", f"smtp://127.0.0.1:{server.port}")
    with running(server):
        store.call("settle()")
    texts_of = [text_of(mail) for mail in server.to("ines@tarn.example")]
    [mail] = [
        text
        for text in texts_of
        if any(sound_label(label) in sound_label(text) for label in labels)
    ]
    assert all(label in sound_label(mail) for label in labels)


def test_what_cannot_be_told_is_said_at_its_field_and_nothing_is_entered(
    store: Stack, counter: Counter
) -> None:
    page = counter.page
    a_drop_off(counter, 1)
    counter.expect_at("tin")
    counter.type("2924")
    counter.expect_at("size")
    counter.press("Enter")
    counter.type("5 5 66")
    expect(page.get_by_test_id("treads-fault")).to_contain_text("“66” is no depth")
    counter.expect_at("treads")
    expect(page.get_by_test_id("tin")).to_have_value("2924")
    counter.expect_waiting(0)
    counter.press("Control+A")
    counter.type("5 5 6")
    expect(page.locator("[data-testid^='casing-']")).to_have_count(1)
    # One more than the customer says: asked once before it is finished.
    counter.expect_at("signer")
    page.get_by_test_id("treads").focus()
    counter.type("5 5 5")
    expect(page.locator("[data-testid^='casing-']")).to_have_count(2)
    counter.tab_to("finish-confirm")
    counter.press("Enter")
    expect(page.get_by_test_id("signer-fault")).to_be_visible()
    counter.expect_at("signer")
    counter.type("Ines Corvo")
    counter.press("Enter")
    expect(page.get_by_test_id("finish-ask")).to_contain_text("Booked in 2, the customer says 1")
    counter.press("Enter")
    expect(page.get_by_test_id("ticket")).to_be_visible()
    counter.sends()


def test_a_label_that_could_not_be_printed_waits_or_gives_way_to_one_of_the_roll(
    store: Stack, counter: Counter
) -> None:
    page, on_roll = counter.page, store.cast["labels"].pop()
    page.route("**/api/labels/print", lambda route: route.abort())
    a_drop_off(counter, 2)
    counter.expect_at("tin")
    for tin in ("2923", "2924"):
        counter.type(tin)
        counter.press("Enter", "Enter")  # past the size and the treads
        expect(page.get_by_test_id("print-said")).to_contain_text("Use a label from the roll")
    expect(page.locator("[data-testid='booked'] .code")).to_have_count(2)
    first, second = page.locator("[data-testid='booked'] .code").all_inner_texts()
    expect(page.get_by_test_id("print-waiting")).to_have_text("Print 2 labels that wait")

    # The first gets one of the roll instead; after a restart the second still waits.
    page.get_by_test_id(f"correct-{sound_label(first)}").click()
    page.get_by_test_id("label").fill(on_roll)
    page.get_by_test_id("save").click()
    expect(page.get_by_test_id(f"casing-{on_roll}")).to_be_visible()
    page.reload()
    expect(page.get_by_test_id("print-waiting")).to_have_text("Print 1 label that waits")
    page.unroute("**/api/labels/print")
    drawn = overheard(page, "**/api/labels/print")
    page.get_by_test_id("print-waiting").click()
    expect(page.get_by_test_id("print-said")).to_contain_text("sent to the printer")
    expect(page.get_by_test_id("print-waiting")).to_have_count(0)
    read_back(drawn, store.url, sound_label(second))

    counter.sends()
    query = "SELECT holder, told->>'store' FROM casings_work_order WHERE label = %s"
    here = store.cast["store"]
    assert store.rows(query, on_roll) == [(f"site:{here}", here)]
