"""A plant that cures: what its systems post of a load, and what the journal then does."""

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from typing import Any
from uuid import UUID

from pickups.journal import services as journal
from pickups.kernel.clock import rfc3339
from pickups.kernel.ids import uuid7
from pickups.people.models import User
from plant.curing import services
from plant.curing.equivalent import Law
from plant.curing.models import CureLoad, Qualified
from plant.curing.record import Terms
from tests.conftest import in_process
from tests.world import World
from tests.world.phone import Reply
from tests.world.plant import Gateway

NUMBER = "2026-07-14-2"
START = datetime(2026, 7, 14, 11, tzinfo=UTC)
TERMS = Terms(low_c=95, most_c=105, minutes=60, gap_s=300, low_kpa=500, most_kpa=650)
CSV = {"Content-Type": "text/csv"}


def after(minutes: float) -> datetime:
    """So many minutes after the load's start."""
    return START + timedelta(minutes=minutes)


def drain() -> None:
    """Everything that the journal owes is done."""
    while journal.drain():
        pass


def ask(gateway: Gateway, method: str, path: str, body: bytes = b"", **headers: str) -> Reply:
    """A door of the plant's, with its key."""
    sent = {"Content-Type": "application/json", "Authorization": f"Key {gateway.key}"}
    named = {name.replace("_", "-"): value for name, value in headers.items()}
    return in_process(method, path, body, sent | named)


def word(number: str = NUMBER, **more: Any) -> dict[str, Any]:
    """One word about a load, as a system posts it."""
    told = {
        "id": str(uuid7()),
        "number": number,
        "told_at": rfc3339(START),
        "chamber": "c1",
        "started_at": rfc3339(START),
        "operator": "17",
        "lots": [{"kind": "cushion_gum", "number": "CG-0417"}],
    }
    return told | more


def table(minutes: int = 60, celsius: float = 99, kpa: float = 586, step: int = 5) -> bytes:
    """A record of one level, in minutes since the start."""
    rows = (f"{m},{celsius},{kpa}\n" for m in range(0, minutes + 1, step))
    return ("minutes,temperature_c,pressure_kpa\n" + "".join(rows)).encode()


def set_in(gateway: Gateway, labels: Sequence[str], number: str = NUMBER) -> None:
    """Labels and envelopes are tied to the load, before it starts."""
    for i, label in enumerate(labels, 1):
        gateway.tell(label, "passed", station="enveloping", load=number, envelope=f"E{i}",
                     happened_at=after(-30 + i), operator="9", machine="env-2")  # fmt: skip


def set_out(gateway: Gateway, labels: Sequence[str], number: str = NUMBER) -> None:
    """Labels are scanned when the envelopes come off."""
    for i, label in enumerate(labels, 1):
        gateway.tell(label, "passed", station="stripping", load=number, happened_at=after(70 + i))


def entered(world: World, terms: Terms | None = TERMS, law: Law | None = None) -> None:
    """The plant enters what it asks of a load."""
    services.specify(plant=world.plant.uid, chamber="", terms=terms, law=law,
                     source="sheet 4 of the gum's supplier", by=world.dispatcher.uid)  # fmt: skip


def load(world: World, number: str = NUMBER) -> CureLoad:
    """How it stands."""
    return CureLoad.objects.get(plant=world.plant, number=number)


def a_qualified_person(world: World, username: str = "vera") -> User:
    """A plant operator whom the plant has named for loads that fell short."""
    person = User.objects.create_user(username, password=None, first_name="Vera", last_name="Lund",
                                      role=User.Role.PLANT, site=world.plant)  # fmt: skip
    grounds = "course of the gum's supplier"
    services.name_qualified(plant=world.plant.uid, person=person.uid, grounds=grounds,
                            matter=Qualified.Matter.CURE, by=world.dispatcher.uid)  # fmt: skip
    return person


def uid(told: dict[str, Any]) -> UUID:
    """The id of a posted event."""
    return UUID(told["id"])
