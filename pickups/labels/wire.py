"""What a store's device and the server say to each other about printed labels. Pure."""

from typing import Annotated, Literal
from uuid import UUID

import msgspec

from pickups.kernel.wire import whole
from pickups.labels.rules import LENGTH, SYMBOLS

AT_ONCE = 100
"""How many labels a device is given, or has drawn, at once."""

_LABEL = whole(
    f"[{SYMBOLS}]{{{LENGTH}}}",
    "a label: eight symbols, digits and capital letters, without G I O Q S Z",
)
Printed = Annotated[str, msgspec.Meta(pattern=_LABEL, examples=["K7000Y02"])]


class RollRequest(msgspec.Struct, forbid_unknown_fields=True):
    """New labels for the device's store. `id` is made by the device: the same id is answered with
    the same labels, so that a lost answer costs none."""

    id: UUID
    count: Annotated[int, msgspec.Meta(ge=1, le=AT_ONCE)]


class RollPrinted(msgspec.Struct):
    """The labels of the roll, in the order of their serials; and who the dealer is, as labels and
    tickets say it."""

    labels: list[str]
    dealer: str
    phone: str


class PrintRequest(msgspec.Struct, forbid_unknown_fields=True):
    """Labels to be drawn, twins of each, in this order. They were printed for the device's store.

    stock: "roll" of 100 x 50 mm labels, or "sheet" of letter paper to be cut.
    """

    labels: Annotated[list[Printed], msgspec.Meta(min_length=1, max_length=AT_ONCE)]
    stock: Literal["roll", "sheet"] = "roll"
