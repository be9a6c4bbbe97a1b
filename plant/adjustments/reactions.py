"""What the journal sets off here: rejections by a plant's own doing, and work that was sent back.
Each may run twice."""

from collections.abc import Iterator
from uuid import UUID

from pickups.custody import queries as custody
from pickups.custody.queries import Fact
from pickups.journal.models import Entry
from plant.adjustments import services


def owed(entry: Entry) -> None:
    """What a plant ruined it owes; what is released again it owes no more."""
    for plant, fact in _facts(entry):
        if fact.kind == "rejected" and fact.told.get("cause") == "plant":
            services.owe(plant=plant, fact=fact)
        elif fact.kind == "released" and fact.told.get("releases"):
            services.release(fact=UUID(str(fact.told["releases"])))


def reworked(entry: Entry) -> None:
    """Sent back once more than the plant allows: held, and a person is asked."""
    for plant, fact in _facts(entry):
        if fact.told.get("again_at"):
            services.too_often(plant=plant, label=fact.label, fact=fact.uid)


def _facts(entry: Entry) -> Iterator[tuple[UUID, Fact]]:
    """The facts of an entry that a plant told, each with the plant."""
    found = custody.facts(UUID(fact["fact"]) for fact in entry.body["facts"])
    for fact in found.values():
        kind, _, uid = fact.holder.partition(":")
        if kind == "plant":
            yield UUID(uid), fact
