"""What a hand slips over at a counter: nothing typed or scanned is lost by it, and what cannot be
told is said at its field."""

from playwright.sync_api import expect

from tests.journeys.clerk import Counter, a_drop_off
from tests.journeys.test_half_entered import SLOW, photo
from tests.world.stack import Stack


def a_stop(counter: Counter) -> None:
    """Cord showing, by its code."""
    counter.press("F4")
    counter.expect_at("seen-code")
    counter.type("wcd")
    expect(counter.page.get_by_test_id("noted")).to_contain_text("Cord showing")


def test_what_is_not_taken_leaves_its_label_and_no_half_entered_thing_is_lost(
    store: Stack, counter: Counter
) -> None:
    page, label = counter.page, store.cast["labels"].pop()
    a_drop_off(counter, 9)
    counter.expect_at("tin")
    counter.scan(label, "tin")
    worn = f"{label[:4]}\N{THIN SPACE}{label[4:]}"
    expect(page.get_by_test_id("label")).to_have_value(worn)

    # What the office could not record is not told.
    page.get_by_test_id("tin").fill("4B08 4DHR 2910 1M3 7F5R 4716")
    a_stop(counter)
    page.get_by_test_id("leave-here").click()
    expect(page.get_by_test_id("tin-fault")).to_contain_text("24 symbols are the most")
    counter.expect_at("tin")
    page.get_by_test_id("tin").fill("2922")
    page.get_by_test_id("leave-here").click()
    expect(page.get_by_test_id("left-line")).to_have_count(1)
    expect(page.get_by_test_id("tin")).to_have_value("")
    expect(page.get_by_test_id("label")).to_have_value(worn)

    # Taken after all, but not over another that is half entered.
    page.get_by_test_id("tin").fill("3123")
    page.get_by_test_id("left-taken").click()
    expect(page.get_by_test_id("left-another")).to_contain_text("half entered")
    expect(page.get_by_test_id("left-line")).to_have_count(1)
    page.get_by_test_id("tin").fill("")
    page.get_by_test_id("left-taken").click()
    expect(page.get_by_test_id("left-line")).to_have_count(0)
    expect(page.get_by_test_id("tin")).to_have_value("2922")
    expect(page.get_by_test_id("noted")).to_contain_text("Cord showing")
    page.get_by_test_id("overrule").click()
    page.get_by_test_id("overrule-1").click()
    page.get_by_test_id("save").click()
    expect(page.get_by_test_id(f"casing-{label}")).to_be_visible()

    # Scrap that is typed and not counted keeps the end back, and is cleared from there.
    counter.press("F9")
    counter.expect_at("pieces")
    page.get_by_test_id("pieces").fill("6")
    expect(page.get_by_test_id("finish-half")).to_contain_text("scrap")
    expect(page.get_by_test_id("finish-confirm")).to_be_disabled()
    page.get_by_test_id("clear-half").click()
    expect(page.get_by_test_id("finish-half")).to_have_count(0)
    expect(page.get_by_test_id("finish-confirm")).to_be_enabled()
    expect(page.get_by_test_id("pieces")).to_have_value("")
    counter.sends()


CLEAR_AND_OPEN = """() => {
  document.querySelector('[data-testid="clear-half"]').click();
  document.querySelector('[data-testid="scrap-correct"]').click();
}"""
"""Both at once: what is cleared is cleared a moment after the other is opened."""


def test_a_form_that_is_opened_while_half_entered_things_are_cleared_stays_open(
    store: Stack, counter: Counter
) -> None:
    page = counter.page
    a_drop_off(counter, 1)
    counter.expect_at("tin")
    counter.press("F9")
    counter.expect_at("pieces")
    counter.type("3")
    expect(page.get_by_test_id("scrap-line")).to_have_count(1)
    counter.press("F9")
    counter.expect_at("pieces")
    page.get_by_test_id("pieces").fill("6")
    expect(page.get_by_test_id("finish-half")).to_contain_text("scrap")
    page.evaluate(CLEAR_AND_OPEN)
    expect(page.get_by_test_id("finish-half")).to_have_count(0)
    expect(page.get_by_test_id("pieces")).to_have_value("")
    expect(page.get_by_test_id("pieces-again")).to_have_value("3")
    page.get_by_test_id("pieces-again").fill("4")
    page.get_by_test_id("scrap-save-again").click()
    expect(page.get_by_test_id("scrap-line")).to_contain_text("4")
    counter.sends()


def test_nothing_is_saved_at_a_counter_while_a_photo_is_still_made_small(
    store: Stack, counter: Counter
) -> None:
    page = counter.page
    a_drop_off(counter, 1)
    counter.expect_at("tin")
    page.evaluate(SLOW)
    counter.type("2924")
    page.get_by_test_id("beside-it").click()
    page.get_by_test_id("photo").set_input_files([photo()])
    expect(page.get_by_test_id("save")).to_be_disabled()
    page.get_by_test_id("treads").focus()
    counter.type("555")
    expect(page.get_by_test_id("tin")).to_have_value("2924")
    expect(page.locator("[data-testid^='casing-']")).to_have_count(0)
    page.evaluate("window.developed()")
    expect(page.get_by_test_id("save")).to_be_enabled()
    page.get_by_test_id("save").click()
    expect(page.locator("[data-testid^='casing-']")).to_have_count(1)
    counter.sends()
    [(photos,)] = store.rows(
        "SELECT told->'photos' FROM custody_fact WHERE kind = 'picked_up' AND told->'tins'"
        " @> '[{\"tin\": \"2924\"}]' AND told ? 'photos'"
    )
    assert len(photos) == 1


def test_a_rating_read_behind_the_size_is_kept_when_the_size_is_typed_again(
    store: Stack, counter: Counter
) -> None:
    page = counter.page
    a_drop_off(counter, 1)
    counter.expect_at("tin")
    counter.type("2925")
    counter.expect_at("size")
    counter.type("295/75R22.5 G 144/141L", end="Tab")
    page.get_by_test_id("size").fill("295/75R22.")
    page.get_by_test_id("size").fill("295/75R22.5")
    page.get_by_test_id("treads").focus()
    counter.type("555")
    expect(page.locator("[data-testid^='casing-']")).to_have_count(1)
    counter.sends()
    rows = store.rows(
        "SELECT told->>'rating' FROM custody_fact WHERE kind = 'picked_up' AND told->'tins'"
        ' @> \'[{"tin": "2925"}]\''
    )
    assert rows == [("G 144/141L",)]
