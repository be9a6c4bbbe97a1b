"""What was told of a casing, as pages and the feed list it: plain values, empty ones left in so
that every list has one shape. Pure.
"""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import msgspec

from plant.inspection.ordering import Difference

if TYPE_CHECKING:
    from plant.inspection.fold import Event


def _head(event: "Event") -> dict[str, Any]:
    return {"event": str(event.uid), "at": event.at, "station": event.station}


def findings(event: "Event") -> list[dict[str, Any]]:
    """What was found, each by itself."""
    return [
        _head(event)
        | {"zone": f.zone, "side": f.side, "kind": f.kind, "size_mm": f.size_mm, "count": f.count,
           "action": f.action, "photos": list(f.photos)}
        for f in event.told.findings
    ]  # fmt: skip


def hold(event: "Event", releasable: bool) -> dict[str, Any]:
    """A hold, who set it, and whether a station may release it."""
    return _head(event) | {"note": event.told.note, "by": event.by, "releasable": releasable}


def rejection(event: "Event", releasable: bool) -> dict[str, Any]:
    """A rejection with its reason, whose doing it is, and whether it may be released at all."""
    told = event.told
    zone = told.findings[0].zone if told.findings else ""
    return _head(event) | {"reason": told.reason, "cause": told.cause or "", "zone": zone,
                           "note": told.note, "releasable": releasable}  # fmt: skip


def brief(event: "Event") -> dict[str, Any]:
    """One event in a line."""
    return _head(event) | {"outcome": event.outcome}


def machines(events: Sequence["Event"]) -> list[dict[str, str]]:
    """Which machines it was on, each once, in the order of time."""
    seen = {(e.station, e.told.machine): None for e in events if e.told.machine}
    return [{"station": station, "machine": machine} for station, machine in seen]


def lots(events: Sequence["Event"]) -> list[dict[str, str]]:
    """What material of which lot went into it, each once, in the order of time."""
    seen = {(lot.kind, lot.number, e.station): None for e in events for lot in e.told.lots}
    return [{"kind": kind, "number": n, "station": station} for kind, n, station in seen]


def measured(events: Sequence["Event"]) -> dict[str, float]:
    """The last figure of each gauge, by its name."""
    found: dict[str, float] = {}
    for event in events:
        if event.told.measured is not None:
            figures = msgspec.structs.asdict(event.told.measured)
            found |= {name: value for name, value in figures.items() if value is not None}
    return found


def built(event: "Event | None") -> dict[str, Any] | None:
    """What final inspection read, where it did."""
    if event is None or event.told.built is None:
        return None
    return msgspec.structs.asdict(event.told.built)


def difference(event: "Event", d: Difference) -> dict[str, str]:
    """One thing that is not as ordered, by the event that found it and that a release names."""
    return {"event": str(event.uid), "field": d.field.value, "why": d.why.value,
            "ordered": d.ordered, "found": d.found}  # fmt: skip
