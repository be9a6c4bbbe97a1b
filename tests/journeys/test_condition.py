"""What a driver sees of a casing: noted on the drawn section, held against what the customer takes,
taken all the same or left; scrap counted; all of it signed for and told without signal."""

from typing import Any

import pytest
from PIL import Image
from playwright.sync_api import Locator, Page, expect

from pickups.custody.shown import shown
from tests.journeys.app import App
from tests.journeys.barriers import look
from tests.journeys.conftest import OpenApp
from tests.journeys.film import jpeg
from tests.world.mail import MailServer, running, text_of
from tests.world.stack import Stack

OLD = "DOT 4B08 4DHR 1210"
TAP = {"bead-other": (211 / 328, 224 / 260), "sidewall-serial": (84 / 328, 142 / 260)}
"""Where zones are drawn, as shares of the drawing."""
FACTS = "SELECT uid, told FROM custody_fact WHERE kind = %s AND told->>'visit' = %s ORDER BY stamp"


@pytest.fixture
def strict(web: Stack) -> Stack:
    """A stack whose customer takes no casing of more than seven years."""
    web.call(f"specify({web.cast['customer']!r}, oldest_years=7)")
    return web


def tap(page: Page, zone: str) -> None:
    """A finger on the drawing, not on a key by its name."""
    drawing = page.locator(".section svg")
    drawing.scroll_into_view_if_needed()
    box = drawing.bounding_box()
    assert box is not None
    across, down = TAP[zone]
    page.mouse.click(box["x"] + across * box["width"], box["y"] + down * box["height"])


def note(page: Page, zone: str, kind: str) -> None:
    if page.get_by_test_id("condition-open").get_attribute("aria-expanded") == "false":
        page.get_by_test_id("condition-open").click()
    page.get_by_test_id(f"zone-{zone}").click()
    page.get_by_test_id(f"kind-{kind}").click()


def carry_on(app: App) -> Page:
    """Killed like a phone's process; opened again without signal, at the same pickup."""
    app.page.wait_for_timeout(300)  # a keystroke is on the disk soon, not at once
    app.kill()
    page = app.open(offline=True)
    page.locator("[data-testid^='open-']").click()
    return page


def visit_of(app: App) -> str:
    return app.page.url.split("/pickup/")[1].split("/")[0]


def facts(stack: Stack, kind: str, visit: str) -> list[tuple[str, dict[str, Any]]]:
    return [(str(uid), dict(told)) for uid, told in stack.rows(FACTS, kind, visit)]


def test_seen_overruled_left_and_scrap_without_signal_through_kills_to_the_customers_mail(
    strict: Stack, open_app: OpenApp, monkeypatch: pytest.MonkeyPatch
) -> None:
    stack, app = strict, open_app()
    page, label = app.page, stack.cast["labels"].pop()
    visit = visit_of(app)
    app.set_offline(True)
    stack.kill_web()

    # A bead wire, tapped where it is drawn; what it asks for is said at once, in large words.
    page.get_by_test_id("label").fill(label)
    page.get_by_test_id("tin").fill(OLD)
    expect(page.get_by_test_id("condition-said")).to_have_text("Condition: nothing noted")
    page.get_by_test_id("condition-open").click()
    tap(page, "bead-other")
    expect(page.get_by_test_id("kinds")).to_contain_text("Bead, other side: what is it?")
    expect(page.get_by_test_id("kind-nail_hole")).to_have_count(0)
    page.get_by_test_id("kind-bead_wire").click()
    cautions = page.get_by_test_id("cautions")
    for said in ("Stop: Bead wire showing", "Never add air", "Do not run", "29 CFR 1910.177",
                 "Lift it with help", "Tell the fleet"):  # fmt: skip
        expect(cautions).to_contain_text(said)
    page.get_by_test_id("mm-25").click()
    page.get_by_test_id("finding-photo").set_input_files(
        {
            "name": "b.jpg",
            "mimeType": "image/jpeg",
            "buffer": jpeg(Image.effect_noise((640, 480), 60)),
        }
    )
    expect(page.get_by_test_id("noted")).to_contain_text("25 mm (1 in) · 1 photo")
    spec = page.get_by_test_id("spec")
    expect(spec).to_have_attribute("data-verdict", "leave")
    expect(spec).to_contain_text("Bead wire showing, bead: it stops the casing at once.")
    expect(spec).to_contain_text(
        "Week 12 of 2010: more than 7 years old, which is the most this customer takes."
    )
    expect(spec).to_contain_text("specification, number 1")
    look(page)

    # It is not taken without a reason.
    page.get_by_test_id("save").click()
    # The reason stands in sight first, with its caution; then the way out that it asks for.
    verdict = page.locator("#spec-verdict")
    expect(verdict).to_be_focused()
    expect(verdict).to_be_in_viewport()
    expect(page.get_by_test_id("spec-caution")).to_contain_text("Never add air")
    ways = [page.get_by_test_id(name) for name in ("spec-caution", "leave-here", "overruled")]
    for way in ways[:2]:
        expect(way).to_be_in_viewport()
    tops = [box["y"] for box in (way.bounding_box() for way in ways) if box is not None]
    assert len(tops) == len(ways)
    assert tops == sorted(tops)
    expect(page.get_by_test_id("overruled-fault")).to_contain_text("or leave it here")
    app.expect_waiting(0)
    look(page)
    page = carry_on(app)
    expect(page.get_by_test_id("condition-said")).to_have_text("Condition: 1 thing noted")
    expect(page.get_by_test_id("noted")).to_contain_text("25 mm (1 in) · 1 photo")
    page.get_by_test_id("overrule").click()
    page.get_by_test_id("overrule-3").click()
    page.get_by_test_id("save").click()
    line = page.get_by_test_id(f"casing-{label}")
    expect(line).to_contain_text("1 thing noted")
    expect(line).to_contain_text("Taken all the same: The plant shall look at it")

    # A second stays where it is: no label, cord showing beside its age.
    page.get_by_test_id("tin").fill(OLD)
    note(page, "sidewall-serial", "cord")
    page.get_by_test_id("leave-here").click()
    expect(page.get_by_test_id("saved")).to_have_text("Left here, noted")
    expect(page.get_by_test_id("left-line")).to_contain_text("Cord showing · Sidewall, serial side")
    expect(page.get_by_test_id("condition-said")).to_have_text("Condition: nothing noted")

    # Scrap, half counted when the phone dies.
    page.get_by_test_id("scrap").click()
    page.get_by_test_id("scrap-step-5").click()
    page.get_by_test_id("manifest").fill("SM-20418")
    look(page)
    page = carry_on(app)
    page.get_by_test_id("scrap").click()
    expect(page.get_by_test_id("pieces")).to_have_value("6")
    expect(page.get_by_test_id("manifest")).to_have_value("SM-20418")
    page.get_by_test_id("fee").fill("3.50")
    page.get_by_test_id("scrap-save").click()
    expect(page.get_by_test_id("count")).to_have_text("1 on this pickup, 6 scrap, 1 left here")
    look(page)

    page.get_by_test_id("finish").click()
    signed = page.get_by_test_id("sign-list").locator("li")
    expect(signed).to_have_count(3)
    expect(signed.filter(has_text="6 scrap")).to_contain_text("3.50 each")
    look(page)
    app.sign("R. Amsel", draw=False)
    page.get_by_test_id("finish-confirm").click()
    receipt = page.get_by_test_id("receipt")
    for said in ("1 casing picked up", "6 scrap tires taken", "1 casing left here"):
        expect(receipt).to_contain_text(said)
    expect(page.get_by_test_id("receipt-danger")).to_contain_text("never add air to it")
    look(page)
    app.expect_waiting(4)

    stack.start_web()
    app.set_offline(False)
    app.expect_waiting(0)
    expect(page.get_by_test_id("photos-waiting")).to_have_count(0)
    told_exactly(stack, visit, label)
    the_mail_says_so(stack, monkeypatch)


def told_exactly(stack: Stack, visit: str, label: str) -> None:
    """What the server was told, once each."""
    query = "SELECT uid, told FROM custody_fact WHERE kind = 'picked_up' AND label = %s"
    [(taken_id, taken)] = stack.rows(query, label)
    [finding] = taken["findings"]
    assert (finding["zone"], finding["kind"], finding["side"]) == ("bead", "bead_wire", "other")
    assert (finding["mm"], finding["photos"]) == (25, taken["photos"])
    assert len(taken["photos"]) == 1
    kept = "SELECT count(*) FROM sync_photo WHERE sha256 = %s"
    assert stack.rows(kept, taken["photos"][0]) == [(1,)]
    check = taken["check"]
    assert (check["verdict"], check["number"]) == ("leave", 1)
    assert check["because"] == ["stop_condition", "too_old"]
    assert check["overruled"] == "The plant shall look at it"
    [(left_id, left)] = facts(stack, "left", visit)
    assert [f["kind"] for f in left["findings"]] == ["cord"]
    assert left["check"]["verdict"] == "leave"
    assert not left["check"].get("overruled")
    [(scrap_id, scrap)] = facts(stack, "scrap", visit)
    assert (scrap["count"], scrap["fee_cents"], scrap["manifest"]) == (6, 350, "SM-20418")
    [(_, end)] = facts(stack, "pickup_end", visit)
    assert (end["casings"], end["scrap"], end["left"]) == ([str(taken_id)], [scrap_id], [left_id])
    day = (taken.get("promised") or {}).get("on", "")
    assert end["shown"] == shown([(label, day)], scrap=6, left=1)


def the_mail_says_so(stack: Stack, monkeypatch: pytest.MonkeyPatch) -> None:
    server = MailServer()
    monkeypatch.setenv("EMAIL_URL", f"smtp://127.0.0.1:{server.port}")
    with running(server):
        stack.call("settle()")
    texts = [text_of(mail) for mail in server.to("ines@tarn.example")]
    [text] = [one for one in texts if "6 scrap tires" in one]
    # What may burst is warned of once more, in a mail that waits for nothing.
    [warning] = [one for one in texts if one != text]
    assert "do not inflate" in warning
    assert "manifest SM-20418" in text
    assert "Left with you, not taken:" in text
    assert "cord showing, sidewall, serial side" in text
    assert "The plant shall look at it" in text
    assert "WARNING: do not run this tire and do not inflate it." in text
    assert "29 CFR 1910.177" in text


def test_the_drawing_is_worked_by_keys_and_at_any_size_and_every_step_is_undone(
    web: Stack, open_app: OpenApp
) -> None:
    page = open_app().page
    page.get_by_test_id("condition-open").focus()
    page.keyboard.press("Enter")
    # From the crown down each wall, the inside last; each key says zone and side.
    names = []
    for _ in range(8):
        page.keyboard.press("Tab")
        names.append(page.evaluate("() => document.activeElement.getAttribute('aria-label')"))
    assert names == [
        "Crown",
        *(f"{zone}, {side} side" for side in ("serial", "other")
          for zone in ("Shoulder", "Sidewall", "Bead")),
        "Inner liner",
    ]  # fmt: skip
    page.keyboard.press("Space")
    expect(page.get_by_test_id("kinds")).to_contain_text("Inner liner: what is it?")
    page.get_by_test_id("kind-run_flat").press("Enter")
    noted = page.get_by_test_id("noted")
    expect(noted).to_contain_text("Signs of running flat · Inner liner")
    expect(page.get_by_test_id("cautions")).to_contain_text("Never add air")

    # A length that is none is told; a step lays it right; it is taken off and put back.
    page.get_by_test_id("finding-mm").fill("3001")
    expect(page.get_by_test_id("finding-mm-fault")).to_contain_text("from 1 to 3000")
    page.get_by_test_id("mm-100").click()
    page.get_by_test_id("finding-count-more").click()
    expect(noted).to_contain_text("100 mm (3.9 in) · 2 times")
    page.get_by_test_id("finding-off").click()
    expect(page.get_by_test_id("condition-said")).to_have_text("Condition: nothing noted")
    expect(page.get_by_test_id("cautions")).to_be_empty()
    page.get_by_test_id("noted-back").click()
    expect(noted).to_contain_text("100 mm (3.9 in) · 2 times")
    note(page, "crown", "nail_hole")
    page.get_by_test_id("noted-off-1").click()
    expect(noted.locator("li")).to_have_count(1)
    expect(page.locator(".section .mark")).to_have_count(1)

    # In the dark, in the other language; keys as large as a glove needs, over nothing of another.
    page.emulate_media(color_scheme="dark")
    look(page)
    page.get_by_test_id("language").click()
    expect(page.get_by_test_id("noted")).to_contain_text("Perforación de clavo · Corona")
    look(page)
    page.emulate_media(color_scheme="light")
    keys = page.locator(".section-keys button")
    large_and_apart(keys)
    # A phone at twice its size: the keys stand below the drawing, as large.
    page.set_viewport_size({"width": 180, "height": 370})
    large_and_apart(keys)
    part = page.get_by_test_id("condition")
    assert part.evaluate("it => it.scrollWidth <= it.clientWidth")


def large_and_apart(keys: Locator) -> None:
    boxes = [keys.nth(i).bounding_box() for i in range(keys.count())]
    assert len(boxes) == 8
    for i, a in enumerate(boxes):
        assert a is not None
        assert a["width"] >= 48
        assert a["height"] >= 48
        for b in boxes[i + 1 :]:
            assert b is not None
            beside = a["x"] + a["width"] <= b["x"] + 1 or b["x"] + b["width"] <= a["x"] + 1
            below = a["y"] + a["height"] <= b["y"] + 1 or b["y"] + b["height"] <= a["y"] + 1
            assert beside or below


def test_each_kind_of_thing_asks_for_what_it_must_record_and_the_next_is_the_same(
    web: Stack, open_app: OpenApp
) -> None:
    app = open_app()
    page = app.page
    wheel, again, claim, sold, loose = (web.cast["labels"].pop() for _ in range(5))

    page.get_by_test_id("line-change").click()
    page.get_by_test_id("line-wheel_tire").check()
    page.get_by_test_id("label").fill(wheel)
    page.get_by_test_id("save").click()
    expect(page.locator("#rim")).to_be_focused()
    expect(page.get_by_test_id("rim-fault")).to_contain_text("steel or aluminum")
    look(page)
    page.get_by_test_id("rim-steel").check()
    page.get_by_test_id("save").click()
    expect(page.get_by_test_id("valve-out")).to_be_focused()
    expect(page.get_by_test_id("valve-fault")).to_contain_text("Take the valve core out")
    page.get_by_test_id("valve-out").check()
    page.get_by_test_id("save").click()
    expect(page.get_by_test_id(f"casing-{wheel}")).to_contain_text("Wheel with its tire")

    # The next is a wheel too, and has to be answered for itself.
    expect(page.get_by_test_id("line-said")).to_have_text("Wheel with its tire · as before")
    page.get_by_test_id("label").fill(again)
    page.get_by_test_id("save").click()
    expect(page.get_by_test_id("rim-fault")).to_contain_text("steel or aluminum")
    page.get_by_test_id("line-change").click()
    page.get_by_test_id("line-wheel").check()
    for asked in ("tin", "size", "tread-5", "condition", "wanted-change"):
        expect(page.get_by_test_id(asked)).to_have_count(0)
    look(page)
    page.get_by_test_id("rim-aluminum").check()
    page.get_by_test_id("label").fill(loose)
    page.get_by_test_id("save").click()
    expect(page.get_by_test_id(f"casing-{loose}")).to_contain_text("Loose wheel")

    page.get_by_test_id("line-change").click()
    page.get_by_test_id("line-adjustment").check()
    page.get_by_test_id("label").fill(claim)
    page.get_by_test_id("save").click()
    expect(page.get_by_test_id("complaint")).to_be_focused()
    page.get_by_test_id("complaint").fill("tread came off at 2 months")
    page.get_by_test_id("save").click()
    expect(page.get_by_test_id("claim-fault")).to_contain_text("measure at least one groove")
    look(page)
    page.get_by_test_id("tread-7").click()
    page.get_by_test_id("save").click()
    expect(page.get_by_test_id(f"casing-{claim}")).to_be_visible()

    page.get_by_test_id("line-change").click()
    page.get_by_test_id("line-sell").check()
    page.get_by_test_id("label").fill(sold)
    page.get_by_test_id("sale-price").fill("forty")
    page.get_by_test_id("save").click()
    expect(page.get_by_test_id("sale-price")).to_be_focused()
    expect(page.get_by_test_id("sale-price-fault")).to_contain_text("“forty” is no price")
    look(page)
    page.get_by_test_id("sale-price").fill("45.5")
    page.get_by_test_id("sale-pays-credit").check()
    page.get_by_test_id("save").click()
    expect(page.get_by_test_id(f"casing-{sold}")).to_contain_text("Casing to sell to us")
    app.expect_waiting(0)
    query = "SELECT told FROM custody_fact WHERE label = ANY(%s) ORDER BY stamp"
    lines = [told for (told,) in web.rows(query, [wheel, loose, claim, sold])]
    assert [told["line"] for told in lines] == ["wheel_tire", "wheel", "adjustment", "sell"]
    assert (lines[0]["rim"], lines[0]["valve_out"], lines[1]["rim"]) == ("steel", True, "aluminum")
    assert lines[2]["complaint"] == "tread came off at 2 months"
    assert lines[3]["sale"] == {"grade": "", "cents": 4550, "pays": "credit"}
    assert not any(told.get("promised") for told in lines[1:])


def test_scrap_is_corrected_and_taken_back_what_was_left_is_taken_after_all(
    strict: Stack, open_app: OpenApp
) -> None:
    app = open_app()
    page, label, visit = app.page, strict.cast["labels"].pop(), visit_of(app)
    page.get_by_test_id("scrap").click()
    page.get_by_test_id("pieces").fill("six")
    page.get_by_test_id("scrap-save").click()
    expect(page.get_by_test_id("pieces-fault")).to_contain_text("“six” is no count")
    expect(page.get_by_test_id("pieces")).to_be_focused()
    page.get_by_test_id("pieces").fill("60")
    page.get_by_test_id("scrap-save").click()
    page.get_by_test_id("correct-scrap").click()
    page.get_by_test_id("scrap-step--1").click()
    page.get_by_test_id("scrap-save").click()
    expect(page.get_by_test_id("count")).to_have_text("0 on this pickup, 59 scrap")
    page.get_by_test_id("correct-scrap").click()
    page.get_by_test_id("scrap-back").click()
    expect(page.get_by_test_id("scrap-line")).to_have_count(0)
    expect(page.get_by_test_id("finish")).to_have_count(0)

    page.get_by_test_id("tin").fill(OLD)
    page.get_by_test_id("leave-here").click()
    expect(page.get_by_test_id("left-line")).to_contain_text("too old for this customer")
    page.get_by_test_id("correct-left").click()
    look(page)
    page.get_by_test_id("note").fill("behind the shop")
    page.get_by_test_id("left-save").click()
    expect(page.get_by_test_id("left-line")).to_contain_text("behind the shop")
    page.get_by_test_id("correct-left").click()
    page.get_by_test_id("left-taken").click()
    expect(page.get_by_test_id("left-line")).to_have_count(0)
    # Its sheet begins with what was seen of it.
    expect(page.get_by_test_id("tin")).to_have_value(OLD)
    page.get_by_test_id("label").fill(label)
    page.get_by_test_id("overrule").click()
    page.get_by_test_id("overruled").fill("the customer wants it looked at")
    page.get_by_test_id("save").click()
    expect(page.get_by_test_id(f"casing-{label}")).to_be_visible()
    app.expect_waiting(0)
    lines = "SELECT kind, withdrawn FROM custody_visit_line WHERE pickup = %s ORDER BY kind"
    assert strict.rows(lines, visit) == [("left", True), ("scrap", True)]
    [(told,)] = strict.rows("SELECT told FROM custody_fact WHERE label = %s", label)
    assert told["check"]["overruled"] == "the customer wants it looked at"
    assert told["note"] == "behind the shop"


def test_a_pickup_of_scrap_alone_is_finished_and_signed_for(web: Stack, open_app: OpenApp) -> None:
    app = open_app()
    page, visit = app.page, visit_of(app)
    page.get_by_test_id("scrap").click()
    page.get_by_test_id("scrap-step-1").click()
    page.get_by_test_id("scrap-save").click()
    app.finish()
    expect(page.get_by_test_id("receipt")).to_contain_text("2 scrap tires taken")
    app.expect_waiting(0)
    [(_, end)] = facts(web, "pickup_end", visit)
    [(scrap, _)] = facts(web, "scrap", visit)
    assert not end.get("casings")
    assert (end["scrap"], end["shown"]) == ([scrap], shown([], scrap=2))
    page.get_by_test_id("receipt-done").click()
    expect(page.get_by_test_id(f"recent-{visit}")).to_contain_text("2 scrap")
