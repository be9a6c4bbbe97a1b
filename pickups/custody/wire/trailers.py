"""A trailer that was taken closed is opened and emptied: its pickup's list at last. Pure."""

from typing import Annotated, Literal
from uuid import UUID

import msgspec

from pickups.custody.wire.common import Note, Photos, Short

SealState = Literal["", "whole", "broken", "missing"]
"""What the seal was like when it was read back; empty: nobody said."""


class EmptyTrailer1(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """custody.empty_trailer: everything in a trailer was labelled; `casings` are the pick_ups that
    stand in it, told with the id of the pickup in which it was taken; scrap and left the lines
    without a label, each by its first telling. store: where it was opened, none at another place.
    seal, seal_state: as it was read back before it was cut. counted: how many casings came out by
    who emptied it, before the customer's count was seen."""

    pickup: UUID
    yard: UUID
    casings: Annotated[list[UUID], msgspec.Meta(max_length=500)] = []
    scrap: Annotated[list[UUID], msgspec.Meta(max_length=100)] = []
    left: Annotated[list[UUID], msgspec.Meta(max_length=500)] = []
    store: UUID | None = None
    seal: Short = ""
    seal_state: SealState = ""
    counted: Annotated[int, msgspec.Meta(ge=0, le=9999)] | None = None
    note: Note = ""
    photos: Photos = []
