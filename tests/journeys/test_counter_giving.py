"""A store's rack: finished work handed to its owner, what drivers bring received."""

import re

from playwright.sync_api import expect

from tests.journeys.cargo import Cargo
from tests.journeys.clerk import Counter, facts
from tests.world.stack import Stack

REJECTED = "REJECTED \N{EN DASH} do not mount or inflate"


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
    expect(page.get_by_test_id("receipt-square").locator("svg")).to_be_visible()
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
