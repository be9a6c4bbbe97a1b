"""Lists go out in the form that comes in; casings, work orders and scrap go out to be read."""

import io
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.conf import settings as dealer
from django.test import Client
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from pickups.casings.models import WorkOrder
from pickups.custody import ownership
from pickups.customers import services as customers
from pickups.customers.models import Customer
from pickups.customers.rules import terms
from pickups.customers.specifying import specify
from pickups.exchange import services, words
from pickups.exchange.queries import files, standing
from pickups.exchange.rules.cells import bare
from pickups.exchange.rules.lists import LISTS
from pickups.exchange.rules.planning import plan
from pickups.kernel import clock
from tests.conftest import Enrol
from tests.pickups.desk.conftest import Contested, SignedIn
from tests.pickups.exchange.files import agree, bring, cells, rows, said, settle, text, upload
from tests.world import World

ODD = st.text(st.characters(exclude_categories=["Cs", "Cc", "Cn", "Co"]), min_size=1, max_size=24)
NAME = st.one_of(
    st.sampled_from(["=1+1", "+49", "-", "@x", "'=x", "# not a remark", "a|b", "a;b", "1001.0",
                     "Ünïx", " gap  gap ", "none", "1001", "#REF"]), ODD,
).filter(lambda t: bool(bare(t)))  # fmt: skip


def fetched(office: Client, address: str) -> bytes:
    answer = office.get(address)
    assert answer.status_code == 200
    assert "attachment" in answer["Content-Disposition"]
    assert "no-store" in answer["Cache-Control"]
    return b"".join(answer)


def accepted(world: World) -> None:
    told = {"oldest_years": 7, "repairs": [], "sizes": ["11R22.5"], "brands": ["Ardent", "Bolder"],
            "designs": {"steer": "=S1", "drive": "D4"}, "rejects": "scrap"}  # fmt: skip
    for yard in (None, world.yard.uid):
        specify(customer=world.customer.uid, yard=yard, terms=terms(told), by=None, at=clock.now())


@pytest.mark.parametrize("language", ["en", "es"])
def test_all_lists_go_out_and_come_in_unchanged(
    signed_in: SignedIn, world: World, language: str
) -> None:
    accepted(world)
    office = signed_in(language=language)
    raw = fetched(office, "/office/lists/standing/all.xlsx")
    assert [len(rows) for rows in cells(raw).values()] == [3, 3, 3, 3]
    page = said(upload(office, raw, "all.xlsx"))
    assert "0 0 2" in page
    assert ("There is nothing to write." if language == "en" else "No hay nada que") in page


@pytest.mark.parametrize("listing", [one.name for one in LISTS])
def test_each_list_goes_out_as_text_and_comes_in_unchanged(
    office: Client, world: World, listing: str
) -> None:
    accepted(world)
    raw = fetched(office, f"/office/lists/standing/{listing}.csv")
    assert raw.startswith("\N{BYTE ORDER MARK}".encode())
    assert "There is nothing to write." in said(upload(office, raw))


def test_what_is_changed_in_a_list_that_went_out_changes_the_record(
    office: Client, world: World
) -> None:
    out = rows(fetched(office, "/office/lists/standing/yards.csv"))
    for row in out[1:]:
        if row[0] == str(world.yard.uid):
            row[2] = "Hill yard"
    page = said(upload(office, text(out)))
    assert "Yards 0 1 1" in page
    assert "North yard Hill yard" in page
    bring(office, text(out))
    world.yard.refresh_from_db()
    assert world.yard.name == "Hill yard"
    out[1][1], out[2][1] = out[2][1], out[1][1]
    assert "A record stays its customer's." in said(upload(office, text(out)))


@settings(max_examples=40, deadline=None,
          suppress_health_check=[HealthCheck.function_scoped_fixture])  # fmt: skip
@given(
    fleets=st.lists(st.tuples(NAME, st.sampled_from(["", "", "77", "A-9", "tarn"])), max_size=5),
    yards=st.lists(st.tuples(st.integers(0, 5), NAME, st.one_of(st.just(""), NAME)), max_size=6),
    form=st.sampled_from(["csv", "xlsx"]),
    language=st.sampled_from(["en", "es"]),
)
@pytest.mark.django_db
def test_whatever_stands_goes_out_and_comes_in_unchanged(
    world: World,
    fleets: list[tuple[str, str]],
    yards: list[tuple[int, str, str]],
    form: str,
    language: str,
) -> None:
    """Also names alike, names like numbers, names that look like formulas, lists or remarks."""
    from django.db import transaction

    with transaction.atomic():
        seen: set[str] = set()
        made = [world.customer]
        for name, number in fleets:
            one = customers.enter(name=name, home_site=world.store)
            if number and number not in seen:
                Customer.objects.filter(uid=one.uid).update(number=number)
                seen.add(number)
            made.append(one)
        for at, name, address in yards:
            customers.open_yard(customer=made[at % len(made)], name=name, address=address)
        for listing in LISTS:
            if form == "xlsx":
                out = io.BytesIO()
                files.write_book(out, "standing", (listing,), language)
                raw = out.getvalue()
            else:
                raw = "".join(files.as_csv(files.table("standing", listing, language))).encode()
            found = services.read(raw, listing.name)
            spoken = words.spoken(language)
            now = plan(found.lines, standing.world(), mint=uuid4(), spoken=spoken)
            assert now.faults == []
            assert [s.changes for s in now.steps if s.changes or s.new] == []
            assert len(now.steps) == len(standing.records()[listing.name])
        transaction.set_rollback(True)


@pytest.mark.parametrize("language", ["en", "es"])
def test_a_template_says_what_each_column_means_and_its_example_is_not_read(
    signed_in: SignedIn, world: World, language: str
) -> None:
    office = signed_in(language=language)
    raw = fetched(office, "/office/lists/template/all.xlsx")
    sheets = cells(raw)
    assert [len(rows) for rows in list(sheets.values())[:-1]] == [2] * len(LISTS)
    meanings = list(sheets.values())[-1]
    assert len(meanings) == sum(len(one.columns) for one in LISTS) + 2
    assert any("Bramblewick store, Saltmarsh store" in str(row[3]) for row in meanings)
    page = said(upload(office, raw, "all.xlsx"))
    assert ("no rows below them" if language == "en" else "ninguna fila debajo") in page
    for listing in LISTS:
        text_raw = fetched(office, f"/office/lists/template/{listing.name}.csv")
        _, example = rows(text_raw)
        assert example[0].startswith("# ")
        assert services.read(text_raw).headings[""].keys() == {
            c.key for c in listing.columns if c.key != "id"
        }


@pytest.mark.parametrize("language", ["en", "es"])
def test_the_example_of_a_template_is_a_row_that_could_come_in(
    signed_in: SignedIn, world: World, language: str
) -> None:
    office = signed_in(language=language)
    customers.enter(name=words.of(language).EXAMPLE["name"], home_site=world.store)
    raw = rows(fetched(office, "/office/lists/template/specifications.csv"))
    raw[1][0] = raw[1][0].partition(": ")[2]
    raw[1][1] = ""
    page = said(upload(office, text(raw)))
    assert ("Specifications 1 0 0" in page) or ("Fichas de carcasas 1 0 0" in page)


def casings(world: World, enrol: Enrol) -> dict[str, Any]:
    """One casing told whole, one of another customer, one withdrawn, and scrap."""
    phone, other = enrol(), enrol(world.other_driver)
    pickup, labels = uuid4(), [world.a_label() for _ in range(3)]
    whole = {
        "tins": [{"tin": "4B08 4DHR 2910", "made": "new"}, {"tin": "R 4B08 1123"}],
        "size": "11R22.5",
        "brand": "=cmd",
        "treads_32nds": [[6, 7, None], [5, 8, 8]],
        "findings": [{"zone": "crown", "kind": "nail_hole", "count": 2, "mm": 4}],
        "check": {"verdict": "leave", "because": ["too_old"], "overruled": "the owner asked"},
        "work": "retread",
        "basis": "own",
        "purchase_order": "PO-7",
        "position": "drive",
        "note": "+1 look",
    }
    told = {"pickup": str(pickup), "yard": str(world.yard.uid), "label": labels[0], **whole}
    first = phone.enter("custody.pick_up", told, version=3)
    gone = phone.pick_up(labels[1], world.yard.uid, pickup)
    withdrawn = {"fact": gone["id"], "label": labels[1]}
    told = {"pickup": str(pickup), "withdraws": withdrawn, "reason": "twice"}
    phone.enter("custody.withdraw", told)
    scrap = {"pickup": str(pickup), "yard": str(world.yard.uid), "count": 12, "fee_cents": 350,
             "manifest": "M-1"}  # fmt: skip
    phone.enter("custody.count_scrap", scrap)
    other.pick_up(labels[2], world.other_yard.uid, uuid4())
    answers = phone.push(), other.push()
    assert all(a.status == 200 for a in answers)
    settle()
    return {"labels": labels, "first": UUID(first["id"])}


def table(raw: bytes) -> list[dict[str, str]]:
    heads, *found = rows(raw)
    return [dict(zip(heads, row, strict=True)) for row in found]


def test_casings_go_out_with_all_that_was_told(office: Client, world: World, enrol: Enrol) -> None:
    told = casings(world, enrol)
    found = table(fetched(office, "/office/lists/work/casings.csv"))
    assert {row["Label"] for row in found} == {told["labels"][0], told["labels"][2]}
    one = next(row for row in found if row["Label"] == told["labels"][0])
    order = WorkOrder.objects.get(uid=told["first"])
    assert one["TINs, the first at birth"] == "4B08 4DHR 2910 | R 4B08 1123"
    assert one["Brand"] == "'=cmd"
    assert one["Note"] == "'+1 look"
    assert (one["Tread, lowest (32nds)"], one["Tread, mean (32nds)"]) == ("5", "6.8")
    assert one["Tread, by place and groove (32nds)"] == "6 7 - | 5 8 8"
    assert (one["Work wanted"], one["What comes back"]) == ("retread", "this casing")
    assert (one["How far it is"], one["With"]) == ("picked up", "Dale Orrin")
    assert (one["Owner"], one["Yard"]) == ("Tarn Valley Haulage", "North yard")
    assert one["Condition"] == "nail hole (crown, 4 mm, x 2)"
    assert (one["Spec check"], one["Overruled, why"]) == ("leave it here", "the owner asked")
    assert one["Picked up"] == clock.rfc3339(order.picked_up_at)
    assert one["Work order"] == str(order.uid)
    assert one["Two casings, one label"] == ""


def test_what_the_dealer_took_in_exchange_is_the_dealers(
    office: Client, world: World, enrol: Enrol
) -> None:
    phone = enrol()
    told = {"basis": "exchange", "work": "retread", "back_to": "yard"}
    pickup = {"pickup": str(uuid4()), "yard": str(world.yard.uid), "label": world.a_label()}
    first = phone.enter("custody.pick_up", {**pickup, **told}, version=3)
    assert phone.push().status == 200
    ownership.exchange(work_order=UUID(first["id"]), by=world.dispatcher.uid)
    (one,) = table(fetched(office, "/office/lists/work/casings.csv"))
    assert (one["Owner"], one["Owner, by"]) == (dealer.DEALER_NAME, "exchange")
    assert one["Owner since"].endswith("Z")
    assert one["Customer"] == "Tarn Valley Haulage"


def test_scrap_is_a_list_of_its_own(office: Client, world: World, enrol: Enrol) -> None:
    casings(world, enrol)
    (line,) = table(fetched(office, "/office/lists/work/scrap.csv"))
    told = (line["Count"], line["Fee for each"], line["Manifest"], line["Customer"])
    assert told == ("12", "3.50", "M-1", "Tarn Valley Haulage")
    book = cells(fetched(office, "/office/lists/work/work.xlsx"))
    assert {title: len(found) for title, found in book.items()} == {"Casings": 3, "Scrap": 2}


def test_a_contested_label_is_said(office: Client, contested: Contested) -> None:
    found = table(fetched(office, "/office/lists/work/casings.csv"))
    assert [row["Two casings, one label"] for row in found] == ["yes", "yes"]


def test_what_is_chosen_is_what_goes_out(office: Client, world: World, enrol: Enrol) -> None:
    casings(world, enrol)
    today = clock.now().date().isoformat()

    def labels(query: str) -> int:
        return len(table(fetched(office, f"/office/lists/work/casings.csv?{query}")))

    assert labels(f"customer={world.customer.uid}") == 1
    assert labels(f"from=2020-01-01&to={clock.now().year + 1}-01-01") == 2
    assert labels("from=&to=2020-01-01&progress=") == 0
    assert labels(f"from={clock.now().year + 1}-01-01") == 0
    assert labels("to=9999-12-31&progress=picked_up") == 2
    assert labels("progress=finished") == 0
    assert today


def test_a_day_that_is_none_is_said_and_what_was_chosen_is_kept(
    office: Client, world: World
) -> None:
    query = f"from=21.4.26&to=2026-04-31&progress=finished&customer={world.customer.uid}"
    answer = office.get(f"/office/lists/work/casings.csv?{query}")
    assert answer.status_code == 400
    assert "“21.4.26” is no day." in said(answer)
    assert "“2026-04-31” is no day." in said(answer)
    page = answer.content.decode()
    assert f'<option value="{world.customer.uid}" selected>' in page
    assert '<option value="finished" selected>' in page
    turned = office.get("/office/lists/work/casings.csv?from=2026-05-02&to=2026-05-01")
    assert "The first day lies after the last one." in said(turned)


@pytest.mark.parametrize(
    "address",
    ["standing/all.csv", "standing/none.csv", "template/yards.pdf", "work/none.csv",
     "work/casings.xlsx"],
)  # fmt: skip
def test_what_is_not_there_is_said(office: Client, world: World, address: str) -> None:
    assert office.get(f"/office/lists/{address}").status_code == 404


def test_an_agreed_list_shows_no_more_what_it_would_do(office: Client, world: World) -> None:
    raw = text([["customer", "yard"], ["Tarn Valley Haulage", "South"]])
    shown = upload(office, raw)
    agree(office, shown)
    again = agree(office, shown)
    assert "This file was agreed to already." in said(again)
