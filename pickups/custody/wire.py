"""Payloads of the operations that custody takes from a device, a struct a kind and version. Pure.

A published struct never changes: a new field is a new version beside the old one.
"""

from datetime import date
from typing import Annotated, Literal
from uuid import UUID

import msgspec

from pickups.kernel.wire import Fault, Malformed, whole
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


Work = Literal["retread", "repair"]
"""What the customer wants done: a new tread, or a repair only."""
Basis = Literal["own", "pool", "exchange", "bought", "dealer"]
"""What comes back: this very casing, any of this customer's, one from the dealer's stock in
exchange, one that the dealer sells with its tread (cap and casing); or it is the dealer's own."""
BackTo = Literal["yard", "store"]
_DAY = whole(
    "[0-9]{4}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])",
    "a day as 2026-04-21 (RFC 3339, full-date)",
)
Day = Annotated[str, msgspec.Meta(pattern=_DAY, examples=["2026-04-21"])]
Short = Annotated[str, msgspec.Meta(max_length=40)]


def on_day(day: str, field: str) -> date:
    """A day in the shape of `Day` as a date; raises Malformed where no calendar has it."""
    try:
        return date.fromisoformat(day)
    except ValueError:
        raise Malformed(Fault(field, day, "a day that the calendar has")) from None


class Promised1(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The day that was promised at the tailgate or the counter.

    basis: "standard_time" where the phone's table offered it, "by_hand" where a person named
    another. offered: what the table said then, if it said anything. table: the table's version.
    """

    on: Day
    basis: Literal["standard_time", "by_hand"]
    offered: Day | None = None
    table: Annotated[int, msgspec.Meta(ge=1)] | None = None

    def __post_init__(self) -> None:
        """The pattern lets 30 February through."""
        for field, day in (("on", self.on), ("offered", self.offered)):
            if day is not None:
                on_day(day, field)


class PickUp2(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """custody.pick_up: one casing taken off a yard, or in over a store's counter.

    As version 1, and: store: the counter that took it in, none in a yard. work and tread_design:
    what is wanted. basis: what comes back for it. back_to: where. purchase_order, unit: the
    customer's own numbers, of the order and of the vehicle it came off.
    """

    pickup: UUID
    yard: UUID
    label: Label
    store: UUID | None = None
    tin: Annotated[str, msgspec.Meta(max_length=24)] = ""
    size: Annotated[str, msgspec.Meta(max_length=24)] = ""
    tread_32nds: Annotated[list[Thirtyseconds], msgspec.Meta(max_length=12)] = []
    work: Work = "retread"
    basis: Basis = "own"
    tread_design: Short = ""
    purchase_order: Short = ""
    unit: Short = ""
    back_to: BackTo = "yard"
    promised: Promised1 | None = None
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


class FinishPickup2(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """custody.finish_pickup: the visit is over, and the customer's side has signed, or not.

    As version 1, and: store: the counter, none in a yard. signer: who signed, as they gave their
    name; empty where nobody did, and `unsigned` says why. signature: the drawn signature, a
    photo's hash. shown: SHA-256 of the list that was shown (see `custody.shown`).
    """

    pickup: UUID
    yard: UUID
    casings: Annotated[list[UUID], msgspec.Meta(min_length=1, max_length=500)]
    store: UUID | None = None
    customer_count: Annotated[int, msgspec.Meta(ge=0, le=9999)] | None = None
    signer: Annotated[str, msgspec.Meta(max_length=120)] = ""
    unsigned: Note = ""
    signature: Sha256 | None = None
    shown: Sha256 | None = None
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


class Deliver2(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """custody.deliver: one casing handed back to its owner. As version 1, and: store: the counter
    at which it was fetched, none in a yard."""

    delivery: UUID
    yard: UUID
    label: Label
    store: UUID | None = None
    note: Note = ""
    photos: Photos = []


class FinishDelivery2(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """custody.finish_delivery: the visit is over. As version 1, and: store: the counter, none in a
    yard."""

    delivery: UUID
    yard: UUID
    casings: Annotated[list[UUID], msgspec.Meta(min_length=1, max_length=500)]
    store: UUID | None = None
    signer: Annotated[str, msgspec.Meta(max_length=120)] = ""
    unsigned: Note = ""
    signature: Sha256 | None = None
    shown: Sha256 | None = None
    note: Note = ""
    photos: Photos = []
