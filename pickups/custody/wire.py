"""Payloads of the operations that custody takes from a device, a struct a kind and version. Pure.

A published struct never changes: a new field is a new version beside the old one.
"""

from typing import Annotated
from uuid import UUID

import msgspec

from pickups.labels.rules import LENGTH, SYMBOLS

Label = Annotated[str, msgspec.Meta(pattern=f"^[{SYMBOLS}]{{{LENGTH}}}$")]
Sha256 = Annotated[str, msgspec.Meta(pattern="^[0-9a-f]{64}$")]
Photos = Annotated[list[Sha256], msgspec.Meta(max_length=12)]
Thirtyseconds = Annotated[int, msgspec.Meta(ge=0, le=40)]
Reason = Annotated[str, msgspec.Meta(min_length=1, max_length=500)]
Note = Annotated[str, msgspec.Meta(max_length=500)]


class Original(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The fact that a correction names, and the label that it was told under."""

    fact: UUID
    label: Label


class PickUp1(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """custody.pick_up: one casing taken off a yard. The operation's id becomes the work order's.

    tin: as read off the sidewall. tread_32nds: depths in 1/32 inch, a reading a groove.
    corrects: this tells again what an earlier pick_up told, in its place.
    """

    pickup: UUID
    yard: UUID
    label: Label
    tin: Annotated[str, msgspec.Meta(max_length=24)] = ""
    size: Annotated[str, msgspec.Meta(max_length=24)] = ""
    tread_32nds: Annotated[list[Thirtyseconds], msgspec.Meta(max_length=12)] = []
    note: Note = ""
    photos: Photos = []
    corrects: Original | None = None


class Withdraw1(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """custody.withdraw: an earlier pick_up was entered by mistake; why is kept."""

    pickup: UUID
    withdraws: Original
    reason: Reason


class FinishPickup1(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """custody.finish_pickup: the visit is over; `casings` are the pick_ups that stand in it.

    customer_count: what the customer counted, if somebody did.
    """

    pickup: UUID
    yard: UUID
    casings: Annotated[list[UUID], msgspec.Meta(min_length=1, max_length=500)]
    customer_count: Annotated[int, msgspec.Meta(ge=0, le=9999)] | None = None
    note: Note = ""
    photos: Photos = []
