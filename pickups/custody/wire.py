"""Payloads of the operations that custody takes from a device, a struct a kind and version. Pure.

A published struct never changes: a new field is a new version beside the old one.
"""

from typing import Annotated, Literal
from uuid import UUID

import msgspec

from pickups.kernel.wire import whole
from pickups.labels.rules import LENGTH, SYMBOLS

_LABEL = whole(
    f"[{SYMBOLS}]{{{LENGTH}}}",
    "a label: eight symbols, digits and capital letters, without G I O Q S Z",
)
Label = Annotated[str, msgspec.Meta(pattern=_LABEL, examples=["K7000Y02"])]
_HASH = whole("[0-9a-f]{64}", "64 hexadecimal digits, lower case")
Sha256 = Annotated[str, msgspec.Meta(pattern=_HASH)]
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


_HOLDER = whole(
    "(person|site|plant|customer):[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}",
    "person, site, plant or customer, a colon and a UUID (RFC 9562)",
)
Holder = Annotated[str, msgspec.Meta(pattern=_HOLDER)]


class HandOver1(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """custody.hand_over: one casing from one holder to another, told by whoever scanned it.

    way: "in" on its way to the plant, "out" on its way home. A store's rack is `site:`, a plant's
    dock `plant:`, a driver `person:`.
    """

    label: Label
    way: Literal["in", "out"]
    giver: Holder
    taker: Holder
    note: Note = ""
    photos: Photos = []


class Deliver1(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """custody.deliver: one casing handed back at its owner's yard, finished or rejected."""

    delivery: UUID
    yard: UUID
    label: Label
    note: Note = ""
    photos: Photos = []


class FinishDelivery1(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """custody.finish_delivery: the visit is over; `casings` are the deliver operations in it.

    signer: who signed, as they gave their name; empty where nobody did, and `unsigned` says why.
    signature: the drawn signature, a photo's hash. shown: SHA-256 of the list that was shown.
    """

    delivery: UUID
    yard: UUID
    casings: Annotated[list[UUID], msgspec.Meta(min_length=1, max_length=500)]
    signer: Annotated[str, msgspec.Meta(max_length=120)] = ""
    unsigned: Note = ""
    signature: Sha256 | None = None
    shown: Sha256 | None = None
    note: Note = ""
    photos: Photos = []
