"""Clocks that are days off: what was told stays as told, its skew beside it, its order sane."""

from datetime import datetime, timedelta
from uuid import uuid4

import pytest

from pickups.casings.models import WorkOrder
from pickups.custody.models import Fact
from pickups.kernel.clock import rfc3339
from pickups.people.models import Device
from pickups.questions.queries import open_about
from tests.sync.batches import push
from tests.world import Phone, World

DAYS = [timedelta(days=3), timedelta(days=-3)]


def near(ms: int | None, expected: timedelta) -> bool:
    return ms is not None and abs(ms - expected / timedelta(milliseconds=1)) < 20_000


@pytest.mark.parametrize("off", DAYS, ids=["three days fast", "three days slow"])
def test_a_clock_days_off_is_measured_and_what_it_said_is_kept(
    world: World, phone: Phone, off: timedelta
) -> None:
    phone.ahead = off
    op = phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    assert push(phone) == ["accepted"]
    fact = Fact.objects.get()
    assert rfc3339(fact.happened_at) == op["happened_at"]
    assert fact.stamp == op["stamp"]
    assert near(fact.skew_ms, off)
    assert abs(fact.recorded_at - (fact.happened_at - off)) < timedelta(minutes=1)
    assert near(Device.objects.get(uid=phone.uid).skew_ms, off)


def test_a_fact_later_than_its_own_clock_allows_is_contested(world: World, phone: Phone) -> None:
    """Two hours later than the clock of the phone that sends it: no skew explains that."""
    phone.ahead = timedelta(days=3)
    told = rfc3339(phone.clock() + timedelta(hours=2))
    op = phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    op["happened_at"] = told
    assert push(phone) == ["contested from_the_future"]
    assert rfc3339(Fact.objects.get().happened_at) == told
    assert open_about(f"fact:{op['id']}") == ["from_the_future"]


def test_a_clock_put_back_before_sending_is_contested_and_kept(world: World, phone: Phone) -> None:
    """Entered while the clock ran three days fast, sent after it was put right."""
    phone.ahead = timedelta(days=3)
    phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    phone.ahead = timedelta()
    assert push(phone) == ["contested from_the_future"]
    assert Fact.objects.count() == 1


@pytest.mark.parametrize("off", DAYS, ids=["jumps forward", "jumps back"])
def test_a_clock_that_jumps_never_turns_the_order_of_entry(
    world: World, phone: Phone, off: timedelta
) -> None:
    """The stamp only grows on the phone: the last correction entered is the one that stands."""
    label, pickup = world.a_label(), uuid4()
    first = phone.pick_up(label, world.yard.uid, pickup, note="0")
    corrects = {"fact": first["id"], "label": label}
    for n, ahead in enumerate([off, timedelta(), -off, off], start=1):
        phone.ahead = ahead
        phone.pick_up(label, world.yard.uid, pickup, note=str(n), corrects=corrects)
    phone.ahead = timedelta()
    stamps = [op["stamp"] for op in phone.outbox]
    assert stamps == sorted(set(stamps))
    backwards = list(reversed(phone.outbox))
    assert {word.split()[0] for word in push(phone, *backwards)} <= {"accepted", "contested"}
    order = WorkOrder.objects.get()
    assert order.told["note"] == "4"
    assert rfc3339(order.picked_up_at) == first["happened_at"]


def test_an_offset_in_the_time_told_is_the_same_instant(world: World, phone: Phone) -> None:
    op = phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    op["happened_at"] = "2026-04-14T08:40:07.250-05:00"
    assert push(phone) == ["accepted"]
    assert Fact.objects.get().happened_at == datetime.fromisoformat("2026-04-14T13:40:07.250Z")
    assert Fact.objects.get().told["at"] == "2026-04-14T13:40:07.250Z"
