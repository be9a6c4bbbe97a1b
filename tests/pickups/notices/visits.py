"""Whole visits to the first customer's yard, and the draining of what they owe."""

from datetime import timedelta
from typing import Any
from uuid import UUID, uuid4

from pickups.journal.services import drain
from pickups.kernel.clock import rfc3339
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


def wanted(phone: Phone, world: World, label: str = "", **more: Any) -> dict[str, Any]:
    """One casing at the first customer's yard, with what is wanted and promised; not pushed.

    minute: how long after now it is taken; two of one millisecond stand in any order.
    """
    at = phone.clock() + timedelta(minutes=more.pop("minute", 0))
    payload = {
        "pickup": str(more.pop("pickup", uuid4())),
        "yard": str(world.yard.uid),
        "label": label or world.a_label(),
        "work": "retread",
        "basis": "own",
        "back_to": "yard",
    }
    return phone.enter("custody.pick_up", payload | more, version=2, happened_at=rfc3339(at))


def promised(on: str, basis: str = "standard_time") -> dict[str, Any]:
    """A promised day as a phone tells it."""
    table = {"offered": on, "table": 3} if basis == "standard_time" else {}
    return {"promised": {"on": on, "basis": basis} | table}


def handed(phone: Phone, op: dict[str, Any], giver: str, taker: str, way: str = "out") -> None:
    """The casing of an operation goes from one holder to another; pushed."""
    told = {"label": op["payload"]["label"], "way": way, "giver": giver, "taker": taker}
    phone.enter("custody.hand_over", told)
    pushed(phone)
