"""Reads: what is missing in a plant, and which casings lie there without a label."""

from collections.abc import Iterable
from datetime import date
from typing import Any
from uuid import UUID

from pickups.casings import queries as casings
from pickups.casings import tin
from pickups.casings.models import WorkOrder
from pickups.casings.rules import Progress
from pickups.custody import queries as custody
from plant.dock import queries as dock
from plant.unlabelled.models import Unlabelled
from plant.unlabelled.rules import Candidate, Missing, Seen, candidates

_INSIDE = frozenset({Progress.RECEIVED, Progress.IN_WORK, Progress.REJECTED, Progress.FINISHED})


def waiting(plant: UUID) -> list[Unlabelled]:
    """Those that nobody has recognised yet, oldest first."""
    return list(Unlabelled.objects.filter(plant=plant, settled_at=None).order_by("found_at"))


def one(plant: UUID, uid: UUID) -> Unlabelled | None:
    """One of a plant's, recognised or not."""
    return Unlabelled.objects.filter(plant=plant, uid=uid).first()


def alike(found: Unlabelled, *, on: date) -> tuple[Candidate, ...]:
    """What it may be, the likeliest first: among all that the plant holds and has not sent out."""
    seen = Seen(found.size, found.brand, found.date_code, found.tread_32nds, found.station)
    held = casings.held_by(f"plant:{found.plant_id}")
    inside = [w for w in held if w.progress in _INSIDE and not w.contested]
    return candidates(seen, _missing(inside, on), dock.codes(found.plant_id))


def _missing(orders: Iterable[WorkOrder], on: date) -> list[Missing]:
    orders = list(orders)
    seen_at = custody.last_told(w.uid for w in orders)
    return [
        Missing(
            work_order=w.uid,
            label=w.label,
            size=w.told.get("size", ""),
            brand=w.told.get("brand", ""),
            date_codes=_date_codes(w.told, on),
            tread_32nds=_shallowest(w.told),
            station=w.station,
            seen_at=seen_at.get(w.uid, w.picked_up_at),
        )
        for w in orders
    ]


def _date_codes(told: dict[str, Any], on: date) -> frozenset[str]:
    texts = [one["tin"] for one in told.get("tins", [])] or [told.get("tin", "")]
    readings = [tin.read(text, on) for text in texts if text]
    return frozenset(c.digits for r in readings for c in r.candidates if len(c.digits) == 4)


def _shallowest(told: dict[str, Any]) -> int | None:
    places = told.get("treads_32nds") or [told.get("tread_32nds") or []]
    depths = [depth for place in places for depth in place if depth is not None]
    return min(depths) if depths else None
