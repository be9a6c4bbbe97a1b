"""A plant's stations as the simulation is told them, from what was entered and what was learned,
and what is missing for that. Pure.

A casing is finished where this plant tells it, so stations behind that one are no part of it. A
station that not every casing visits and whose time nobody knows is left out, and that is said; of
any other one a time is needed. Shares of casings that are sent back go to the station that this
plant named most. Our own figures, no published source: SPREAD where no spread was learned, WAIT_H
where a plant has not entered how long a chamber waits.
"""

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time
from zoneinfo import ZoneInfo

from plant.dock.rules import Shift
from plant.forecast import hours as calendar
from plant.forecast.hours import Hours
from plant.forecast.shop import MOST_STATIONS, Chamber, Shop, Station

SPREAD = 0.5
"""Standard deviation over mean of a time of work."""
WAIT_H = 4.0
"""How long a chamber waits to be full, in hours."""
LOST_LEAST_H, LOST_MOST_H = 14 * 24.0, 45 * 24.0
"""How long a casing is not seen before it is taken for lost, at least and at most; in between it is
three times the longest that one of the past was not seen. Our own figures."""
WEEKS = 40
"""How far ahead the hours reach; what is not done by then is never done."""
CHAMBER = "curing"
MENDS = ("repair", "skiving")
DOOR = "receiving"
ENDS = ("shipping",)


@dataclass(frozen=True, slots=True)
class Stop:
    """One station as it was entered. cycle_min: of one machine for `takes` casings; None where
    nobody entered it."""

    code: str
    optional: bool = False
    scans: bool = True
    machines: int = 1
    cycle_min: int | None = None
    takes: int = 1

    def is_a(self, *codes: str) -> bool:
        """Whether it is one of these, or a second of its kind: repair-2 mends as repair does."""
        return any(self.code == code or self.code.startswith(f"{code}-") for code in codes)


@dataclass(frozen=True, slots=True)
class Oven:
    """One chamber as it was entered; times in minutes. least: None: once it is full."""

    code: str
    holds: int
    cycle_min: int | None = None
    least: int | None = None
    max_wait_min: int | None = None
    starts: tuple[time, ...] = ()


@dataclass(frozen=True, slots=True)
class Before:
    """The shifts that a plant worked until a moment."""

    until: datetime
    shifts: tuple[Shift, ...]


@dataclass(frozen=True, slots=True)
class Entered:
    """All that a plant has entered. shifts: None where it has no calendar; before: those that it
    worked before them, in their order. works: that it does; None where it entered no standard time,
    and then its stations say it.
    """

    stops: tuple[Stop, ...]
    ovens: tuple[Oven, ...]
    shifts: tuple[Shift, ...] | None
    holidays: frozenset[date]
    rework_limit: int | None
    zone: ZoneInfo
    before: tuple[Before, ...] = ()
    works: frozenset[str] | None = None

    @property
    def places(self) -> dict[str, int]:
        """Where each station stands in the route, from 0."""
        return {stop.code: i for i, stop in enumerate(self.stops)}


@dataclass(frozen=True, slots=True)
class Figures:
    """What is known of one station's work: hours, shares; n: from how many casings (0: entered
    only). machines: None: as many as were entered; else what was learned is the time that casings
    take there, whatever queue there is in it, and `passes` is to be taken as it is."""

    mean_h: float
    cv: float = SPREAD
    passes: float = 1.0
    reject: float = 0.0
    rework: float = 0.0
    n: int = 0
    machines: int | None = None


@dataclass(frozen=True, slots=True)
class Known:
    """What the plant's own past says beside stations' figures.

    finishes: stations where casings were told finished, with how many. back_to: stations to which
    casings were sent back, with how many. marked: share of casings with an injury to repair.
    cure_h: how long loads were in, by chamber; "" over all. wait_h: how long chambers waited to be
    full. lost_h: a casing that was not seen for so many hours is taken for lost.
    """

    figures: Mapping[str, Figures] = field(default_factory=dict)
    finishes: Mapping[str, int] = field(default_factory=dict)
    back_to: Mapping[str, int] = field(default_factory=dict)
    marked: float | None = None
    cure_h: Mapping[str, float] = field(default_factory=dict)
    wait_h: float | None = None
    lost_h: float = LOST_LEAST_H


@dataclass(frozen=True, slots=True)
class Missing:
    """What has to be entered first. what: route (a station with a time), fewer (stations: more
    than can be reckoned with), calendar, shifts, cycle, chamber, chamber_cycle;
    where: the station's or chamber's code, empty for the plant as a whole."""

    what: str
    where: str = ""


@dataclass(frozen=True, slots=True)
class Layout:
    """The shop, with which station of the route each of its stations is, and what was left out.

    codes: of the shop's stations, in their order. hours: of the plant. delays: stations of which
    the time that casings take is known and no queue.
    """

    shop: Shop
    codes: tuple[str, ...]
    hours: Hours
    left_out: tuple[str, ...]
    delays: frozenset[str] = frozenset()

    def at_or_behind(self, place: int, places: Mapping[str, int]) -> int | None:
        """The first of the shop's stations at a place of the route or behind it."""
        return next((i for i, code in enumerate(self.codes) if places[code] >= place), None)


def route_end(entered: Entered, known: Known) -> int:
    """The place of the station where casings are told finished: the one that did most; else the
    last but shipping."""
    places = entered.places
    told = {code: n for code, n in known.finishes.items() if code in places}
    if told:
        return places[max(told, key=lambda code: (told[code], places[code]))]
    inner = [i for i, stop in enumerate(entered.stops) if not stop.is_a(*ENDS)]
    return max(inner, default=-1)


def within(entered: Entered, known: Known) -> tuple[Stop, ...]:
    """The stations of the route up to where casings are told finished; where they come in only if
    somebody entered that it takes time."""
    route = entered.stops[: route_end(entered, known) + 1]
    return tuple(s for s in route if s.cycle_min is not None or not s.is_a(DOOR))


def missing(entered: Entered, known: Known) -> list[Missing]:
    """What has to be entered before anything can be forecast, in the order of the pages."""
    found: list[Missing] = []
    if not entered.stops:
        found.append(Missing("route"))
    if entered.shifts is None:
        found.append(Missing("calendar"))
    elif not entered.shifts:
        found.append(Missing("shifts"))
    for stop in within(entered, known):
        if stop.is_a(CHAMBER):
            found += _missing_chambers(stop, entered, known)
        elif not stop.optional and stop.cycle_min is None and stop.code not in known.figures:
            found.append(Missing("cycle", stop.code))
    used = _used(entered, known)
    if not used and not found:
        found.append(Missing("route"))
    if len(used) > MOST_STATIONS:
        found.append(Missing("fewer"))
    return found


def _used(entered: Entered, known: Known) -> list[Stop]:
    """The stations whose time is known."""
    return [
        stop
        for stop in within(entered, known)
        if stop.cycle_min is not None or stop.code in known.figures or stop.is_a(CHAMBER)
    ]


def open_hours(entered: Entered, origin: datetime, *, back: int = calendar.BACK) -> Hours:
    """When the plant is open and was: with the shifts of each time."""
    shifts = entered.shifts or ()

    def week(worked: Sequence[Shift]) -> Hours:
        return calendar.week(worked, entered.holidays, entered.zone, origin, WEEKS, back=back)

    now = week(shifts)
    if not entered.before:
        return now
    stretches: list[tuple[float, float]] = []
    since = -math.inf
    for one in entered.before:
        until = (one.until - origin).total_seconds() / 3600
        stretches += _clipped(week(one.shifts), since, until)
        since = until
    return calendar.of([*stretches, *_clipped(now, since, math.inf)])


def _clipped(hours: Hours, since: float, until: float) -> list[tuple[float, float]]:
    return [
        (max(float(begin), since), min(float(end), until))
        for begin, end in zip(hours.begins, hours.ends, strict=True)
        if end > since and begin < until
    ]


def works(entered: Entered, codes: Sequence[str]) -> frozenset[str]:
    """What a plant with these stations in its shop does."""
    if entered.works is not None:
        return entered.works
    stops = [stop for stop in entered.stops if stop.code in codes]
    found = {"retread"} if any(stop.is_a(*TREAD) for stop in stops) else set()
    return frozenset(found | ({"repair"} if any(stop.is_a(*MENDS) for stop in stops) else set()))


def _missing_chambers(stop: Stop, entered: Entered, known: Known) -> list[Missing]:
    if not entered.ovens:
        return [] if stop.cycle_min else [Missing("chamber", stop.code)]
    return [
        Missing("chamber_cycle", oven.code)
        for oven in entered.ovens
        if _cycle_h(oven, stop, known) is None
    ]


def _cycle_h(oven: Oven, stop: Stop, known: Known) -> float | None:
    """As learned, the turn between two cycles in it; else as entered."""
    minutes = oven.cycle_min or stop.cycle_min
    entered = minutes / 60 if minutes else None
    learned = known.cure_h.get(oven.code, known.cure_h.get(""))
    return learned if learned is not None else entered


def layout(entered: Entered, known: Known, origin: datetime) -> Layout:
    """The shop of a plant of which nothing is missing."""
    assert entered.shifts is not None
    hours = open_hours(entered, origin)
    used = _used(entered, known)
    left_out = [stop for stop in within(entered, known) if stop not in used]
    places = entered.places
    stations: list[Station] = []
    for i, stop in enumerate(used):
        one = _station(stop, entered, known, origin)
        if one.rework:
            one = replace(one, rework_to=_back_to(used[: i + 1], known, places))
        stations.append(one)
    return Layout(
        shop=Shop(tuple(stations), (hours,), entered.rework_limit),
        codes=tuple(stop.code for stop in used),
        hours=hours,
        left_out=tuple(stop.code for stop in left_out),
        delays=frozenset(c for c, f in known.figures.items() if f.machines is not None),
    )


def _station(stop: Stop, entered: Entered, known: Known, origin: datetime) -> Station:
    figures = known.figures.get(stop.code)
    if stop.is_a(CHAMBER):
        chambers = _chambers(stop, entered, known, origin)
        shares = figures or Figures(1.0)
        return Station(
            stop.code, len(chambers), 0.0, 0.0, chamber=chambers, passes=shares.passes,
            reject=shares.reject, rework=_bounded(shares.rework, entered),
        )  # fmt: skip
    if figures is None:
        assert stop.cycle_min is not None
        figures = Figures(stop.cycle_min / 60)
    return Station(
        stop.code,
        figures.machines or stop.machines,
        figures.mean_h,
        figures.cv,
        takes=1 if figures.machines else stop.takes,
        passes=_passes(stop, figures, known),
        reject=figures.reject,
        rework=_bounded(figures.rework, entered),
    )


def _passes(stop: Stop, figures: Figures, known: Known) -> float:
    """Of a station that mends and is not scanned: the share that was marked. Of any other that is
    not scanned nobody knows better than that all go there."""
    if figures.machines is not None:
        return figures.passes
    if not stop.optional:
        return 1.0
    if stop.scans and figures.n:
        return figures.passes
    if stop.is_a(*MENDS) and known.marked is not None:
        return known.marked
    return 1.0


def _bounded(rework: float, entered: Entered) -> float:
    """Without a limit a share of one would go round for ever."""
    return rework if entered.rework_limit is not None else min(rework, 0.9)


def _back_to(used: Sequence[Stop], known: Known, places: Mapping[str, int]) -> int:
    """The index of the station to which most were sent back; where none was told, where the tread
    is built, since most that is worked again is cured again; else where it was sent back."""
    codes = [stop.code for stop in used]
    told = {code: n for code, n in known.back_to.items() if code in codes}
    if told:
        return codes.index(max(told, key=lambda code: (told[code], -places[code])))
    built = [i for i, stop in enumerate(used) if stop.is_a("building")]
    return built[0] if built else len(used) - 1


def _chambers(stop: Stop, entered: Entered, known: Known, origin: datetime) -> tuple[Chamber, ...]:
    if not entered.ovens:
        assert stop.cycle_min is not None
        wait_h = WAIT_H if known.wait_h is None else known.wait_h
        one = Chamber(stop.takes, stop.cycle_min / 60, least=stop.takes, max_wait_h=wait_h)
        return (one,) * stop.machines
    made = []
    for oven in entered.ovens:
        cycle_h = _cycle_h(oven, stop, known)
        assert cycle_h is not None
        learned_h = WAIT_H if known.wait_h is None else known.wait_h
        wait_h = learned_h if oven.max_wait_min is None else oven.max_wait_min / 60
        fixed = calendar.daily(oven.starts, entered.zone, origin, WEEKS) if oven.starts else ()
        # At a fixed time it begins with what is there.
        least = oven.least or (1 if fixed else oven.holds)
        made.append(
            Chamber(
                oven.holds, cycle_h, least=min(least, oven.holds), max_wait_h=wait_h, fixed_h=fixed
            )
        )
    return tuple(made)


def skipped(layout: Layout, entered: Entered, *, work: str, marked: bool | None) -> frozenset[int]:
    """The shop's stations that a casing does not visit. work: what was ordered; marked: whether an
    injury of it is to be repaired, None while nobody has looked.

    Repair only needs nothing of the new tread (common practice, no published source).
    """
    stops = {stop.code: stop for stop in entered.stops}
    found: set[int] = set()
    for i, code in enumerate(layout.codes):
        stop = stops[code]
        if work == "repair" and stop.is_a(*TREAD):
            found.add(i)
        seldom = stop.optional and stop.is_a(*MENDS) and code not in layout.delays
        if marked is False and work != "repair" and seldom:
            found.add(i)
    return frozenset(found)


TREAD: Collection[str] = (
    "buffing", "cementing", "cushion-gum", "building", "enveloping", "curing",
    "stripping",
)  # fmt: skip
"""Stations that only a new tread needs."""
