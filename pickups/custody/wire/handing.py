"""Hand-overs on the way, and casings handed back, by version. Pure."""

from typing import Literal
from uuid import UUID

import msgspec

from pickups.custody.wire.common import Holder, Label, Note, Photos


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


class Deliver2(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """custody.deliver: one casing handed back to its owner. As version 1, and: store: the counter
    at which it was fetched, none in a yard."""

    delivery: UUID
    yard: UUID
    label: Label
    store: UUID | None = None
    note: Note = ""
    photos: Photos = []
