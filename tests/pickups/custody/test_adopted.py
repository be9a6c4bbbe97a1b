"""Facts that concern somebody else than when they were recorded: one entry a batch names them."""

from typing import Any
from uuid import UUID, uuid4

import pytest

from pickups.journal.models import Entry
from tests.conftest import Enrol
from tests.world import Phone, World
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db


def entries() -> list[list[dict[str, Any]]]:
    found = Entry.objects.filter(kind="casing.adopted").order_by("id")
    return [entry.body["facts"] for entry in found]


def push(phone: Phone) -> None:
    assert phone.push().status == 200


def again(phone: Phone, op: dict[str, Any], **changed: Any) -> None:
    named = {"fact": op["id"], "label": op["payload"]["label"]}
    phone.enter("custody.pick_up", op["payload"] | changed | {"corrects": named})
    push(phone)


def whose(facts: list[dict[str, Any]]) -> dict[str, str | None]:
    """For each label named, whose its facts are."""
    return {f["label"]: f.get("work_order") for f in facts}


def test_facts_that_waited_are_named_with_the_casings_that_adopt_them_in_one_entry(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    labels = sorted(world.a_label() for _ in range(3))
    for label in labels:
        gateway.tell(label, "received")
        gateway.tell(label, "finished")
    assert entries() == []
    ops = {
        label: phone.pick_up(label, world.yard.uid, uuid4()) for label in [*labels, world.a_label()]
    }
    push(phone)
    (facts,) = entries()
    assert [f["label"] for f in facts] == [labels[0]] * 2 + [labels[1]] * 2 + [labels[2]] * 2
    assert whose(facts) == {label: ops[label]["id"] for label in labels}


def test_facts_that_meet_their_casing_at_once_are_not_named(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    op = phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    push(phone)
    gateway.tell(op["payload"]["label"], "finished")
    again(phone, op, size="11R22.5")
    assert phone.push([*phone.sent]).status == 200
    assert entries() == []


def test_a_label_that_becomes_contested_leaves_its_facts_to_nobody_until_it_is_settled(
    world: World, enrol: Enrol, gateway: Gateway
) -> None:
    ours, theirs, label = enrol(), enrol(world.other_driver), world.a_label()
    op = ours.pick_up(label, world.yard.uid, uuid4())
    push(ours)
    gateway.tell(label, "finished")
    other = theirs.pick_up(label, world.other_yard.uid, uuid4())
    push(theirs)
    assert [whose(facts) for facts in entries()] == [{label: None}]
    again(theirs, other, label=world.a_label())
    assert [whose(facts) for facts in entries()[1:]] == [{label: op["id"]}]


def test_a_contest_that_leaves_a_label_to_nobody_names_its_facts_too(
    world: World, enrol: Enrol, gateway: Gateway
) -> None:
    ours, theirs, label = enrol(), enrol(world.other_driver), world.a_label()
    op = ours.pick_up(label, world.yard.uid, uuid4())
    push(ours)
    other = theirs.pick_up(label, world.other_yard.uid, uuid4())
    push(theirs)
    gateway.tell(label, "finished")
    assert entries() == []
    for phone, mine in ((ours, op), (theirs, other)):
        named = {"fact": mine["id"], "label": label}
        payload = {"pickup": mine["payload"]["pickup"], "withdraws": named, "reason": "x"}
        phone.enter("custody.withdraw", payload)
        push(phone)
    assert [whose(facts) for facts in entries()] == [{label: other["id"]}, {label: None}]


def test_both_casings_withdrawn_at_once_from_a_contested_label_leave_its_facts_named(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    label = world.a_label()
    ops = [phone.pick_up(label, world.yard.uid, uuid4()) for _ in range(2)]
    push(phone)
    gateway.tell(label, "finished")
    for op in ops:
        named = {"fact": op["id"], "label": label}
        payload = {"pickup": op["payload"]["pickup"], "withdraws": named, "reason": "x"}
        phone.enter("custody.withdraw", payload)
    push(phone)
    assert [whose(facts) for facts in entries()] == [{label: None}]


def test_a_casing_that_turns_out_to_be_another_customers_is_named(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    op = phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    push(phone)
    again(phone, op, yard=str(world.other_yard.uid))
    (facts,) = entries()
    assert [UUID(f["fact"]) for f in facts] == [UUID(op["id"])]
    assert whose(facts) == {op["payload"]["label"]: op["id"]}
