"""Where each casing inside a plant is, as the simulation is told it. Pure.

A casing waits for the station behind the last that it is done with, since its last scan; a station
that does not scan is taken as passed once its usual time is over, because nobody will say so. What
was scanned into a cure load is in the chamber until it comes out. Who is at work on what nobody
tells either: a station's machines are taken to work on what came there first, since the last
casing left there, as long as that is not longer than such a work ever takes.

What is on hold waits for a person, and nobody knows how long: it is left out, and so is what is
rejected, finished or gone.
"""

import math
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from uuid import UUID
from zlib import crc32

from plant.forecast import hours as calendar
from plant.forecast.laid_out import MENDS, Entered, Layout, skipped
from plant.forecast.shop import Job

LOOKS = ("initial-inspection",)
"""Behind it an injury that is to be repaired is marked."""
GOES_ON = ("in_work", "repair")
"""Stages in which a casing goes on by itself."""
LONGEST = 3.0
"""Standard deviations above the mean; a work that would have lasted longer has not begun yet."""


@dataclass(frozen=True, slots=True)
class Inside:
    """One casing inside the plant.

    passed: stations that it is done with, in this round. next: where the route sends it. again_at:
    where it was sent back to, and has not been since. seen_h: its last scan, hours from the origin.
    work: what was ordered, empty where nobody knows. load: that it was scanned into and not out of.
    here: nobody else has told that he has it.
    """

    label: str
    stage: str
    passed: tuple[str, ...]
    next: str
    again_at: str
    seen_h: float
    work: str = ""
    load: str = ""
    order: UUID | None = None
    here: bool = True


@dataclass(frozen=True, slots=True)
class Load:
    """One cure load that is set in or in the chamber. started_h: None until it is said."""

    number: str
    started_h: float | None


@dataclass(frozen=True, slots=True)
class Placed:
    """One casing with its job."""

    casing: Inside
    job: Job


def placed(
    layout: Layout,
    entered: Entered,
    casings: Iterable[Inside],
    loads: Mapping[str, Load],
    left: Mapping[str, Sequence[float]],
    lost_h: float = math.inf,
) -> list[Placed]:
    """Each casing that goes on by itself, in the order in which they came where they are; those
    not seen for longer than lost_h are lost, or gone without a scan, and take nobody's place.

    left: when the last casings left each station, hours from the origin, the latest first.
    """
    found = [
        Placed(one, job)
        for one in casings
        if one.stage in GOES_ON
        and not is_lost(one, lost_h)
        and (job := _job(layout, entered, one, loads)) is not None
    ]
    found.sort(key=lambda p: (p.job.at_h, p.casing.label))
    return _begun(layout, found, left)


def is_lost(casing: Inside, lost_h: float) -> bool:
    """Whether it was not seen for so long that it is no longer reckoned with."""
    return casing.stage in GOES_ON and -casing.seen_h > lost_h


def _job(layout: Layout, entered: Entered, casing: Inside, loads: Mapping[str, Load]) -> Job | None:
    places = entered.places
    stops = {stop.code: stop for stop in entered.stops}
    chamber = next((i for i, c in enumerate(layout.codes) if stops[c].is_a("curing")), None)
    load = loads.get(casing.load)
    marked = _marked(entered, casing)
    skip = skipped(layout, entered, work=casing.work, marked=marked)
    mends = _mending(layout, entered) if marked or casing.work == "repair" else frozenset()
    if load is not None and chamber is not None:
        begun = None if load.started_h is None else min(load.started_h, 0.0)
        at_h = min(casing.seen_h, 0.0 if begun is None else begun)
        return Job(chamber, at_h, begun, skip=skip - {chamber}, visit=mends)
    at = layout.at_or_behind(_place(entered, casing), places)
    if at is None:
        # Done with all of it and not told finished yet.
        return Job(len(layout.codes) - 1, min(casing.seen_h, 0.0), skip=skip)
    seldom = {
        i
        for i, station in enumerate(layout.shop.stations)
        if i not in mends and not _goes(casing.label, i, station.passes)
    }
    job = _walked(layout, entered, at, min(casing.seen_h, 0.0), skip | seldom)
    return replace(job, skip=skip - {job.station}, visit=mends)


def _mending(layout: Layout, entered: Entered) -> frozenset[int]:
    """The shop's stations where injuries are repaired."""
    stops = {stop.code: stop for stop in entered.stops}
    return frozenset(i for i, code in enumerate(layout.codes) if stops[code].is_a(*MENDS))


def _goes(label: str, station: int, share: float) -> bool:
    """Whether a casing that stands before a station of some casings is taken for one of them: of
    many as many as the share says, and for one always the same."""
    return share >= 1 or crc32(f"{label} {station}".encode()) < share * 2**32


def _place(entered: Entered, casing: Inside) -> int:
    """The place of the route at which it is to be worked next, scanned there or not."""
    places = entered.places
    if casing.again_at in places:
        return places[casing.again_at]
    if casing.stage == "repair" and casing.next in places:
        reached = max((places[c] for c in casing.passed if c in places), default=-1)
        # A mark that was told behind the repair sends it back there.
        return min(reached + 1, places[casing.next])
    return max((places[code] for code in casing.passed if code in places), default=-1) + 1


def _marked(entered: Entered, casing: Inside) -> bool | None:
    """Whether an injury is to be repaired; None while it has not been looked at."""
    if casing.stage == "repair" and not casing.again_at:
        return True
    stops = {stop.code: stop for stop in entered.stops}
    looked = any(stops[code].is_a(*LOOKS) for code in casing.passed if code in stops)
    return False if looked else None


def _walked(
    layout: Layout, entered: Entered, at: int, since_h: float, passed_by: Collection[int]
) -> Job:
    """Past the stations that nobody scans and whose time is over, and those that it passes by."""
    stops = {stop.code: stop for stop in entered.stops}
    last = len(layout.codes) - 1
    while at < last:
        stop, station = stops[layout.codes[at]], layout.shop.stations[at]
        if at in passed_by:
            at += 1
            continue
        if stop.scans:
            break
        if station.chambers:
            usual = station.chambers[0]
            done_h = since_h + usual.max_wait_h + usual.cycle_h
        else:
            done_h = calendar.at_worked(
                layout.hours, calendar.worked(layout.hours, since_h) + station.mean_h
            )
        if done_h > 0:
            break
        at, since_h = at + 1, done_h
    return Job(at, since_h)


def _begun(
    layout: Layout, found: Sequence[Placed], left: Mapping[str, Sequence[float]]
) -> list[Placed]:
    """Those that a machine works on, with since when."""
    free = [station.machines for station in layout.shop.stations]
    made = []
    for one in found:
        job, station = one.job, layout.shop.stations[one.job.station]
        if job.begun_h is None and not station.chambers and station.takes == 1:
            if free[job.station] and job.at_h < 0:
                before = left.get(station.code, ())
                machine = station.machines - free[job.station]
                # The machine that has been at it longest became free with the earliest of these.
                ends = sorted(before[: station.machines])
                since = ends[machine] if machine < len(ends) else job.at_h
                begun = min(max(job.at_h, since), 0.0)
                spent = -calendar.worked(layout.hours, begun)
                if spent <= station.mean_h * (1 + LONGEST * station.cv):
                    job = replace(job, begun_h=begun)
            free[job.station] = max(0, free[job.station] - 1)
        made.append(Placed(one.casing, job))
    return made


def waiting(layout: Layout, found: Iterable[Placed]) -> dict[str, int]:
    """How many casings are at each station or in its queue, those with none left out."""
    counts: dict[str, int] = {}
    for one in found:
        code = layout.codes[one.job.station]
        counts[code] = counts.get(code, 0) + 1
    return counts
