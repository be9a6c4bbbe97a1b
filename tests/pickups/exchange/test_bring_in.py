"""Lists come in by the office's pages: looked at first, written as they were shown, or not."""

from datetime import date
from threading import Event
from typing import Any
from uuid import uuid4

import pytest
from django.db import OperationalError, connection, transaction
from django.test import Client
from django.test.utils import CaptureQueriesContext

from pickups.customers import services as customers
from pickups.customers import specifying
from pickups.customers.models import Contact, Customer, Specification, Yard
from pickups.customers.rules import Terms
from pickups.exchange import services
from pickups.exchange.models import Import
from pickups.journal.models import Entry
from pickups.kernel import clock, locks
from pickups.people.models import Site
from pickups.sync.models import Feed
from tests.pickups.desk.conftest import SignedIn
from tests.pickups.exchange.files import agree, book, bring, said, settle, text, upload
from tests.world import World
from tests.world.threads import at_once

FLEETS = [
    ["customer number", "customer", "store"],
    ["1001", "Tarn Valley Haulage", "bramblewick  STORE"],
    ["1002", "Ferncliff Freight", "Saltmarsh store"],
]
YARDS = [
    ["customer", "yard", "address"],
    ["1002", "Gate 4", "9 Kiln Row"],
    ["Tarn Valley Haulage", "north yard", "5 Quarry Lane"],
]


def everything() -> dict[str, Any]:
    """What a refused import must leave as it is."""
    models = (Customer, Yard, Contact, Specification)
    kept = {m.__name__: list(m.objects.order_by("pk").values()) for m in models}
    return {**kept, "journal": Entry.objects.count(), "feed": Feed.objects.count()}


def test_a_file_is_looked_at_and_nothing_is_written(office: Client, world: World) -> None:
    before = everything()
    page = said(upload(office, book(Fleets=FLEETS, Places=YARDS), "all.xlsx"))
    assert everything() == before
    assert "What all.xlsx would do Nothing is written yet." in page
    assert "Customers 1 1 0 Yards 1 1 0" in page
    assert "Write it: 2 new, 2 changed" in page
    assert "Tarn Valley Haulage Customer number nothing 1001" in page
    assert "4 Quarry Lane 5 Quarry Lane" in page
    assert "What would be new Ferncliff Freight Ferncliff Freight, Gate 4" in page


def test_what_was_shown_is_written_and_phones_and_history_know(
    office: Client, world: World
) -> None:
    page = bring(office, book(Fleets=FLEETS, Places=YARDS), "all.xlsx")
    assert "all.xlsx is written" in page
    assert "Customers 1 1 0 Yards 1 1 0" in page
    new = Customer.objects.get(number="1002")
    assert (new.name, new.home_site) == ("Ferncliff Freight", world.other_store)
    gate = new.yards.get()
    assert (gate.name, gate.address) == ("Gate 4", "9 Kiln Row")
    world.yard.refresh_from_db()
    assert (world.yard.name, world.yard.address) == ("north yard", "5 Quarry Lane")
    told = {f.uid: f.version for f in Feed.objects.filter(entity="yard")}
    assert told[gate.uid] == gate.version
    assert told[world.yard.uid] == world.yard.version > 1
    last = gate.history.get()
    assert (last.history_user, last.history_change_reason) == (world.dispatcher, "all.xlsx")
    assert world.customer.history.latest().history_user == world.dispatcher


def test_the_same_file_again_finds_everything_as_it_is(office: Client, world: World) -> None:
    raw = book(Fleets=FLEETS, Places=YARDS)
    bring(office, raw)
    before = everything()
    page = said(upload(office, raw))
    assert "Everything in this file stands as it is." in page
    assert "Customers 0 0 2 Yards 0 0 2" in page
    assert "Write it" not in page
    assert everything() == before


def test_every_fault_is_named_with_row_and_column_and_nothing_can_be_written(
    office: Client, world: World
) -> None:
    before = everything()
    raw = text([
        ["Name", "Store", "Account number"],
        ["", "Bramblewick store", "1"],
        ["Long " * 30, "Bramblewick store", "2"],
        ["Away", "Nowhere", "3"],
        ["Once", "Saltmarsh store", "4"],
        ["Once more", "Saltmarsh store", "4"],
        ["Failed", "Saltmarsh store", "#REF!"],
        ["Reedbank Gravel", "Saltmarsh store", "5"],
    ])  # fmt: skip
    page = said(upload(office, raw, "fleets.csv"))
    assert "5 cells are wrong, so nothing of this file can be written." in page
    assert "row 2, Name nothing This cell may not be empty." in page
    assert "row 3, Name" in page
    assert "It has 149 characters; at most 120 are allowed." in page
    assert (
        "row 4, Store Nowhere No store is called that. "
        "Allowed: Bramblewick store, Saltmarsh store." in page
    )
    assert "row 6, Account number 4 The same record stands in row 5 already." in page
    assert "row 7, Account number #REF! A formula failed here." in page
    assert "Write it" not in page
    assert "Choose the mended file" in page
    taken = Import.objects.get()
    assert services.agree(uid=taken.uid, mark="", at=clock.now()) == "faults"
    assert everything() == before
    named = office.get(f"/office/lists/{taken.uid}/faults.csv")
    assert b"".join(named).decode().count("\r\n") == 6


def test_faults_of_yards_contacts_and_specifications(office: Client, world: World) -> None:
    raw = book(
        Places=[["Customer", "Yard"], ["Nobody", "x"], ["Tarn Valley Haulage", "a\x7fb"]],
        People=[["Customer", "Contact", "E-mail", "Language"],
                ["Reedbank Gravel", "Ada Moss", "not a mail", "Latin"]],
        Specs=[["Customer", "Yard", "Oldest age (years)", "Old repairs accepted", "Brands",
                "Rejects"],
               ["Tarn Valley Haulage", "South", "0", "glue | old spot repair", "none", "burn"]],
    )  # fmt: skip
    page = said(upload(office, raw, "x.xlsx"))
    for wanted in (
        "Places, row 2, Customer Nobody No customer has this number or name.",
        "Places, row 3, Yard",
        "It holds a symbol that cannot be kept (U+007F).",
        "People, row 2, E-mail not a mail This is no e-mail address.",
        "People, row 2, Language Latin “Latin” is not known. Allowed: English, Spanish.",
        "Specs, row 2, Yard South This customer has no yard of this name.",
        "Specs, row 2, Oldest age (years) 0 Allowed: a whole number from 1 to 30.",
        "“glue” is not known. Allowed: old nail hole repair",
        "Specs, row 2, Brands none Name at least one, or leave the cell empty",
        "“burn” is not known. Allowed: ask each time, bring back, scrap",
    ):
        assert wanted in page


@pytest.mark.parametrize("years", ["7,000", "7.000", True, "TRUE"])
def test_thousands_and_a_yes_are_no_number_of_years(
    office: Client, world: World, years: object
) -> None:
    raw = book(Specs=[["Customer", "Oldest age (years)"], ["Tarn Valley Haulage", years]])
    page = said(upload(office, raw, "x.xlsx"))
    assert f"{str(years).upper()} Allowed: a whole number from 1 to 30." in page


def test_sizes_that_do_not_read_are_faults_with_what_may_be_meant(
    office: Client, world: World
) -> None:
    rows: list[list[object]]
    rows = [["Tarn Valley Haulage", date(2026, 10, 20)], ["Reedbank Gravel", "11R22.5 | 29575225"]]
    page = said(upload(office, book(Specs=[["Customer", "Sizes"], *rows]), "x.xlsx"))
    assert "“2026-10-20” does not read as a size: write it as 295/75R22.5 or 11R22.5." in page
    assert "“29575225” does not read as a size. Meant: 295/75R22.5?" in page


def test_what_names_a_record_with_a_fault_is_no_fault_too(office: Client, world: World) -> None:
    raw = book(Fleets=[FLEETS[0], ["7", "New Fleet", "Nowhere"]], Places=[YARDS[0],
               ["7", "One", ""], ["New Fleet", "Two", ""]])  # fmt: skip
    assert "1 cell is wrong" in said(upload(office, raw, "x.xlsx"))


def test_a_column_that_is_not_there_stays_and_an_empty_cell_empties(
    office: Client, world: World
) -> None:
    bring(office, text([["customer", "contact", "email"], ["Tarn Valley Haulage", "Ines Corvo",
                                                           ""]]))  # fmt: skip
    ines = Contact.objects.get(name="Ines Corvo")
    assert (ines.email, ines.language) == ("", "en")
    bring(office, text(FLEETS))
    page = said(upload(office, text([["number", "name", "store"],
                                     ["", world.customer.name, world.store.name]])))  # fmt: skip
    assert "Everything in this file stands as it is." in page  # a number is not taken away


def test_a_number_finds_a_customer_whatever_it_is_called_now(office: Client, world: World) -> None:
    bring(office, text(FLEETS))
    version = Yard.objects.get(uid=world.yard.uid).version
    bring(
        office, text([["number", "name", "store"], ["1001.0", "Tarn Haulage", "Saltmarsh store"]])
    )
    world.customer.refresh_from_db()
    assert (world.customer.name, world.customer.home_site) == ("Tarn Haulage", world.other_store)
    yard = Yard.objects.get(uid=world.yard.uid)
    assert yard.version > version
    feed = {f.scope: f.gone for f in Feed.objects.filter(uid=yard.uid)}
    assert feed == {f"site:{world.store.uid}": True, f"site:{world.other_store.uid}": False}


def test_two_of_one_name_are_told_apart_by_number_or_asked_about(
    office: Client, world: World
) -> None:
    twin = customers.enter(name="Tarn Valley Haulage", home_site=world.other_store)
    raw = text([["customer", "yard"], ["tarn valley haulage", "West"]])
    assert "2 customers have this name. Write the customer number." in said(upload(office, raw))
    Customer.objects.filter(uid=twin.uid).update(number="T2")
    bring(office, text([["customer", "yard"], ["t2", "West"]]))
    assert twin.yards.get().name == "West"


def test_specifications_are_versions_and_the_same_again_is_none(
    office: Client, world: World
) -> None:
    heads = ["Cliente", "Patio", "Edad máxima (años)", "Reparaciones aceptadas", "Medidas",
             "Diseño de banda, tracción", "Rechazadas"]  # fmt: skip
    rows: list[list[object]] = [
        ["Tarn Valley Haulage", "", 7.0, "ninguno", "11R22.5; 295/75R22.5", "Ridge D4", "devolver"],
        ["Tarn Valley Haulage", "North yard", "", "old_spot_repair", "", "", ""],
    ]
    page = bring(office, book(Fichas=[heads, *rows]), "f.xlsx")
    assert "Specifications 2 0 0" in page
    whole = Specification.objects.get(customer=world.customer, yard=None)
    terms = whole.versions.get().terms
    assert terms is not None
    assert (terms["oldest_years"], terms["repairs"], terms["rejects"]) == (7, [], "return")
    assert terms["sizes"] == ["11R22.5", "295/75R22.5"]
    assert terms["designs"] == {"drive": "Ridge D4"}
    assert whole.versions.get().by == world.dispatcher.uid
    assert "Specifications 0 0 2" in said(upload(office, book(Fichas=[heads, *rows])))
    rows[0][4] = "11r22,5; 295 75 22.5"
    assert "Specifications 0 0 2" in said(upload(office, book(Fichas=[heads, *rows])))
    rows[0][2] = 8
    page = bring(office, book(Fichas=[heads, *rows]))
    assert "Specifications 0 1 1" in page
    whole.refresh_from_db()
    assert (whole.number, whole.versions.count()) == (2, 2)
    last = whole.versions.latest("number").terms
    assert last == {**terms, "oldest_years": 8}


def test_what_changed_meanwhile_is_shown_again_and_not_written(
    office: Client, world: World
) -> None:
    shown = upload(office, text(YARDS[:1] + YARDS[2:]))
    customers.rename_yard(uid=world.yard.uid, name="North yard", address="7 Quarry Lane")
    page = said(agree(office, shown))
    assert "so this file would now do other things than you saw. Nothing was written" in page
    assert "7 Quarry Lane 5 Quarry Lane" in page
    assert Yard.objects.get(uid=world.yard.uid).address == "7 Quarry Lane"


def test_what_became_wrong_meanwhile_is_said_and_nothing_is_written(
    office: Client, world: World
) -> None:
    shown = upload(office, text([["customer", "yard"], ["Tarn Valley Haulage", "South"]]))
    customers.enter(name="Tarn Valley Haulage", home_site=world.store)
    page = said(agree(office, shown))
    assert "now cells of this file are wrong. Nothing was written." in page
    assert "2 customers have this name" in page
    assert not Yard.objects.filter(name="South").exists()


def test_what_changes_between_agreeing_and_writing_is_left_out_and_said(
    office: Client, world: World
) -> None:
    both = [*YARDS[:1], ["Tarn Valley Haulage", "North yard", "5 Quarry Lane"],
            ["Tarn Valley Haulage", "South yard", ""]]  # fmt: skip
    answer = agree(office, upload(office, text(both)))
    customers.rename_yard(uid=world.yard.uid, name="North yard", address="7 Quarry Lane")
    settle()
    page = said(office.get(answer.redirect_chain[-1][0]))
    assert "Left out" in page
    assert "row 2 This was changed by somebody else after you looked." in page
    assert Yard.objects.get(uid=world.yard.uid).address == "7 Quarry Lane"
    assert Yard.objects.filter(name="South yard").exists()
    assert "written, 1 row left out" in said(office.get("/office/lists/"))


def many_yards(count: int) -> bytes:
    return text([YARDS[0], *[["Tarn Valley Haulage", f"Yard {n}", ""] for n in range(count)]])


def test_a_long_list_is_written_in_steps_that_can_be_left_and_found_again(
    office: Client, world: World
) -> None:
    answer = agree(office, upload(office, many_yards(2500), "many.csv"))
    taken = Import.objects.get()
    assert services.step(uid=taken.uid, start=0) == 1000
    page = said(office.get(answer.redirect_chain[-1][0]))
    assert "many.csv is being written 1 000 of 2 500 rows" in page
    assert "being written: 1 000 of 2 500 rows" in said(office.get("/office/lists/"))
    assert Yard.objects.filter(name__startswith="Yard ").count() == 1000
    assert services.step(uid=taken.uid, start=0) is None  # told twice
    settle()
    taken.refresh_from_db()
    assert taken.finished_at is not None
    assert taken.lines == []  # what was read is not kept for longer than it is needed
    assert taken.written == {"yards": {"new": 2500, "changed": 0, "same": 0}}
    assert Yard.objects.filter(name__startswith="Yard ").count() == 2500
    yards = set(Yard.objects.filter(name__startswith="Yard ").values_list("uid", flat=True))
    assert set(Feed.objects.filter(entity="yard").values_list("uid", flat=True)) >= yards


def test_a_step_of_one_commit_holds_the_feed_up_for_a_moment_only(world: World) -> None:
    taken = services.take_in(raw=many_yards(1000), name="x", wanted="", by=None, at=clock.now())
    plan, _ = services.look(taken)
    assert services.agree(uid=taken.uid, mark=plan.mark, at=clock.now()) == "agreed"
    with CaptureQueriesContext(connection) as sent:
        services.step(uid=taken.uid, start=0)
    assert len(sent) < 60


@pytest.mark.django_db(transaction=True)
def test_two_lists_at_once_are_written_one_after_the_other(world: World) -> None:
    """Both bring the same new yards: each is there once, and nothing is lost of either."""
    takes = [
        services.take_in(raw=many_yards(300), name=name, wanted="", by=None, at=clock.now())
        for name in ("one.csv", "two.csv")
    ]
    for taken in takes:
        mark = services.look(taken)[0].mark
        assert services.agree(uid=taken.uid, mark=mark, at=clock.now(), owe=False) == "agreed"
    at_once(*[lambda t=t: services.step(uid=t.uid, start=0, owe=False) for t in takes])
    assert Yard.objects.filter(name__startswith="Yard ").count() == 300
    told = [Import.objects.get(uid=t.uid) for t in takes]
    assert all(t.finished_at for t in told)
    assert sorted(t.written["yards"]["new"] for t in told) == [0, 300]


@pytest.mark.django_db(transaction=True)
def test_no_specification_changes_under_a_list_that_is_being_written(world: World) -> None:
    held, tried = Event(), Event()

    def write_a_list() -> None:
        with transaction.atomic():
            locks.take([locks.records_key()])
            held.set()
            assert tried.wait(20)

    def specify() -> None:
        with transaction.atomic():
            with connection.cursor() as c:
                c.execute("SET LOCAL lock_timeout = '200ms'")
            by, customer = world.dispatcher.uid, world.customer.uid
            specifying.specify(customer=customer, terms=Terms(), by=by, at=clock.now())

    def try_to() -> None:
        assert held.wait(20)
        try:
            with pytest.raises(OperationalError):
                specify()
        finally:
            tried.set()

    at_once(write_a_list, try_to)


def test_a_list_that_nobody_agreed_to_is_forgotten_after_a_day(office: Client) -> None:
    upload(office, text(YARDS))
    assert services.forget(at=clock.now()) == 0
    assert services.forget(at=clock.now() + services.KEPT) == 1
    assert "This file is not kept any more." in said(
        office.post(f"/office/lists/{uuid4()}/agree", {"mark": "x"}, follow=True)
    )


def test_a_list_that_is_being_written_is_not_forgotten(world: World) -> None:
    """Agreed to in the last minute, written slowly: kept until a day after the last row."""
    taken = services.take_in(raw=many_yards(1500), name="x", wanted="", by=None, at=clock.now())
    mark, late = services.look(taken)[0].mark, clock.now() + 2 * services.KEPT
    assert services.agree(uid=taken.uid, mark=mark, at=clock.now(), owe=False) == "agreed"
    assert services.step(uid=taken.uid, start=0, owe=False) == 1000
    assert services.forget(at=late) == 0
    assert services.step(uid=taken.uid, start=1000, owe=False) is None
    assert Yard.objects.filter(name__startswith="Yard ").count() == 1500
    assert services.forget(at=clock.now()) == 0
    assert services.forget(at=late) == 1


def test_a_long_list_is_planned_before_anything_is_locked(world: World) -> None:
    """Planning takes seconds; a transaction that waits for it is ended by the database."""
    taken = services.take_in(raw=many_yards(3), name="x", wanted="", by=None, at=clock.now())
    mark = services.look(taken)[0].mark
    with CaptureQueriesContext(connection) as sent:
        assert services.agree(uid=taken.uid, mark=mark, at=clock.now()) == "agreed"
    told = [query["sql"] for query in sent]
    begun = next(n for n, sql in enumerate(told) if sql.startswith("SAVEPOINT"))
    reads = [n for n, sql in enumerate(told) if '"customers_customer"' in sql]
    assert reads
    assert max(reads) < begun
    assert services.agree(uid=taken.uid, mark=mark, at=clock.now()) == "agreed_before"


@pytest.mark.django_db(transaction=True)
def test_of_two_who_agree_at_once_one_is_told_it_was_agreed_to_before(world: World) -> None:
    taken = services.take_in(raw=many_yards(300), name="x", wanted="", by=None, at=clock.now())
    mark, heard = services.look(taken)[0].mark, []

    def agree() -> None:
        heard.append(services.agree(uid=taken.uid, mark=mark, at=clock.now()))

    at_once(agree, agree)
    assert sorted(heard) == ["agreed", "agreed_before"]
    assert Entry.objects.filter(kind="list.agreed").count() == 1


def test_what_was_chosen_is_kept_where_a_file_cannot_be_read(office: Client) -> None:
    page = upload(office, b"nothing of ours", "odd.csv", wanted="yards")
    assert page.status_code == 400
    assert "odd.csv: No headings were found that we know." in said(page)
    assert '<option value="yards" selected>' in page.content.decode()
    nothing = office.post("/office/lists/read", {"wanted": ""})
    assert (nothing.status_code, "Choose a file first" in said(nothing)) == (400, True)


def test_a_sales_manager_takes_lists_out_and_brings_none_in(signed_in: SignedIn) -> None:
    sales = signed_in("sales")
    page = said(sales.get("/office/lists/"))
    assert "Take a list out" in page
    assert "Bring a list in" not in page
    assert upload(sales, text(YARDS)).status_code == 403
    assert Import.objects.count() == 0


def test_the_pages_speak_spanish(signed_in: SignedIn, world: World) -> None:
    office = signed_in(language="es")
    page = said(upload(office, text([["cliente", "patio"], ["Nadie", "x"], ["", "y"]]), "p.csv"))
    assert "Qué haría p.csv 2 celdas están mal" in page
    assert "fila 2, cliente Nadie Ningún cliente tiene este número o nombre." in page
    assert Site.objects.filter(kind="store").count() == 2
