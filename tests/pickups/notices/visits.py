"""Whole visits to the first customer's yard, and the draining of what they owe."""

from typing import Any
from uuid import UUID, uuid4

from pickups.journal.services import drain
from tests.world import Phone, World


def visit(phone: Phone, world: World, count: int = 2, **more: Any) -> tuple[UUID, list[str]]:
    """A whole pickup at the first customer's yard, pushed; its id and its labels."""
    pickup, labels = uuid4(), [world.a_label() for _ in range(count)]
    casings = [phone.pick_up(label, world.yard.uid, pickup)["id"] for label in labels]
    phone.finish(pickup, world.yard.uid, casings, **more)
    pushed(phone)
    return pickup, labels


def pushed(phone: Phone) -> None:
    assert phone.push().status == 200
    assert phone.outbox == []


def shown(label: str) -> str:
    """A label as a receipt prints it."""
    return f"{label[:4]} {label[4:]}"


def drain_all() -> int:
    """Everything that is due; returns how many reactions ran."""
    total = 0
    while done := drain():
        total += done
    return total


def taken(phone: Phone, world: World, label: str = "", **more: Any) -> dict[str, Any]:
    """One casing picked up at the first customer's yard, pushed; the operation."""
    yard = more.pop("yard", world.yard.uid)
    op = phone.pick_up(label or world.a_label(), yard, more.pop("pickup", uuid4()), **more)
    pushed(phone)
    return op


def told_again(phone: Phone, op: dict[str, Any], **changed: Any) -> dict[str, Any]:
    """The casing of an operation told again, otherwise, and pushed."""
    named = {"fact": op["id"], "label": op["payload"]["label"]}
    made = phone.enter("custody.pick_up", op["payload"] | changed | {"corrects": named})
    pushed(phone)
    return made


def taken_back(phone: Phone, op: dict[str, Any]) -> None:
    """The casing of an operation was entered by mistake; pushed."""
    named = {"fact": op["id"], "label": op["payload"]["label"]}
    payload = {"pickup": op["payload"]["pickup"], "withdraws": named, "reason": "wrong pile"}
    phone.enter("custody.withdraw", payload)
    pushed(phone)
