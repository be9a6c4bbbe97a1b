"""A driver's own roll: his phone offers its next label, and three symbols are enough for any."""

import json

from playwright.sync_api import expect

from tests.journeys.conftest import OpenApp
from tests.pickups.desk.test_browser import faults
from tests.world.stack import Stack


def spaced(label: str) -> str:
    return f"{label[:4]}\u2009{label[4:]}"


def test_the_next_label_of_his_own_roll_is_one_tap_and_any_other_is_three_symbols(
    web: Stack, open_app: OpenApp
) -> None:
    roll = json.loads(web.call(f"print_roll_for({web.cast['driver']!r}, 8)"))
    app = open_app()
    page = app.page
    field, offer = page.get_by_test_id("label"), page.get_by_test_id("label-next")
    expect(offer).to_have_text(f"Your roll: {spaced(roll[0])}")
    assert offer.bounding_box()["height"] >= 48  # type: ignore[index]
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    assert faults(page) == []
    app.set_offline(True)
    offer.click()
    expect(field).to_have_value(spaced(roll[0]))
    expect(page.locator("#tin")).to_be_focused()
    page.get_by_test_id("save").click()
    expect(page.get_by_test_id(f"casing-{roll[0]}")).to_be_visible()
    expect(offer).to_have_text(f"Your roll: {spaced(roll[1])}")

    # From the other end of the roll, by hand: then it goes on from there, downwards.
    field.fill(roll[7][-3:].lower())
    expect(offer).to_have_text(f"Your roll: {spaced(roll[7])}")
    field.press("Enter")
    expect(field).to_have_value(spaced(roll[7]))
    page.get_by_test_id("save").click()
    expect(page.get_by_test_id(f"casing-{roll[7]}")).to_be_visible()
    expect(offer).to_have_text(f"Your roll: {spaced(roll[6])}")

    # A label that is not his roll's is taken as ever.
    app.add(web.cast["labels"].pop(), 6)
    expect(offer).to_have_text(f"Your roll: {spaced(roll[6])}")
