"""A store's counter with the keyboard alone: drop-offs booked in without a connection and through
kills, their labels and ticket, finished work handed over, a driver's casings received."""

import contextlib
import io
import re
from collections.abc import Iterator
from datetime import date
from typing import Any

import pytest
import zxingcpp
from PIL import Image
from playwright.sync_api import APIResponse, Page, Playwright, Route, expect

from tests.journeys.app import App
from tests.journeys.cargo import Cargo
from tests.journeys.test_pickup_signed import look, offer, publish
from tests.pickups.labels.pictures import rasters, texts
from tests.world.mail import MailServer, running, text_of
from tests.world.stack import Stack

NO_PREVIEW = "--disable-print-preview"
"""A browser without a screen falls over its own print preview."""


REJECTED = "REJECTED \N{EN DASH} do not mount or inflate"


class Counter(App):
    """A PC at a counter: as wide as a desk, driven by keys."""

    def open(self, *, offline: bool = False) -> Page:
        """Start the browser on the same profile and open the app."""
        page = super().open(offline=offline)
        page.set_viewport_size({"width": 1440, "height": 900})
        return page

    def type(self, text: str, *, end: str = "Enter") -> None:
        """As a typist does, then a key."""
        self.page.keyboard.type(text)
        self.page.keyboard.press(end)

    def scan(self, label: str, field: str) -> None:
        """As a scanner types, into whatever field the cursor stands in, which keeps none of it.

        On a machine that is busy the keys may come as slowly as a hand's: then it is scanned anew.
        """
        for _ in range(5):
            self.type(label)
            with contextlib.suppress(AssertionError):
                expect(self.page.get_by_test_id("label")).to_have_value(
                    f"{label[:4]}\u2009{label[4:]}", timeout=1000
                )
                expect(self.page.get_by_test_id(field)).to_have_value("", timeout=1000)
                return
            self.page.get_by_test_id("label").fill("")
            self.page.get_by_test_id(field).fill("")
        raise AssertionError(f"{label} was not read")

    def press(self, *keys: str) -> None:
        """Keys one after the other."""
        for key in keys:
            self.page.keyboard.press(key)

    def expect_at(self, name: str) -> None:
        """Wait until the cursor stands in the control of that name."""
        expect(self.page.get_by_test_id(name)).to_be_focused()

    def tab_to(self, name: str, most: int = 25) -> None:
        """Tab until the cursor stands there: no mouse."""
        for _ in range(most):
            if self.page.evaluate("document.activeElement.dataset.testid") == name:
                return
            self.page.keyboard.press("Tab")
        raise AssertionError(f"{name} is not among the next {most} stops of Tab")

    def hears(self) -> None:
        """Ask for what is new, as a device does when its signal comes back."""
        self.set_offline(True)
        self.set_offline(False)

    def sends(self) -> None:
        """All that was entered has reached the server."""
        self.expect_waiting(0)


@pytest.fixture
def store(web: Stack) -> Stack:
    """A stack whose store has a counter, and may promise."""
    cast = web.cast
    if "counter" not in cast:
        cast["counter"] = web.call(f"hire({cast['store']!r}, 'counter', 'Noor', 'Vance')").strip()
        cast["hollow"] = web.call(
            f"open_yard({cast['store']!r}, 'Hollow Creek Dairy', 'Creamery', '12 Mill Road')"
        ).strip()
        publish(web, days=5)
        web.call("settle()")
    return web


@pytest.fixture
def counter(store: Stack, playwright: Playwright, chromium: str) -> Iterator[Counter]:
    """A counter's PC, enrolled, with the counter's person at it."""
    made = Counter(playwright, chromium, store.url, [NO_PREVIEW])
    made.enrol(store.fresh_code(), store.cast["counter"])
    expect(made.page.get_by_test_id("find")).to_be_focused()
    yield made
    made.close()


def facts(stack: Stack, kind: str, labels: list[str]) -> dict[str, tuple[str, dict[str, Any]]]:
    """By label: who holds the casing after the fact, and what was told."""
    query = "SELECT label, holder, told FROM custody_fact WHERE kind = %s AND label = ANY(%s)"
    rows = stack.rows(query, kind, labels)
    assert len(rows) == len(labels), "each once"
    return {label: (holder, told) for label, holder, told in rows}


def sound_label(text: str) -> str:
    """A label as it is shown, without its thin space."""
    return re.sub(r"[^0-9A-Z]", "", text)


def a_drop_off(counter: Counter, count: int) -> None:
    """From the first page to the first casing: name, Enter, Enter, how many; labels are there."""
    expect(counter.page.get_by_test_id("labels-left")).to_contain_text(re.compile("[1-9]"))
    counter.type("tarn")
    counter.expect_at("drop-off")
    counter.press("Enter")
    counter.expect_at("customer-count")
    counter.type(str(count))


def test_a_drop_off_is_booked_in_without_a_mouse_without_a_connection_and_through_kills(
    store: Stack, counter: Counter, monkeypatch: pytest.MonkeyPatch
) -> None:
    page, on_roll = counter.page, [store.cast["labels"].pop() for _ in range(2)]
    a_drop_off(counter, 3)
    expect(page.get_by_test_id("label")).not_to_have_value("")  # the next of its own is proposed
    counter.expect_at("tin")

    # With a connection: the label is printed while the customer is speaking.
    counter.type("4B08 2923", end="Tab")
    counter.type("11R22.5", end="Tab")
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
    counter.type("2924", end="Tab")
    counter.press("Tab")  # the size is as before
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
    counter.press("Enter", "Enter", "Enter")  # to the size, to the treads, saved without them

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


def overheard(page: Page, address: str) -> list[APIResponse]:
    """The answers that the server gives there from now on, passed on as they are."""
    heard: list[APIResponse] = []

    def pass_on(route: Route) -> None:
        heard.append(route.fetch())
        route.fulfill(response=heard[-1])

    page.route(address, pass_on)
    return heard


def read_back(drawn: list[APIResponse], url: str, label: str) -> None:
    """The PDF is that of one label and its twin, for the printer's own dots."""
    (answer,) = drawn
    assert answer.headers["content-type"] == "application/pdf"
    pages = [texts(page) for page in rasters(answer.body())]
    assert pages == [{"qr": [f"{url}/L/{label}".upper()], "bars": [label]}] * 2


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
    square = Image.open(io.BytesIO(page.locator(".ticket .square").screenshot()))
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
    tins = [found[label][1]["tin"] for label in labels]
    assert tins == ["4B08 2923", "2924", "4B08 2925"]
    assert [found[label][1].get("tread_32nds") for label in labels] == [
        [6, 7, 6, 5],
        [5, 5, 6],
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
    counter.type("2924", end="Tab")
    counter.press("Tab")
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


def test_finished_work_is_handed_to_its_owner_and_to_nobody_else(
    store: Stack, counter: Counter
) -> None:
    page, cargo = counter.page, Cargo(store)
    finished, rejected = cargo.come_home(2, rejected=1)
    (theirs,) = cargo.come_home(1, store.cast["hollow"])
    counter.hears()
    expect(page.get_by_test_id(f"waiting-{store.cast['customer']}")).to_contain_text(
        "1 ready, 1 rejected"
    )
    counter.type("tarn")
    counter.expect_at("hand-over")
    counter.press("Enter")
    counter.expect_at("label")
    counter.type(finished)
    expect(page.get_by_test_id("verdict")).to_contain_text("is on the list")
    counter.type(rejected)
    expect(page.get_by_test_id("verdict")).to_contain_text(REJECTED)

    # Another customer's casing: stopped, put aside.
    counter.type(theirs)
    asked = page.get_by_test_id("question")
    expect(asked).to_contain_text("belongs to Hollow Creek Dairy")
    counter.tab_to("answer-no")
    counter.press("Enter")
    expect(asked).to_have_count(0)
    expect(page.get_by_test_id("hand-over-count")).to_contain_text("2 of 2")

    counter.sign("Abel Corvo")
    page.get_by_test_id("signer").focus()
    counter.press("Enter", "Enter")
    expect(page.get_by_test_id("handed-over")).to_contain_text("2 casings handed over")
    counter.sends()
    told = facts(store, "returned", [finished, rejected])
    assert {holder for holder, _ in told.values()} == {f"customer:{store.cast['customer']}"}
    assert {one["store"] for _, one in told.values()} == {store.cast["store"]}
    delivery = told[finished][1]["delivery"]
    [(name, image)] = store.rows(
        "SELECT name, image FROM custody_signature WHERE visit = %s", delivery
    )
    assert name == "Abel Corvo"
    assert re.fullmatch("[0-9a-f]{64}", image)
    query = "SELECT told FROM custody_fact WHERE kind = 'delivery_end' AND told->>'visit' = %s"
    [(end,)] = store.rows(query, delivery)
    assert (end["store"], len(end["casings"])) == (store.cast["store"], 2)
    [(holder,)] = store.rows("SELECT holder FROM casings_work_order WHERE label = %s", theirs)
    assert holder == f"site:{store.cast['store']}", "it never left the rack"


def test_what_a_driver_brings_comes_onto_the_rack_by_one_scan(
    store: Stack, counter: Counter
) -> None:
    page, cargo = counter.page, Cargo(store)
    (home,) = cargo.come_home(1, to="plant")
    driver = f"person:{store.cast['driver']}"
    cargo.hand_over([home], "out", f"plant:{store.cast['plant']}", driver)
    cargo.push()
    counter.hears()
    counter.tab_to("receive")
    counter.press("Enter")
    expect(page.get_by_test_id(f"truck-{home}")).to_be_visible()
    counter.expect_at("label")
    counter.type(home)
    expect(page.get_by_test_id("verdict")).to_contain_text("is on the rack, from Dale Orrin")
    expect(page.get_by_test_id(f"truck-{home}")).to_have_count(0)
    counter.type(home)
    expect(page.get_by_test_id("verdict")).to_contain_text("is on this rack already")
    counter.sends()
    [(holder, progress)] = store.rows(
        "SELECT holder, progress FROM casings_work_order WHERE label = %s", home
    )
    assert (holder, progress) == (f"site:{store.cast['store']}", "shipped")

    # "Where is it?": said from the first page.
    page.get_by_test_id("counter-back").click()
    counter.expect_at("find")
    counter.type(home)
    expect(page.get_by_test_id("where")).to_contain_text("Ready here, on the rack.")


@pytest.mark.parametrize("language", ["en", "es"])
def test_no_barrier_is_found_on_any_page_of_the_counter(
    store: Stack, counter: Counter, language: str
) -> None:
    page, cargo = counter.page, Cargo(store)
    finished, rejected = cargo.come_home(2, rejected=1)
    if language == "es":
        page.get_by_test_id("language").click()
    counter.hears()
    owner = page.get_by_test_id(f"waiting-{store.cast['customer']}")
    expect(owner).to_be_visible()
    page.get_by_test_id("find").fill("a")
    look(page)
    for address in ("waiting", "receive", f"customer/{store.cast['customer']}"):
        page.goto(f"{store.url}/app/{address}")
        look(page)
    page.get_by_test_id("drop-off").click()
    page.get_by_test_id("treads").fill("6 66 7")
    look(page)
    page.get_by_test_id("treads").fill("6 7")
    page.get_by_test_id("save").click()
    expect(page.locator("[data-testid^='casing-']")).to_have_count(1)
    page.locator("summary").first.click()
    look(page)
    counter.sign("Ines Corvo", draw=False)
    page.get_by_test_id("finish-confirm").click()
    expect(page.get_by_test_id("ticket")).to_be_visible()
    look(page)
    page.goto(f"{store.url}/app/hand-over/{store.cast['customer']}")
    for label in (finished, rejected):
        page.get_by_test_id("label").fill(label)
        page.keyboard.press("Enter")
    look(page)
    page.goto(f"{store.url}/app/")
    page.get_by_test_id("find").fill(rejected)
    page.keyboard.press("Enter")
    expect(page.get_by_test_id("about")).to_be_visible()
    look(page)


def scripts(page: Page) -> set[str]:
    """What the page itself has loaded, by name; what the worker keeps is another matter."""
    names = page.evaluate("performance.getEntriesByType('resource').map((one) => one.name)")
    return {match.group(1) for name in names if (match := re.search(r"/assets/(\w+)-", name))}


def test_a_drivers_phone_never_loads_the_counter_and_a_dispatcher_may_work_at_either(
    store: Stack, playwright: Playwright, chromium: str
) -> None:
    phone = Counter(playwright, chromium, store.url)
    try:
        phone.enrol(store.fresh_code(), store.cast["driver"])
        page = phone.page
        expect(page.get_by_test_id("yard-search")).to_be_visible()
        expect(page.get_by_test_id("workplace")).to_have_count(0)
        assert "Workplace" not in scripts(page)

        # Without a connection the counter comes from what the device has kept.
        phone.set_offline(True)
        page.get_by_test_id("who-change").click()
        [(dispatcher,)] = store.rows("SELECT uid FROM people_user WHERE role = 'dispatcher'")
        page.get_by_test_id(f"person-{dispatcher}").click()
        expect(page.get_by_test_id("yard-search")).to_be_visible()
        page.get_by_test_id("workplace").click()
        phone.expect_at("find")
        assert "Workplace" in scripts(page)
        page.get_by_test_id("workplace").click()
        expect(page.get_by_test_id("yard-search")).to_be_visible()
    finally:
        phone.close()
