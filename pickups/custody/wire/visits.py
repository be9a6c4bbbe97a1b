"""The ends of visits: pickups and deliveries, by version. Pure."""

from typing import Annotated, Literal
from uuid import UUID

import msgspec

from pickups.custody.wire.common import Note, Photos, Sha256, Short
from pickups.kernel.wire import whole

Told = Literal["", "en", "es"]
"""The language (ISO 639-1) of the list that was read before it was signed; empty: not told."""
Refused = Literal["", "count", "condition", "authority", "other"]
"""Why they will not sign: they dispute the count or the condition, they may not sign, or else;
empty: nobody refused. `unsigned` has it in words."""
RECEIPT_KEY = r"[0-7][0-9A-HJKMNP-TV-Z]{25}"
ReceiptKey = Annotated[
    str, msgspec.Meta(pattern=whole(f"({RECEIPT_KEY})?", "26 characters of Crockford's base 32"))
]
"""128 random bits made on the phone, in Crockford's base 32: who has them may read this visit's
receipt. They are in no fact; empty: none was made."""


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


class FinishPickup3(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """custody.finish_pickup: the visit is over. As version 2, and: casings may be none where scrap
    was counted or something was left. scrap, left: the count_scrap and leave_here operations that
    stand in it, each by the id of its first telling."""

    pickup: UUID
    yard: UUID
    casings: Annotated[list[UUID], msgspec.Meta(max_length=500)] = []
    scrap: Annotated[list[UUID], msgspec.Meta(max_length=100)] = []
    left: Annotated[list[UUID], msgspec.Meta(max_length=500)] = []
    store: UUID | None = None
    customer_count: Annotated[int, msgspec.Meta(ge=0, le=9999)] | None = None
    signer: Annotated[str, msgspec.Meta(max_length=120)] = ""
    unsigned: Note = ""
    signature: Sha256 | None = None
    shown: Sha256 | None = None
    note: Note = ""
    photos: Photos = []


class Trailer1(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A whole trailer taken from a yard, closed: its number and its seal as they stand on it.
    left: the number of the one that was left in its place."""

    number: Annotated[str, msgspec.Meta(min_length=1, max_length=40)]
    seal: Short = ""
    left: Short = ""


class FinishPickup4(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """custody.finish_pickup: the visit is over. As version 3, and: trailer: a trailer that was
    taken closed; its casings are labelled where it is emptied and are on no list yet, the
    customer's count is all there is. nobody_there: nobody of the customer's was at hand to sign or
    count. signed_in: the language of the list that was signed. deposit_cents: what was left as a
    deposit at a counter, in the dealer's currency; deposit_note: how, or the number of its slip."""

    pickup: UUID
    yard: UUID
    casings: Annotated[list[UUID], msgspec.Meta(max_length=500)] = []
    scrap: Annotated[list[UUID], msgspec.Meta(max_length=100)] = []
    left: Annotated[list[UUID], msgspec.Meta(max_length=500)] = []
    store: UUID | None = None
    customer_count: Annotated[int, msgspec.Meta(ge=0, le=9999)] | None = None
    trailer: Trailer1 | None = None
    nobody_there: bool = False
    signer: Annotated[str, msgspec.Meta(max_length=120)] = ""
    signed_in: Told = ""
    unsigned: Note = ""
    signature: Sha256 | None = None
    shown: Sha256 | None = None
    deposit_cents: Annotated[int, msgspec.Meta(ge=1, le=10_000_000)] | None = None
    deposit_note: Short = ""
    note: Note = ""
    photos: Photos = []


class FinishPickup5(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """custody.finish_pickup: the visit is over. As version 4, and: refused: somebody was there and
    would not sign. receipt_key: opens this visit's receipt to who has it."""

    pickup: UUID
    yard: UUID
    casings: Annotated[list[UUID], msgspec.Meta(max_length=500)] = []
    scrap: Annotated[list[UUID], msgspec.Meta(max_length=100)] = []
    left: Annotated[list[UUID], msgspec.Meta(max_length=500)] = []
    store: UUID | None = None
    customer_count: Annotated[int, msgspec.Meta(ge=0, le=9999)] | None = None
    trailer: Trailer1 | None = None
    nobody_there: bool = False
    signer: Annotated[str, msgspec.Meta(max_length=120)] = ""
    signed_in: Told = ""
    refused: Refused = ""
    unsigned: Note = ""
    signature: Sha256 | None = None
    shown: Sha256 | None = None
    deposit_cents: Annotated[int, msgspec.Meta(ge=1, le=10_000_000)] | None = None
    deposit_note: Short = ""
    receipt_key: ReceiptKey = ""
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


class FinishDelivery3(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """custody.finish_delivery: the visit is over. As version 2, and: nobody_there, signed_in: as of
    a pickup."""

    delivery: UUID
    yard: UUID
    casings: Annotated[list[UUID], msgspec.Meta(min_length=1, max_length=500)]
    store: UUID | None = None
    nobody_there: bool = False
    signer: Annotated[str, msgspec.Meta(max_length=120)] = ""
    signed_in: Told = ""
    unsigned: Note = ""
    signature: Sha256 | None = None
    shown: Sha256 | None = None
    note: Note = ""
    photos: Photos = []


class FinishDelivery4(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """custody.finish_delivery: the visit is over. As version 3, and: refused: as of a pickup."""

    delivery: UUID
    yard: UUID
    casings: Annotated[list[UUID], msgspec.Meta(min_length=1, max_length=500)]
    store: UUID | None = None
    nobody_there: bool = False
    signer: Annotated[str, msgspec.Meta(max_length=120)] = ""
    signed_in: Told = ""
    refused: Refused = ""
    unsigned: Note = ""
    signature: Sha256 | None = None
    shown: Sha256 | None = None
    note: Note = ""
    photos: Photos = []


class FinishDelivery5(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """custody.finish_delivery: the visit is over. As version 4, and: receipt_key: opens this
    visit's receipt to who has it."""

    delivery: UUID
    yard: UUID
    casings: Annotated[list[UUID], msgspec.Meta(min_length=1, max_length=500)]
    store: UUID | None = None
    nobody_there: bool = False
    signer: Annotated[str, msgspec.Meta(max_length=120)] = ""
    signed_in: Told = ""
    refused: Refused = ""
    unsigned: Note = ""
    signature: Sha256 | None = None
    shown: Sha256 | None = None
    receipt_key: ReceiptKey = ""
    note: Note = ""
    photos: Photos = []
