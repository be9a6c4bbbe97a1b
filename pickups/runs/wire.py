"""What a driver tells of a run on the way, by version. A struct that was published never changes.

What changes hands on a stop is custody's and is told there; here stands what happened to the run
itself. Pure.
"""

from typing import Annotated, Literal
from uuid import UUID

import msgspec

from pickups.custody.wire.common import Label, Note, Photos

Count = Annotated[int, msgspec.Meta(ge=0, le=9999)]
Labels = Annotated[list[Label], msgspec.Meta(max_length=500)]


class Arrive1(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """runs.arrive: the truck stands at a stop."""

    run: UUID
    stop: UUID


class Skip1(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """runs.skip: a stop is not made, and why; note: more of it in the driver's words."""

    run: UUID
    stop: UUID
    why: Literal["closed", "nobody_there", "refused", "blocked", "no_room", "no_time", "other"]
    note: Note = ""
    photos: Photos = []


class Resume1(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """runs.resume: the last word about a stop, that it was skipped or that the truck arrived
    there, was a mistake; or the driver came back to make it after all."""

    run: UUID
    stop: UUID


class AddStop1(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """runs.add_stop: a stop at a yard that no sheet named; the operation's id is the stop's.

    after: the stop behind which it comes; none where it is the first.
    """

    run: UUID
    yard: UUID
    after: UUID | None = None
    why: Note = ""


class CountLoad1(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """runs.count_load: what was counted by hand, blind, before it was scanned onto the truck or
    off it, and what the scans came to.

    site: the store or plant. run, stop: none where no sheet names it; a run without a stop is
    where it starts. short: labels that were to come and did not; over: the other way round.
    """

    site: UUID
    way: Literal["on", "off"]
    counted: Count
    scanned: Labels
    run: UUID | None = None
    stop: UUID | None = None
    short: Labels = []
    over: Labels = []
