"""A device that is taken out of use: how long it may send, what it says when it holds nothing."""

import json
from datetime import timedelta
from uuid import uuid4

import pytest
from pytest_django import Settings

from pickups.journal.models import Entry
from pickups.kernel import clock
from pickups.people import services as people
from pickups.people.models import Device
from tests.conftest import in_process
from tests.world import Phone, World
from tests.world.phone import Reply


def stand(phone: Phone, waits: object) -> Reply:
    headers = {
        "Content-Type": "application/json",
        "Cookie": f"__Host-yardloop_push={phone.push_secret}",
    }
    body = json.dumps({"waits": waits}).encode()
    return in_process("POST", "/api/devices/standing", body, headers)


def of(phone: Phone) -> Device:
    return Device.objects.get(uid=phone.uid)


def test_a_locked_device_hears_how_it_stands_by_its_cookie_alone(phone: Phone) -> None:
    assert stand(phone, 3).json == {"device": str(phone.uid), "status": "active"}
    people.close_device(uid=phone.uid)
    assert stand(phone, 3).json["status"] == "closing"
    people.revoke_device(uid=phone.uid)
    assert stand(phone, 3).json["code"] == "device_revoked"


def test_a_closing_device_says_that_it_is_emptied_once_and_takes_it_back(phone: Phone) -> None:
    stand(phone, 0)
    assert of(phone).emptied_at is None, "one in use is never emptied"
    people.close_device(uid=phone.uid)
    stand(phone, 1)
    assert of(phone).emptied_at is None
    stand(phone, 0)
    emptied = of(phone).emptied_at
    assert emptied is not None
    stand(phone, 0)
    assert of(phone).emptied_at == emptied
    assert Entry.objects.filter(kind="device.emptied").count() == 1
    stand(phone, 1)  # a photo that the server asks for again
    assert of(phone).emptied_at is None


@pytest.mark.parametrize("waits", [-1, 1.5, "3", None, 10_000_001])
def test_what_waits_is_a_number(phone: Phone, waits: object) -> None:
    assert stand(phone, waits).status == 400


def test_after_its_days_a_closing_device_is_shut_out_and_a_code_brings_it_back(
    world: World, phone: Phone, settings: Settings
) -> None:
    settings.DEVICE_CLOSING_DAYS = 5
    people.close_device(uid=phone.uid)
    closed = clock.now() - timedelta(days=5) + timedelta(minutes=1)
    Device.objects.update(closed_at=closed)
    people.close_device(uid=phone.uid)
    assert of(phone).closed_at == closed, "closed again it has no longer"
    phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    assert phone.push().status == 200
    Device.objects.update(closed_at=closed - timedelta(minutes=2))
    phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    assert phone.push().json["code"] == "device_revoked"
    uid = phone.uid
    assert phone.enrol(people.show_code(site=world.store, made_by=world.dispatcher)).status == 200
    assert (phone.uid, of(phone).closed_at) == (uid, None)
    assert phone.push().status == 200
