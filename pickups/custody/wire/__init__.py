"""Payloads of the operations that custody takes from a device, a struct a kind and version. Pure.

A published struct never changes: a new field is a new version beside the old one.
"""

from pickups.custody.wire.common import Day, Holder, Label, Note, Original, Photos, Sha256, on_day
from pickups.custody.wire.handing import Deliver1, Deliver2, HandOver1
from pickups.custody.wire.labels import Relabel1
from pickups.custody.wire.picking_up import (
    BackTo,
    Basis,
    Line,
    PickUp1,
    PickUp2,
    PickUp3,
    PickUp4,
    Promised1,
    Promised2,
    Sale1,
    Withdraw1,
    Work,
)
from pickups.custody.wire.reminding import Remind1
from pickups.custody.wire.seen import Check1, Finding1, Tin1
from pickups.custody.wire.trailers import EmptyTrailer1
from pickups.custody.wire.visit_lines import CountScrap1, LeaveHere1
from pickups.custody.wire.visits import (
    FinishDelivery1,
    FinishDelivery2,
    FinishDelivery3,
    FinishDelivery4,
    FinishDelivery5,
    FinishPickup1,
    FinishPickup2,
    FinishPickup3,
    FinishPickup4,
    FinishPickup5,
    Trailer1,
)

__all__ = (
    "BackTo", "Basis", "Check1", "CountScrap1", "Day", "Deliver1", "Deliver2", "EmptyTrailer1",
    "Finding1", "FinishDelivery1", "FinishDelivery2", "FinishDelivery3", "FinishDelivery4",
    "FinishDelivery5", "FinishPickup1", "FinishPickup2", "FinishPickup3", "FinishPickup4",
    "FinishPickup5", "HandOver1", "Holder", "Label", "LeaveHere1", "Line", "Note", "Original",
    "Photos", "PickUp1", "PickUp2", "PickUp3", "PickUp4", "Promised1", "Promised2", "Relabel1",
    "Remind1", "Sale1", "Sha256", "Tin1", "Trailer1", "Withdraw1", "Work", "on_day",
)  # fmt: skip
