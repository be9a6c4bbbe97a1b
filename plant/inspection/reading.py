"""What a plant's system asks for: pages of what is inside, one casing, what changed since.

The answer about a label of which this plant has told nothing is the same whether we know the label
or not. Changes are read from the feed of the plant's tablets, by its cursor: nothing is lost under
writers at the same time, and what is read twice is the same row again.
"""

from typing import Any
from uuid import UUID

import msgspec

from pickups.casings import reasons
from pickups.kernel.wire import Fault, Malformed, shown
from pickups.sync import queries as sync
from pickups.sync.wire import Row
from plant.inspection import queries
from plant.inspection.models import Work
from plant.inspection.rules import NEVER_RELEASED
from plant.inspection.wire import StationEvent
from plant.inspection.wire.reads import (
    CasingTold,
    Catalogue,
    Changed,
    Changes,
    PlantWork,
    ReasonSaid,
    Said,
    WorkPage,
)


def catalogue() -> Catalogue:
    """Every reason, cause and zone, in both languages."""
    return Catalogue(
        [
            ReasonSaid(r.code, r.shows_at, r.en, r.es, r.source, r.code not in NEVER_RELEASED)
            for r in reasons.REASONS
        ],
        [Said(code, said["en"], said["es"]) for code, said in reasons.CAUSES.items()],
        [Said(code, said["en"], said["es"]) for code, said in reasons.ZONES.items()],
    )


def work_page(*, plant: UUID, station: str, cursor: str, limit: int) -> WorkPage:
    """What is inside, `limit` at most. Raises Malformed for a cursor that is not ours."""
    rows = queries.inside(plant, station=station, after=_after(cursor), most=limit)
    more = len(rows) == limit
    return WorkPage(_told(rows), rows[-1].uid.hex if more else None)


def casing(*, plant: UUID, label: str) -> CasingTold:
    """What this plant has told of the casing under a label."""
    events: list[StationEvent] = [e.told for e in queries.told_of(plant, label)]
    work = queries.of_label(plant, label) if events else None
    told = _told([work])[0] if work else None
    return CasingTold(label, told.labels if told else [label], told, events)


def changes(*, plant: UUID, cursor: str, limit: int) -> Changes:
    """What changed after a cursor; all of it after an empty one.

    Raises Problem: epoch_changed or past_horizon, both of which say to begin with an empty cursor;
    Malformed for a cursor that is not ours.
    """
    scope, at, more = [f"site:{plant}"], cursor or None, True
    found: list[Row] = []
    while more and not found:  # the feed of a plant holds other things too
        page = sync.page(scopes=scope, cursor=at, limit=limit)
        found = [row for row in page.rows if row.entity == "plant_work"]
        at, more = page.cursor, page.more
    uids = [UUID(row.id) for row in found]
    # One that has left is gone from the tablets; a system is told that it was shipped.
    known = {told.uid: told for told in _told(list(Work.objects.filter(uid__in=uids)))}
    assert at is not None
    return Changes([Changed(uid, known.get(uid)) for uid in uids], at, more)


def _told(rows: list[Work]) -> list[PlantWork]:
    bodies: list[dict[str, Any]] = list(queries.work_bodies(rows).values())
    return msgspec.convert(bodies, list[PlantWork])


def _after(cursor: str) -> UUID | None:
    try:
        return UUID(hex=cursor) if cursor else None
    except ValueError:
        raise Malformed(Fault("cursor", shown(cursor), "a cursor that this server gave")) from None
