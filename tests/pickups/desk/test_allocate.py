"""A roll goes to a driver of its store, to another, back; a label is spoiled; phones hear of it."""

import html
import re
import threading
from importlib import import_module
from typing import Any
from uuid import uuid4

import pytest
from django.apps import apps
from django.db import connection, transaction
from django.test import Client
from playwright.sync_api import Browser, Playwright
from pytest_django.live_server_helper import LiveServer

from pickups.custody import services as custody
from pickups.custody.fold import Fact, Kind
from pickups.custody.ledger import Told
from pickups.kernel import clock, locks
from pickups.labels import queries, services
from pickups.labels.models import Allocation, Roll
from pickups.people.models import User
from pickups.questions.models import Question
from tests.pickups.desk.conftest import SignedIn
from tests.pickups.desk.test_browser import faults, opened
from tests.pickups.notices.test_progress import waiting_for_a_lock
from tests.world import Phone, World
from tests.world.threads import at_once

pytestmark = pytest.mark.django_db(transaction=True)


def give(office: Client, roll: Roll, holder: Any, *, seen: Any = None) -> str:
    """What the page says after a roll was given away, as the page before it was shown."""
    newest = queries.allocation(roll)
    shown = seen if seen is not None else (newest.pk if newest else "")
    sent = {"holder": holder.uid if isinstance(holder, User) else holder, "seen": shown}
    answer = office.post(f"/office/rolls/{roll.pk}/allocate", sent, follow=True)
    return html.unescape(answer.content.decode())


def another(world: World) -> User:
    return User.objects.create_user(
        "pell", first_name="Pell", last_name="Arden", role="driver", site=world.store
    )


def held(phone: Phone) -> list[dict[str, Any]]:
    """The rolls that somebody has, as the phone knows them."""
    phone.pull_all()
    rows = [row for key, row in phone.rows.items() if key[1] == "label_roll"]
    return [row["body"] for row in rows if row.get("body")]


@pytest.mark.usefixtures("apart")
@pytest.mark.xdist_group("feed")
def test_a_roll_goes_to_a_driver_to_another_and_back_and_phones_hear_each(
    office: Client,
    world: World,
    phone: Phone,
) -> None:
    roll, pell = world.store.rolls.get(), another(world)
    assert held(phone) == []
    assert "now with Dale Orrin" in give(office, roll, world.driver)
    codes = queries.codes_of(roll)
    assert held(phone) == [{"holder": str(world.driver.uid), "labels": codes}]
    assert "now with Pell Arden" in give(office, roll, pell)
    assert held(phone) == [{"holder": str(pell.uid), "labels": codes}]
    page = give(office, roll, "")
    assert "now with Bramblewick store" in page
    assert held(phone) == []
    by = str(world.dispatcher)
    told = re.findall(r'<p class="soft">((?:To|Back)[^<]+)</p>', page)
    assert [said.split(", by ")[0] for said in told] == [
        *("Back to the store", "To Pell Arden", "To Dale Orrin")
    ]
    assert all(f", by {by}, " in said for said in told)
    give(office, roll, world.driver)
    assert [body["holder"] for body in held(phone)] == [str(world.driver.uid)]


def test_a_roll_is_printed_for_a_driver_and_its_label_says_whose_it_is(
    office: Client,
    world: World,
) -> None:
    sent = {"store": world.store.uid, "count": 3, "stock": "roll", "uid": uuid4()}
    office.post("/office/rolls/print", sent | {"holder": world.driver.uid})
    office.post("/office/rolls/print", sent | {"holder": world.driver.uid})
    roll = Roll.objects.latest("pk")
    assert [a.holder for a in roll.allocations.all()] == [world.driver]
    (label, *_) = queries.codes_of(roll)
    page = office.get(f"/office/labels/{label}").content.decode()
    assert "From a roll of Bramblewick store that Dale Orrin has since" in page
    page = office.get(f"/office/labels/{world.labels[0]}").content.decode()
    assert "From a roll of Bramblewick store." in page


@pytest.mark.parametrize("who", ["another store's", "who left", "no driver", "nobody"])
def test_a_roll_goes_to_no_one_but_a_driver_of_its_store(
    office: Client,
    world: World,
    who: str,
) -> None:
    gone = another(world)
    gone.is_active = False
    gone.save()
    wrong = {"another store's": world.other_driver, "who left": gone,
             "no driver": world.dispatcher, "nobody": "nobody"}[who]  # fmt: skip
    roll = world.store.rolls.get()
    assert "is no driver of that store" in give(office, roll, wrong)
    uid = wrong.uid if isinstance(wrong, User) else wrong
    sent = {"store": world.store.uid, "count": 3, "stock": "roll", "holder": uid}
    answer = office.post("/office/rolls/print", sent)
    assert answer.status_code == 400
    assert "is no driver of that store" in answer.content.decode()
    assert (Allocation.objects.count(), Roll.objects.count()) == (0, 1)


def test_what_somebody_else_gave_away_meanwhile_is_not_given_twice(
    office: Client,
    world: World,
) -> None:
    roll, pell = world.store.rolls.get(), another(world)
    give(office, roll, world.driver)
    assert "somebody gave this roll away meanwhile" in give(office, roll, pell, seen="")
    assert "with Dale Orrin already" in give(office, roll, world.driver, seen="")
    assert [a.holder for a in roll.allocations.all()] == [world.driver]


@pytest.mark.usefixtures("apart")
@pytest.mark.xdist_group("feed")
def test_ranges_begun_before_phones_were_told_of_them_are_told_by_the_migration(
    world: World, phone: Phone
) -> None:
    services.print_roll(
        range_symbols="M4", count=2, site=world.store, at=world.store.rolls.get().printed_at
    )
    with connection.cursor() as c:
        c.execute("DELETE FROM sync_feed WHERE entity = 'label_range'")
    migration = import_module("pickups.labels.migrations.0006_ranges_to_devices")
    for _ in "12":
        with connection.schema_editor() as editor:
            migration.tell_ranges(apps, editor)
    phone.pull_all()
    (row,) = [row for key, row in phone.rows.items() if key[1] == "label_range"]
    assert row["body"]["ranges"] == ["K7", "M4"]
    assert row["version"] == 2


# --- A label found damaged before use ----------------------------------------------------------


@pytest.mark.usefixtures("apart")
@pytest.mark.xdist_group("feed")
def test_a_label_spoiled_before_use_is_void_with_why_on_the_page_and_on_phones(
    office: Client,
    world: World,
    phone: Phone,
) -> None:
    label = world.labels[0]
    address = f"/office/labels/{label}/void"
    for wrong in ("", "  ", "x" * 201):
        answer = office.post(address, {"reason": wrong})
        assert answer.status_code == 400
        assert 'aria-invalid="true"' in answer.content.decode()
    assert queries.void(label) is None
    page = office.post(address, {"reason": "smeared"}, follow=True).content.decode()
    assert "This label is void: “smeared”" in page
    assert "Void this label" not in page
    again = office.post(address, {"reason": "torn"}, follow=True).content.decode()
    assert "The label was void already." in again
    assert "smeared" in again
    phone.pull_all()
    (row,) = [row for key, row in phone.rows.items() if key[1] == "label_range"]
    assert row["body"] == {"ranges": ["K7"], "void": [label]}


def test_a_void_label_that_gets_on_a_casing_all_the_same_is_asked_about(
    office: Client, world: World, phone: Phone
) -> None:
    label, other = world.labels[:2]
    for code in (label, other):
        office.post(f"/office/labels/{code}/void", {"reason": "smeared"})
    op = phone.pick_up(label, world.yard.uid, uuid4())
    assert phone.push().status == 200
    assert phone.answers[op["id"]]["code"] == "label_void"
    phone.enter("custody.relabel", {"label": label, "now": other, "why": "lost"})
    assert phone.push().status == 200
    asked = Question.objects.filter(kind="label_void", settled_at=None)
    assert {q.subject for q in asked} == {f"label:{label}", f"label:{other}"}
    page = office.get("/office/").content.decode()
    assert "A label that was declared void is on a casing" in page


def test_a_label_that_a_phone_uses_just_then_is_not_voided(
    office: Client, world: World, phone: Phone
) -> None:
    label, written = world.labels[0], threading.Event()
    now = clock.now()
    told = {"at": clock.rfc3339(now), "pickup": str(uuid4()), "yard": str(world.yard.uid)}
    fact = Fact(uuid4(), Kind.PICKED_UP, label, clock.to_ms(now), told=told)

    def write() -> str:
        with transaction.atomic():
            locks.take([locks.label_key(label)])
            made = Told(fact, now, by=None, device=None, skew_ms=None)
            custody.record([made], site=world.store.uid, at=now)
            written.set()
            for _ in range(400):
                if waiting_for_a_lock():
                    break
                threading.Event().wait(0.005)
        return ""

    def void() -> str:
        assert written.wait(10)
        address = f"/office/labels/{label}/void"
        return office.post(address, {"reason": "torn"}, follow=True).content.decode()

    assert "something was told about this label" in at_once(write, void)[1]
    assert queries.void(label) is None


def test_a_label_on_a_casing_or_never_printed_cannot_be_voided_in_the_office(
    office: Client,
    world: World,
    phone: Phone,
) -> None:
    label = world.labels[0]
    phone.pick_up(label, world.yard.uid, uuid4())
    assert phone.push().status == 200
    answer = office.post(f"/office/labels/{label}/void", {"reason": "torn"}, follow=True)
    assert "something was told about this label" in answer.content.decode()
    assert "Void this label" not in answer.content.decode()
    assert office.post("/office/labels/M4001T96/void", {"reason": "torn"}).status_code == 404
    assert queries.void(label) is None


def test_a_mistyped_label_is_offered_the_printed_ones_one_slip_away(
    signed_in: SignedIn,
    world: World,
) -> None:
    label = world.labels[0]
    for language, said in (("en", "one symbol missing"), ("es", "falta un símbolo")):
        answer = signed_in(language=language).get("/office/labels", {"q": label[:3] + label[4:]})
        page = answer.content.decode()
        assert answer.status_code == 400
        assert f'href="/office/labels/{label}"' in page
        assert said in page
    page = signed_in().get("/office/labels", {"q": "7"}).content.decode()
    assert "Perhaps one of these" not in page


@pytest.fixture(scope="module")
def browser(playwright: Playwright, chromium: str) -> Any:
    started = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
    yield started
    started.close()


@pytest.mark.parametrize(
    ("width", "light", "language"), [(1440, "light", "en"), (360, "dark", "es")]
)
def test_a_roll_is_given_and_a_label_voided_without_a_mouse(
    browser: Browser, live_server: LiveServer, world: World, width: int, light: str, language: str
) -> None:
    options = {"viewport": {"width": width, "height": 800}, "color_scheme": light,
               "locale": language, "bypass_csp": True}  # fmt: skip
    context = opened(browser, live_server, world, **options)
    page = context.new_page()
    page.goto("/office/rolls/")
    page.locator(".give select").focus()
    page.keyboard.type("Dale")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.locator("p.good").wait_for()
    found = faults(page)
    page.goto(f"/office/labels/{world.labels[0]}")
    found += faults(page)
    page.locator("#reason").focus()
    page.keyboard.type("smeared")
    page.keyboard.press("Enter")
    page.locator("p.good").wait_for()
    found += faults(page)
    page.goto(f"/office/labels?q={world.labels[1][:-1]}")
    page.locator("#meant").wait_for()
    found += faults(page)
    context.close()
    assert found == []
    assert queries.void(world.labels[0]) is not None
    newest = queries.allocation(world.store.rolls.get())
    assert newest is not None
    assert newest.holder == world.driver
