"""What a plant's past says of it, as its layout needs it: times, shares, chambers. Pure.

Between what stations told (plant/inspection) and what is learned of it (learning.py).
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from itertools import pairwise
from typing import Protocol

from plant.forecast import laid_out, learning
from plant.forecast.hours import Hours
from plant.forecast.laid_out import CHAMBER, Entered, Figures, Known
from plant.forecast.learning import Cured, LearnedStation, Seen
from plant.forecast.passages import Outcome

LEAST = 5
"""Casings that were finished somewhere, below which a plant's word on where is none. Our own."""

SHORT = 0.25
"""The share of a chamber's cycle, below which a load's hours are none. Our own figure."""
BRIEF_MIN = 15.0
"""The same in minutes, where no cycle was entered."""

_OUTCOMES: Mapping[str, Outcome] = {
    "received": "passed", "passed": "passed", "finished": "passed", "repair": "passed",
    "rejected": "rejected",
}  # fmt: skip


class Event(Protocol):
    """What is read of one event of a station."""

    @property
    def station(self) -> str: ...
    @property
    def outcome(self) -> str: ...
    @property
    def happened_at(self) -> datetime: ...
    @property
    def again_at(self) -> str | None: ...


@dataclass(frozen=True, slots=True)
class Way:
    """What was told of one casing, in the order in which it happened. label: the first that it had
    here."""

    label: str
    told: tuple[Event, ...]


@dataclass(frozen=True, slots=True)
class Cure:
    """One cure load that was begun. labels: what was set in."""

    chamber: str
    begun_at: datetime
    ended_at: datetime | None
    labels: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Past:
    """What a plant did lately. arrived: when each casing was first told of here in the last
    coming.WEEKS; repairs: the share of them that are repair only."""

    ways: Sequence[Way] = ()
    cures: Sequence[Cure] = ()
    arrived: Sequence[datetime] = field(default_factory=list)
    repairs: float = 0.0


def known(
    entered: Entered, past: Past, hours: Hours, origin: datetime
) -> tuple[Known, dict[str, LearnedStation]]:
    """What to reckon with, and what was learned of each station; hours are the plant's own."""
    told = [event for way in past.ways for event in way.told]
    finishes = Counter(event.station for event in told if event.outcome == "finished")
    begun = Known(finishes=finishes if sum(finishes.values()) >= LEAST else {})
    seen = _seen(past, origin)
    whole = [one for one in past.cures if _is_whole(one, entered)]
    cures = [_cured(one, origin) for one in whole]
    route = entered.stops[: laid_out.route_end(entered, begun) + 1]
    found = (
        learning.learned(seen, cures, [_for_learning(stop) for stop in route], hours)
        if hours.begins.size
        else {}
    )
    marks = [any(e.outcome == "repair" and not e.again_at for e in way.told) for way in past.ways]
    ovens = {oven.code: oven.holds for oven in entered.ovens}
    largest = max(ovens.values(), default=1)
    by_oven = {
        code: learning.cure(
            [c for c, one in zip(cures, whole, strict=True) if one.chamber == code],
            holds, hours, seen,
        )
        for code, holds in ovens.items()
    }  # fmt: skip
    over_all = learning.cure(cures, largest, hours, seen)
    cured = {code: cure for code, cure in {"": over_all, **by_oven}.items() if cure is not None}
    return Known(
        figures={code: _figures(one) for code, one in found.items()},
        finishes=begun.finishes,
        back_to=Counter(event.again_at for event in told if event.again_at),
        marked=sum(marks) / len(marks) if marks else None,
        cure_h={code: cure.cycle_h for code, cure in cured.items()},
        wait_h=over_all.wait_h if over_all else None,
        lost_h=_lost_h(past.ways),
    ), found


def _is_whole(one: Cure, entered: Entered) -> bool:
    """Whether a load was told from begin to end; one that was told when its door opened says
    nothing of how long it was in."""
    if one.ended_at is None:
        return True
    cycles = [oven.cycle_min for oven in entered.ovens if oven.code == one.chamber]
    usual = next((cycle for cycle in cycles if cycle), BRIEF_MIN / SHORT)
    return (one.ended_at - one.begun_at).total_seconds() / 60 >= usual * SHORT


def _lost_h(ways: Sequence[Way]) -> float:
    """After how many hours unseen a casing is lost: see laid_out.LOST_LEAST_H."""
    longest = max(
        (
            _hours(later.happened_at, event.happened_at)
            for way in ways
            if any(e.outcome == "finished" for e in way.told)
            for event, later in pairwise(way.told)
        ),
        default=0.0,
    )
    return min(laid_out.LOST_MOST_H, max(laid_out.LOST_LEAST_H, 3 * longest))


def _figures(one: LearnedStation) -> Figures:
    return Figures(one.mean_h, one.cv, one.passes, one.reject, one.rework, one.n, one.machines)


def _for_learning(stop: laid_out.Stop) -> learning.Entered:
    return learning.Entered(
        code=stop.code,
        machines=stop.machines,
        mean_h=None if stop.cycle_min is None else stop.cycle_min / 60,
        scans=stop.scans,
        optional=stop.optional,
        takes=stop.takes,
        chamber=stop.is_a(CHAMBER),
    )


def _seen(past: Past, origin: datetime) -> list[Seen]:
    """Every scan with which a casing left a station."""
    found = []
    for way in past.ways:
        for event in way.told:
            outcome = "rework" if event.again_at else _OUTCOMES.get(event.outcome)
            if outcome is not None:
                at_h = _hours(event.happened_at, origin)
                found.append(Seen(way.label, event.station, at_h, outcome))
    return found


def _cured(one: Cure, origin: datetime) -> Cured:
    ended = None if one.ended_at is None else _hours(one.ended_at, origin)
    return Cured(_hours(one.begun_at, origin), ended, one.labels)


def _hours(at: datetime, origin: datetime) -> float:
    return (at - origin).total_seconds() / 3600
