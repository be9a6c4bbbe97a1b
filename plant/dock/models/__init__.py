"""Tables of the dock: a plant's route, its calendar, what it entered from papers, trucks' lists."""

from plant.dock.models.calendar import Calendar, Holiday, Shift, StandardTime
from plant.dock.models.route import Chamber, Route, Station
from plant.dock.models.sheets import RepairLimit, TreadTarget
from plant.dock.models.trucks import Consignment, Count

__all__ = (
    "Calendar", "Chamber", "Consignment", "Count", "Holiday", "RepairLimit", "Route", "Shift",
    "StandardTime", "Station", "TreadTarget",
)  # fmt: skip
