"""What was done and what ended, counted from stations' events.

A casing that was bound to a tag at its end is the tag's from then on, so it is counted once under
either.
"""

from collections.abc import Iterable
from datetime import datetime
from uuid import UUID

from plant.floor.figures import Ended
from plant.inspection import daily
from plant.inspection.daily import Told

THROUGH = ("received", "passed", "finished", "shipped")
"""Outcomes after which a casing is done with at a station."""


def done_at(events: Iterable[Told], begin: datetime) -> dict[str, int]:
    """How many casings were told as done at each station since then."""
    found: dict[str, set[str]] = {}
    for one in events:
        if one.outcome in THROUGH and one.happened_at >= begin:
            found.setdefault(one.station, set()).add(one.label)
    return {station: len(labels) for station, labels in found.items()}


def finished(events: Iterable[Told], begin: datetime) -> int:
    """How many casings were told as finished since then."""
    return len({e.label for e in events if e.outcome == "finished" and e.happened_at >= begin})


def reasons(events: Iterable[Told]) -> list[tuple[str, int]]:
    """Why casings were rejected, the most frequent first: code and how many casings."""
    found: dict[str, set[str]] = {}
    for one in events:
        if one.outcome == "rejected":
            found.setdefault(one.reason or "", set()).add(one.label)
    return sorted(((c, len(labels)) for c, labels in found.items()), key=lambda p: (-p[1], p[0]))


def ended(plant: UUID, events: Iterable[Told]) -> list[Ended]:
    """The casings that ended in these events, with all that had happened to each before."""
    last: dict[str, bool] = {}
    names: dict[str, set[str]] = {}
    for one in events:
        if one.outcome in ("finished", "rejected"):
            worn = one.tag or one.label
            last[worn] = one.outcome == "finished"
            names.setdefault(worn, set()).update({one.label, worn})
    told = daily.turned_back(plant, {name for known in names.values() for name in known})
    again = {e.label for e in told if e.outcome == "repair" and e.again_at}
    rejected = {e.label for e in told if e.outcome == "rejected"}
    return [
        Ended(
            finished=done,
            again=not again.isdisjoint(names[worn]),
            rejected=not rejected.isdisjoint(names[worn]),
        )
        for worn, done in last.items()
    ]
