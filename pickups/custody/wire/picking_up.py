"""custody.pick_up and what takes one back, by version. Pure."""

from datetime import datetime
from typing import Annotated, Literal
from uuid import UUID

import msgspec

from pickups.custody.wire.common import (
    Day,
    Label,
    Note,
    Original,
    Photos,
    Reason,
    Short,
    Thirtyseconds,
    on_day,
)
from pickups.custody.wire.seen import Check1, Findings, Tins
from pickups.kernel.wire import Fault, Malformed, instant


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


Line = Literal["retread", "repair", "sell", "adjustment", "wheel_tire", "wheel"]
"""What kind of thing is taken: a casing to retread, to repair only, to sell to the dealer, a
failed retread with a claim for adjustment, a wheel with its tire, a loose wheel."""
Position = Literal["", "steer", "drive", "trailer", "bus_front"]
PulledFor = Literal[
    "", "worn", "irregular_wear", "puncture", "damage", "vibration", "age", "program", "other"
]


class Sale1(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What is offered for a casing; it is the customer's until somebody entitled accepts.

    cents: of the dealer's currency; none: after inspection. pays: money, or credit on casings.
    """

    grade: Short = ""
    cents: Annotated[int, msgspec.Meta(ge=0, le=10_000_000)] | None = None
    pays: Literal["price", "credit"] = "price"


class PickUp3(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """custody.pick_up: one thing taken off a yard, or in over a store's counter.

    As version 2, and: line: what kind of thing. tins: birth and each retread, as read. rating:
    load range and service description as they stand on the sidewall. brand: its maker's brand.
    treads_32nds: depths in 1/32 inch by place round the tire and groove across it, null where a
    groove was not read. position, wheel, unit, odometer: where it ran, as the customer says.
    pulled_for: why it was pulled. findings, check: its condition and the spec check shown.
    fleet_brand: to be branded on. sale: of a casing to sell. complaint: of a claim. rim, valve_out:
    of a wheel; that the valve core is out.
    """

    pickup: UUID
    yard: UUID
    label: Label
    line: Line = "retread"
    store: UUID | None = None
    tins: Tins = []
    size: Annotated[str, msgspec.Meta(max_length=24)] = ""
    rating: Short = ""
    brand: Short = ""
    treads_32nds: Annotated[
        list[Annotated[list[Thirtyseconds | None], msgspec.Meta(max_length=12)]],
        msgspec.Meta(max_length=6),
    ] = []
    position: Position = ""
    wheel: Short = ""
    unit: Short = ""
    odometer: Annotated[int, msgspec.Meta(ge=0, le=9_999_999)] | None = None
    odometer_in: Literal["mi", "km"] = "mi"
    pulled_for: PulledFor = ""
    findings: Findings = []
    check: Check1 | None = None
    work: Work = "retread"
    basis: Basis = "own"
    tread_design: Short = ""
    fleet_brand: Short = ""
    purchase_order: Short = ""
    back_to: BackTo = "yard"
    promised: Promised1 | None = None
    sale: Sale1 | None = None
    complaint: Note = ""
    rim: Literal["", "steel", "aluminum"] = ""
    valve_out: bool = False
    note: Note = ""
    photos: Photos = []
    corrects: Original | None = None


class Ahead1(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Where casings waited at the plant when the forecast was made: a station's name in English
    and Spanish, and how many."""

    name: Annotated[str, msgspec.Meta(max_length=80)]
    name_es: Annotated[str, msgspec.Meta(max_length=80)]
    count: Annotated[int, msgspec.Meta(ge=1, le=99_999)]


class Promised2(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The day that was promised at the tailgate or the counter.

    As version 1, and: basis "forecast" where the day is of the plants' forecast, made at
    `forecast_at` and asked for with `confidence` percent; ahead: what was said of why.
    """

    on: Day
    basis: Literal["forecast", "standard_time", "by_hand"]
    offered: Day | None = None
    table: Annotated[int, msgspec.Meta(ge=1)] | None = None
    confidence: Annotated[int, msgspec.Meta(ge=50, le=99)] | None = None
    forecast_at: Annotated[datetime, msgspec.Meta(tz=True)] | None = None
    ahead: Annotated[list[Ahead1], msgspec.Meta(max_length=3)] = []

    def __post_init__(self) -> None:
        """Days are days, and a forecast says when it was made and how sure it is."""
        for field, day in (("on", self.on), ("offered", self.offered)):
            if day is not None:
                on_day(day, field)
        if self.forecast_at is not None:
            at = instant(self.forecast_at, "forecast_at")
            msgspec.structs.force_setattr(self, "forecast_at", at)
        if self.basis == "forecast":
            needed = {"confidence": self.confidence, "forecast_at": self.forecast_at}
            for field, value in needed.items():
                if value is None:
                    allowed = "a value where `basis` is forecast"
                    raise Malformed(Fault(field, "null", allowed))


class PickUp4(PickUp3, frozen=True, forbid_unknown_fields=True):
    """custody.pick_up: one thing taken off a yard, or in over a store's counter.

    As version 3, and: promised says on what basis. dual_with: the label of the other casing of a
    pair of matched duals; both are wanted back together.
    """

    promised: Promised2 | None = None  # type: ignore[assignment]
    dual_with: Label | None = None


class Withdraw1(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """custody.withdraw: an earlier pick_up was entered by mistake; why is kept."""

    pickup: UUID
    withdraws: Original
    reason: Reason
