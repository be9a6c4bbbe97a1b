"""What a load sheet says of its casings: what the truck carries, what does not fit, and, once it is
out, what really happened, as custody tells it.
"""

import re
from uuid import UUID

import pytest
from django.test import Client

from pickups.casings.models import WorkOrder
from pickups.customers import services as customers
from pickups.runs import services as runs
from pickups.runs.models import Drop, Run, Stop
from pickups.runs.rules import Said
from tests.pickups.desk.conftest import SignedIn
from tests.pickups.desk.sheets import Desk, draw_up, promise, text, today
from tests.pickups.runs.yard import Yard
from tests.world import Phone, World
from tests.world.plant import Gateway
from tests.world.seat import specify

pytestmark = pytest.mark.django_db


@pytest.fixture
def yard(world: World, phone: Phone, gateway: Gateway) -> Yard:
    return Yard(world, phone, gateway)


@pytest.fixture
def desk(world: World, office: Client) -> Desk:
    return Desk(office, draw_up(world))


def line(desk: Desk, yard: Yard, uid: UUID) -> str:
    """What the sheet says of one casing on it."""
    stops = desk.client.get(desk.address).content.decode().split('id="stops"')[1]
    said = re.split(r"<li>", stops.partition('<div class="paper">')[0])
    return next(text(part) for part in said if yard.label(uid)[4:] in part)


def carried(desk: Desk) -> list[tuple[str, str]]:
    return re.findall(r"(\d+) of this sheet on the truck, about (\d+) kg", desk.page())


def test_between_the_stops_stands_what_the_truck_carries(
    desk: Desk, world: World, yard: Yard
) -> None:
    south = customers.open_yard(customer=world.customer, name="South yard")
    runs.put(run=desk.run.uid, work_orders=[yard.home(), yard.home()])
    runs.put(run=desk.run.uid, work_orders=[yard.home(yard=str(south.uid))])
    runs.set_stop(run=desk.run.uid, stop=desk.stops()[0], said=Said(fetch=14))
    page = desk.page()
    assert "Leaves Bramblewick store with 3 of this sheet on the truck, about 150 kg" in page
    assert carried(desk) == [("3", "150"), ("15", "750"), ("14", "700")]


def test_a_transfer_takes_on_at_the_plant_what_it_brings_to_the_store(
    desk: Desk, world: World, yard: Yard
) -> None:
    raw, done = yard.waiting(), [yard.finished(), yard.finished()]
    plant = runs.add_stop(run=desk.run.uid, site=world.plant.uid)
    store = runs.add_stop(run=desk.run.uid, site=world.store.uid)
    runs.put(run=desk.run.uid, work_orders=[raw], stop=plant)
    runs.put(run=desk.run.uid, work_orders=done, stop=store)
    assert carried(desk) == [("1", "50"), ("2", "100"), ("0", "0")]
    assert "does not pass there" not in desk.page()
    runs.hand(run=desk.run.uid)
    yard.hand_over(raw, "in", yard.rack, yard.driver)
    yard.hand_over(raw, "in", yard.driver, yard.plant)
    for uid in done:
        yard.at_the_plant(uid, "shipped")
        yard.hand_over(uid, "out", yard.plant, yard.driver)
    assert carried(desk) == [("1", "50"), ("2", "100"), ("0", "0")], "as it was planned"
    yard.hand_over(done[0], "out", yard.driver, yard.rack)
    assert carried(desk)[0] == ("1", "50")
    assert "dropped" in line(desk, yard, raw)
    assert "dropped" in line(desk, yard, done[0])
    assert "on the truck since" in line(desk, yard, done[1])


def test_a_casing_where_the_truck_does_not_pass_says_so_on_its_line(
    desk: Desk, world: World, yard: Yard
) -> None:
    uid = yard.finished()
    runs.put(run=desk.run.uid, work_orders=[uid])
    assert "is at Fernhollow plant; this truck does not pass there before" in line(desk, yard, uid)
    runs.add_stop(run=desk.run.uid, site=world.plant.uid)
    assert "does not pass there before" in line(desk, yard, uid)
    runs.move_stop(run=desk.run.uid, stop=desk.stops()[1], to=1)
    assert "does not pass there" not in line(desk, yard, uid)
    run = Run.objects.get()
    Stop.objects.filter(run=run, site=world.plant).delete()
    Run.objects.update(start=world.plant)
    assert "does not pass there" not in line(desk, yard, uid)


def test_promises_are_said_and_those_that_the_sheet_is_late_for(
    desk: Desk, world: World, yard: Yard
) -> None:
    late, due, none = yard.home(), yard.home(), yard.home()
    promise(late, today(-1))
    promise(due, today())
    runs.put(run=desk.run.uid, work_orders=[none, due, late])
    assert "late on this sheet" in line(desk, yard, late)
    assert "promised" in line(desk, yard, due)
    assert "late" not in line(desk, yard, due)
    assert "nothing promised" in line(desk, yard, none)
    page = desk.page()
    order = [page.index(yard.label(u)[4:]) for u in (late, due, none)]
    assert order == sorted(order)
    Run.objects.update(on=today(1))
    assert "late on this sheet" in line(desk, yard, due)


def test_what_became_of_a_casing_since_it_was_put_on_is_said(desk: Desk, yard: Yard) -> None:
    back, called = yard.home(), yard.home()
    runs.put(run=desk.run.uid, work_orders=[back, called])
    yard.deliver(back)
    told = WorkOrder.objects.get(uid=called).told | {"back_to": "store"}
    WorkOrder.objects.filter(uid=called).update(told=told)
    assert "is back with its owner already" in line(desk, yard, back)
    assert "was to be fetched at the counter" in line(desk, yard, called)


def test_while_it_is_out_each_casing_says_what_happened(
    desk: Desk, world: World, yard: Yard
) -> None:
    south = customers.open_yard(customer=world.customer, name="South yard")
    done, wrong, aboard, left = (yard.home() for _ in range(4))
    runs.put(run=desk.run.uid, work_orders=[done, wrong, aboard, left])
    assert "not loaded" not in desk.page()
    runs.hand(run=desk.run.uid)
    for uid in (done, wrong, aboard):
        yard.load(uid)
    yard.deliver(done)
    yard.deliver(wrong, south.uid)
    assert re.search(r"delivered \d\d:\d\d", line(desk, yard, done))
    assert "at another place: South yard of Tarn Valley Haulage" in line(desk, yard, wrong)
    assert "back with its owner already" not in line(desk, yard, wrong)
    assert re.search(r"on the truck since \d\d:\d\d", line(desk, yard, aboard))
    assert "not loaded: on the rack, Bramblewick store" in line(desk, yard, left)
    assert "Take off" not in line(desk, yard, done)
    assert "Take off" in line(desk, yard, left)
    runs.come_back(run=desk.run.uid)
    assert "not dropped: on the rack, Bramblewick store" in line(desk, yard, left)
    assert "not dropped: with Dale Orrin" in line(desk, yard, aboard)
    assert re.search(r"delivered \d\d:\d\d", line(desk, yard, done))
    assert not Drop.objects.filter(active=True).exists()


def test_a_casing_that_its_driver_also_handed_over_to_its_owner_was_delivered(
    desk: Desk, world: World, yard: Yard
) -> None:
    south = customers.open_yard(customer=world.customer, name="South yard")
    there, elsewhere = yard.home(), yard.home()
    runs.put(run=desk.run.uid, work_orders=[there, elsewhere])
    runs.hand(run=desk.run.uid)
    owner = f"customer:{world.customer.uid}"
    for uid, at in ((there, world.yard.uid), (elsewhere, south.uid)):
        yard.load(uid)
        yard.deliver(uid, at)
        yard.hand_over(uid, "out", yard.driver, owner)
    assert re.search(r"delivered \d\d:\d\d", line(desk, yard, there))
    assert "at another place" not in line(desk, yard, there)
    assert "at another place: South yard of Tarn Valley" in line(desk, yard, elsewhere)


def test_what_was_handed_over_at_a_counter_is_no_longer_to_be_dropped(
    desk: Desk, world: World, yard: Yard
) -> None:
    fetched, brought, left = yard.home(), yard.home(), yard.home()
    runs.put(run=desk.run.uid, work_orders=[fetched, brought, left])
    runs.hand(run=desk.run.uid)
    assert "1 stop, 3 to drop" in desk.page()
    yard.deliver(fetched, store=str(world.store.uid))
    yard.load(brought)
    yard.deliver(brought)
    page = desk.page()
    assert "1 stop, 2 to drop" in page
    assert "with 2 of this sheet on the truck, about 100 kg" in page
    assert re.search(r"handed over at the counter \d\d:\d\d", line(desk, yard, fetched))
    assert "Take off" not in line(desk, yard, fetched)
    listed = text(desk.client.get("/office/sheets/").content.decode())
    assert "1 stop, 2 to drop" in listed, "what the truck has dropped was to be dropped"


def test_what_is_back_with_its_owner_before_the_sheet_is_handed_is_not_counted(
    desk: Desk, yard: Yard
) -> None:
    back, left = yard.home(), yard.home()
    runs.put(run=desk.run.uid, work_orders=[back, left])
    yard.deliver(back)
    assert "1 stop, 1 to drop" in desk.page()
    assert carried(desk) == [("1", "50"), ("0", "0")]


def test_what_was_picked_up_before_the_driver_had_the_sheet_is_not_counted(
    desk: Desk, world: World, yard: Yard
) -> None:
    runs.add_stop(run=desk.run.uid, yard=world.yard.uid)
    yard.picked_up()
    runs.hand(run=desk.run.uid)
    assert "picked up" not in desk.page().split("Stops")[-1]
    yard.picked_up()
    assert "1 picked up" in desk.page()
    runs.take_back(run=desk.run.uid)
    runs.hand(run=desk.run.uid)
    assert "1 picked up" in desk.page(), "he has had it since the first time"


def test_what_the_driver_picked_up_is_counted_at_its_yard(
    desk: Desk, world: World, yard: Yard
) -> None:
    runs.add_stop(run=desk.run.uid, yard=world.yard.uid)
    runs.hand(run=desk.run.uid)
    assert "picked up" not in desk.page().split("Stops")[-1]
    yard.picked_up()
    gone = yard.picked_up()
    yard.withdraw(gone)
    yard.picked_up(store=str(world.store.uid))
    assert "1 picked up" in desk.page()
    runs.set_stop(run=desk.run.uid, stop=desk.stops()[0], said=Said(fetch=3))
    assert "1 picked up, 3 said" in desk.page()
    Run.objects.update(driver=None)
    assert "1 picked up" not in desk.page()
    Run.objects.update(driver=world.driver, on=today(1))
    assert "1 picked up" not in desk.page()


def test_the_paper_has_boxes_signature_lines_and_cautions_and_marks_what_is_rejected(
    desk: Desk, yard: Yard, signed_in: SignedIn
) -> None:
    good, bad = yard.home(), yard.rejected()
    runs.put(run=desk.run.uid, work_orders=[good])
    paper = desk.client.get(desk.address).content.decode().split('<div class="paper">')[1]
    assert paper.count('class="box"') == 1
    assert "Name and signature, time" in paper
    assert "About 50 kg a casing: lift with help." in paper
    assert "REJECTED" not in paper
    runs.put(run=desk.run.uid, work_orders=[bad])
    paper = desk.client.get(desk.address).content.decode().split('<div class="paper">')[1]
    assert paper.count("REJECTED \u2013 do not mount or inflate</strong>") == 1
    assert "Rejected casings are marked on the casing and tagged" in paper
    spanish = signed_in(language="es").get(desk.address).content.decode()
    assert "RECHAZADA \u2013 no montar ni inflar" in spanish


def test_the_rack_holds_what_was_scanned_to_it_and_to_nobody_since(
    office: Client, desk: Desk, world: World, yard: Yard
) -> None:
    def rack() -> str:
        return text(office.get("/office/rack/").content.decode())

    assert "The rack is empty. A casing appears here when" in rack()
    raw, done, bad = yard.waiting(), yard.home(), yard.rejected()
    called, gone, far = yard.home(back_to="store"), yard.waiting(), yard.waiting()
    yard.load(done)
    yard.hand_over(done, "out", yard.driver, yard.rack)
    yard.withdraw(gone)
    yard.hand_over(far, "in", yard.rack, f"site:{world.other_store.uid}")
    yard.picked_up()
    runs.put(run=desk.run.uid, work_orders=[bad])
    page = rack()
    assert "4 casings on the rack, about 200 kg" in page
    order = [page.index(yard.label(u)[4:]) for u in (raw, bad, called, done)]
    assert order == sorted(order), "by how long each has been there"
    assert all(yard.label(u)[4:] not in page for u in (gone, far))
    for said in ("waits for the plant", "waits to go home", "waits for its owner to fetch it",
                 "somebody has to call its owner",
                 "rejected: plies or belts"):  # fmt: skip
        assert said in page
    assert page.count(", truck 4") == 1
    assert page.count("on none") == 3


@pytest.mark.parametrize(
    ("rejects", "said"),
    [
        ("return", "waits to go home, as its owner's specification says"),
        ("scrap", "to be scrapped, as its owner's specification says"),
        ("buy", "its owner's specification says: make an offer for it"),
        ("ask", "somebody has to call its owner and ask"),
    ],
)
def test_the_rack_says_of_a_rejected_casing_what_its_owners_specification_says(
    office: Client, world: World, yard: Yard, rejects: str, said: str
) -> None:
    specify(str(world.customer.uid), rejects=rejects)
    yard.rejected(promised=today(5))
    page = text(office.get("/office/rack/").content.decode())
    assert said in page
    assert "promised" not in page
