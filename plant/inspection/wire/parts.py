"""The parts of what is told at a station, the same from a system and from a tablet. Pure.

Lengths in whole or broken millimetres, as gauges give them; pressures and temperatures belong to
the cure load and are not told of a casing.
"""

from typing import Annotated, Literal

import msgspec

from pickups.custody.wire import Photos
from pickups.kernel.wire import whole
from plant.dock.rules import DEFAULT_ROUTE

Word = Annotated[str, msgspec.Meta(min_length=1, max_length=40)]
Number = Annotated[str, msgspec.Meta(max_length=40)]
"""A number that a plant or a supplier gave, as it is written; empty where there is none."""
_STATION = whole("[a-z0-9][a-z0-9-]*", "the code of a station: small letters, digits, hyphens")
Station = Annotated[
    str,
    msgspec.Meta(pattern=_STATION, max_length=40, examples=list(DEFAULT_ROUTE)),
]
Zone = Literal["crown", "shoulder", "sidewall", "bead", "inner_liner"]
Side = Literal["", "serial", "other"]
Happened = Literal[
    "received",
    "passed",
    "repair",
    "rejected",
    "hold",
    "released",
    "finished",
    "shipped",
    "withdrawn",
]
_OPERATOR = whole(
    "[A-Za-z0-9._-]{0,20}", "the plant's own number or short code for the person, never a name"
)
Operator = Annotated[str, msgspec.Meta(pattern=_OPERATOR)]
Cause = Literal["casing", "plant", "road_or_dock", "customer"]
Material = Literal["cushion_gum", "tread", "repair_unit", "repair_gum", "cement"]


class Finding(msgspec.Struct, forbid_unknown_fields=True):
    """What was found, in which zone and on which side; size in millimetres, across its longest.

    action: what was done about it, or is to be done, in the plant's own words.
    """

    zone: Zone
    kind: Word
    size_mm: Annotated[float, msgspec.Meta(ge=0, le=5000)] | None = None
    count: Annotated[int, msgspec.Meta(ge=1, le=99)] = 1
    action: Annotated[str, msgspec.Meta(max_length=80)] = ""
    photos: Photos = []
    side: Side = ""


class Lot(msgspec.Struct, forbid_unknown_fields=True):
    """Material that went into a casing: what it is, and the number its supplier gave the lot."""

    kind: Material
    number: Word


_Wide = Annotated[float, msgspec.Meta(ge=50, le=700)]
_Round = Annotated[float, msgspec.Meta(ge=1000, le=6000)]


class Measured(msgspec.Struct, forbid_unknown_fields=True):
    """What a gauge said of a casing or of the tread laid on it.

    circumference_mm, crown_width_mm, buffed_radius_mm: of the buffed casing. texture: of the buffed
    surface, on the numbered scale of the plant's own samples. tread_width_mm, tread_length_mm: of
    the tread as it was cut.
    """

    circumference_mm: _Round | None = None
    crown_width_mm: _Wide | None = None
    buffed_radius_mm: Annotated[float, msgspec.Meta(ge=100, le=2000)] | None = None
    texture: Annotated[float, msgspec.Meta(ge=0, le=10)] | None = None
    tread_width_mm: _Wide | None = None
    tread_length_mm: _Round | None = None


class Built(msgspec.Struct, forbid_unknown_fields=True):
    """What final inspection reads off the finished tire, to be held against its order.

    retread_tin: as it was branded, 49 CFR 574.5: plant code of three symbols, week and year last.
    caps: how often it is retreaded now, this time counted; None where nobody can say.
    """

    tread_design: Annotated[str, msgspec.Meta(max_length=60)] = ""
    fleet_brand: Annotated[str, msgspec.Meta(max_length=40)] = ""
    retread_tin: Annotated[str, msgspec.Meta(max_length=24)] = ""
    caps: Annotated[int, msgspec.Meta(ge=1, le=20)] | None = None
