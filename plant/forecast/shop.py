"""What the simulation is told of a plant: its stations in the order of the route, and its casings.

Pure. Times of work are worked hours, a chamber's cycle is hours by the clock. Nothing has a default
that stands for a figure: what a station needs is given, or the Station cannot be made.
"""

import math
from dataclasses import dataclass, field
from typing import Literal

from plant.forecast.hours import Hours

Law = Literal["lognormal", "exponential", "fixed"]
LAWS: tuple[Law, ...] = ("lognormal", "exponential", "fixed")

MOST_STATIONS = 60
"""Of a route: what a casing skips is kept in the bits of one number."""


@dataclass(frozen=True, slots=True)
class Chamber:
    """Cures up to `holds` casings at once, in `cycle_h` hours by the clock, without a break; it
    starts only while its station is open.

    least: with at least so many it starts. max_wait_h: the longest that one waits for more; then it
    starts with what is there. With neither, the last few of a day may wait for ever. fixed_h:
    instants, hours from the origin, at which alone it starts (hours.daily makes them).
    """

    holds: int
    cycle_h: float
    least: int = 1
    max_wait_h: float = math.inf
    fixed_h: tuple[float, ...] = ()

    def __post_init__(self) -> None:
        _check("holds", self.holds, self.holds >= 1, "1 or more")
        _check("cycle_h", self.cycle_h, 0 < self.cycle_h < math.inf, "more than 0 hours")
        _check("least", self.least, 1 <= self.least <= self.holds, f"1 to {self.holds}")
        _check("max_wait_h", self.max_wait_h, self.max_wait_h >= 0, "0 hours or more")
        ascending = all(a < b for a, b in zip(self.fixed_h, self.fixed_h[1:], strict=False))
        _check("fixed_h", self.fixed_h, ascending, "instants in ascending order")


@dataclass(frozen=True, slots=True)
class Station:
    """One step of the route.

    machines: side by side. mean_h, cv: worked hours that one machine takes, and standard deviation
    over mean; ignored where there are chambers. takes: casings that one machine takes at once (what
    waits when it begins, at most so many, in one time). passes: share of casings that go there at
    all. reject, rework: shares of those worked. rework_to: where a casing that is sent back queues
    again; it goes on along the route from there. breakdown: mean worked hours between failures of
    one machine and to repair it, both exponential; work goes on after it, a cycle ends before it.
    hours: index in Shop.hours. chamber: one, of which there are `machines`; or each, where they
    differ (the first that may start is filled first).
    """

    code: str
    machines: int
    mean_h: float
    cv: float
    law: Law = "lognormal"
    hours: int = 0
    takes: int = 1
    passes: float = 1.0
    reject: float = 0.0
    rework: float = 0.0
    rework_to: int = -1
    breakdown: tuple[float, float] | None = None
    chamber: Chamber | tuple[Chamber, ...] | None = None

    def __post_init__(self) -> None:
        _check("machines", self.machines, self.machines >= 1, "1 or more", self.code)
        if self.chamber is None:
            _check("mean_h", self.mean_h, 0 < self.mean_h < math.inf, "more than 0", self.code)
            _check("cv", self.cv, 0 <= self.cv < math.inf, "0 or more", self.code)
        _check("law", self.law, self.law in LAWS, ", ".join(LAWS), self.code)
        _check("takes", self.takes, self.takes >= 1, "1 or more", self.code)
        for name in ("passes", "reject", "rework"):
            share = getattr(self, name)
            _check(name, share, 0 <= share <= 1, "0 to 1", self.code)
        both = self.reject + self.rework
        _check("reject and rework together", both, both <= 1, "at most 1", self.code)
        if self.breakdown is not None:
            fine = all(0 < one < math.inf for one in self.breakdown)
            _check("breakdown", self.breakdown, fine, "hours above 0", self.code)
        if isinstance(self.chamber, tuple):
            fits = len(self.chamber) == self.machines
            _check("chamber", len(self.chamber), fits, f"one, or {self.machines}", self.code)

    @property
    def chambers(self) -> tuple[Chamber, ...]:
        """Each chamber of the station; none where machines do the work."""
        if self.chamber is None:
            return ()
        return self.chamber if isinstance(self.chamber, tuple) else (self.chamber,) * self.machines


@dataclass(frozen=True, slots=True)
class Shop:
    """A plant's route. rework_limit: how often one casing may be sent back; the next time it is
    taken for rejected. None: as often as it comes."""

    stations: tuple[Station, ...]
    hours: tuple[Hours, ...]
    rework_limit: int | None = None

    def __post_init__(self) -> None:
        many = len(self.stations)
        _check("stations", many, 1 <= many <= MOST_STATIONS, f"1 to {MOST_STATIONS}")
        for at, one in enumerate(self.stations):
            known = len(self.hours)
            _check("hours", one.hours, 0 <= one.hours < known, f"0 to {known - 1}", one.code)
            if one.rework > 0:
                back = one.rework_to
                _check("rework_to", back, 0 <= back <= at, f"0 to {at}", one.code)
        if self.rework_limit is None:
            for one in self.stations:
                _check("rework", one.rework, one.rework < 1, "below 1 without a limit", one.code)
        else:
            _check("rework_limit", self.rework_limit, self.rework_limit >= 0, "0 or more")


@dataclass(frozen=True, slots=True)
class Job:
    """One casing: the station in whose queue it is or arrives, and when.

    at_h: hours from the origin when it came or comes there, negative before it. begun_h: since when
    it is being worked there, None while it waits; those in one chamber, or on one machine that
    takes several, have the same. priority: the greater goes first. skip: stations of the route
    (indices) that it does not visit; visit: that it does, whatever share goes there. chance: of its
    coming at all; one that does not is never finished.
    """

    station: int
    at_h: float
    begun_h: float | None = None
    priority: int = 0
    skip: frozenset[int] = field(default_factory=frozenset)
    chance: float = 1.0
    visit: frozenset[int] = field(default_factory=frozenset)

    def __post_init__(self) -> None:
        _check("station", self.station, self.station >= 0, "0 or more")
        _check("at_h", self.at_h, not math.isnan(self.at_h), "a number")
        begun = self.begun_h
        _check("begun_h", begun, begun is None or begun <= 0, "0 or less: begun before the origin")
        _check("chance", self.chance, 0 <= self.chance <= 1, "0 to 1")


def _check(what: str, value: object, fine: bool, allowed: str, where: str = "") -> None:
    if not fine:
        at = f"Station {where}: " if where else ""
        raise ValueError(f"{at}{what} is {value}; allowed: {allowed}.")
