"""The page of the rolls: print one for a store, see how much of each is used, draw one again."""

import html
import re
from datetime import date
from typing import Any
from uuid import uuid4

import pypdfium2
import pytest
from django.db import IntegrityError, transaction
from django.test import Client
from playwright.sync_api import Browser, Playwright
from pytest_django import Settings
from pytest_django.live_server_helper import LiveServer

from pickups.labels import queries
from pickups.labels.models import Label, LabelStock, Roll, Trial
from pickups.people.models import Site
from tests.pickups.desk.conftest import SignedIn
from tests.pickups.desk.test_browser import faults, opened
from tests.pickups.labels.pictures import rasters, texts
from tests.world import Phone, World


def form(world: World, **more: Any) -> dict[str, Any]:
    return {"store": world.store.uid, "count": 3, "stock": "roll", "uid": uuid4(), **more}


def rows(page: str) -> list[str]:
    """The lines of the table as they are read, the newest first."""
    found = [re.sub(r"<[^>]+>", " ", row) for row in page.split("<tr")[2:]]
    return [" ".join(row.partition(">")[2].split()) for row in found]


def counts() -> tuple[int, int]:
    return Roll.objects.count(), Label.objects.count()


def test_a_roll_is_printed_for_the_store_chosen_and_its_pdf_holds_its_labels(
    office: Client, world: World
) -> None:
    sent = form(world, store=world.other_store.uid)
    page = office.post("/office/rolls/print", sent, follow=True).content.decode()
    roll = Roll.objects.latest("pk")
    assert (roll.site, roll.last - roll.first + 1) == (world.other_store, 3)
    assert "3 labels for Saltmarsh store" in page
    address = f"/office/rolls/{roll.pk}/roll.pdf"
    assert f'class="primary" href="{address}"' in page
    answer = office.get(address)
    assert answer["Content-Type"] == "application/pdf"
    assert "no-store" in answer["Cache-Control"]
    read = [bars for page in rasters(answer.content) for bars in texts(page)["bars"]]
    assert read == [code for code in queries.codes_of(roll) for _ in "12"]


def test_a_roll_is_drawn_again_with_the_same_codes_on_either_stock(
    office: Client, world: World
) -> None:
    roll, before = world.store.rolls.get(), counts()
    first = office.get(f"/office/rolls/{roll.pk}/roll.pdf").content
    assert office.get(f"/office/rolls/{roll.pk}/roll.pdf").content == first
    sheet = office.get(f"/office/rolls/{roll.pk}/sheet.pdf").content
    assert len(rasters(sheet)) == len(queries.codes_of(roll)) * 2 // 10
    assert counts() == before


def test_the_form_offers_stores_alone_and_ones_own_first(signed_in: SignedIn, world: World) -> None:
    page = signed_in().get("/office/rolls/").content.decode()
    options = page.split('<select id="store"')[1].split("</select>")[0]
    assert re.findall(r">([^<>]+)</option>", options) == ["Bramblewick store", "Saltmarsh store"]
    assert f'value="{world.store.uid}" selected' in options


def test_each_roll_says_how_many_of_its_labels_are_on_casings(
    office: Client, world: World, phone: Phone
) -> None:
    phone.pick_up(world.labels[0], world.yard.uid, uuid4())
    taken_back = phone.pick_up(world.labels[1], world.yard.uid, uuid4())
    phone.pick_up(world.labels[2], world.yard.uid, uuid4())
    named = {"fact": taken_back["id"], "label": world.labels[1]}
    pickup = taken_back["payload"]["pickup"]
    phone.enter("custody.withdraw", {"pickup": pickup, "withdraws": named, "reason": "wrong pile"})
    assert phone.push().status == 200
    (line,) = rows(office.get("/office/rolls/").content.decode())
    assert "30 labels" in line
    assert "2 of 30" in line


def test_a_roll_that_is_used_up_says_so(office: Client, world: World, phone: Phone) -> None:
    office.post("/office/rolls/print", form(world, count=1))
    (label,) = queries.codes_of(Roll.objects.latest("pk"))
    phone.pick_up(label, world.yard.uid, uuid4())
    assert phone.push().status == 200
    first, _ = rows(office.get("/office/rolls/").content.decode())
    assert first.startswith(f"1 label, {label[:4]} {label[4:]}")
    assert "all 1" in first


def test_a_form_that_is_sent_twice_prints_once(office: Client, world: World) -> None:
    sent = form(world)
    office.post("/office/rolls/print", sent)
    before = counts()
    office.post("/office/rolls/print", sent)
    assert counts() == before
    page = office.post("/office/rolls/print", {**sent, "count": 4}, follow=True).content.decode()
    assert "sent before with other values" in page
    assert counts() == before


def test_every_form_carries_a_uid_of_its_own(office: Client) -> None:
    pages = [office.get("/office/rolls/").content.decode() for _ in "12"]
    uids = [re.findall(r'name="uid" value="([0-9a-f-]{36})"', page)[0] for page in pages]
    assert len(set(uids)) == 2


@pytest.mark.parametrize(
    ("name", "value", "said"),
    [
        ("count", "0", "“0” labels cannot be made: a whole number from 1 to 1000."),
        ("count", "1001", "“1001” labels"),
        ("count", "twelve", "“twelve” labels"),
        ("count", "\u0661\u0662", "labels cannot be made"),
        ("count", "", "“” labels"),
        ("store", "nowhere", "“nowhere” is none"),
        ("stock", "shelf", "“shelf” is neither"),
    ],
)
def test_what_cannot_be_printed_is_said_beside_its_field_and_nothing_typed_is_lost(
    office: Client, world: World, name: str, value: str, said: str
) -> None:
    before = counts()
    sent = form(world, count=7) | {name: value}
    answer = office.post("/office/rolls/print", sent)
    page = answer.content.decode()
    assert answer.status_code == 400
    assert said in page
    field = page.split(f'id="{name}"')[1]
    assert 'aria-invalid="true"' in field.split(">")[0]
    kept = value if name == "count" else "7"
    assert f'value="{kept}"' in page.split('id="count"')[1].split(">")[0]
    assert counts() == before


def test_a_plant_is_no_store(office: Client, world: World) -> None:
    before = counts()
    answer = office.post("/office/rolls/print", form(world, store=world.plant.uid))
    assert answer.status_code == 400
    assert counts() == before


@pytest.mark.parametrize("address", ["/office/rolls/99999/roll.pdf", "/office/rolls/1/shelf.pdf"])
def test_what_is_no_roll_and_no_stock_is_not_here(
    office: Client, world: World, address: str
) -> None:
    assert office.get(address).status_code == 404


def test_who_decides_nothing_sees_the_rolls_and_prints_none(
    signed_in: SignedIn, world: World
) -> None:
    sales = signed_in("sales")
    page = sales.get("/office/rolls/").content.decode()
    assert len(rows(page)) == 1
    assert ".pdf" not in page
    assert "<form" not in page.split("<main")[1]
    before = counts()
    assert sales.post("/office/rolls/print", form(world)).status_code == 403
    assert counts() == before


def test_a_dealers_name_that_fits_on_no_label_is_said_in_words(
    office: Client, world: World, settings: Settings
) -> None:
    settings.DEALER_NAME = "Retread " * 40
    address = f"/office/rolls/{world.store.rolls.get().pk}/roll.pdf"
    page = office.get(address, follow=True).content.decode()
    assert "Nothing was drawn" in page
    assert "An administrator sets the dealer" in page


def test_where_nothing_was_printed_the_page_says_what_will_stand_there(
    office: Client, world: World
) -> None:
    Label.objects.all().delete()
    Roll.objects.all().delete()
    assert "No roll has been printed yet" in office.get("/office/rolls/").content.decode()


def test_a_store_without_rolls_gets_one_in_spanish(signed_in: SignedIn, world: World) -> None:
    third = Site.objects.create(name="Ellery store", kind=Site.Kind.STORE)
    client = signed_in(language="es")
    sent = form(world, store=third.uid, count=1)
    page = client.post("/office/rolls/print", sent, follow=True).content.decode()
    assert "1 etiqueta para Ellery store" in page
    assert "0 de 1" in page


@pytest.fixture(scope="module")
def browser(playwright: Playwright, chromium: str) -> Any:
    started = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
    yield started
    started.close()


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize(
    ("width", "light", "language"), [(1440, "light", "en"), (360, "dark", "es")]
)
def test_the_page_is_accessible_and_a_roll_is_printed_without_a_mouse(
    browser: Browser, live_server: LiveServer, world: World, width: int, light: str, language: str
) -> None:
    options = {"viewport": {"width": width, "height": 800}, "color_scheme": light,
               "locale": language, "bypass_csp": True}  # fmt: skip
    context = opened(browser, live_server, world, **options)
    page = context.new_page()
    page.goto("/office/rolls/")
    found = faults(page)
    page.locator("#count").focus()
    page.keyboard.press("Control+A")
    page.keyboard.type("none")
    page.keyboard.press("Enter")
    page.locator("#count[aria-invalid]").wait_for()
    found += faults(page)
    page.locator("#count").focus()
    page.keyboard.press("Control+A")
    page.keyboard.type("12")
    page.keyboard.press("Enter")
    page.locator("a.primary").wait_for()
    found += faults(page)
    with page.expect_download() as download:
        page.locator("a.primary").focus()
        page.keyboard.press("Enter")
    pdf = download.value.path().read_bytes()
    context.close()
    assert found == []
    assert len(rasters(pdf)) == 24


# --- What labels are printed on ----------------------------------------------------------------


def a_trial(stock: LabelStock, outcome: str, **more: Any) -> None:
    told = {"on": date(2026, 2, 3), "by": "Ira Holt", "degrees_c": 115, "minutes": 240}
    Trial.objects.create(stock=stock, outcome=outcome, **told | more)


@pytest.mark.parametrize(
    ("language", "untried", "tried"),
    [
        ("en", "No trial recorded: nothing is known of heat or paint.",
         "Ira Holt: 115 °C for 240 min, painted with black; hardly read afterwards."),
        ("es", "Ningún ensayo anotado: no se sabe nada de calor ni de pintura.",
         "Ira Holt: 115 °C durante 240 min, pintada con black; apenas se leyó después."),
    ],
)  # fmt: skip
def test_of_a_stock_nothing_is_said_before_a_trial_and_then_what_the_trial_was(
    signed_in: SignedIn, world: World, language: str, untried: str, tried: str
) -> None:
    browser = signed_in(language=language)
    stock = LabelStock.objects.create(name="Foil 9", use="cure_proof")
    page = browser.get("/office/rolls/").content.decode()
    assert "Foil 9" in page
    assert untried in page
    a_trial(stock, "hardly_read", paint="black")
    page = browser.get("/office/rolls/").content.decode()
    assert untried not in page
    assert tried in page


def test_a_roll_names_its_stock_and_how_often_each_code_comes(office: Client, world: World) -> None:
    stock = LabelStock.objects.create(name="Foil 9", use="cure_proof")
    sent = form(world, material=stock.pk, each="1")
    page = office.post("/office/rolls/print", sent, follow=True).content.decode()
    roll = Roll.objects.latest("pk")
    assert (roll.stock, roll.twins) == (stock, False)
    newest = rows(page)[0]
    assert "each once" in newest
    assert "Foil 9" in newest
    pages = rasters(office.get(f"/office/rolls/{roll.pk}/roll.pdf").content)
    assert [texts(one)["bars"] for one in pages] == [[c] for c in queries.codes_of(roll)]


@pytest.mark.parametrize(
    ("use", "outcomes", "said"),
    [
        ("yard", ["read"], "yard label"),
        ("cure_proof", [], "yard label"),
        ("cure_proof", ["read", "not_read"], "yard label"),
        ("cure_proof", ["read", "read"], "cure-proof label"),
        ("finished_tag", [], "finished tag"),
    ],
)
def test_a_label_is_called_cure_proof_only_where_every_trial_of_heat_was_read(
    office: Client, world: World, use: str, outcomes: list[str], said: str
) -> None:
    stock = LabelStock.objects.create(name="Foil 9", use=use)
    for outcome in outcomes:
        a_trial(stock, outcome)
    office.post("/office/rolls/print", form(world, material=stock.pk))
    roll = queries.roll(Roll.objects.latest("pk").pk)
    assert roll is not None
    assert queries.called(roll) == said
    pdf = pypdfium2.PdfDocument(office.get(f"/office/rolls/{roll.pk}/roll.pdf").content)
    assert f"{said}, same code on both sides" in pdf[0].get_textpage().get_text_range()


def test_paint_alone_proves_no_cure_and_disproves_none(office: Client, world: World) -> None:
    stock = LabelStock.objects.create(name="Foil 9", use="cure_proof")
    office.post("/office/rolls/print", form(world, material=stock.pk))
    roll = queries.roll(Roll.objects.latest("pk").pk)
    assert roll is not None
    paint = {"degrees_c": None, "minutes": None, "paint": "black"}
    a_trial(stock, "read", **paint)
    assert queries.called(roll) == "yard label"
    a_trial(stock, "read")
    assert queries.called(roll) == "cure-proof label"
    a_trial(stock, "not_read", **paint)
    assert queries.called(roll) == "cure-proof label"


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [("material", "999", "“999” is none"), ("each", "3", "“3” is neither")],
)
def test_a_stock_or_count_that_is_none_is_said_and_nothing_is_printed(
    office: Client, world: World, field: str, value: str, said: str
) -> None:
    before = counts()
    answer = office.post("/office/rolls/print", form(world, **{field: value}))
    assert answer.status_code == 400
    assert said in html.unescape(answer.content.decode())
    assert counts() == before


def test_a_trial_is_of_heat_or_paint_and_a_change_of_it_is_kept(world: World) -> None:
    stock = LabelStock.objects.create(name="Foil 9", use="cure_proof")
    for wrong in ({"degrees_c": None, "minutes": None}, {"minutes": None}):
        with pytest.raises(IntegrityError), transaction.atomic():
            a_trial(stock, "read", **wrong)
    a_trial(stock, "read")
    trial = Trial.objects.get()
    trial.outcome = "not_read"
    trial.save()
    assert [h.outcome for h in trial.history.order_by("history_id")] == ["read", "not_read"]
    # A name that somebody asks to be erased stands in one place only.
    told = trial.history.values().latest("history_id")
    assert trial.by not in told.values()


def test_a_void_label_of_a_roll_is_used(office: Client, world: World, phone: Phone) -> None:
    office.post("/office/rolls/print", form(world))
    old, new, _ = queries.codes_of(Roll.objects.latest("pk"))
    phone.pick_up(old, world.yard.uid, uuid4())
    phone.enter("custody.relabel", {"label": old, "now": new, "why": "lost"})
    assert phone.push().status == 200
    assert "2 of 3" in rows(office.get("/office/rolls/").content.decode())[0]
