"""What a person saw of a casing: TINs, condition, the spec check that was shown. Pure.

The codes are those of `casings.condition` and `casings.eligibility`; on the wire they are closed
lists, so that a slip of the client is named and not kept.
"""

from typing import Annotated, Literal
from uuid import UUID

import msgspec

from pickups.custody.wire.common import Sha256, Short


class Tin1(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One TIN of a casing as read off the sidewall; made: at its birth or by a retread (the R
    mark was seen), empty where nobody looked."""

    tin: Annotated[str, msgspec.Meta(min_length=1, max_length=24)]
    made: Literal["", "new", "retread"] = ""


Tins = Annotated[list[Tin1], msgspec.Meta(max_length=8)]
Zone = Literal["crown", "shoulder", "sidewall", "bead", "inner_liner"]
Side = Literal["", "serial", "other"]
"""The side that carries the full TIN, the other one, or not told (a crown has no side)."""
Condition = Literal[
    "nail_hole", "cut", "crack", "bulge", "abrasion", "chunking", "stone_drilling",
    "bead_damage", "liner_damage", "old_nail_repair", "old_spot_repair", "old_section_repair",
    "old_bead_repair", "dot_removed", "other",
    "bead_wire", "cord", "separation", "run_flat", "oil", "heat",
]  # fmt: skip
"""The last six stop a casing at once."""


class Finding1(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One thing seen on the casing. mm: its greatest length; count: how many alike in this zone.
    photos: hashes that stand among the pick_up's own photos too."""

    zone: Zone
    kind: Condition
    side: Side = ""
    mm: Annotated[int, msgspec.Meta(ge=1, le=3000)] | None = None
    count: Annotated[int, msgspec.Meta(ge=1, le=99)] = 1
    photos: Annotated[list[Sha256], msgspec.Meta(max_length=4)] = []


Findings = Annotated[list[Finding1], msgspec.Meta(max_length=24)]


class Check1(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The spec check as the phone showed it. specification, number: by which (none: the customer
    has none). because: codes of the rules that spoke, the gravest first. overruled: why a person
    did otherwise, empty where nobody did."""

    verdict: Literal["take", "plant", "leave"]
    specification: UUID | None = None
    number: Annotated[int, msgspec.Meta(ge=1)] | None = None
    because: Annotated[list[Short], msgspec.Meta(max_length=24)] = []
    overruled: Annotated[str, msgspec.Meta(max_length=500)] = ""
