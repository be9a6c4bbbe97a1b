"""What the load sheet says of its stops once the driver has told of them: arrived, skipped and why,
a stop of his own, counts and scans, nobody there; and that nothing of it is lost from the loose.
"""

import hashlib
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.test import Client

from pickups.customers import services as customers
from pickups.runs import queries
from pickups.runs import services as runs
from tests.pickups.custody.test_record import push
from tests.pickups.desk.sheets import Desk, draw_up, text
from tests.pickups.runs.yard import Yard
from tests.sync.test_photos import folder, picture, put
from tests.world import Phone, World
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db
__all__ = ["folder"]


@pytest.fixture
def yard(world: World, phone: Phone, gateway: Gateway) -> Yard:
    return Yard(world, phone, gateway)


@pytest.fixture
def desk(world: World, office: Client) -> Desk:
    return Desk(office, draw_up(world))


def tell(phone: Phone, kind: str, run: UUID, stop: UUID | None = None, **told: Any) -> UUID:
    payload = {"run": str(run), **({"stop": str(stop)} if stop else {}), **told}
    return UUID(phone.enter(f"runs.{kind}", payload)["id"])


def stop_said(desk: Desk, stop: UUID) -> str:
    page = desk.client.get(desk.address).content.decode().split('<div class="paper">')[0]
    return text(page.split(f'id="at-{stop}"')[1].partition('<li class="stop"')[0])


def test_each_stop_says_what_its_driver_told(
    desk: Desk, world: World, yard: Yard, phone: Phone
) -> None:
    south = customers.open_yard(customer=world.customer, name="South yard")
    far = customers.open_yard(customer=world.customer, name="Far yard")
    runs.put(run=desk.run.uid, work_orders=[yard.home(), yard.home(yard=str(south.uid))])
    first, second = desk.stops()
    runs.hand(run=desk.run.uid)
    labels = [world.a_label() for _ in range(3)]
    place: dict[str, Any] = {"site": str(world.store.uid)}
    tell(phone, "count_load", desk.run.uid, **place, way="on", counted=2, scanned=labels[:2])
    tell(phone, "arrive", desk.run.uid, first)
    tell(phone, "skip", desk.run.uid, second, why="closed", note="chain on the gate")
    added = tell(
        phone, "add_stop", desk.run.uid, yard=str(far.uid), after=str(second), why="waved in"
    )
    told = {**place, "way": "off", "counted": 3, "scanned": labels[:2], "short": labels[2:]}
    tell(phone, "count_load", desk.run.uid, added, **told)
    assert push(phone) == ["accepted"] * 4 + ["contested"]
    assert "arrived " in stop_said(desk, first)
    assert "gate closed (“chain on the gate”)" in stop_said(desk, second)
    own = stop_said(desk, added)
    assert "Far yard" in own
    assert "added by the driver: “waved in”" in own
    assert "counted 3, scanned 2" in own
    assert f"1 short: {labels[2][:4]}" in own
    assert "counted 2, scanned 2" in desk.page()


def test_what_was_for_a_skipped_stop_is_loose_again_when_the_truck_is_back(
    desk: Desk, world: World, yard: Yard, phone: Phone
) -> None:
    uid = yard.home()
    runs.put(run=desk.run.uid, work_orders=[uid])
    runs.hand(run=desk.run.uid)
    yard.load(uid)
    tell(phone, "skip", desk.run.uid, desk.stops()[0], why="nobody_there")
    assert push(phone) == ["accepted"]
    assert queries.loose(world.store.uid) == []
    runs.come_back(run=desk.run.uid)
    assert [w.uid for w in queries.loose(world.store.uid)] == [uid]
    said = stop_said(desk, desk.stops()[0])
    assert "nobody there" in said
    assert "not dropped" in said


def test_of_a_partial_delivery_what_stayed_on_the_truck_is_loose_again(
    desk: Desk, world: World, yard: Yard
) -> None:
    dropped, kept = yard.home(), yard.home()
    runs.put(run=desk.run.uid, work_orders=[dropped, kept])
    runs.hand(run=desk.run.uid)
    for uid in (dropped, kept):
        yard.load(uid)
    yard.deliver(dropped)
    runs.come_back(run=desk.run.uid)
    assert [w.uid for w in queries.loose(world.store.uid)] == [kept]


def test_nobody_there_says_where_it_was_set_down_with_its_photo_and_a_skip_shows_its_own(
    desk: Desk, world: World, yard: Yard, phone: Phone
) -> None:
    uid = yard.home()
    runs.put(run=desk.run.uid, work_orders=[uid])
    (stop,) = desk.stops()
    runs.hand(run=desk.run.uid)
    shots = []
    for side in (20, 24):
        data = picture(size=(40, side))
        shots.append(hashlib.sha256(data).hexdigest())
        assert put(phone, data).status == 200
    delivery = str(uuid4())
    told = {"delivery": delivery, "yard": str(world.yard.uid)}
    back = phone.enter("custody.deliver", {**told, "label": yard.label(uid)})
    end = {**told, "casings": [back["id"]], "nobody_there": True, "note": "Set down: gate 2."}
    phone.enter("custody.finish_delivery", {**end, "photos": shots[:1]}, version=3)
    skip = tell(phone, "skip", desk.run.uid, stop, why="blocked", photos=shots[1:])
    assert push(phone) == ["accepted"] * 3
    said = stop_said(desk, stop)
    assert "Nobody was there to sign. Set down: gate 2." in said
    page = desk.client.get(desk.address).content.decode()
    assert f"/office/photos/{skip}/1" in page
    assert desk.client.get(f"/office/photos/{skip}/1")["Content-Type"] == "image/jpeg"
    assert desk.client.get(f"/office/photos/{skip}/2").status_code == 404
