"""Whose a casing is, through the office's doors: sale, exchange, settled mix-up, undoing; and what
follows for the customer's page, the loose work and the mails."""

import html
import re
from collections.abc import Callable
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.db import IntegrityError, connection, transaction
from django.test import Client

from pickups.casings.models import Casing, WorkOrder
from pickups.custody import ownership
from pickups.custody.models import Acceptance, OwnerChange
from pickups.customers import services as customers
from pickups.customers.models import Contact
from pickups.desk.queries.loose import today_of
from pickups.journal.models import Entry
from pickups.kernel import clock
from pickups.notices.queries import standing
from pickups.runs import queries as runs
from pickups.runs import services as sheets
from pickups.runs.rules import Head, Refused
from tests.conftest import Enrol
from tests.pickups.desk.conftest import SignedIn
from tests.world import Phone, World
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db

Taken = Callable[..., WorkOrder]


@pytest.fixture
def taken(world: World, enrol: Enrol) -> Taken:
    """A casing picked up at the first customer's yard, or another."""
    phones: dict[UUID, Phone] = {}

    def make(yard: UUID | None = None, **told: Any) -> WorkOrder:
        driver = world.other_driver if yard == world.other_yard.uid else world.driver
        phone = phones.setdefault(driver.uid, enrol(driver))
        op = phone.pick_up(world.a_label(), yard or world.yard.uid, uuid4(), **told)
        assert phone.push().status == 200
        return WorkOrder.objects.get(uid=op["id"])

    return make


def sale(accepts: UUID | str, **more: str) -> dict[str, str]:
    """What is filled in, and confirmed, for a sale."""
    return {"grade": "A", "amount": "45.50", "pays": "price", "contact": str(accepts),
            "sure": "yes", **more}  # fmt: skip


def ines(world: World) -> Contact:
    return Contact.objects.get(customer=world.customer)


def post(office: Client, order: WorkOrder, verb: str, **body: str) -> int:
    return office.post(f"/office/owners/{order.uid}/{verb}", body).status_code


def text(answer: Any) -> str:
    bare = html.unescape(re.sub(r"<[^>]+>", " ", answer.content.decode()))
    return re.sub(r"\s+", " ", bare.replace("\u2009", ""))


def shown(office: Client, order: WorkOrder) -> str:
    return text(office.get(f"/office/owners/{order.uid}/"))


def owner_of(order: WorkOrder) -> tuple[str, UUID | None]:
    casing = Casing.objects.get(uid=order.casing_id)
    return casing.dealers, casing.yard


# --- Sale -----------------------------------------------------------------------------------------


def test_a_sale_is_read_back_then_written_and_the_casing_is_the_dealers(
    office: Client, world: World, taken: Taken
) -> None:
    order, who = taken(), ines(world)
    asked = office.post(f"/office/owners/{order.uid}/sell", {**sale(who.uid), "sure": ""})
    assert asked.status_code == 200
    assert "for $45.50, grade A, accepted by Ines Corvo" in text(asked)
    assert not OwnerChange.objects.exists()
    assert post(office, order, "sell", **sale(who.uid)) == 302
    change = OwnerChange.objects.get()
    assert change.told["owners"] == {str(order.casing_id): "dealer"}
    assert (change.told["grade"], change.told["cents"], change.told["pays"]) == ("A", 4550, "price")
    assert change.by == world.dispatcher.uid
    assert "Ines" not in str(change.told)
    assert owner_of(order) == ("sold", None)
    page = shown(office, order)
    assert "bought from Tarn Valley Haulage on" in page
    assert "Accepted by Ines Corvo" in page
    assert "Buy it from the customer" not in page
    entry = Entry.objects.get(kind="casing.owned")
    assert entry.body["facts"][0]["label"] == order.label


def test_credit_is_told_apart_from_a_price(office: Client, world: World, taken: Taken) -> None:
    order = taken()
    assert post(office, order, "sell", **sale(ines(world).uid, pays="credit", amount="30")) == 302
    assert "for $30.00 of casing credit" in shown(office, order)


def test_what_the_driver_wrote_of_a_sale_is_filled_in(
    office: Client, world: World, enrol: Enrol
) -> None:
    phone = enrol()
    told = {"pickup": str(uuid4()), "yard": str(world.yard.uid), "label": world.a_label()}
    op = phone.enter(
        "custody.pick_up",
        {**told, "line": "sell", "sale": {"grade": "B2", "cents": 1250, "pays": "credit"}},
        version=3,
    )
    assert phone.push().status == 200
    page = office.get(f"/office/owners/{op['id']}/").content.decode()
    assert 'value="B2"' in page
    assert 'value="12.50"' in page
    assert '<option value="credit" selected>' in page


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("grade", "", "Write the grade in 1 to 40 characters."),
        ("grade", "x" * 41, "Write the grade"),
        ("amount", "a lot", "“a lot” is no amount. Write it like 45 or 45.50"),
        ("amount", "100000.01", "at most $100,000.00"),
        ("pays", "beer", "Choose a price or casing credit."),
        ("contact", "", "Choose a contact of this customer who may sell."),
        ("contact", "nobody", "Choose a contact of this customer who may sell."),
    ],
)
def test_what_is_wrong_is_named_beside_its_field_and_what_was_typed_stays(
    office: Client, world: World, taken: Taken, field: str, value: str, said: str
) -> None:
    order = taken()
    body = (
        sale(ines(world).uid, grade="A+ typed", **{field: value})
        if field != "grade"
        else sale(ines(world).uid, grade=value, amount="45.51")
    )
    answer = office.post(f"/office/owners/{order.uid}/sell", body)
    assert answer.status_code == 400
    page = answer.content.decode()
    assert said in html.unescape(page)
    assert f'id="{field}-fault"' in page
    assert ("A+ typed" if field != "grade" else "45.51") in page
    assert not OwnerChange.objects.exists()


def test_a_contact_of_another_customer_cannot_accept(
    office: Client, world: World, taken: Taken
) -> None:
    order, abel = taken(), Contact.objects.get(customer=world.other_customer)
    assert post(office, order, "sell", **sale(abel.uid)) == 400
    assert not OwnerChange.objects.exists()


def test_a_contact_who_may_not_sell_is_not_offered_and_cannot_accept(
    office: Client, world: World, taken: Taken
) -> None:
    order = taken()
    told = customers.add_contact(customer=world.customer, name="Rolf Ahn", email="r@tarn.example")
    page = shown(office, order)
    assert ("Ines Corvo" in page, "Rolf Ahn" in page) == (True, False)
    assert post(office, order, "sell", **sale(told.uid)) == 400
    agreed = ownership.Agreed("A", 4550, "price")
    with pytest.raises(ownership.Refused) as refused:
        ownership.sell(
            work_order=order.uid, agreed=agreed, accepted_by=told.uid, by=world.dispatcher.uid
        )
    assert refused.value.why == ownership.No.NOT_ENTITLED
    assert not OwnerChange.objects.exists()


def test_without_a_contact_nobody_can_accept_a_sale(
    office: Client, world: World, taken: Taken
) -> None:
    order = taken()
    ines(world).delete()
    page = shown(office, order)
    assert "Nobody at Tarn Valley Haulage is written down as a contact who may sell" in page
    assert 'name="grade"' not in page


def test_the_name_of_who_accepted_can_be_erased_and_the_fact_stays(
    office: Client, world: World, taken: Taken
) -> None:
    order = taken()
    post(office, order, "sell", **sale(ines(world).uid))
    Acceptance.objects.all().delete()
    page = shown(office, order)
    assert "Ines" not in page
    assert "whose name was erased" in page


# --- Exchange and what is no change ---------------------------------------------------------------


def test_only_what_was_wanted_in_exchange_is_exchanged(office: Client, taken: Taken) -> None:
    own = taken()
    assert "It was exchanged" not in shown(office, own)
    assert post(office, own, "exchange", sure="yes") == 302
    assert owner_of(own) == ("", None)
    assert "does not say exchange" in shown(office, own)


def test_an_exchange_is_read_back_and_makes_it_the_dealers(
    office: Client, world: World, enrol: Enrol
) -> None:
    phone = enrol()
    told = {"pickup": str(uuid4()), "yard": str(world.yard.uid), "label": world.a_label()}
    op = phone.enter("custody.pick_up", {**told, "basis": "exchange"}, version=3)
    assert phone.push().status == 200
    order = WorkOrder.objects.get(uid=op["id"])
    asked = office.post(f"/office/owners/{order.uid}/exchange", {})
    assert "becomes" in text(asked)
    assert owner_of(order) == ("", None)
    assert post(office, order, "exchange", sure="yes") == 302
    assert owner_of(order) == ("exchanged", None)
    assert "Taken in exchange: Tarn Valley Haulage took one from stock" in shown(office, order)


def test_a_rejection_and_a_delivery_to_the_wrong_yard_change_no_owner(
    office: Client, world: World, taken: Taken, gateway: Gateway, phone: Phone
) -> None:
    order = taken()
    gateway.tell(order.label, "rejected")
    phone.enter("custody.deliver", {"delivery": str(uuid4()), "yard": str(world.other_yard.uid),
                                    "label": order.label, "note": "", "photos": []})  # fmt: skip
    assert phone.push().status == 200
    assert owner_of(order) == ("", None)
    assert not OwnerChange.objects.exists()
    assert "It belongs to Tarn Valley Haulage." in shown(office, order)
    assert "Nothing has changed it since it was picked up." in shown(office, order)


def test_what_is_the_dealers_withdrawn_or_back_is_not_sold(
    office: Client, world: World, taken: Taken, phone: Phone
) -> None:
    sold, back = taken(), taken()
    post(office, sold, "sell", **sale(ines(world).uid))
    assert post(office, sold, "sell", **sale(ines(world).uid)) == 302
    assert "already" in shown(office, sold)
    phone.enter("custody.deliver", {"delivery": str(uuid4()), "yard": str(world.yard.uid),
                                    "label": back.label, "note": "", "photos": []})  # fmt: skip
    assert phone.push().status == 200
    assert post(office, back, "sell", **sale(ines(world).uid)) == 302
    assert "It is back with its owner." in shown(office, back)
    assert OwnerChange.objects.count() == 1


# --- Mix-up ---------------------------------------------------------------------------------------


def test_a_settled_mix_up_swaps_owner_store_and_way_home(
    office: Client, world: World, taken: Taken
) -> None:
    first, second = taken(), taken(world.other_yard.uid)
    body = {"other": second.label.lower(), "said": "labels swapped on the truck"}
    asked = office.post(f"/office/owners/{first.uid}/settle", body)
    assert "came from Pit gate" in text(asked)
    assert not OwnerChange.objects.exists()
    assert post(office, first, "settle", sure="yes", **body) == 302
    first.refresh_from_db()
    second.refresh_from_db()
    assert (first.customer, first.yard, first.site) == (
        world.other_customer.uid, world.other_yard.uid, world.other_store.uid
    )  # fmt: skip
    assert (second.customer, second.yard, second.site) == (
        world.customer.uid, world.yard.uid, world.store.uid
    )  # fmt: skip
    assert "It belongs to Reedbank Gravel, since a mix-up was settled" in shown(office, first)
    for order in (first, second):
        assert "labels swapped on the truck" in shown(office, order)


def test_what_was_settled_holds_whatever_is_told_of_the_label_later(
    office: Client, world: World, taken: Taken, gateway: Gateway
) -> None:
    first, second = taken(), taken(world.other_yard.uid)
    post(office, first, "settle", other=second.label, said="swapped", sure="yes")
    for order in (first, second):
        gateway.tell(order.label, "received", station="receiving")
        gateway.tell(order.label, "finished")
    first.refresh_from_db()
    assert first.customer == world.other_customer.uid
    assert first.progress == "finished"


@pytest.mark.parametrize(
    ("other", "said", "fault"),
    [
        ("K7XXXXXX", "swapped", "other-fault"),
        ("", "swapped", "other-fault"),
        (None, " ", "said-fault"),
    ],
)
def test_a_mix_up_needs_the_other_label_and_a_reason(
    office: Client, world: World, taken: Taken, other: str | None, said: str, fault: str
) -> None:
    first, second = taken(), taken(world.other_yard.uid)
    body = {"other": second.label if other is None else other, "said": said, "sure": "yes"}
    answer = office.post(f"/office/owners/{first.uid}/settle", body)
    assert answer.status_code == 400
    assert f'id="{fault}"' in answer.content.decode()
    assert not OwnerChange.objects.exists()


def test_two_casings_of_one_yard_are_no_mix_up(office: Client, taken: Taken) -> None:
    first, second = taken(), taken()
    post(office, first, "settle", other=second.label, said="swapped", sure="yes")
    assert "Both came from the same yard" in shown(office, first)
    assert not OwnerChange.objects.exists()


# --- Undoing --------------------------------------------------------------------------------------


def test_a_sale_and_a_mix_up_are_undone_with_a_reason_and_everything_stays_told(
    office: Client, world: World, taken: Taken
) -> None:
    first, second = taken(), taken(world.other_yard.uid)
    post(office, first, "settle", other=second.label, said="swapped", sure="yes")
    mixed = OwnerChange.objects.get()
    unsaid = office.post(f"/office/owners/{first.uid}/undo/{mixed.uid}", {"said": " "})
    assert unsaid.status_code == 400
    assert f'id="f{mixed.uid}"' in unsaid.content.decode()
    # Undone from the other casing's page: it is one fact.
    door = f"/office/owners/{second.uid}/undo/{mixed.uid}"
    assert office.post(door, {"said": "they were right"}).status_code == 302
    first.refresh_from_db()
    assert (first.customer, first.yard) == (world.customer.uid, world.yard.uid)
    assert owner_of(second) == ("", None)
    for order in (first, second):
        page = shown(office, order)
        assert "Undone by Odile Hart: “they were right”" in page
        assert "Mix-up settled" in page
    office.post(door, {"said": "again"})
    assert OwnerChange.objects.count() == 2
    assert "That was undone already." in shown(office, second)


def test_undoing_a_sale_makes_it_the_customers_again(
    office: Client, world: World, taken: Taken
) -> None:
    order = taken()
    post(office, order, "sell", **sale(ines(world).uid))
    change = OwnerChange.objects.get()
    office.post(f"/office/owners/{order.uid}/undo/{change.uid}", {"said": "price was wrong"})
    assert owner_of(order) == ("", None)
    assert post(office, order, "sell", **sale(ines(world).uid)) == 302
    assert owner_of(order) == ("sold", None)


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE custody_owner_change SET stamp = stamp + 1",
        "UPDATE custody_owner_change SET told = '{}'",
        "DELETE FROM custody_owner_change",
    ],
)
def test_the_database_itself_refuses_to_change_a_fact_of_ownership(
    office: Client, world: World, taken: Taken, statement: str
) -> None:
    post(office, taken(), "sell", **sale(ines(world).uid))
    with pytest.raises(IntegrityError, match="never changed"), transaction.atomic():
        connection.cursor().execute(statement)


# --- What follows ---------------------------------------------------------------------------------


def test_what_was_sold_is_no_loose_work_and_no_news_leaves_about_it(
    office: Client, world: World, taken: Taken, gateway: Gateway
) -> None:
    sold, kept = taken(), taken()
    for order in (sold, kept):
        gateway.tell(order.label, "finished")
    assert {w.uid for w in runs.loose(world.store.uid)} == {sold.uid, kept.uid}
    post(office, sold, "sell", **sale(ines(world).uid))
    assert {w.uid for w in runs.loose(world.store.uid)} == {kept.uid}
    found = standing.standing([sold.label, kept.label])
    assert [due.order.uid for due in standing.due(ines(world), found)] == [kept.uid]
    change = OwnerChange.objects.get()
    office.post(f"/office/owners/{sold.uid}/undo/{change.uid}", {"said": "no"})
    found = standing.standing([sold.label])
    assert [due.order.uid for due in standing.due(ines(world), found)] == [sold.uid]


def test_what_is_on_a_sheet_is_not_sold_and_what_was_sold_goes_on_none(
    office: Client, world: World, taken: Taken, gateway: Gateway
) -> None:
    order = taken()
    gateway.tell(order.label, "finished")
    head = Head(start=world.store.uid, on=today_of(clock.now()), driver=world.driver.uid)
    sheet = sheets.draw_up(site=world.store.uid, head=head)
    stop = sheets.add_stop(run=sheet.uid, yard=world.yard.uid)
    sheets.put(run=sheet.uid, stop=stop, work_orders=[order.uid])
    assert post(office, order, "sell", **sale(ines(world).uid)) == 302
    assert "It is on a load sheet. Take it off the sheet first." in shown(office, order)
    sheets.take_off(run=sheet.uid, work_orders=[order.uid])
    assert post(office, order, "sell", **sale(ines(world).uid)) == 302
    with pytest.raises(Refused) as refused:
        sheets.put(run=sheet.uid, stop=stop, work_orders=[order.uid])
    assert [why for _, why in refused.value.casings] == ["dealers"]


def test_the_rack_says_that_what_was_sold_waits_for_nobody(
    office: Client, world: World, taken: Taken, gateway: Gateway, enrol: Enrol
) -> None:
    order = taken()
    gateway.tell(order.label, "finished")
    phone, way = enrol(), [f"plant:{world.plant.uid}", f"person:{world.driver.uid}"]
    for giver, taker in (way, [way[1], f"site:{world.store.uid}"]):
        phone.enter(
            "custody.hand_over",
            {"label": order.label, "way": "out", "giver": giver, "taker": taker},
        )
        assert phone.push().status == 200
    assert "waits to go home" in text(office.get("/office/rack/"))
    post(office, order, "sell", **sale(ines(world).uid))
    page = text(office.get("/office/rack/"))
    assert "the dealer's own now" in page
    assert "waits to go home" not in page


def test_a_life_leads_to_its_owner_and_back(office: Client, taken: Taken) -> None:
    order = taken()
    life = office.get(f"/office/labels/{order.label}").content.decode()
    assert f'href="/office/owners/{order.uid}/"' in life
    page = office.get(f"/office/owners/{order.uid}/").content.decode()
    assert f'href="/office/labels/{order.label}"' in page


def test_nobody_but_who_decides_changes_an_owner(
    signed_in: SignedIn, world: World, taken: Taken
) -> None:
    order = taken()
    sales = signed_in("sales")
    assert "Buy it from the customer" not in shown(sales, order)
    assert post(sales, order, "sell", **sale(ines(world).uid)) == 403
    assert sales.get(f"/office/owners/{uuid4()}/").status_code == 404
    assert not OwnerChange.objects.exists()


def test_the_page_speaks_spanish(signed_in: SignedIn, world: World, taken: Taken) -> None:
    order = taken()
    office = signed_in("dispatcher", "es")
    post(office, order, "sell", **sale(ines(world).uid))
    assert "comprada a Tarn Valley Haulage el" in shown(office, order)
    assert "Aceptado por Ines Corvo" in shown(office, order)


def opened(world: World) -> Client:
    """The customer's browser behind a mailed link."""
    browser = Client(raise_request_exception=True)
    path = customers.new_link(contact=ines(world).uid, at=clock.now())
    assert browser.post(path).status_code == 302
    return browser


def test_the_customer_reads_that_it_was_sold_and_nothing_of_it_comes_back(
    office: Client, world: World, taken: Taken, gateway: Gateway
) -> None:
    sold = taken()
    gateway.tell(sold.label, "received", station="receiving")
    post(office, sold, "sell", **sale(ines(world).uid))
    gateway.tell(sold.label, "finished")
    browser = opened(world)
    page = text(browser.get("/casings/"))
    assert "of yours with us" not in page
    assert "Sold to us or exchanged" in page
    story = text(browser.get(f"/casings/{sold.uid}"))
    assert "sold to us on" in story
    assert "Finished." not in story
    assert "Arrived at" in story
