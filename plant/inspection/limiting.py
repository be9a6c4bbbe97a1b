"""The repair limits of a plant as its devices and pages are given them: what it entered, and beside
that the published figures, which never count."""

from collections.abc import Sequence
from typing import Any
from uuid import UUID

from plant.dock import queries as dock
from plant.dock.models import RepairLimit
from plant.inspection.limits import NEVER_KINDS, REFERENCES
from plant.inspection.rules import NEVER_RELEASED


def bodies(uids: Sequence[UUID]) -> dict[UUID, dict[str, Any]]:
    """Limits as the feed gives them to the devices of their plants, by the plant's uid."""
    rows, versions = dock.repair_limits(uids), dock.limits_versions(uids)
    return {
        uid: {
            "uid": str(uid),
            "limits": [_row(row) for row in rows if row.plant_id == uid] + _REFERENCES,
            "never_released": sorted(NEVER_RELEASED),
            "never_kinds": list(NEVER_KINDS),
            "version": versions.get(uid, 0),
        }
        for uid in uids
    }


def _row(row: RepairLimit) -> dict[str, Any]:
    return {
        "zone": row.zone,
        "kind": row.kind,
        "size_class": row.size_class,
        "most_mm": row.most_mm,
        "most_count": row.most_count,
        "source": row.chart,
        "entered_by": str(row.entered_by),
        "active": True,
    }


_REFERENCES: list[dict[str, Any]] = [
    {
        "zone": one.zone,
        "kind": one.kind,
        "size_class": one.size_class,
        "most_mm": one.most_mm,
        "most_count": one.most_count,
        "source": one.source,
        "entered_by": "",
        "active": False,
    }
    for one in REFERENCES
]
