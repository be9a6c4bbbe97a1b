"""What is told at a plant's stations, by its systems or on its tablets. Pure."""

from plant.inspection.wire.events import (
    BATCH,
    EventAnswer,
    EventAnswers,
    StationEvent,
    StationEvents,
)
from plant.inspection.wire.parts import (
    Built,
    Cause,
    Finding,
    Happened,
    Lot,
    Measured,
    Operator,
    Station,
    Word,
    Zone,
)
from plant.inspection.wire.tells import Tell1

__all__ = (
    "BATCH",
    "Built",
    "Cause",
    "EventAnswer",
    "EventAnswers",
    "Finding",
    "Happened",
    "Lot",
    "Measured",
    "Operator",
    "Station",
    "StationEvent",
    "StationEvents",
    "Tell1",
    "Word",
    "Zone",
)
