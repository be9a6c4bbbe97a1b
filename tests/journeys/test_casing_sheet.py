"""What a casing is and how worn it is, as the sheet takes it: TINs, size, treads by place."""

from typing import Any

from playwright.sync_api import Page, expect

from tests.journeys.conftest import OpenApp
from tests.journeys.stopwatch import A_BREATH_MS
from tests.world.stack import Stack


def told(stack: Stack, label: str) -> dict[str, Any]:
    [(found,)] = stack.rows("SELECT told FROM custody_fact WHERE label = %s", label)
    return dict(found)


def keys(page: Page, typed: str) -> None:
    """As a hand types them: never as fast as a scanner."""
    page.keyboard.type(typed, delay=A_BREATH_MS)


def test_slips_of_the_hand_are_put_right_said_and_offered(web: Stack, open_app: OpenApp) -> None:
    app = open_app()
    page, label = app.page, web.cast["labels"].pop()
    page.get_by_test_id("label").fill(label)
    page.get_by_test_id("tin").focus()
    keys(page, "dot 4bo8 4dhr 29i0")
    said = page.locator("#tin-said")
    expect(said).to_contain_text("Week 29 of 2010")
    expect(said).to_contain_text("Read O as 0, I as 1")
    page.keyboard.press("Enter")
    expect(page.get_by_test_id("tin")).to_have_value("DOT 4B08 4DHR 2910")
    # Another letter that no TIN holds is offered, never made.
    page.get_by_test_id("tin").fill("4GO8 4DHR 2910")
    page.get_by_test_id("tin-meant").click()
    expect(page.get_by_test_id("tin")).to_have_value("4608 4DHR 2910")

    # A size as it is said, its rating behind it; each is told apart.
    page.get_by_test_id("size").fill("295 75 22.5 g 144/142l")
    page.get_by_test_id("brand").fill("Kestrel")
    expect(page.get_by_test_id("size")).to_have_value("295/75R22.5")
    expect(page.get_by_test_id("rating")).to_have_value("G 144/142L")
    expect(page.get_by_test_id("rating-said")).to_contain_text("single 2,800 kg, dual 2,650 kg")
    page.get_by_test_id("save").click()
    line = page.get_by_test_id(f"casing-{label}")
    expect(line).to_contain_text("295/75R22.5 · Kestrel")
    app.expect_waiting(0)
    found = told(web, label)
    assert found["tins"] == [{"tin": "4608 4DHR 2910", "made": ""}]
    assert (found["size"], found["rating"]) == ("295/75R22.5", "G 144/142L")

    # What this customer has comes first, and narrows as it is typed.
    page.get_by_test_id("size").fill("29")
    expect(page.locator("[data-testid^='size-']").first).to_have_text("295/75R22.5")
    page.get_by_test_id("size-295/75R22.5").click()
    expect(page.get_by_test_id("size")).to_have_value("295/75R22.5")
    # The keys for the treads come into sight, and the foot of the screen stays where it is.
    for name in ("position-steer", "tread-turn", "tread-9"):
        expect(page.get_by_test_id(name)).to_be_in_viewport(ratio=1)
    assert page.evaluate("document.scrollingElement.scrollTop") == 0
    page.get_by_test_id("brand").focus()
    page.get_by_test_id("brand-Kestrel").click()
    expect(page.get_by_test_id("brand")).to_have_value("Kestrel")


def test_without_a_tin_one_tap_says_why_and_an_open_decade_goes_into_the_note(
    web: Stack, open_app: OpenApp
) -> None:
    app = open_app()
    page = app.page
    labels = [web.cast["labels"].pop() for _ in range(3)]

    def enter(label: str, *taps: str, tin: str = "", stays: bool = False) -> None:
        page.get_by_test_id("label").fill(label)
        page.get_by_test_id("tin").fill(tin)
        for tap in taps:
            page.get_by_test_id(tap).click()
        page.get_by_test_id("save").click()
        if stays:  # the check says to leave it here
            page.get_by_test_id("overrule-1").click()
            page.get_by_test_id("save").click()
        expect(page.get_by_test_id(f"casing-{label}")).to_be_visible()

    enter(labels[0], "tin-mileage")
    enter(labels[1], "tin-year-1988", tin="298")
    enter(labels[2], "tin-cut-off", stays=True)
    app.expect_waiting(0)
    assert told(web, labels[0])["tins"] == [{"tin": "MILEAGE CONTRACT", "made": ""}]
    assert told(web, labels[1])["tins"] == [{"tin": "298", "made": ""}]
    assert told(web, labels[1])["note"] == "DOT 298: week 29 of 1988"
    assert [one["kind"] for one in told(web, labels[2])["findings"]] == ["dot_removed"]


def test_a_half_filled_sheet_with_two_tins_and_two_places_outlives_a_kill(
    web: Stack, open_app: OpenApp
) -> None:
    app = open_app()
    page, label = app.page, web.cast["labels"].pop()
    app.set_offline(True)
    page.get_by_test_id("label").fill(label)
    page.get_by_test_id("tin").fill("4B08 4DHR 2910")
    page.get_by_test_id("tin-new").click()
    page.get_by_test_id("tin-another").click()
    expect(page.get_by_test_id("tin-2")).to_be_focused()
    page.get_by_test_id("tin-2").fill("R 4B0 2923")
    page.get_by_test_id("size").fill("11R22.5")
    page.get_by_test_id("position-steer").click()
    page.locator("#treads").focus()
    keys(page, "6 12-/3")
    page.get_by_test_id("ran-change").click()
    page.get_by_test_id("odometer").fill("412,000")
    page.get_by_test_id("pulled-for").select_option("irregular_wear")
    app.kill()

    page = app.open(offline=True)
    page.locator("[data-testid^='open-']").click()
    expect(page.get_by_test_id("tin")).to_have_value("4B08 4DHR 2910")
    expect(page.get_by_test_id("tin-2")).to_have_value("R 4B0 2923")
    expect(page.get_by_test_id("tin-new")).to_have_attribute("aria-pressed", "true")
    expect(page.get_by_test_id("tin-2-retread")).to_have_attribute("aria-pressed", "true")
    expect(page.get_by_test_id("tread-readings")).to_contain_text("6 · 12 · \u2013 | 3")
    expect(page.get_by_test_id("tread-said")).to_contain_text("Below 4/32, the legal minimum")
    expect(page.get_by_test_id("ran-said")).to_have_text("412,000 mi · irregular wear")
    # A mistake steps back over the place, and the place is measured again.
    page.get_by_test_id("tread-erase").click()
    expect(page.get_by_test_id("tread-readings")).to_contain_text("Next: groove 4")
    page.get_by_test_id("tread-turn").click()
    for depth in (5, 12, 5):
        page.get_by_test_id(f"tread-{depth}").click()
    expect(page.get_by_test_id("tread-readings")).to_contain_text("Next: place 3, groove 1")
    page.get_by_test_id("save").click()
    expect(page.get_by_test_id(f"casing-{label}")).to_contain_text(
        "6 · 12 · \u2013 | 5 · 12 · 5 /32"
    )
    app.set_offline(False)
    app.expect_waiting(0)
    found = told(web, label)
    assert found["tins"] == [
        {"tin": "4B08 4DHR 2910", "made": "new"},
        {"tin": "R 4B0 2923", "made": "retread"},
    ]
    assert found["treads_32nds"] == [[6, 12, None], [5, 12, 5]]
    assert (found["odometer"], found["position"]) == (412000, "steer")

    # The next one takes over where it ran, not why it was pulled; a correction fills all in again.
    expect(page.get_by_test_id("position-steer")).to_have_attribute("aria-pressed", "true")
    expect(page.get_by_test_id("ran-said")).to_have_text("412000 mi")
    page.get_by_test_id(f"correct-{label}").click()
    expect(page.get_by_test_id("tin-2")).to_have_value("R 4B0 2923")
    expect(page.get_by_test_id("tread-readings")).to_contain_text("6 · 12 · \u2013 | 5 · 12 · 5")
    expect(page.get_by_test_id("ran-said")).to_have_text("412000 mi · irregular wear")


def test_a_scanner_that_is_fired_over_the_tread_keys_types_no_depth(
    web: Stack, open_app: OpenApp
) -> None:
    page = open_app().page
    label = web.cast["labels"].pop()
    page.locator("#treads").focus()
    keys(page, "66")
    page.keyboard.type(label)
    page.keyboard.press("Enter")
    expect(page.get_by_test_id("tin")).to_be_focused()
    expect(page.get_by_test_id("label")).to_have_value(f"{label[:4]}\u2009{label[4:]}")
    expect(page.get_by_test_id("tread-readings")).to_contain_text("6 · 6")
    expect(page.get_by_test_id("tread-readings")).to_contain_text("groove 3")
