"""A pickup from its first casing to the signature, without signal and through kills."""

import io
from datetime import timedelta
from typing import Any
from uuid import uuid4

import pytest
from PIL import Image
from playwright.sync_api import FilePayload, Page, expect

from pickups.custody.shown import shown
from tests.journeys.app import App
from tests.journeys.barriers import look
from tests.journeys.conftest import OpenApp
from tests.journeys.promised import offer, publish, today
from tests.sync.test_photos import picture
from tests.world.phone import Phone
from tests.world.stack import Stack


@pytest.fixture
def offering(web: Stack) -> Stack:
    """A stack whose store may promise retreads at the yard; for repairs it offers nothing."""
    publish(web, days=5)
    return web


def told(stack: Stack, label: str) -> dict[str, Any]:
    """What the last pick_up of a label told."""
    query = "SELECT told FROM custody_fact WHERE label = %s ORDER BY stamp DESC LIMIT 1"
    return dict(stack.rows(query, label)[0][0])


def end_of(stack: Stack, label: str) -> dict[str, Any]:
    """What the end of the visit of a label told."""
    query = "SELECT told FROM custody_fact WHERE kind = 'pickup_end' AND told->>'visit' = %s"
    [(end,)] = stack.rows(query, told(stack, label)["pickup"])
    return dict(end)


def signed(stack: Stack, label: str) -> list[tuple[Any, ...]]:
    query = "SELECT name, image FROM custody_signature WHERE visit = %s"
    return stack.rows(query, told(stack, label)["pickup"])


def labels(stack: Stack, n: int) -> list[str]:
    return [stack.cast["labels"].pop() for _ in range(n)]


def offered(page: Page) -> None:
    """Wait until the table of the store has reached the phone."""
    expect(page.get_by_test_id("promised")).to_contain_text("standard time")


def test_a_pickup_is_wanted_promised_signed_and_received_without_signal_and_through_kills(
    offering: Stack, open_app: OpenApp
) -> None:
    stack, app = offering, open_app()
    yard, day = stack.cast["yard"], today() + timedelta(days=3)
    first, second, third = labels(stack, 3)
    offered(app.page)
    app.set_offline(True)
    stack.kill_web()  # a browser that starts anew sends in the background, before it is offline

    # The first casing is asked for in full; half of it is entered when the phone dies.
    page = app.page
    page.get_by_test_id("label").fill(first)
    page.get_by_test_id("tread-design").fill("open shoulder drive")
    page.get_by_test_id("purchase-order").fill("4471")
    page.get_by_test_id("unit").fill("T-118")
    look(page)
    app.kill()
    page = app.open(offline=True)
    page.locator("[data-testid^='open-']").click()
    expect(page.get_by_test_id("purchase-order")).to_have_value("4471")
    page.get_by_test_id("tread-6").click()
    page.get_by_test_id("save").click()
    line = page.get_by_test_id(f"casing-{first}")
    expect(line).to_contain_text("Retread · open shoulder drive · own casing back · PO 4471")

    # The second takes it over and needs a label and a tread; the third is for repair only.
    expect(page.get_by_test_id("wanted-said")).to_contain_text("unit T-118")
    app.add(second, 5)
    page.get_by_test_id("label").fill(third)
    page.get_by_test_id("wanted-change").click()
    page.get_by_test_id("work-repair").check()
    expect(page.get_by_test_id("promised")).to_have_text("No day promised")
    page.get_by_test_id("promised-on").fill(day.isoformat())
    app.add(third, 9)

    # The list is read and signed, the phone dies once more; name, count and drawing are there.
    page.get_by_test_id("finish").click()
    expect(page.get_by_test_id("sign-list").locator("li")).to_have_count(3)
    page.get_by_test_id("customer-count").fill("3")
    app.sign("R. Amsel")
    look(page)
    inked = ink(page)
    assert inked > 500
    app.kill()
    page = app.open(offline=True)
    page.locator("[data-testid^='open-']").click()
    page.get_by_test_id("finish").click()
    expect(page.get_by_test_id("signer")).to_have_value("R. Amsel")
    expect(page.get_by_test_id("customer-count")).to_have_value("3")
    expect(page.get_by_test_id("sign-pad-said")).to_have_text("Signature kept")
    assert abs(ink(page) - inked) < inked / 20
    page.get_by_test_id("finish-confirm").click()
    receipt = page.get_by_test_id("receipt")
    expect(receipt).to_contain_text("3 casings picked up, customer says 3")
    expect(receipt).to_contain_text("Signed by R. Amsel")
    expect(receipt).to_contain_text("Hand the phone back to the driver")
    expect(page.get_by_test_id(f"casing-{third}")).to_contain_text("agreed by hand")
    look(page)
    app.expect_waiting(4)
    assert stack.rows("SELECT count(*) FROM custody_fact WHERE label = %s", first) == [(0,)]

    stack.start_web()
    app.set_offline(False)
    app.expect_waiting(0)
    promise = offer(stack, yard, "retread")
    for label in (first, second):
        assert told(stack, label) | {
            "work": "retread",
            "tread_design": "open shoulder drive",
            "purchase_order": "4471",
            "unit": "T-118",
        } == told(stack, label)
        assert told(stack, label)["promised"]["on"] == promise
        assert told(stack, label)["promised"]["basis"] == "standard_time"
    assert told(stack, third)["work"] == "repair"
    assert "tread_design" not in told(stack, third), "a repair asks for none"
    by_hand = told(stack, third)["promised"]
    assert (by_hand["on"], by_hand["basis"]) == (day.isoformat(), "by_hand")
    end = end_of(stack, first)
    assert end["shown"] == shown([(first, promise), (second, promise), (third, day.isoformat())])
    assert end["customer_count"] == 3
    [(name, image)] = signed(stack, first)
    assert name == "R. Amsel"
    expect(page.get_by_test_id("photos-waiting")).to_have_count(0)
    assert stack.rows("SELECT count(*) FROM sync_photo WHERE sha256 = %s", image) == [(1,)]
    app.expect_standing(first, "recorded")


def ink(page: Page) -> int:
    """How many dark pixels the pad shows."""
    shot = page.get_by_test_id("sign-pad").screenshot()
    grey = Image.open(io.BytesIO(shot)).convert("L").crop((4, 4, 300, 120))
    return sum(grey.histogram()[:100])


def test_who_signed_one_list_is_asked_again_for_another(offering: Stack, open_app: OpenApp) -> None:
    app = open_app()
    page = app.page
    first, second = labels(offering, 2)
    app.add(first, 6)
    page.get_by_test_id("finish").click()
    app.sign("R. Amsel")
    page.locator(".back").click()
    app.add(second, 6)
    page.get_by_test_id("finish").click()
    expect(page.get_by_test_id("sign-another")).to_contain_text("It has to be signed again")
    expect(page.get_by_test_id("sign-clear")).to_have_count(0)
    page.get_by_test_id("finish-confirm").click()
    expect(page.locator("#sign-again")).to_be_focused()
    expect(page.get_by_test_id("receipt")).to_have_count(0)
    # Those who signed have read the new list; the name stays, the drawing was of the old one.
    page.keyboard.press("Enter")
    expect(page.get_by_test_id("sign-another")).to_have_count(0)
    page.get_by_test_id("finish-confirm").click()
    expect(page.get_by_test_id("receipt-signed")).to_have_text("Signed by R. Amsel")
    app.expect_waiting(0)
    assert signed(offering, first) == [("R. Amsel", "")]
    promise = told(offering, first)["promised"]["on"]
    assert end_of(offering, first)["shown"] == shown([(first, promise), (second, promise)])


def test_without_a_name_or_a_reason_nothing_is_finished(web: Stack, open_app: OpenApp) -> None:
    app = open_app()
    page = app.page
    [label] = labels(web, 1)
    app.add(label, 6)
    app.expect_waiting(0)
    page.get_by_test_id("finish").click()
    # A touch in passing is no signature.
    page.get_by_test_id("sign-pad").click()
    expect(page.get_by_test_id("sign-pad-said")).to_have_text("A line, not a dot")
    page.get_by_test_id("finish-confirm").click()
    expect(page.get_by_test_id("signer")).to_be_focused()
    expect(page.get_by_test_id("signer-fault")).to_contain_text("or say why nobody can")
    page.get_by_test_id("sign-refuses").check()
    page.get_by_test_id("finish-confirm").click()
    expect(page.get_by_test_id("refused-fault")).to_contain_text("Choose why they will not sign")
    app.expect_waiting(0)
    assert web.rows(
        "SELECT count(*) FROM custody_fact WHERE kind = 'pickup_end' AND told->>'visit' = %s",
        told(web, label)["pickup"],
    ) == [(0,)]
    page.get_by_test_id("sign-nobody").check()
    for n, which in enumerate(("pile-before", "pile-after"), 1):
        data = picture(size=(640, 480 + n))
        page.get_by_test_id(which).set_input_files(
            FilePayload(name="pile.jpg", mimeType="image/jpeg", buffer=data)
        )
        expect(page.locator(".photos img")).to_have_count(n)
    page.get_by_test_id("finish-confirm").click()
    expect(page.get_by_test_id("receipt-signed")).to_have_text("Not signed: nobody was there.")
    app.expect_waiting(0)
    end = end_of(web, label)
    assert end["nobody_there"] is True
    assert {"unsigned", "refused"}.isdisjoint(end)
    assert signed(web, label) == []


def test_a_correction_leaves_the_promise_and_its_table_as_they_were(
    offering: Stack, open_app: OpenApp
) -> None:
    app = open_app()
    page = app.page
    [label] = labels(offering, 1)
    offered(page)
    app.add(label, 6)
    app.expect_waiting(0)
    was = told(offering, label)["promised"]
    said = page.get_by_test_id("wanted-said")
    before = said.inner_text()
    # Another table comes to the phone meanwhile: the next casing is promised by it.
    publish(offering, days=9)
    page.reload()
    expect(said).to_contain_text("standard time")
    expect(said).not_to_have_text(before)
    page.get_by_test_id(f"correct-{label}").click()
    page.get_by_test_id("wanted-change").click()
    page.get_by_test_id("unit").fill("T-9")
    page.get_by_test_id("basis").select_option("pool")
    page.get_by_test_id("save").click()
    expect(page.get_by_test_id(f"casing-{label}")).to_contain_text("any of the customer's back")
    app.expect_waiting(0)
    again = told(offering, label)
    assert again["promised"] == was
    assert (again["basis"], again["unit"]) == ("pool", "T-9")
    # A day that nobody can promise is told, and the casing stays as it is.
    page.get_by_test_id(f"correct-{label}").click()
    page.get_by_test_id("wanted-change").click()
    page.get_by_test_id("promised-another").click()
    page.get_by_test_id("promised-on").fill("2020-01-31")
    page.get_by_test_id("wanted-change").click()
    page.get_by_test_id("save").click()
    expect(page.get_by_test_id("promised-on")).to_be_focused()
    expect(page.get_by_test_id("promised-on-fault")).to_contain_text("No day that can be promised")
    app.expect_waiting(0)
    assert told(offering, label) == again


def test_what_a_counter_took_in_is_no_open_pickup_of_the_drivers(
    web: Stack, open_app: OpenApp
) -> None:
    app = open_app()
    [mine, theirs] = labels(web, 2)
    app.add(mine, 6)
    counter = Phone(web.door, web.cast["driver"])
    assert counter.enrol(web.fresh_code()).status == 200
    at_the_counter = {"pickup": str(uuid4()), "yard": web.cast["yard"], "label": theirs}
    counter.enter("custody.pick_up", at_the_counter | {"store": web.cast["store"]}, version=2)
    assert counter.push().status == 200
    reload_until_seen(app, at_the_counter["pickup"])
    expect(app.page.locator("[data-testid^='open-']")).to_have_count(1)


def reload_until_seen(app: App, pickup: str) -> None:
    """Until the phone has pulled it."""
    app.page.goto(f"{app.url}/app/")
    expect(app.page.get_by_test_id(f"recent-{pickup}")).to_be_visible()
