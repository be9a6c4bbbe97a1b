"""What a plant's system posts: one station event or a batch. Pure."""

from typing import Annotated, Literal
from uuid import UUID

import msgspec

from pickups.casings import reasons
from pickups.custody.wire import Label, Note, Photos
from pickups.kernel.wire import Fault, Malformed, instant
from pickups.labels.rules import LabelFault, fault
from pickups.sync.wire import Instant
from plant.inspection.wire.parts import (
    Built,
    Cause,
    Finding,
    Happened,
    Lot,
    Measured,
    Number,
    Operator,
    Station,
)

BATCH = 500

NO_LABEL: dict[LabelFault, str] = {
    LabelFault.FIRST: "a label; its first symbol is a letter",
    LabelFault.CHECK: "a label; here the check symbol does not fit: was it read right?",
}
"""Why eight symbols of the right kind are still no label."""


class StationEvent(msgspec.Struct, forbid_unknown_fields=True):
    """What a station did with a label. `id` is the sender's, unique for the plant.

    outcome: "finished" is told, never derived from the route. releases: the id of the hold or
    rejection that a `released` undoes. withdraws: the id of an event that was a mistake, with the
    outcome `withdrawn` and a note that says why. reason and cause: of a rejection. again_at: with
    `repair`, the station to which the casing goes back to be worked again. machine: the plant's
    own code. load, envelope: number of the cure load and of the envelope or hook that the label is
    tied to; told when it goes in and again when it comes out. tag: the finished tag, or the label
    that replaces a lost one, which names the casing from now on. built: what final inspection read.
    photos: of the casing as a whole.
    """

    id: UUID
    label: Label
    station: Station
    outcome: Happened
    happened_at: Instant
    operator: Operator = ""
    reason: Annotated[str, msgspec.Meta(max_length=40, examples=list(reasons.CODES))] = ""
    cause: Cause | None = None
    releases: UUID | None = None
    withdraws: UUID | None = None
    findings: Annotated[list[Finding], msgspec.Meta(max_length=50)] = []
    note: Note = ""
    again_at: Station | None = None
    machine: Number = ""
    measured: Measured | None = None
    lots: Annotated[list[Lot], msgspec.Meta(max_length=20)] = []
    load: Number = ""
    envelope: Number = ""
    tag: Label | None = None
    built: Built | None = None
    photos: Photos = []

    def __post_init__(self) -> None:
        """A misread label is answered while the casing is still there; the moment is in UTC."""
        for name in ("label", "tag"):
            told = getattr(self, name)
            wrong = fault(told) if told is not None else None
            if wrong is not None:
                raise Malformed(Fault(name, told, NO_LABEL[wrong]))
        self.happened_at = instant(self.happened_at, "happened_at")


class StationEvents(msgspec.Struct, forbid_unknown_fields=True):
    """A batch."""

    events: Annotated[list[StationEvent], msgspec.Meta(min_length=1, max_length=BATCH)]


class EventAnswer(msgspec.Struct, omit_defaults=True):
    """What became of one event: the same for a label that is known and one that is not."""

    id: str
    outcome: Literal["accepted"] = "accepted"
    repeat: bool = False


class EventAnswers(msgspec.Struct, omit_defaults=True):
    """Answers in the order of the events; hashes of photos that the server does not have yet."""

    answers: list[EventAnswer]
    missing_photos: list[str] = []
