"""What a plant's system posts: one station event or a batch. Pure."""

from typing import Annotated, Literal
from uuid import UUID

import msgspec

from pickups.casings import reasons
from pickups.custody.wire import Label, Note, Photos
from pickups.kernel.wire import Fault, Malformed, instant, whole
from pickups.labels.rules import LabelFault, fault
from pickups.sync.wire import Instant
from plant.dock.rules import DEFAULT_ROUTE

BATCH = 500

Word = Annotated[str, msgspec.Meta(min_length=1, max_length=40)]
_STATION = whole("[a-z0-9][a-z0-9-]*", "the code of a station: small letters, digits, hyphens")
Station = Annotated[
    str,
    msgspec.Meta(
        pattern=_STATION, max_length=40, examples=[station for station, _, _ in DEFAULT_ROUTE]
    ),
]
Zone = Literal["crown", "shoulder", "sidewall", "bead", "inner_liner"]
Happened = Literal[
    "received", "passed", "repair", "rejected", "hold", "released", "finished", "shipped"
]
_OPERATOR = whole(
    "[A-Za-z0-9._-]{0,20}", "the plant's own number or short code for the person, never a name"
)
Operator = Annotated[str, msgspec.Meta(pattern=_OPERATOR)]
Cause = Literal["casing", "plant", "road_or_dock", "customer"]

NO_LABEL: dict[LabelFault, str] = {
    LabelFault.FIRST: "a label; its first symbol is a letter",
    LabelFault.CHECK: "a label; here the check symbol does not fit: was it read right?",
}
"""Why eight symbols of the right kind are still no label."""


class Finding(msgspec.Struct, forbid_unknown_fields=True):
    """What was found, in which zone; size in millimetres."""

    zone: Zone
    kind: Word
    size_mm: Annotated[float, msgspec.Meta(ge=0, le=5000)] | None = None
    count: Annotated[int, msgspec.Meta(ge=1, le=99)] = 1
    action: Annotated[str, msgspec.Meta(max_length=80)] = ""
    photos: Photos = []


class StationEvent(msgspec.Struct, forbid_unknown_fields=True):
    """What a station did with a label. `id` is the sender's, unique for the plant.

    outcome: "finished" is told, never derived from the route. releases: the id of the hold or
    rejection that a `released` undoes. reason and cause: of a rejection.
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
    findings: Annotated[list[Finding], msgspec.Meta(max_length=50)] = []
    note: Note = ""

    def __post_init__(self) -> None:
        """A misread label is answered while the casing is still there; the moment is in UTC."""
        wrong = fault(self.label)
        if wrong is not None:
            raise Malformed(Fault("label", self.label, NO_LABEL[wrong]))
        self.happened_at = instant(self.happened_at, "happened_at")


class StationEvents(msgspec.Struct, forbid_unknown_fields=True):
    """A batch."""

    events: Annotated[list[StationEvent], msgspec.Meta(min_length=1, max_length=BATCH)]


class EventAnswer(msgspec.Struct, omit_defaults=True):
    """What became of one event: the same for a label that is known and one that is not."""

    id: str
    outcome: Literal["accepted"] = "accepted"
    repeat: bool = False


class EventAnswers(msgspec.Struct):
    """Answers in the order of the events."""

    answers: list[EventAnswer]
