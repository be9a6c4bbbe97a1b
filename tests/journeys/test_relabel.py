"""A lost label is replaced on the phone: found, replaced without signal, and read under both."""

from pathlib import Path
from typing import Any

from playwright.sync_api import Page, expect

from tests.journeys import film
from tests.journeys.conftest import OpenApp
from tests.journeys.test_cannot_be_lost import a_photo, wait_for
from tests.pickups.desk.test_browser import faults
from tests.world.stack import Stack


def orders(stack: Stack, *labels: str) -> list[tuple[Any, ...]]:
    return stack.rows(
        "SELECT label, told->'void_labels' FROM casings_work_order WHERE label = ANY(%s)",
        list(labels),
    )


def fits(page: Page) -> None:
    wide = page.evaluate("document.documentElement.scrollWidth")
    assert wide <= 360
    assert faults(page) == []


def test_a_lost_label_is_replaced_in_the_yard_and_both_name_the_casing(
    web: Stack, open_app: OpenApp
) -> None:
    old, new, other = (web.cast["labels"].pop() for _ in "abc")
    app = open_app()
    page = app.page
    app.add(old, 6, 7)
    app.add(other, 5)
    app.set_offline(True)
    page.get_by_test_id(f"correct-{old}").click()
    page.get_by_test_id("relabel-open").click()
    expect(page.get_by_test_id("relabel-form")).to_be_visible()
    fits(page)

    # Another casing's label is told in words; so is the old one, and what is mistyped.
    field, said = page.get_by_test_id("relabel-now"), page.locator("#relabel-now-said")
    field.fill(other)
    expect(said).to_contain_text("is on another casing already")
    field.fill(old)
    page.get_by_test_id("relabel-save").click()
    expect(said).to_contain_text("That is the old label")
    at = next(i for i in range(7) if other[i] != other[i + 1])
    field.fill(other[:at] + other[at + 1] + other[at] + other[at + 2 :])
    page.get_by_test_id("relabel-save").click()
    expect(said).to_contain_text(f"Perhaps {other[:4]}\u2009{other[4:]}: two symbols")

    # A scanner that types is heard wherever the last touch was.
    field.fill("")
    page.get_by_test_id("relabel-spoiled").focus()
    page.keyboard.type(f"HTTPS://ANY.EXAMPLE/L/{new}")
    page.keyboard.press("Enter")
    expect(field).to_have_value(f"{new[:4]}\u2009{new[4:]}")
    page.get_by_test_id("relabel-spoiled").click()
    page.get_by_test_id("relabel-save").click()
    expect(page.get_by_test_id("known-by-fault")).to_contain_text("Say how you know")
    page.get_by_text("Its TIN").click()
    page.get_by_test_id("photo").set_input_files(
        {"name": "tin.jpg", "mimeType": "image/jpeg", "buffer": a_photo()}
    )
    expect(page.get_by_test_id("relabel-form").get_by_role("img")).to_have_count(1)
    # What was begun is there again after a look elsewhere.
    page.reload()
    expect(field).to_have_value(f"{new[:4]}\u2009{new[4:]}")
    expect(page.get_by_test_id("relabel-form").get_by_role("img")).to_have_count(1)
    page.get_by_test_id("relabel-save").click()
    expect(page.get_by_test_id("relabelled")).to_contain_text("in the place of")
    fits(page)
    page.get_by_test_id("relabelled").locator("xpath=following-sibling::button").click()
    page.go_back()
    expect(page.get_by_test_id(f"casing-{new}")).to_be_visible()
    expect(page.get_by_test_id(f"casing-{old}")).to_have_count(0)
    assert orders(web, old, new) in ([], [(old, None)]), "nothing of it was sent yet"

    app.set_offline(False)
    app.expect_waiting(0)
    assert orders(web, old, new) == [(new, [old])]
    told = "SELECT told->'photos'->>0 FROM custody_fact WHERE kind = 'relabelled' AND label = %s"
    ((photo,),) = web.rows(told, old)
    assert photo is not None
    wait_for(web, f"SELECT count(*) FROM sync_photo WHERE sha256 = '{photo}'", 1)
    # The void one is told to be void where it is used again.
    page.get_by_test_id("label").fill(old)
    expect(page.locator("#label-said")).to_contain_text("is void")


def test_on_the_truck_the_casing_is_found_by_what_can_still_be_read(
    web: Stack, open_app: OpenApp, tmp_path: Path
) -> None:
    old, new = (web.cast["labels"].pop() for _ in "ab")
    paper = film.printed(new, web.url)
    app = open_app(flags=film.camera(film.write(tmp_path / "new.mjpeg", paper)))
    page = app.page
    page.get_by_test_id("size").fill("11R22.5")
    app.add(old, 6)
    app.finish()
    page.get_by_test_id("receipt-done").click()
    page.get_by_test_id("on-truck").click()
    page.get_by_test_id("relabel-open").click()
    page.get_by_test_id("relabel-find").fill("11r 22")
    fits(page)
    page.get_by_test_id(f"relabel-{old}").click()
    page.get_by_test_id("relabel-scan").click()
    expect(page.get_by_test_id("relabel-now")).to_have_value(f"{new[:4]}\u2009{new[4:]}")
    page.get_by_test_id("known-by").fill("the only one aboard")
    page.get_by_test_id("relabel-save").click()
    expect(page.get_by_test_id("relabel-why-fault")).to_contain_text("lost or spoiled")
    page.get_by_test_id("relabel-lost").click()
    page.get_by_test_id("relabel-save").click()
    expect(page.get_by_test_id("relabelled")).to_be_visible()
    page.get_by_test_id("on-truck").click()
    expect(page.get_by_test_id(f"road-{new}")).to_be_visible()
    expect(page.get_by_test_id(f"road-{old}")).to_have_count(0)
