"""What was done and what ended, counted from stations' events.

A casing that was bound to a tag at its end is the tag's from then on, so it is counted once under
either. One whose rejection stands is rejected, whatever was told of it and when; a rejection that
was released is none.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from pickups.custody import queries as custody
from plant.floor.figures import Ended
from plant.inspection import daily
from plant.inspection import queries as inspection
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


@dataclass(frozen=True, slots=True)
class Ends:
    """Casings that were told as finished or rejected, by the label that each wears now: when it was
    finished last, under which labels it was told, and its rejections that stand, each by event."""

    finished: dict[str, datetime]
    names: dict[str, set[str]]
    rejected: dict[str, dict[UUID, str]]


def ends(plant: UUID, events: Iterable[Told]) -> Ends:
    """How the casings stand that these events end."""
    told: Sequence[Told] = [e for e in events if e.outcome in ("finished", "rejected")]
    known = custody.names_of_each({e.label for e in told})
    found = Ends({}, {}, {})
    for one in told:
        worn = known[one.label].worn
        found.names[worn] = {worn, *known[one.label].every}
        if one.outcome == "finished":
            found.finished[worn] = max(one.happened_at, found.finished.get(worn, one.happened_at))
    for work in inspection.wearing(plant, found.names):
        if standing := work.told["rejections"]:
            found.rejected[work.label] = {UUID(r["event"]): r["reason"] or "" for r in standing}
    return found


def finished(ends: Ends, begin: datetime) -> int:
    """How many casings were told as finished since then, and are not rejected."""
    done = ends.finished.keys() - ends.rejected.keys()
    return sum(ends.finished[worn] >= begin for worn in done)


def reasons(ends: Ends, events: Iterable[Told]) -> list[tuple[str, int]]:
    """Why casings were rejected in these events and are so still, the most frequent first: code and
    how many casings."""
    told = {e.event for e in events}
    found: dict[str, set[str]] = {}
    for worn, standing in ends.rejected.items():
        for event, reason in standing.items():
            if event in told:
                found.setdefault(reason, set()).add(worn)
    return sorted(((c, len(labels)) for c, labels in found.items()), key=lambda p: (-p[1], p[0]))


def ended(plant: UUID, ends: Ends) -> list[Ended]:
    """The casings that ended, with all that had happened to each before."""
    over = sorted(ends.finished.keys() | ends.rejected.keys())
    told = daily.turned_back(plant, {name for worn in over for name in ends.names[worn]})
    again = {e.label for e in told if e.outcome == "repair" and e.again_at}
    rejected = {e.label for e in told if e.outcome == "rejected"}
    return [
        Ended(
            finished=worn not in ends.rejected,
            again=not again.isdisjoint(ends.names[worn]),
            rejected=not rejected.isdisjoint(ends.names[worn]),
        )
        for worn in over
    ]
