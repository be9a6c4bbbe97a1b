"""Every kind of thing booked in at a counter by keyboard alone: what each has to record, the spec
check while typing, what is not taken, scrap; signed for, on the ticket, in the story."""

from typing import Any

import pytest
from playwright.sync_api import expect

from tests.journeys.barriers import look
from tests.journeys.clerk import Counter, a_drop_off, facts, sound_label
from tests.journeys.promised import offer
from tests.world.stack import Stack


@pytest.fixture
def strict(store: Stack) -> Stack:
    """A store whose customer takes no casing of more than seven years."""
    store.call(f"specify({store.cast['customer']!r}, oldest_years=7, pull_32nds=6)")
    store.call("settle()")
    return store


def told_in(store: Stack, visit: str, kind: str) -> list[tuple[Any, dict[str, Any]]]:
    query = (
        "SELECT uid, told FROM custody_fact WHERE kind = %s AND told->>'visit' = %s ORDER BY stamp"
    )
    return [(uid, dict(told)) for uid, told in store.rows(query, kind, visit)]


def booked(counter: Counter) -> list[str]:
    """The labels booked in, in their order."""
    shown = counter.page.get_by_test_id("booked").locator(".code").all_inner_texts()
    return [sound_label(text) for text in shown]


def saved(counter: Counter, count: int) -> None:
    expect(counter.page.get_by_test_id("booked").locator("li")).to_have_count(count)


def test_every_kind_is_booked_in_by_keyboard_with_what_it_has_to_record(
    strict: Stack, counter: Counter
) -> None:
    page = counter.page
    counter.hears()
    a_drop_off(counter, 4)
    counter.expect_at("tin")

    # To retread: two TINs with slips, a size from the list, two places, where it ran, a nail.
    counter.type("4bo8 4dhr 2922, r 7rt 1224")
    expect(page.locator("#tin-said")).to_contain_text("Week 29 of 2022")
    expect(page.locator("#tin-said")).to_contain_text("Retreaded in week 12 of 2024")
    expect(page.locator("#tin-said")).to_contain_text("Read O as 0")
    counter.expect_at("size")
    page.keyboard.type("11")
    counter.press("ArrowDown", "Enter")
    counter.expect_at("treads")
    size = page.get_by_test_id("size").input_value()
    assert size.startswith("11")
    page.keyboard.type("676/6-5")
    expect(page.locator("#treads-said")).to_contain_text("2 places: 6 7 6 / 6 - 5")
    expect(page.get_by_test_id("spec")).to_have_attribute("data-verdict", "take")
    counter.press("F2")
    counter.expect_at("position")
    counter.type("D", end="Tab")  # drive, by its letter
    page.keyboard.type("LRO")
    counter.press("Tab")
    page.keyboard.type("4417")
    counter.press("Tab")
    page.keyboard.type("412,300")
    counter.press("Tab", "Tab")
    counter.type("w", end="F4")  # worn out
    counter.expect_at("seen-code")
    page.keyboard.type("cnh x2")
    counter.press("Enter")
    counter.expect_at("seen-code")
    expect(page.get_by_test_id("noted")).to_contain_text("Nail hole · Crown · 2 times")
    counter.press("Enter")
    saved(counter, 1)

    # To sell: its letter, a price, no day.
    counter.expect_at("tin")
    counter.press("Shift+Tab", "Shift+Tab")
    counter.press("s", "Enter", "Enter")
    counter.expect_at("tin")
    counter.type("3123")
    counter.expect_at("treads")
    page.keyboard.type("888")
    counter.tab_to("sale-grade")
    counter.type("A", end="Tab")
    counter.type("forty")
    expect(page.get_by_test_id("sale-price-fault")).to_contain_text("“forty” is no price")
    counter.expect_at("sale-price")
    counter.press("Control+A")
    counter.type("40.50")
    saved(counter, 2)

    # A claim: nothing is saved before it says of what.
    counter.expect_at("tin")
    counter.press("Shift+Tab", "Shift+Tab", "c", "Enter", "Enter")
    counter.type("R 7RT 1223")
    counter.type("555")
    counter.expect_at("complaint")
    expect(page.get_by_test_id("complaint-fault")).to_be_visible()
    page.keyboard.type("tread came off")
    counter.tab_to("save")
    counter.press("Enter")
    saved(counter, 3)

    # A wheel with its tire: rim and valve before it is lifted.
    counter.expect_at("tin")
    counter.press("Shift+Tab", "Shift+Tab", "w", "Enter", "Enter")
    counter.type("2821")
    counter.type("555")
    expect(page.get_by_test_id("rim-fault")).to_be_visible()
    counter.press("Tab", "ArrowRight")
    expect(page.get_by_test_id("rim-aluminum")).to_be_checked()
    counter.tab_to("valve-out")
    counter.press(" ", "Enter")
    saved(counter, 4)

    counter.expect_at("signer")
    labels = booked(counter)
    counter.type("Ines Corvo")
    counter.expect_at("finish-confirm")
    counter.press("Enter")
    ticket = page.get_by_test_id("ticket")
    expect(page.get_by_test_id("ticket-sell")).to_contain_text("price comes after inspection")
    expect(page.get_by_test_id("ticket-adjustment")).to_contain_text("what was decided")
    expect(ticket).to_contain_text("4 casings taken in")
    expect(page.get_by_test_id("ticket-days")).to_contain_text("Come back on")
    counter.sends()

    found = facts(strict, "picked_up", labels)
    first, sale, claim, wheel = (found[label][1] for label in labels)
    assert first["tins"] == [
        {"tin": "4B08 4DHR 2922", "made": "new"},
        {"tin": "7RT 1224", "made": "retread"},
    ]
    assert first["treads_32nds"] == [[6, 7, 6], [6, None, 5]]
    assert (first["size"], first["position"], first["wheel"]) == (size, "drive", "LRO")
    assert (first["unit"], first["odometer"], first["pulled_for"]) == ("4417", 412300, "worn")
    assert [(f["zone"], f["kind"], f["count"]) for f in first["findings"]] == [
        ("crown", "nail_hole", 2)
    ]
    # How wide the nail holes are nobody said.
    assert (first["check"]["verdict"], first["check"]["number"]) == ("plant", 1)
    assert first["promised"]["on"] == offer(strict, "store", "retread")
    assert (sale["line"], sale["sale"]["cents"], sale["sale"]["grade"]) == ("sell", 4050, "A")
    assert (claim["line"], claim["complaint"]) == ("adjustment", "tread came off")
    assert (wheel["line"], wheel["rim"], wheel["valve_out"]) == ("wheel_tire", "aluminum", True)
    assert [one.get("promised") is None for one in (sale, claim, wheel)] == [True, True, False]
    assert {one["size"] for one in (sale, claim, wheel)} == {size}, "as the casing before"
    assert {one["unit"] for one in (sale, claim, wheel)} == {"4417"}

    # "Where is it?", by the TIN of its retread; its story has all of it.
    page.keyboard.press("Tab")
    counter.press("Enter")
    counter.expect_at("find")
    counter.type("7RT 1224")
    story = page.get_by_test_id("story")
    for said in (
        "TIN DOT 4B08 4DHR 2922",
        "TIN of a retread: DOT 7RT 1224",
        "6 · 7 · 6 | 6 · \N{EN DASH} · 5",
        "Drive",
        "Nail hole · Crown",
        "Spec check: let the plant decide",
    ):
        expect(story).to_contain_text(said)


def test_what_the_customer_does_not_take_is_given_back_or_taken_with_a_reason(
    strict: Stack, counter: Counter
) -> None:
    page = counter.page
    counter.hears()
    a_drop_off(counter, 1)
    counter.expect_at("tin")

    # Too old: said while it is typed. Enter asks for a reason; before it stands to give it back.
    page.keyboard.type("4B08 4DHR 1210")
    expect(page.get_by_test_id("spec")).to_have_attribute("data-verdict", "leave")
    expect(page.get_by_test_id("spec")).to_contain_text("Do not take it")
    counter.press("Enter", "Enter")
    counter.type("666")
    counter.expect_at("overruled")
    expect(page.get_by_test_id("overruled-fault")).to_be_visible()
    counter.expect_waiting(0)
    look(page)
    page.set_viewport_size({"width": 1440, "height": 900})
    counter.tab_to("leave-here", key="Shift+Tab")
    counter.press("Enter")
    expect(page.get_by_test_id("left-line")).to_contain_text("Casing not taken")
    counter.expect_at("tin")
    expect(page.get_by_test_id("tin")).to_have_value("")
    visit = page.url.rsplit("/", 1)[1]

    # Scrap by its key: count, fee, manifest.
    counter.press("F9")
    counter.expect_at("pieces")
    counter.type("six")
    expect(page.get_by_test_id("pieces-fault")).to_contain_text("“six” is no count")
    counter.press("Control+A")
    page.keyboard.type("6")
    counter.press("Tab")
    page.keyboard.type("4.50")
    counter.press("Tab")
    counter.type("MX 4471")
    expect(page.get_by_test_id("scrap-line")).to_contain_text("manifest MX 4471")
    counter.expect_at("tin")

    # The same age again, taken with a reason.
    counter.type("4B08 4DHR 1310")
    counter.press("Enter")
    counter.type("666")
    counter.expect_at("overruled")
    counter.type("The office said so")
    saved(counter, 1)
    [label] = booked(counter)
    counter.expect_at("signer")
    counter.type("Ines Corvo")
    counter.expect_at("finish-confirm")
    counter.press("Enter")
    expect(page.get_by_test_id("ticket")).to_contain_text("6 scrap, 1 not taken")
    expect(page.get_by_test_id("ticket-lines")).to_contain_text("manifest MX 4471")
    look(page)
    counter.sends()

    [(scrap_id, scrap)] = told_in(strict, visit, "scrap")
    assert (scrap["count"], scrap["fee_cents"], scrap["manifest"]) == (6, 450, "MX 4471")
    [(left_id, left)] = told_in(strict, visit, "left")
    assert left["check"]["because"] == ["too_old"]
    assert {scrap["store"], left["store"]} == {strict.cast["store"]}
    [(_, end)] = told_in(strict, visit, "pickup_end")
    assert (end["scrap"], end["left"]) == ([str(scrap_id)], [str(left_id)])
    check = facts(strict, "picked_up", [label])[label][1]["check"]
    assert (check["verdict"], check["overruled"]) == ("leave", "The office said so")


def test_scrap_alone_is_a_drop_off_and_what_was_given_back_can_still_be_taken(
    store: Stack, counter: Counter
) -> None:
    page = counter.page
    a_drop_off(counter, 0)
    counter.press("F4")
    counter.type("wcd")
    expect(page.get_by_test_id("spec")).to_contain_text("stops the casing")
    counter.tab_to("leave-here")
    counter.press("Enter")
    counter.press("F9")
    counter.type("4")
    expect(page.get_by_test_id("scrap-line")).to_contain_text("4 scrap")

    # It is taken after all: its sheet has what was seen of it, and is cleared again.
    counter.tab_to("left-taken", most=40)
    counter.press("Enter")
    expect(page.get_by_test_id("left-line")).to_have_count(0)
    expect(page.get_by_test_id("noted")).to_contain_text("Cord showing")
    expect(page.get_by_test_id("cautions")).to_contain_text("Do not run")
    page.get_by_test_id("clear-half").focus()
    counter.press("Enter")
    expect(page.get_by_test_id("clear-half")).to_have_count(0)

    # Counted wrong: told again.
    counter.tab_to("scrap-correct", most=40)
    counter.press("Enter")
    expect(page.get_by_test_id("pieces-again")).to_have_value("4")
    page.get_by_test_id("pieces-again").focus()
    counter.press("Control+A")
    counter.type("5")
    expect(page.get_by_test_id("scrap-line")).to_contain_text("5 scrap")
    visit = page.url.rsplit("/", 1)[1]
    page.get_by_test_id("signer").focus()
    counter.type("Ines Corvo")
    counter.expect_at("finish-confirm")
    counter.press("Enter")
    expect(page.get_by_test_id("ticket")).to_contain_text("5 scrap")
    expect(page.get_by_test_id("ticket")).not_to_contain_text("Come back on")
    counter.sends()
    [(_, end)] = told_in(store, visit, "pickup_end")
    told = {kind: len(end.get(kind, [])) for kind in ("casings", "scrap", "left")}
    assert told == {"casings": 0, "scrap": 1, "left": 0}
