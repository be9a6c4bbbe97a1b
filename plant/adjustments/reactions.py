"""What the journal sets off here: rejections by a plant's own doing, and work that was sent back.
Each may run twice."""

from collections.abc import Iterator
from uuid import UUID

from pickups.custody import queries as custody
from pickups.custody.queries import Fact
from pickups.journal.models import Entry
from plant.adjustments import services


def owed(entry: Entry) -> None:
    """What a plant ruined it owes; what is released or was never so it owes no more."""
    for plant, fact in _facts(entry):
        services.bring(plant=plant, label=fact.label)


def reworked(entry: Entry) -> None:
    """Sent back once more than the plant allows: held, and a person is asked."""
    for plant, fact in _facts(entry):
        if fact.told.get("again_at"):
            services.too_often(plant=plant, label=fact.label, fact=fact.uid)


def decided(entry: Entry) -> None:
    """Somebody answered that a casing was worked too often: it may go on."""
    told = {name: UUID(entry.body[name]) for name in ("plant", "hold", "by")}
    label = entry.subject.partition(":")[2]
    services.go_on(label=label, note=entry.body["note"], **told)


def _facts(entry: Entry) -> Iterator[tuple[UUID, Fact]]:
    """The facts of an entry that a plant told, each with the plant; of a withdrawal what it took
    back."""
    found = custody.facts(UUID(fact["fact"]) for fact in entry.body["facts"])
    taken = {f.corrects for f in found.values() if f.kind == "withdrawn" and f.corrects}
    for fact in {**found, **custody.facts(taken)}.values():
        kind, _, uid = fact.holder.partition(":")
        if kind == "plant":
            yield UUID(uid), fact
