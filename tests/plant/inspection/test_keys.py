"""Who may post station events, for which plant, and how often."""

from datetime import timedelta
from uuid import uuid4

import pytest
from django.core.management import CommandError, call_command
from pytest_django import Settings

from pickups.casings.models import WorkOrder
from pickups.kernel import clock
from pickups.kernel.throttles import PerSender
from pickups.people import services as people
from tests.conftest import in_process
from tests.plant.inspection.refusals import refused
from tests.world import Phone, World
from tests.world.plant import Gateway
from tests.world.tables import nothing_written

pytestmark = pytest.mark.django_db


def test_wrong_unknown_and_revoked_keys_are_answered_alike(world: World, gateway: Gateway) -> None:
    key, revoked = people.issue_key(plant=world.plant, name="old gateway")
    call_command("plant_key", revoke=key.prefix)
    with pytest.raises(CommandError, match="no key in force"):
        call_command("plant_key", revoke=key.prefix)
    prefix, secret = world.plant_key.split(".")
    keys = [revoked, f"{prefix}.{'A' * 43}", f"PXXXXXXX.{secret}", prefix, f"{prefix}.", "", "."]
    event = gateway.event(world.a_label(), "received")
    with nothing_written():
        replies = [Gateway(in_process, wrong).post(event) for wrong in keys]
        replies.append(gateway.post(event, Authorization=f"Bearer {world.plant_key}"))
        replies.append(gateway.post(event, Authorization=world.plant_key))
    refused(replies[0], 401, "key_unknown")
    assert {(r.status, r.body, str(r.headers)) for r in replies} == {
        (replies[0].status, replies[0].body, str(replies[0].headers))
    }
    assert gateway.post(event).status == 200


def test_a_key_says_for_which_plant_it_speaks(world: World, phone: Phone, gateway: Gateway) -> None:
    label = world.a_label()
    phone.pick_up(label, world.yard.uid, uuid4())
    phone.push()
    gateway.tell(label, "received")
    assert WorkOrder.objects.get().holder == f"plant:{world.plant.uid}"
    gateway.tell(label, "shipped", station="shipping", happened_at=clock.now() - timedelta(days=2))
    assert WorkOrder.objects.get().holder == f"road:{world.plant.uid}"


def test_a_phones_credentials_do_not_open_the_plants_door(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    event = gateway.event(world.a_label(), "received")
    reply = phone.send("POST", "/api/plant/events", event, cookie=True, bearer=True)
    refused(reply, 401, "key_unknown")


def test_too_many_requests_are_told_when_to_come_again(
    world: World, gateway: Gateway, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(PerSender, "rate", "3/min")
    for _ in range(3):
        gateway.tell(world.a_label(), "received")
    with nothing_written():
        reply = gateway.post(gateway.event(world.a_label(), "received"))
    refused(reply, 429, "too_many")
    assert 1 <= int(reply.headers["Retry-After"]) <= 60
    _, other_key = people.issue_key(plant=world.plant, name="second gateway")
    other = Gateway(in_process, other_key)
    assert other.post(other.event(world.a_label(), "received")).status == 200


def test_without_a_cache_nobody_is_limited(
    world: World, gateway: Gateway, settings: Settings, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(PerSender, "rate", "1/min")
    gone = {**settings.CACHES["default"], "LOCATION": "unix:///nowhere/valkey.sock?db=0"}
    settings.CACHES = {"default": gone}
    for _ in range(3):
        gateway.tell(world.a_label(), "received")
    assert PerSender.rate == "1/min"
