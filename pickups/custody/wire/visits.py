"""The ends of visits: pickups and deliveries, by version. Pure."""

from typing import Annotated
from uuid import UUID

import msgspec

from pickups.custody.wire.common import Note, Photos, Sha256


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
