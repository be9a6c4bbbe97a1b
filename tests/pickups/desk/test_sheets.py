"""The list of the load sheets: which are there, whose, and what is loose beside them."""

import re
from datetime import timedelta
from uuid import uuid4

import pytest
from django.test import Client

from pickups.casings.models import WorkOrder
from pickups.customers import services as customers
from pickups.kernel import clock
from pickups.kernel.languages import day_in_words
from pickups.people.models import User
from pickups.runs import services as runs
from pickups.runs.models import Run
from pickups.runs.rules import Head
from tests.pickups.desk.conftest import SignedIn
from tests.pickups.desk.sheets import draw_up, promise, text, today
from tests.pickups.runs.yard import Yard
from tests.world import Phone, World
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db
LIST = "/office/sheets/"


@pytest.fixture
def yard(world: World, phone: Phone, gateway: Gateway) -> Yard:
    return Yard(world, phone, gateway)


def shown(client: Client, address: str = LIST) -> str:
    answer = client.get(address)
    assert answer.status_code == 200
    return text(answer.content.decode())


def form(world: World, **more: object) -> dict[str, object]:
    head = {"on": today().isoformat(), "start": world.store.uid, "kind": "route"}
    return {**head, "vehicle": "truck 4", "driver": world.driver.uid, "note": "", **more}


def test_with_nothing_there_the_page_says_what_will_be_and_how(office: Client) -> None:
    page = shown(office)
    assert "Draw one up below; it appears here by day" in page
    assert "What the plant finishes or rejects appears here until it is on a sheet." in page
    assert "What is scanned to a store's rack appears here until it is on a sheet." in page


def test_a_sheet_is_drawn_up_and_stands_under_its_day(office: Client, world: World) -> None:
    told = form(world, on=today(2).isoformat())
    answer = office.post("/office/sheets/new", told)
    run = Run.objects.get()
    assert (answer.status_code, answer["Location"]) == (302, f"/office/sheets/{run.uid}/")
    assert (run.site, run.on, run.driver) == (world.store, today(2), world.driver)
    page = shown(office)
    assert "truck 4 · Dale Orrin · being written route to yards; 0 stops, 0 to drop" in page
    assert "No sheet for today." in page


def test_a_form_that_is_sent_twice_draws_up_one_sheet(office: Client, world: World) -> None:
    page = office.get("/office/sheets/").content.decode()
    found = re.search(r'name="uid" value="([0-9a-f-]{36})"', page)
    assert found is not None
    answers = [office.post("/office/sheets/new", form(world, uid=found.group(1))) for _ in range(2)]
    assert Run.objects.count() == 1
    assert {answer["Location"] for answer in answers} == {f"/office/sheets/{found.group(1)}/"}
    assert office.post("/office/sheets/new", form(world, uid="none")).status_code == 302
    assert Run.objects.count() == 2


@pytest.mark.parametrize(
    "wrong",
    [
        {"on": ""},
        {"on": "4 May"},
        {"on": "9999-12-31"},
        {"start": "here"},
        {"start": uuid4()},
        {"kind": "swap"},
        {"vehicle": "x" * 41},
        {"note": "x" * 201},
        {"note": "nul \x00"},
        {"driver": uuid4()},
        {"driver": "dale"},
    ],
)
def test_a_head_that_cannot_be_is_named_and_what_was_typed_stays(
    office: Client, world: World, wrong: dict[str, object]
) -> None:
    answer = office.post("/office/sheets/new", form(world, **{"note": "ring twice", **wrong}))
    page = answer.content.decode()
    assert answer.status_code == 400
    assert 'role="alert"' in page
    assert "a note of at most 200" in page or "Choose one" in page
    assert 'value="truck 4"' in page or "vehicle" in wrong
    assert 'value="ring twice"' in page or "note" in wrong
    assert not Run.objects.exists()


def test_sheets_of_other_days_and_states_say_so(office: Client, world: World) -> None:
    old = draw_up(world, on=today(-3), vehicle="old cart")
    over = draw_up(world, vehicle="truck 1")
    out = draw_up(world, vehicle="truck 2")
    for run in (over, out):
        runs.add_stop(run=run.uid, yard=world.yard.uid)
        runs.hand(run=run.uid)
    runs.come_back(run=over.uid)
    page = shown(office)
    assert "Earlier days, not over yet" in page
    assert "old cart · Dale Orrin · being written" in page
    assert "truck 1 · Dale Orrin · truck is back" in page
    assert "truck 2 · Dale Orrin · with its driver route to yards; 1 stop, 0 to drop" in page
    Run.objects.filter(uid=old.uid).update(state="back")
    assert "Earlier days" not in shown(office)
    assert "old cart" in shown(office, f"{LIST}?on={today(-3)}")
    assert "No sheet was drawn up for" in shown(office, f"{LIST}?on={today(-4)}")
    for odd in ("yesterday", "9999-12-31", "0001-01-01"):
        assert "truck 1" in shown(office, f"{LIST}?on={odd}")


def test_loose_work_stands_by_yard_what_is_promised_soonest_first(
    office: Client, world: World, yard: Yard
) -> None:
    south = customers.open_yard(customer=world.customer, name="South yard")
    none, later = yard.home(), yard.home()
    late, due = yard.home(yard=str(south.uid)), yard.home(yard=str(south.uid))
    promise(later, today(5))
    promise(late, today(-1))
    promise(due, today())
    page = shown(office)
    order = [page.index(yard.label(u)[4:]) for u in (late, due, later, none)]
    assert order == sorted(order)
    assert page.index("South yard of Tarn") < page.index("North yard of Tarn")
    assert ": late on the rack, Bramblewick store" in page
    assert "promised today" in page
    assert page.count("nothing promised") == 1


def test_loose_is_what_waits_to_go_home_and_is_on_no_sheet(
    office: Client, world: World, yard: Yard
) -> None:
    done, rejected, away = yard.home(), yard.rejected(), yard.finished()
    yard.picked_up()
    gone, back, on_sheet = yard.home(), yard.home(), yard.home()
    yard.withdraw(gone)
    yard.deliver(back)
    run = draw_up(world)
    runs.put(run=run.uid, work_orders=[on_sheet])
    page = shown(office)
    for uid in (done, rejected, away):
        assert yard.label(uid)[4:] in page
    for uid in (gone, back, on_sheet):
        assert yard.label(uid)[4:] not in page
    assert "rejected: plies or belts have come apart inside" in page
    assert "North yard of Tarn Valley Haulage 3 casings" in page
    assert "at Fernhollow plant" in page
    runs.throw_away(run=run.uid)
    assert yard.label(on_sheet)[4:] in shown(office)


def test_what_is_fetched_at_the_counter_and_what_waits_for_the_plant_stand_apart(
    office: Client, yard: Yard
) -> None:
    called, raw = yard.home(back_to="store"), yard.waiting()
    page = shown(office)
    counter, plant = (
        page.index("To be fetched at the counter 1 casing"),
        page.index("For the plant"),
    )
    assert counter < page.index(yard.label(called)[4:]) < plant
    assert plant < page.index(yard.label(raw)[4:])
    assert "picked up, North yard of Tarn Valley Haulage" in page


def test_when_the_next_truck_comes_is_said_of_what_is_still_at_the_plant(
    office: Client, world: World, yard: Yard
) -> None:
    yard.finished()
    assert "next truck" not in shown(office)
    told = {"kind": "transfer", "weekdays": list(range(7)), "plant": world.plant.uid}
    runs.set_regular_run(site=world.store.uid, name="shuttle", at=clock.now(), **told)  # type: ignore[arg-type]
    assert "at Fernhollow plant; next truck to the store" in shown(office)


def test_on_a_transfer_day_the_next_truck_of_what_lay_finished_before_is_that_days(
    office: Client, world: World, yard: Yard, gateway: Gateway
) -> None:
    then = clock.now() - timedelta(days=1)
    gateway.tell(yard.label(yard.picked_up()), "finished", happened_at=then)
    told = {"kind": "transfer", "weekdays": [today().weekday()], "plant": world.plant.uid}
    runs.set_regular_run(site=world.store.uid, name="shuttle", at=clock.now(), **told)  # type: ignore[arg-type]
    said = "at Fernhollow plant; next truck to the store "
    page = shown(office)
    assert said + day_in_words("en", today()) in page
    assert said + day_in_words("en", today(7)) not in page
    yard.finished()
    assert said + day_in_words("en", today(7)) in shown(office), "finished today: the next one"


def test_a_promise_that_was_taken_back_is_not_shown(office: Client, yard: Yard) -> None:
    uid = yard.home()
    promise(uid, today(-1))
    assert f"promised {day_in_words('en', today(-1))}: late" in shown(office)
    order = WorkOrder.objects.get(uid=uid)
    del order.told["promised"]
    order.save()
    assert "nothing promised" in shown(office)


def test_a_dispatcher_sees_their_own_store_only(
    world: World, signed_in: SignedIn, yard: Yard
) -> None:
    run = draw_up(world)
    uid = yard.home()
    User.objects.create_user("eda", role="dispatcher", site=world.other_store)
    other = Client()
    other.force_login(User.objects.get(username="eda"))
    for query in ("", f"?store={world.store.uid}"):
        page = shown(other, LIST + query)
        assert "Saltmarsh store" in page
        assert "truck 4" not in page
        assert yard.label(uid)[4:] not in page
    address = f"/office/sheets/{run.uid}/"
    assert other.get(address).status_code == 404
    runs.put(run=run.uid, work_orders=[uid])
    steps = ("head", "stops", "put", "take-off", "hand", "take-back", "back", "not-back", "undo",
             "throw-away")  # fmt: skip
    for step in steps:
        answer = other.post(address + step, {"seen": 2, "work_order": str(uid)})
        assert answer.status_code == 404, step
    told = form(world, store=world.store.uid, driver="", start=world.other_store.uid)
    assert other.post("/office/sheets/new", told).status_code == 302
    assert Run.objects.get(version=1).site == world.other_store
    run.refresh_from_db()
    assert (run.version, run.state) == (2, "written")


def test_who_belongs_to_no_store_is_told_and_an_administrator_chooses(
    world: World, signed_in: SignedIn
) -> None:
    draw_up(world)
    User.objects.create_user("nell", role="dispatcher")
    nobody = Client()
    nobody.force_login(User.objects.get(username="nell"))
    for address in (LIST, "/office/rack/"):
        assert "You belong to no store" in shown(nobody, address)
    assert nobody.post("/office/sheets/new", form(world)).status_code == 200
    assert Run.objects.count() == 1
    User.objects.create_user("root", role="admin")
    root = Client()
    root.force_login(User.objects.get(username="root"))
    assert "truck 4" in shown(root, f"{LIST}?store={world.store.uid}")
    assert "truck 4" not in shown(root, f"{LIST}?store={world.other_store.uid}")
    assert "Rack of Saltmarsh store" in shown(root, f"/office/rack/?store={world.other_store.uid}")
    assert root.get(f"/office/sheets/{Run.objects.get().uid}/").status_code == 200


def test_a_sales_manager_looks_and_writes_nothing(
    world: World, signed_in: SignedIn, yard: Yard
) -> None:
    run, uid = draw_up(world), yard.home()
    sales = signed_in("sales")
    assert "Draw it up" not in shown(sales)
    address = f"/office/sheets/{run.uid}/"
    page = sales.get(address).content.decode()
    assert yard.label(uid)[4:] in page
    assert page.count("<form") == 3, "language, sign out and search"
    answer = sales.post(address + "put", {"seen": 1, "work_order": str(uid)})
    assert answer.status_code == 403
    assert sales.post("/office/sheets/new", form(world)).status_code == 403
    run.refresh_from_db()
    assert (run.version, Run.objects.count()) == (1, 1)


def test_a_sheet_of_a_driver_who_left_says_who(office: Client, world: World) -> None:
    run = draw_up(world)
    User.objects.filter(pk=world.driver.pk).update(is_active=False)
    page = office.get(f"/office/sheets/{run.uid}/").content.decode()
    assert f'<option value="{world.driver.uid}" selected>Dale Orrin</option>' in page
    head = Head(start=world.store.uid, on=today())
    assert "Dale" not in office.get(LIST).content.decode().split("Draw up a sheet")[1]
    assert head.driver is None
