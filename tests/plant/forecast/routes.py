"""A small plant of the usual kind, as it would be entered: for tests of what is made of it."""

from datetime import UTC, datetime, time
from typing import Any
from zoneinfo import ZoneInfo

from plant.dock.rules import Shift
from plant.forecast.laid_out import Entered, Figures, Known, Oven, Stop
from plant.forecast.whereabouts import Inside

ZONE = ZoneInfo("America/Chicago")
MONDAY = datetime(2026, 4, 20, 13, tzinfo=UTC)
"""Monday, eight in the morning there."""

STOPS = (
    Stop("receiving"),
    Stop("cleaning", scans=False, cycle_min=30),
    Stop("initial-inspection", cycle_min=12),
    Stop("repair", optional=True, cycle_min=30),
    Stop("building", machines=2, cycle_min=20),
    Stop("curing", scans=False),
    Stop("final-inspection", cycle_min=15),
    Stop("paint", cycle_min=10),
    Stop("shipping"),
)
WEEKDAYS = tuple(Shift(day, time(6), time(22)) for day in range(5))


def entered(*stops: Stop, **more: Any) -> Entered:
    """A plant with these stations, else STOPS; one chamber of ten, two shifts on five days."""
    told: dict[str, Any] = {
        "stops": stops or STOPS,
        "ovens": (Oven("A", 10, 120, max_wait_min=60),),
        "shifts": WEEKDAYS,
        "holidays": frozenset(),
        "rework_limit": 2,
        "zone": ZONE,
    }
    return Entered(**(told | more))


def known(**figures: Figures) -> Known:
    """What was learned, by code with _ for -."""
    return Known(figures={code.replace("_", "-"): one for code, one in figures.items()})


def casing(label: str, *passed: str, seen_h: float = -1.0, **more: Any) -> Inside:
    """A casing that is done with these stations; next: the one behind, unless it is said."""
    told: dict[str, Any] = {"stage": "in_work", "next": "", "again_at": ""}
    return Inside(label=label, passed=passed, seen_h=seen_h, **(told | more))
