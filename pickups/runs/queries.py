"""Reads of runs: load sheets as devices see them."""

from collections.abc import Sequence
from typing import Any
from uuid import UUID

from django.db.models import Prefetch

from pickups.runs.models import Run, Stop


def bodies(uids: Sequence[UUID]) -> dict[UUID, dict[str, Any]]:
    """Runs as the feed gives them to a device."""
    stops = Stop.objects.order_by("place").prefetch_related("drops")
    rows = Run.objects.filter(uid__in=list(uids)).select_related("driver")
    return {r.uid: _body(r) for r in rows.prefetch_related(Prefetch("stops", stops))}


def _body(r: Run) -> dict[str, Any]:
    return {
        "on": r.on.isoformat(),
        "kind": r.kind,
        "state": r.state,
        "driver": str(r.driver.uid) if r.driver else None,
        "vehicle": r.vehicle,
        "note": r.note,
        "start": str(r.start_id),
        "stops": [
            {
                "uid": str(s.uid),
                "yard": str(s.yard_id) if s.yard_id else None,
                "site": str(s.site_id) if s.site_id else None,
                "from": f"{s.from_time:%H:%M}" if s.from_time else None,
                "to": f"{s.to_time:%H:%M}" if s.to_time else None,
                "fetch": s.fetch,
                "note": s.note,
                "drop": sorted(str(d.work_order) for d in s.drops.all()),
            }
            for s in r.stops.all()
        ],
    }
