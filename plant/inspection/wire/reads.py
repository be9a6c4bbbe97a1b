"""What a plant's system reads: casings inside the plant, one of them, what changed. Pure.

Moments are RFC 3339 in UTC; lengths in millimetres; a list is empty where nothing was told.
"""

from datetime import datetime
from typing import Literal
from uuid import UUID

import msgspec

from plant.inspection.wire.events import StationEvent
from plant.inspection.wire.parts import Built, Measured

PAGE = 200
Stage = Literal["in_work", "repair", "on_hold", "rejected", "finished", "shipped"]


class FindingTold(msgspec.Struct):
    """One thing found; done: a pass where injuries are repaired came after it."""

    event: UUID
    at: datetime
    station: str
    zone: str
    side: str
    kind: str
    size_mm: float | None
    count: int
    action: str
    photos: list[str]
    done: bool


class HoldTold(msgspec.Struct):
    """A hold that stands; by: the operator's code, or the id of a person on a tablet. releasable:
    a `released` ends it; one that is not is decided about on the plant's pages."""

    event: UUID
    at: datetime
    station: str
    note: str
    by: str
    releasable: bool = True


class RejectionTold(msgspec.Struct):
    """A rejection that stands; one that is not releasable no release undoes."""

    event: UUID
    at: datetime
    station: str
    reason: str
    cause: str
    zone: str
    note: str
    releasable: bool


class MachineTold(msgspec.Struct):
    """A machine that it was on."""

    station: str
    machine: str


class LotTold(msgspec.Struct):
    """Material that went into it."""

    kind: str
    number: str
    station: str


class DifferenceTold(msgspec.Struct):
    """What final inspection found otherwise than ordered; a release of `event` lets it pass."""

    event: UUID
    field: str
    why: str
    ordered: str
    found: str


class EventTold(msgspec.Struct):
    """One event in a line."""

    event: UUID
    at: datetime
    station: str
    outcome: str


class Wanted(msgspec.Struct):
    """What was ordered, for whom, and the day promised. rush: it goes first at each station."""

    work: str
    basis: str
    tread_design: str
    fleet_brand: str
    purchase_order: str
    unit: str
    size: str
    tin: str
    rating: str
    note: str
    owner: str
    promised: str | None
    rush: bool


class PlantWork(msgspec.Struct):
    """One casing inside a plant.

    labels: all that name it; label: the one that it wears. station: where it was seen last; next:
    where the route sends it. passed: stations that told of it in this round; not_scanned: those
    that it must have passed. wanted: null where the label is not known or contested.
    """

    uid: UUID
    label: str
    labels: list[str]
    stage: Stage
    station: str
    next: str
    entered_at: datetime
    seen_at: datetime
    passed: list[str]
    not_scanned: list[str]
    findings: list[FindingTold]
    holds: list[HoldTold]
    rejections: list[RejectionTold]
    reworks: int
    again_at: str
    envelope: str
    load: str
    loads: list[str]
    machines: list[MachineTold]
    lots: list[LotTold]
    measured: Measured
    built: Built | None
    differences: list[DifferenceTold]
    wanted: Wanted | None
    contested: bool
    last: list[EventTold]
    version: int


class WorkPage(msgspec.Struct):
    """Casings inside the plant; `cursor` asks for those after them, null where there are none."""

    work: list[PlantWork]
    cursor: str | None


class CasingTold(msgspec.Struct):
    """What this plant has told of the casing under a label, in the order of its clocks."""

    label: str
    labels: list[str]
    work: PlantWork | None
    events: list[StationEvent]


class Changed(msgspec.Struct):
    """A casing that changed. work: as it is now; null where it is no longer one by itself, since
    another label turned out to name the same casing or all that was told was taken back."""

    uid: UUID
    work: PlantWork | None


class Changes(msgspec.Struct):
    """What changed after a cursor. Keep `cursor`, and ask at once again while `more` is true."""

    changes: list[Changed]
    cursor: str
    more: bool


class ReasonSaid(msgspec.Struct):
    """Why a casing is rejected: its code, where it shows most often, its words for a fleet manager,
    the published source; releasable: whether a `released` undoes it."""

    code: str
    shows_at: str
    en: str
    es: str
    source: str
    releasable: bool


class Said(msgspec.Struct):
    """A code with its words."""

    code: str
    en: str
    es: str


class Catalogue(msgspec.Struct):
    """What `rejected` may name, and the zones of a finding. Codes are for ever."""

    reasons: list[ReasonSaid]
    causes: list[Said]
    zones: list[Said]
