"""Whether one station event undoes another that it names. Pure.

A rule over the two events alone: what else arrives, and when, changes nothing of it, so that the
fold and the custody ledger always agree. What undoes nothing is kept as told, and asked about.
"""

from typing import TYPE_CHECKING

from plant.inspection.rules import NEVER_RELEASED

if TYPE_CHECKING:
    from plant.inspection.fold import Event

_DECIDED = frozenset({"hold", "released", "rejected", "repair"})
"""Holds of the plant's own pages (a load that fell short, a claim's evidence, worked too often)
and what was decided there about them."""


def may_be_released(event: "Event") -> bool:
    """Whether a release from a station undoes this event."""
    if event.outcome == "hold":
        return not event.inner
    return event.outcome == "rejected" and event.told.reason not in NEVER_RELEASED


def undoes(event: "Event", named: "Event") -> bool:
    """Whether a release or a withdrawal takes away what the event says that it names."""
    if event.outcome == "released":
        if named.outcome == "hold" and event.inner:
            return True
        read = named.told.built is not None and named.outcome not in ("hold", "rejected")
        return may_be_released(named) or read
    if event.outcome != "withdrawn" or named.outcome == "withdrawn":
        return False
    if named.inner and named.outcome in _DECIDED:
        return event.inner
    if named.outcome == "rejected" and named.told.reason in NEVER_RELEASED:
        return event.station == named.station and bool(event.by) and event.by == named.by
    return True


def means_nothing(event: "Event", named: "Event") -> bool:
    """Whether it names what cannot be released, or a withdrawal, which is for good."""
    stops = named.outcome in ("hold", "rejected")
    kept = named.inner and named.outcome in _DECIDED
    return not (stops or kept or undoes(event, named))
