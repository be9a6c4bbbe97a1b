"""What a tablet at a station tells, as an operation of the sync. Pure."""

from typing import Annotated
from uuid import UUID

import msgspec

from pickups.casings import reasons
from pickups.custody.wire import Label, Note, Photos
from plant.inspection.wire.parts import (
    Built,
    Cause,
    Finding,
    Happened,
    Lot,
    Measured,
    Number,
    Station,
)


class Tell1(msgspec.Struct, forbid_unknown_fields=True):
    """A station event told on a tablet: who and when stand in the envelope, whose id is the
    event's. Fields as in StationEvent; photos: of the casing as a whole.
    """

    label: Label
    station: Station
    outcome: Happened
    reason: Annotated[str, msgspec.Meta(max_length=40, examples=list(reasons.CODES))] = ""
    cause: Cause | None = None
    releases: UUID | None = None
    withdraws: UUID | None = None
    findings: Annotated[list[Finding], msgspec.Meta(max_length=50)] = []
    note: Note = ""
    photos: Photos = []
    again_at: Station | None = None
    machine: Number = ""
    measured: Measured | None = None
    lots: Annotated[list[Lot], msgspec.Meta(max_length=20)] = []
    load: Number = ""
    envelope: Number = ""
    tag: Label | None = None
    built: Built | None = None
