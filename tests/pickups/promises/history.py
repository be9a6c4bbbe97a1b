"""Casings that were promised, worked on and brought back on days that are over."""

from datetime import date, timedelta
from typing import Any
from uuid import uuid4

from pickups.kernel import clock
from tests.pickups.promises.promising import noon, taken
from tests.world import Phone, World
from tests.world.plant import Gateway

DAY = timedelta(days=1)


def promised(
    phone: Phone, world: World, *, on: date, taken_on: date, sure: int | None = None, **more: Any
) -> dict[str, Any]:
    """A casing that was promised for a day when it was handed over, by hand or (sure: in percent)
    by forecast; not pushed."""
    if sure is None:
        return taken(phone, world, on, on=taken_on, **more)
    made = clock.rfc3339(noon(taken_on))
    told = {"on": str(on), "basis": "forecast", "offered": str(on), "table": 7}
    told |= {"confidence": sure, "forecast_at": made}
    return taken(phone, world, told, on=taken_on, version=4, **more)


def finished(gateway: Gateway, op: dict[str, Any], on: date) -> None:
    """The plant has told that a casing is finished; push it first."""
    gateway.tell(op["payload"]["label"], "finished", happened_at=noon(on))


def delivered(phone: Phone, world: World, op: dict[str, Any], on: date, **more: Any) -> None:
    """Handed to its owner on a day; not pushed."""
    told = {"delivery": str(uuid4()), "yard": str(world.yard.uid), "label": op["payload"]["label"]}
    phone.enter("custody.deliver", told | more, happened_at=clock.rfc3339(noon(on)))
