"""What is offered by the plants' forecasts: the table that devices carry, and how it is read. Pure.

A store's table names for each work, size class, size of group and confidence the day on which what
is handed over on a day is back at the store, as days after that day; and for each yard the weekdays
of its runs. Whoever reads it adds the run: so two hundred yards need no more room than their
weekdays. Where a store's trucks reach several plants that do a work, the latest day counts, and a
plant among them without a forecast leaves the work to standard times.

There are three answers: a day; NO_DAY, where a forecast says that none can be promised (too far, or
hardly a course brings it back); and None, where no forecast says anything. Standard times, which
know of no queue, are asked after the last alone: else the worst plant would promise the earliest.

`read` is what a phone without signal does, and `frontend/src/domain/forecast.ts` is its twin: both
are held to fixtures/vectors/offers.json.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta, tzinfo
from functools import cached_property
from typing import Any, Final, Literal

from pickups.casings import size
from pickups.kernel import clock
from pickups.promises import finishing, rules
from pickups.promises.finishing import ALL_SIZES, GROUPS, NEVER
from pickups.promises.rules import DAYS_OFFERED, STORE, Plant

ALWAYS_TOLD = (50, 90, 99)
"""Percent that every table has, whatever the accounts ask: half, what is usual, nearly all."""

NO_DAY: Final = False
"""By forecast no day can be promised. As it stands in a table: apps that do not know it find no
number there, and read it as nothing said."""

Answer = date | Literal[False] | None

Key = tuple[str, str, date, int]
"""Work, size class, day of receipt at the plant, size of the group."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What a day is asked for: count: how many casings together; percent: how sure."""

    work: str
    size_class: str = ALL_SIZES
    count: int = 1
    percent: int = finishing.USUAL


@dataclass(frozen=True, slots=True)
class Forecast:
    """A plant's forecast in force. arrivals: minutes after origin, one for each course; ahead:
    where casings wait most, as `{name, name_es, count}`, the longest queue first."""

    origin: datetime
    made_at: datetime
    valid_until: datetime
    arrivals: Mapping[Key, Sequence[int]]
    ahead: Sequence[Mapping[str, Any]] = ()


@dataclass(frozen=True)
class Reached:
    """A plant that a store's trucks reach, with its forecast where one is in force."""

    plant: Plant
    forecast: Forecast | None
    _done: dict[Key, list[int]] = field(default_factory=dict, repr=False, compare=False)

    def does(self, work: str) -> bool:
        """Whether the plant is known to do a work."""
        return work in self._works

    @cached_property
    def _works(self) -> frozenset[str]:
        arrivals = self.forecast.arrivals if self.forecast else {}
        return frozenset(self.plant.works) | {key[0] for key in arrivals}

    @cached_property
    def _first(self) -> date | None:
        """The first day of receipt that is told."""
        arrivals = self.forecast.arrivals if self.forecast else {}
        return min((key[2] for key in arrivals), default=None)

    def at_store(self, handed_over: date, asked: Asked, zone: tzinfo) -> Answer:
        """When what is handed over on a day is back at the store."""
        leaves = rules.leaves(handed_over, self.plant)
        if self.forecast is None or leaves is None:
            return None
        done = self._sample(asked, leaves)
        if not done:
            return None if done is None else NO_DAY
        minute = done[-(-asked.percent * len(done) // 100) - 1]
        finished = finishing.day_of(self.forecast.origin, minute, zone)
        return rules.back_from_plant(finished, handed_over, self.plant) or NO_DAY

    def _sample(self, asked: Asked, received: date) -> list[int] | None:
        """The finished courses, ascending, none of more casings than any group has; what is
        received before the first day that is told counts as received on that day, and a class that
        is not told as any size. None: nothing is told."""
        told = self.forecast.arrivals if self.forecast else {}
        group = finishing.group_for(asked.count, GROUPS)
        if self._first is None:
            return None
        if group is None:
            return [] if any(key[0] == asked.work for key in told) else None
        on = max(received, self._first)
        for of_size in (asked.size_class, ALL_SIZES):
            key = (asked.work, of_size, on, group)
            if key in told:
                if key not in self._done:
                    self._done[key] = sorted(m for m in told[key] if m < NEVER)
                return self._done[key]
        return None


def at_store(handed_over: date, asked: Asked, *, plants: Sequence[Reached], zone: tzinfo) -> Answer:
    """When it is back at the store whichever of these plants gets it."""
    days = [p.at_store(handed_over, asked, zone) for p in plants if p.does(asked.work)]
    if any(day is NO_DAY for day in days):
        return NO_DAY
    known = [day for day in days if day]
    return max(known) if known and len(known) == len(days) else None


def answered(
    handed_over: date,
    asked: Asked,
    *,
    plants: Sequence[Reached],
    runs: Collection[int] | None,
    zone: tzinfo,
) -> Answer:
    """The day of coming back, by forecasts; runs: the weekdays of the yard's, None: the store."""
    here = at_store(handed_over, asked, plants=plants, zone=zone)
    if not here or runs is None:
        return here
    return rules.run_after(here, runs, handed_over) or NO_DAY if runs else None


def expected(
    handed_over: date,
    asked: Asked,
    *,
    plants: Sequence[Reached],
    runs: Collection[int] | None,
    zone: tzinfo,
) -> date | None:
    """The same for whom it is enough that there is a day or none."""
    return answered(handed_over, asked, plants=plants, runs=runs, zone=zone) or None


def table(
    today: date,
    *,
    plants: Sequence[Reached],
    runs: Mapping[str, Collection[int]],
    percents: Collection[int],
    zone: tzinfo,
) -> dict[str, Any] | None:
    """The forecast part of a store's table, as devices get it; None without any forecast.

    made_at, valid_until: of the oldest forecast in it and of the one that ends first. days: by
    work, size class and group, for each of `percents` a list with the days from the hand-over to
    the day at the store, NO_DAY or None, one for each of DAYS_OFFERED hand-over days from today on.
    """
    told = [p.forecast for p in plants if p.forecast is not None]
    if not told:
        return None
    keys = [key for one in told for key in one.arrivals]
    asks = sorted({*percents, *ALWAYS_TOLD})
    handed = [today + timedelta(days=ahead) for ahead in range(DAYS_OFFERED)]

    def away(day: date, asked: Asked) -> int | None:
        back = at_store(day, asked, plants=plants, zone=zone)
        return (back - day).days if isinstance(back, date) else back

    return {
        "made_at": clock.rfc3339(min(one.made_at for one in told)),
        "valid_until": clock.rfc3339(min(one.valid_until for one in told)),
        "percents": asks,
        "days": {
            work: {
                of_size: {
                    str(group): [
                        [away(day, Asked(work, of_size, group, percent)) for day in handed]
                        for percent in asks
                    ]
                    for group in sorted({key[3] for key in keys if key[0] == work})
                }
                for of_size in sorted({key[1] for key in keys if key[0] == work})
            }
            for work in sorted({key[0] for key in keys})
        },
        "runs": {yard: sorted(days) for yard, days in sorted(runs.items())},
        "ahead": _longest([one.ahead for one in told]),
    }


def read(
    body: Mapping[str, Any], asked: Asked, *, place: str, handed_over: date, now: str
) -> str | Literal[False] | None:
    """The day that a table's forecast offers, as the wire writes it, or NO_DAY; None where it is
    silent, and from the moment on at which it ends. place: a yard's id or STORE; now: RFC 3339 as
    the wire writes it. A confidence that is not in the table is read as the next higher one."""
    told = body.get("forecast")
    if told is None or now >= told["valid_until"]:
        return None
    at = (handed_over - date.fromisoformat(body["computed_on"])).days
    works = told["days"].get(asked.work, {})
    groups = works.get(asked.size_class, works.get(ALL_SIZES, {}))
    if not groups or not 0 <= at < DAYS_OFFERED:
        return None
    group = finishing.group_for(asked.count, map(int, groups))
    percent = min((p for p in told["percents"] if p >= asked.percent), default=None)
    if group is None or percent is None:
        return NO_DAY
    days = groups[str(group)][told["percents"].index(percent)]
    ahead = days[at] if at < len(days) else None
    if ahead is None or ahead is NO_DAY:
        return ahead
    here = handed_over + timedelta(days=ahead)
    if place == STORE:
        return here.isoformat()
    if not (runs := told["runs"].get(place)):
        return None
    back = rules.run_after(here, runs, handed_over)
    return back.isoformat() if back else NO_DAY


def size_class(told: str) -> str:
    """How a casing of a size as it was told loads; ALL_SIZES where the size is not read."""
    reading = size.read(told)
    return size.freight(reading.size).kind if reading.size else ALL_SIZES


def is_same(standing: Mapping[str, Any] | None, new: Mapping[str, Any] | None, now: str) -> bool:
    """Whether a device with the standing table offers what it would with the new one, and may for
    most of the time yet: so that a plant which forecasts every minute does not keep every phone
    fetching. Ahead and the time of the forecast are then a little older, and say so."""
    if standing is None or new is None:
        return standing is new
    offered = ("percents", "days", "runs")
    if any(standing[part] != new[part] for part in offered):
        return False
    ends = [datetime.fromisoformat(one["valid_until"]) for one in (standing, new)]
    left, whole = (end - datetime.fromisoformat(now) for end in ends)
    return left > timedelta() and 2 * left > whole


def _longest(queues: Sequence[Sequence[Mapping[str, Any]]]) -> list[dict[str, Any]]:
    """The longest queues of all plants, three at most."""
    every = [one for queue in queues for one in queue if one["count"] > 0]
    every.sort(key=lambda one: -one["count"])
    return [{name: one[name] for name in ("name", "name_es", "count")} for one in every[:3]]
