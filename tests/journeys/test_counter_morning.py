"""A whole morning at a counter, by keyboard: without a connection but for printing, its browser
killed in the middle. Back online everything is recorded once, and the ticket is right."""

import re
from datetime import timedelta
from typing import Any

import pypdfium2
from playwright.sync_api import expect

from pickups.kernel.ids import uuid7
from tests.journeys.cargo import Cargo
from tests.journeys.clerk import Counter, facts, overheard, sound_label
from tests.world.stack import Stack

TWELVE_DAYS = timedelta(days=12)
KINDS = ("", "", "s", "", "w")
"""Two to be retread, two to sell, a wheel with its tire: by the first letter, or as before."""
DEPOSIT = "$50.00, cash, slip 88"


def to_be_fetched(cargo: Cargo, count: int) -> list[str]:
    """So many casings that came to the store's rack twelve days ago, for their owner to fetch."""
    cast = cargo.stack.cast
    labels = [cast["labels"].pop() for _ in range(count)]
    store, dock = f"site:{cast['store']}", f"plant:{cast['plant']}"
    taken = {"pickup": str(uuid7()), "yard": cast["yard"], "store": cast["store"]}
    cargo.phone.ahead = -TWELVE_DAYS
    for label in labels:
        told = {**taken, "label": label, "size": "11R22.5", "work": "retread", "back_to": "store"}
        cargo.phone.enter("custody.pick_up", told, version=2)
    cargo.hand_over(labels, "in", store, dock)
    cargo.hand_over(labels, "out", dock, store)
    cargo.push()
    cargo.phone.ahead = timedelta()
    return labels


def on_a_truck(cargo: Cargo) -> str:
    """A finished casing that a driver of the store brings."""
    cast = cargo.stack.cast
    (label,) = cargo.come_home(1, to="plant")
    cargo.hand_over([label], "out", f"plant:{cast['plant']}", f"person:{cast['driver']}")
    cargo.push()
    return label


def book_in(counter: Counter, number: int, label: str) -> None:
    """One casing with a label of the roll; returns when the list has it."""
    page, kind = counter.page, KINDS[number]
    counter.expect_at("label")
    if kind:
        counter.press("Shift+Tab", kind, "Enter")
        counter.expect_at("label")
    counter.type(label)
    counter.expect_at("tin")
    counter.type(f"29{20 + number}")
    if number == 0:
        counter.expect_at("size")
        counter.type("11R22.5")
    counter.expect_at("treads")
    page.keyboard.type("555")
    if kind == "w":
        counter.tab_to("rim-steel")
        counter.press("ArrowRight")
        counter.tab_to("valve-out")
        counter.press(" ")
    counter.press("Enter")
    expect(page.get_by_test_id(f"casing-{label}")).to_be_visible()


def test_a_morning_without_a_connection_and_through_kills_is_recorded_once(
    store: Stack, counter: Counter
) -> None:
    page, cargo, cast = counter.page, Cargo(store), store.cast
    fetched, waits = to_be_fetched(cargo, 2)
    brought = on_a_truck(cargo)
    roll = [cast["labels"].pop() for _ in KINDS]
    counter.hears()
    step = page.get_by_test_id(f"remind-{cast['customer']}")
    expect(step).to_have_text("Call them")
    expect(page.get_by_test_id(f"waiting-{cast['customer']}")).to_contain_text("here 12 days")
    # What is ready for them comes first; a drop-off is one key on.
    counter.type("tarn")
    counter.expect_at("hand-over")
    counter.tab_to("drop-off")
    counter.press("Enter")
    counter.expect_at("customer-count")
    counter.type(str(len(KINDS)))
    counter.set_offline(True)
    expect(page.locator("#label-said")).to_contain_text("use a label from the roll")
    page.get_by_test_id("label").focus()
    for number in range(3):
        book_in(counter, number, roll[number])
    counter.expect_at("label")
    counter.type(roll[3])
    counter.type("2923", end="Tab")
    expect(page.get_by_test_id("finish-half")).to_be_visible()  # it is on the disk

    # Killed over the fourth, half entered; the app comes from what the device has kept.
    counter.kill()
    page = counter.open(offline=True)
    counter.expect_at("find")
    expect(page.locator("[data-testid^='open-']")).to_contain_text("3 booked in")
    page.locator("[data-testid^='open-']").focus()
    counter.press("Enter")
    expect(page.get_by_test_id("tin")).to_have_value("2923")
    page.get_by_test_id("treads").focus()
    counter.type("555")
    expect(page.get_by_test_id(f"casing-{roll[3]}")).to_be_visible()
    book_in(counter, 4, roll[4])

    # The deposit stands between the list and the name.
    counter.expect_at("signer")
    counter.tab_to("deposit", key="Shift+Tab")
    counter.type("50 cash, slip 88")
    expect(page.locator("#deposit-said")).to_have_text(f"Noted as {DEPOSIT}")
    counter.expect_at("signer")
    counter.type("Ines Corvo")
    counter.expect_at("finish-confirm")
    counter.press("Enter")
    expect(page.get_by_test_id("ticket-deposit")).to_contain_text(DEPOSIT)
    expect(page.get_by_test_id("ticket-days")).to_contain_text("Come back on")
    expect(page.get_by_test_id("receipt-square")).to_be_visible()
    listed = page.get_by_test_id("ticket-labels").locator(".code").all_inner_texts()
    assert [sound_label(text) for text in listed] == roll
    visit = page.url.rsplit("/", 1)[-1]
    counter.tab_to("ticket-done")
    counter.press("Enter")

    the_truck(counter, brought)
    the_hand_over(counter, fetched)
    where_it_is(counter, roll[0])
    the_call(counter, cast["customer"])

    counter.kill()
    page = counter.open()
    counter.sends()
    everything_once(store, roll, fetched, waits, brought)
    the_pdf(counter, visit)


def home(counter: Counter) -> None:
    counter.tab_to("counter-back", key="Shift+Tab")
    counter.press("Enter")
    counter.expect_at("find")


def the_truck(counter: Counter, brought: str) -> None:
    """Received from a driver, by one scan."""
    counter.expect_at("find")
    counter.tab_to("receive")
    counter.press("Enter")
    counter.expect_at("label")
    counter.type(brought)
    expect(counter.page.get_by_test_id("verdict")).to_contain_text("is on the rack")
    home(counter)


def the_hand_over(counter: Counter, fetched: str) -> None:
    """One of two that are ready, signed for."""
    page = counter.page
    counter.type("tarn")
    counter.expect_at("hand-over")
    counter.press("Enter")
    counter.expect_at("label")
    counter.type(fetched)
    expect(page.get_by_test_id("verdict")).to_contain_text("is on the list")
    counter.sign("Abel Corvo")
    page.get_by_test_id("signer").focus()
    counter.press("Enter", "Enter")
    expect(page.get_by_test_id("handed-over")).to_contain_text("1 casing handed over")
    counter.press("Enter")
    counter.expect_at("find")


def where_it_is(counter: Counter, label: str) -> None:
    """Said from the first page; the deposit that was left with it is said again."""
    page = counter.page
    counter.type("2920")
    expect(page.get_by_test_id("about")).to_contain_text(f"{label[:4]}\N{THIN SPACE}{label[4:]}")
    expect(page.get_by_test_id("where")).to_contain_text("Here on the rack")
    expect(page.get_by_test_id("deposit-left")).to_contain_text(
        re.compile(rf"Deposit left on .+: {re.escape(DEPOSIT)}. Give it back or count it in")
    )
    home(counter)


def the_call(counter: Counter, customer: str) -> None:
    """Their owner was called about what is left on the rack."""
    page = counter.page
    counter.tab_to(f"remind-{customer}", most=40)
    counter.press("Enter")
    counter.tab_to("remind-said")
    counter.press("Enter")
    expect(page.get_by_test_id("remind-said-fault")).to_contain_text("nobody answered")
    counter.expect_at("remind-said")
    counter.type("they come on Friday")
    expect(page.get_by_test_id(f"remind-{customer}")).to_contain_text("Nothing before")
    expect(page.get_by_test_id("waiting-list")).to_contain_text("they come on Friday")


def everything_once(store: Stack, roll: list[str], fetched: str, waits: str, brought: str) -> None:
    """Each fact once, with what was told."""
    rack = f"site:{store.cast['store']}"
    taken = facts(store, "picked_up", roll)
    assert {holder for holder, _ in taken.values()} == {rack}
    lines = [taken[label][1]["line"] for label in roll]
    assert lines == ["retread", "retread", "sell", "sell", "wheel_tire"], "a kind stays as it was"
    visit = taken[roll[0]][1]["pickup"]
    query = "SELECT told FROM custody_fact WHERE kind = 'pickup_end' AND told->>'visit' = %s"
    [(end,)] = store.rows(query, visit)
    assert (end["deposit_cents"], end["deposit_note"]) == (5000, "cash, slip 88")
    assert (len(end["casings"]), end["customer_count"]) == (5, 5)
    facts(store, "returned", [fetched])
    query = "SELECT holder FROM custody_fact WHERE kind = 'handed_out' AND label = %s"
    assert [row for row in store.rows(query, brought) if row == (rack,)] == [(rack,)]
    told: dict[str, tuple[str, dict[str, Any]]] = facts(store, "reminded", [waits])
    assert told[waits][1]["step"] == "called"
    query = """SELECT w.text FROM people_words w JOIN custody_fact f ON f.uid = w.uid
               WHERE f.kind = 'reminded' AND f.label = %s"""
    [(said,)] = store.rows(query, waits)
    assert said.endswith("they come on Friday")
    query = "SELECT holder, progress FROM casings_work_order WHERE label = %s"
    assert store.rows(query, waits) == [(rack, "shipped")], "a call moves nothing"


def the_pdf(counter: Counter, visit: str) -> None:
    """The ticket as the server draws it says the same."""
    page = counter.page
    page.goto(f"{counter.url}/app/ticket/{visit}")
    expect(page.get_by_test_id("ticket")).to_be_visible()
    drawn = overheard(page, "**/api/tickets/*")
    page.get_by_test_id("ticket-pdf").click()
    expect(page.get_by_test_id("ticket-pdf")).to_be_enabled()
    (answer,) = drawn
    assert answer.headers["content-type"] == "application/pdf"
    text = "\n".join(
        one.get_textpage().get_text_range() for one in pypdfium2.PdfDocument(answer.body())
    )
    assert "Come back on" in text
    assert "Vuelva el" in text
    assert DEPOSIT in text
