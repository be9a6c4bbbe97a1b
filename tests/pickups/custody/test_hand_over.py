"""A casing changes hands on its way: to the plant, out of it, and back to its owner's yard."""

from typing import Any
from uuid import uuid4

import pytest

from pickups.casings.models import WorkOrder
from pickups.custody.models import Delivery, Fact, Signature
from pickups.customers import services as customers
from pickups.journal.services import drain
from pickups.questions.models import Question
from pickups.sync.models import Feed, Operation
from tests.pickups.custody.test_record import order, pick_up, push
from tests.world import Phone, World
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db


def hand_over(phone: Phone, label: str, way: str, giver: str, taker: str) -> dict[str, Any]:
    """One scan of a hand-over, pushed."""
    payload = {"label": label, "way": way, "giver": giver, "taker": taker}
    made = phone.enter("custody.hand_over", payload)
    push(phone)
    return made


def deliver(phone: Phone, label: str, yard: object, delivery: object) -> dict[str, Any]:
    """One casing handed back, entered."""
    payload = {"delivery": str(delivery), "yard": str(yard), "label": label}
    return phone.enter("custody.deliver", payload)


def finish(phone: Phone, yard: object, delivery: object, *ops: str, **more: Any) -> None:
    """The end of a delivery, entered."""
    payload = {"delivery": str(delivery), "yard": str(yard), "casings": list(ops), **more}
    phone.enter("custody.finish_delivery", payload)


def test_a_casing_is_with_whoever_it_was_handed_to(world: World, phone: Phone) -> None:
    label = world.a_label()
    op = pick_up(phone, world, label)
    driver, rack = f"person:{world.driver.uid}", f"site:{world.store.uid}"
    assert order(op).holder == driver
    hand_over(phone, label, "in", driver, rack)
    assert (order(op).holder, order(op).progress) == (rack, "picked_up")
    hand_over(phone, label, "in", rack, f"plant:{world.plant.uid}")
    assert order(op).holder == f"plant:{world.plant.uid}"


def test_a_hand_over_told_before_its_pick_up_meets_it(world: World, phone: Phone) -> None:
    label = world.a_label()
    hand_over(phone, label, "in", f"person:{world.driver.uid}", f"plant:{world.plant.uid}")
    assert Fact.objects.get().work_order is None
    op = pick_up(phone, world, label)
    assert order(op).holder == f"plant:{world.plant.uid}"


def test_what_the_plant_finished_goes_home_and_is_its_owners_again(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    label = world.a_label()
    op = pick_up(phone, world, label)
    for outcome in ("received", "finished", "shipped"):
        assert gateway.post(gateway.event(label, outcome)).status == 200
    hand_over(phone, label, "out", f"plant:{world.plant.uid}", f"person:{world.driver.uid}")
    assert (order(op).progress, order(op).holder) == ("shipped", f"person:{world.driver.uid}")
    delivery = uuid4()
    handed = deliver(phone, label, world.yard.uid, delivery)
    finish(phone, world.yard.uid, delivery, handed["id"], signer="R. Amsel")
    assert push(phone) == ["accepted", "accepted"]
    assert (order(op).progress, order(op).holder) == ("returned", f"customer:{world.customer.uid}")
    assert Delivery.objects.get().customer == world.customer.uid
    assert Feed.objects.get(entity="delivery").scope == f"site:{world.store.uid}"


def test_who_signed_stands_apart_and_can_be_erased(world: World, phone: Phone) -> None:
    label = world.a_label()
    pick_up(phone, world, label)
    delivery = uuid4()
    handed = deliver(phone, label, world.yard.uid, delivery)
    finish(phone, world.yard.uid, delivery, handed["id"], signer="R. Amsel", signature="a" * 64)
    push(phone)
    assert Signature.objects.get().name == "R. Amsel"
    assert not Operation.objects.exclude(raw=None).exists(), "no copy of the name is kept"
    Signature.objects.all().delete()
    assert Delivery.objects.count() == 1


def test_the_end_of_a_delivery_waits_for_its_casings(world: World, phone: Phone) -> None:
    label = world.a_label()
    pick_up(phone, world, label)
    delivery = uuid4()
    handed = deliver(phone, label, world.yard.uid, delivery)
    finish(phone, world.yard.uid, delivery, handed["id"])
    first, last = phone.outbox
    assert phone.push([last]).json["answers"][0]["outcome"] == "held"
    assert Delivery.objects.count() == 0
    assert phone.push([first]).json["answers"][0]["outcome"] in {"accepted", "contested"}
    assert Delivery.objects.count() == 1


def test_the_second_end_of_a_delivery_changes_nothing(world: World, phone: Phone) -> None:
    label = world.a_label()
    pick_up(phone, world, label)
    delivery = uuid4()
    handed = deliver(phone, label, world.yard.uid, delivery)
    finish(phone, world.yard.uid, delivery, handed["id"], signer="R. Amsel")
    finish(phone, world.yard.uid, delivery, handed["id"], signer="Somebody Else")
    push(phone)
    assert Signature.objects.get().name == "R. Amsel"


def test_a_casing_delivered_to_another_customer_is_a_question(world: World, phone: Phone) -> None:
    label = world.a_label()
    op = pick_up(phone, world, label)
    deliver(phone, label, world.other_yard.uid, uuid4())
    assert push(phone) == ["contested"]
    asked = set(Question.objects.values_list("kind", flat=True))
    assert "wrong_owner" in asked
    assert order(op).holder == f"customer:{world.other_customer.uid}", "it is told as it was"


def test_a_casing_that_comes_home_without_having_been_picked_up_waits_for_its_pick_up(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    label = world.a_label()
    deliver(phone, label, world.yard.uid, uuid4())
    assert push(phone) == ["accepted"]
    assert WorkOrder.objects.count() == 0
    op = pick_up(phone, world, label)
    assert order(op).progress == "returned"
    gateway.tell(label, "received", station="receiving")
    assert Question.objects.filter(kind="impossible_order", settled_at=None).count() == 1
    gateway.tell(label, "shipped", station="shipping")
    assert not Question.objects.filter(kind="impossible_order", settled_at=None).exists()


def test_a_rejected_casing_goes_home_as_it_was(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    label = world.a_label()
    op = pick_up(phone, world, label)
    gateway.tell(label, "rejected")
    deliver(phone, label, world.yard.uid, uuid4())
    assert push(phone) == ["accepted"]
    assert (order(op).progress, order(op).reason) == ("returned", "SW_CUT")
    assert not Question.objects.exists()


def test_a_casing_that_the_plant_never_shipped_may_be_delivered_from_a_rack(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    label = world.a_label()
    op = pick_up(phone, world, label)
    gateway.tell(label, "received", station="receiving")
    rack, driver = f"site:{world.store.uid}", f"person:{world.driver.uid}"
    hand_over(phone, label, "out", rack, driver)
    deliver(phone, label, world.yard.uid, uuid4())
    assert push(phone) == ["accepted"]
    assert order(op).progress == "returned"
    assert not Question.objects.exists()


def test_what_a_plant_gives_goes_home_whatever_way_was_told(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    label = world.a_label()
    op = pick_up(phone, world, label)
    dock, driver = f"plant:{world.plant.uid}", f"person:{world.driver.uid}"
    hand_over(phone, label, "in", driver, dock)
    for outcome in ("received", "finished"):
        gateway.tell(label, outcome)
    hand_over(phone, label, "in", dock, driver)
    assert (order(op).progress, order(op).holder) == ("shipped", driver)
    hand_over(phone, label, "out", driver, f"site:{world.store.uid}")
    assert order(op).holder == f"site:{world.store.uid}"
    kinds = Fact.objects.filter(kind__startswith="handed").order_by("stamp")
    assert [fact.kind for fact in kinds] == ["handed_in", "handed_out", "handed_out"]
    assert not Question.objects.exists()


# --- The end of a delivery ----------------------------------------------------------------------


def an_end(phone: Phone, yard: object, delivery: object, *ops: str, **more: Any) -> dict[str, Any]:
    payload = {"delivery": str(delivery), "yard": str(yard), "casings": list(ops), **more}
    return phone.enter("custody.finish_delivery", payload, version=2)


@pytest.mark.parametrize("late", [False, True])
def test_the_end_of_a_delivery_that_was_told_first_counts_whatever_came_first(
    world: World, phone: Phone, late: bool
) -> None:
    label = world.a_label()
    pick_up(phone, world, label)
    delivery = uuid4()
    handed = deliver(phone, label, world.yard.uid, delivery)
    push(phone)
    first = an_end(phone, world.yard.uid, delivery, handed["id"], note="FIRST", unsigned="nobody")
    second = an_end(phone, world.other_yard.uid, delivery, handed["id"], note="SECOND",
                    signer="R. Amsel")  # fmt: skip
    third = an_end(phone, world.yard.uid, delivery, handed["id"], signer="Somebody Else")
    for end in [third, second, first] if late else [first, second, third]:
        assert phone.push([end]).status == 200
    row = Delivery.objects.get()
    assert (row.note, row.unsigned, row.yard) == ("FIRST", "nobody", world.yard.uid)
    assert (row.site, row.customer) == (world.store.uid, world.customer.uid)
    assert row.version == (3 if late else 1)
    assert Signature.objects.get().name == "R. Amsel", "who came to sign after all has signed"
    assert Fact.objects.filter(kind="delivery_end").count() == 3
    seen = {f.scope: f.gone for f in Feed.objects.filter(entity="delivery")}
    theirs = {f"site:{world.other_store.uid}": True} if late else {}
    assert seen == {f"site:{world.store.uid}": False} | theirs


def test_a_customer_that_moves_takes_its_deliveries_to_its_new_store(
    world: World, phone: Phone
) -> None:
    label = world.a_label()
    pick_up(phone, world, label)
    delivery = uuid4()
    handed = deliver(phone, label, world.yard.uid, delivery)
    an_end(phone, world.yard.uid, delivery, handed["id"])
    push(phone)
    customers.move_customer(uid=world.customer.uid, home_site=world.other_store)
    drain()
    assert Delivery.objects.get().site == world.other_store.uid
    seen = {f.scope: f.gone for f in Feed.objects.filter(entity="delivery")}
    assert seen == {f"site:{world.store.uid}": True, f"site:{world.other_store.uid}": False}
