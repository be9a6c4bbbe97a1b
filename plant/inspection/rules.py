"""What an event of a station has to say to be taken, and what may never be released. Pure.

A rule here names a field; that a gauge reads a likely figure, or that steps come in an order, is
no reason to refuse what has happened.
"""

from collections.abc import Iterator, Sequence

from pickups.casings import reasons
from pickups.kernel.wire import Fault
from plant.inspection.wire import StationEvent

NEVER_RELEASED = frozenset(
    {
        "WIRE_OR_CORD_EXPOSED_IN",
        "CORD_EXPOSED_PROCESS",
        "CORD_EXPOSED_WEAR",
        "SEPARATION",
        "BELT_SEPARATION",
        "SW_SEPARATION",
        "IMPACT_SEPARATION",
        "ZIPPER",
        "SW_CORD_BULGE",
        "BEAD_TEAR",
        "BEAD_KINKED",
        "BEAD_CORE",
        "DOT_REMOVED",
        "RUN_FLAT",
        "CARCASS_BREAKUP",
        "BELT_REMOVED",
    }
)
"""Reasons of a rejection that no release undoes: exposed cord or wire, separation, zipper damage,
damaged beads, and what makes a casing no casing. Common practice, no published source for the list
as a whole. A release of one is kept as told, and a person is asked."""

UNDOING = frozenset({"released", "withdrawn"})
MAY_UNDO = frozenset({"plant", "admin", "dispatcher"})
"""Roles of people who may undo on a tablet what a station told."""


def faults(event: StationEvent, stations: Sequence[str]) -> Iterator[Fault]:
    """What the types of an event leave open and its plant does not allow; `stations` are its own,
    in their order."""
    codes = ", ".join(stations)
    if event.station not in stations:
        yield Fault("station", event.station, codes)
    if (event.outcome == "released") != (event.releases is not None):
        allowed = "the id of a hold or rejection with `released`, and only with it"
        yield Fault("releases", _shown(event.releases), allowed)
    if (event.outcome == "withdrawn") != (event.withdraws is not None):
        allowed = "the id of the event that was a mistake with `withdrawn`, and only with it"
        yield Fault("withdraws", _shown(event.withdraws), allowed)
    if event.outcome == "withdrawn" and not event.note.strip():
        yield Fault("note", event.note, "with `withdrawn` why it was a mistake, in words")
    if event.outcome == "rejected":
        if not reasons.known(event.reason):
            allowed = f"with `rejected` one of {', '.join(reasons.CODES)}"
            yield Fault("reason", event.reason, allowed)
        if event.cause is None:
            yield Fault("cause", "", f"with `rejected` one of {', '.join(reasons.CAUSES)}")
    if event.again_at is not None:
        if event.outcome != "repair":
            allowed = "only with `repair`: the station to which the casing goes back"
            yield Fault("again_at", event.again_at, allowed)
        elif event.again_at not in stations:
            yield Fault("again_at", event.again_at, codes)
    if event.tag == event.label:
        yield Fault("tag", event.label, "another label than the casing wears")


def _shown(value: object) -> str:
    return "" if value is None else str(value)
