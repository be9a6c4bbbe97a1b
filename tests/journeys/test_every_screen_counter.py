"""A morning at a store's counter, state by state: no barrier in either language, in either light,
at a desk's width and at a phone's, where keys are of a glove's size (barriers.py).

A state that is no longer come by, or has no name in the table, fails.
"""

from collections.abc import Iterator
from itertools import chain

from playwright.sync_api import expect

from tests.journeys.barriers import at_the_desk, walk_through
from tests.journeys.cargo import Cargo
from tests.journeys.clerk import Counter
from tests.journeys.test_counter_morning import on_a_truck, to_be_fetched
from tests.world.stack import Stack

ASKED = """
    home: nothing yet
    home: what waits
    home: found
    home: nothing found
    a customer
    where is it: on the rack
    where is it: rejected
    waiting for their owners
    reminding: called, with fault
    reminding: written
    waiting: one was called
    receiving
    receiving: asked
    receiving: one received
"""
DROP_OFF = """
    drop-off: empty
    drop-off: half entered
    drop-off: with fault
    drop-off: where it ran
    drop-off: what is seen on it
    drop-off: one to sell
    drop-off: several casings
    drop-off: scrap counted
    correcting
    ending: with fault
    ending: they will not sign
    ending: the counts differ
    ticket
    home: a drop-off lately
    home: one open here
"""
HANDED = """
    handing over: nothing ticked
    handing over: somebody else's
    handing over: two ticked
    handing over: with fault
    handing over: signed
    handed over
    no connection
"""


def test_every_screen_of_the_counter_is_without_a_barrier(store: Stack, counter: Counter) -> None:
    walk = chain(asked(counter, store), a_drop_off(counter, store), handed_over(counter, store))
    walk_through(counter.page, ASKED + DROP_OFF + HANDED, walk, at_the_desk)


def home(counter: Counter) -> None:
    counter.page.locator("header .mark").click()
    expect(counter.page.get_by_test_id("find")).to_be_visible()


def asked(counter: Counter, store: Stack) -> Iterator[str]:
    page, cargo, customer = counter.page, Cargo(store), store.cast["customer"]
    yield "home: nothing yet"
    rejected = cargo.come_home(2, rejected=1)[1]
    fetched = to_be_fetched(cargo, 2)[0]
    cargo.come_home(1, store.cast["hollow"])
    brought = on_a_truck(cargo)
    counter.hears()
    expect(page.get_by_test_id(f"remind-{customer}")).to_be_visible()
    yield "home: what waits"
    page.get_by_test_id("find").fill("a")
    expect(page.locator("[data-testid^='found-']")).not_to_have_count(0)
    yield "home: found"
    page.get_by_test_id("find").fill("zzzz")
    page.get_by_test_id("find").press("Enter")
    expect(page.get_by_test_id("find-said")).not_to_be_empty()
    yield "home: nothing found"
    page.goto(f"{store.url}/app/customer/{customer}")
    expect(page.get_by_test_id("drop-off")).to_be_visible()
    yield "a customer"
    for label, name in ((fetched, "on the rack"), (rejected, "rejected")):
        home(counter)
        page.get_by_test_id("find").fill(label)
        page.get_by_test_id("find").press("Enter")
        expect(page.get_by_test_id("about")).to_be_visible()
        yield f"where is it: {name}"
    yield from reminding(counter, store)
    yield from receiving(counter, store, brought)


def reminding(counter: Counter, store: Stack) -> Iterator[str]:
    page, customer = counter.page, store.cast["customer"]
    page.goto(f"{store.url}/app/waiting")
    expect(page.get_by_test_id(f"waiting-{customer}")).to_be_visible()
    yield "waiting for their owners"
    page.get_by_test_id(f"remind-{customer}").click()
    page.get_by_test_id("remind-do").click()
    expect(page.get_by_test_id("remind-said-fault")).to_be_visible()
    yield "reminding: called, with fault"
    page.get_by_test_id("remind-step").select_option("written")
    expect(page.get_by_test_id("remind-whom")).to_have_count(0)
    yield "reminding: written"
    page.get_by_test_id("remind-step").select_option("called")
    page.get_by_test_id("remind-said").fill("they come on Friday")
    page.get_by_test_id("remind-do").click()
    expect(page.get_by_test_id("waiting-list")).to_contain_text("they come on Friday")
    yield "waiting: one was called"


def receiving(counter: Counter, store: Stack, brought: str) -> Iterator[str]:
    page = counter.page
    page.goto(f"{store.url}/app/receive")
    expect(page.get_by_test_id(f"truck-{brought}")).to_be_visible()
    yield "receiving"
    page.get_by_test_id("label").fill(store.cast["labels"].pop())
    page.get_by_test_id("label").press("Enter")
    expect(
        page.get_by_test_id("question").or_(page.get_by_test_id("bringer")).first
    ).to_be_visible()
    yield "receiving: asked"
    answer = page.get_by_test_id("answer-no")
    if answer.count() > 0:
        answer.click()
    page.get_by_test_id("label").fill(brought)
    page.get_by_test_id("label").press("Enter")
    expect(page.get_by_test_id("verdict")).to_contain_text("is on the rack")
    yield "receiving: one received"


def booked(counter: Counter, count: int) -> None:
    expect(counter.page.get_by_test_id("booked").locator("[data-testid^='casing-']")).to_have_count(
        count
    )


def a_drop_off(counter: Counter, store: Stack) -> Iterator[str]:
    page = counter.page
    page.goto(f"{store.url}/app/customer/{store.cast['customer']}")
    page.get_by_test_id("drop-off").click()
    counter.expect_at("customer-count")
    yield "drop-off: empty"
    counter.type("9")
    counter.expect_at("tin")
    page.get_by_test_id("tin").fill("4B08 4DHR 2922, 1224")
    page.get_by_test_id("size").fill("11R22.5")
    yield "drop-off: half entered"
    page.get_by_test_id("treads").fill("6 66 7")
    page.get_by_test_id("save").click()
    expect(page.get_by_test_id("treads-fault")).to_be_visible()
    yield "drop-off: with fault"
    page.get_by_test_id("treads").fill("6 7")
    counter.press("F2")
    counter.expect_at("position")
    yield "drop-off: where it ran"
    counter.press("F2", "F4")
    counter.expect_at("seen-code")
    counter.type("wcd")
    expect(page.get_by_test_id("noted")).to_contain_text("Cord showing")
    yield "drop-off: what is seen on it"
    page.get_by_test_id("leave-here").click()
    expect(page.get_by_test_id("left-line")).to_have_count(1)
    page.get_by_test_id("treads").fill("6 7")
    page.get_by_test_id("save").click()
    booked(counter, 1)
    page.get_by_test_id("line-sell").click()
    expect(page.get_by_test_id("sale-grade")).to_be_visible()
    yield "drop-off: one to sell"
    page.get_by_test_id("treads").fill("8 8")
    page.get_by_test_id("save").click()
    booked(counter, 2)
    yield "drop-off: several casings"
    counter.press("F9")
    counter.expect_at("pieces")
    counter.type("6")
    expect(page.get_by_test_id("scrap-line")).to_have_count(1)
    yield "drop-off: scrap counted"
    yield from ending(counter)


def ending(counter: Counter) -> Iterator[str]:
    page = counter.page
    page.locator("[data-testid^='correct-']").first.click()
    expect(page.get_by_test_id("withdraw")).to_be_visible()
    yield "correcting"
    page.go_back()
    page.get_by_test_id("deposit").fill("50 cash, slip 88")
    page.get_by_test_id("finish-confirm").click()
    expect(page.get_by_test_id("signer-fault")).to_be_visible()
    yield "ending: with fault"
    expect(page.get_by_test_id("sign-nobody")).to_have_count(0)  # they stand in front
    page.get_by_test_id("sign-refuses").check()
    yield "ending: they will not sign"
    page.get_by_test_id("sign-signs").check()
    counter.sign("Ines Corvo")
    page.get_by_test_id("finish-confirm").click()
    expect(page.get_by_test_id("finish-ask")).not_to_be_empty()
    yield "ending: the counts differ"
    page.get_by_test_id("finish-confirm").click()
    expect(page.get_by_test_id("ticket")).to_be_visible()
    yield "ticket"
    page.get_by_test_id("ticket-done").click()
    expect(page.locator("[data-testid^='ticket-']")).to_have_count(1)
    yield "home: a drop-off lately"
    counter.type("hollow")
    page.get_by_test_id("drop-off").click()
    counter.expect_at("customer-count")
    page.get_by_test_id("tin").fill("2923")
    expect(page.get_by_test_id("tin")).to_have_value("2923")
    home(counter)
    expect(page.locator("[data-testid^='open-']")).to_have_count(1)
    yield "home: one open here"


def handed_over(counter: Counter, store: Stack) -> Iterator[str]:
    page, customer = counter.page, store.cast["customer"]
    page.goto(f"{store.url}/app/hand-over/{customer}")
    expect(page.locator("[data-testid^='ready-']")).not_to_have_count(0)
    yield "handing over: nothing ticked"
    [(foreign,)] = store.rows(
        "SELECT label FROM casings_work_order WHERE yard = %s", store.cast["hollow"]
    )
    page.get_by_test_id("label").fill(foreign)
    page.get_by_test_id("label").press("Enter")
    expect(page.get_by_test_id("question")).to_be_visible()
    yield "handing over: somebody else's"
    page.get_by_test_id("answer-no").click()
    for number in range(2):
        page.locator("[data-testid^='ready-']").nth(number).check()
    expect(page.get_by_test_id("hand-over-count")).to_contain_text("2 of")
    yield "handing over: two ticked"
    page.get_by_test_id("hand-over-confirm").click()
    expect(page.get_by_test_id("signer-fault")).to_be_visible()
    yield "handing over: with fault"
    counter.sign("Abel Corvo")
    yield "handing over: signed"
    counter.set_offline(True)
    page.get_by_test_id("hand-over-confirm").click()
    expect(page.get_by_test_id("handed-over")).to_be_visible()
    yield "handed over"
    home(counter)
    expect(page.get_by_test_id("status-line")).to_have_attribute("data-reach", "no_signal")
    yield "no connection"
