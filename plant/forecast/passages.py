"""What scans tell of casings' ways: from scan to scan, with those made up that are missing. Pure.

A scan says when a casing left a station, in hours from the origin; what it did before there is
between that and its last scan.
"""

from collections import Counter, defaultdict
from collections.abc import Callable, Hashable, Iterable, Mapping, Sequence
from itertools import accumulate, pairwise
from typing import Literal, NamedTuple

import numpy as np

from plant.forecast import hours as calendar
from plant.forecast.hours import Hours

Outcome = Literal["passed", "rework", "rejected"]


class Entered(NamedTuple):
    """A station of the route as entered. mean_h: hours of one machine for `takes` casings; None:
    not entered. chamber: its times come from loads."""

    code: str
    machines: int
    mean_h: float | None
    scans: bool
    optional: bool = False
    takes: int = 1
    chamber: bool = False


class Seen(NamedTuple):
    """One scan: when a casing left a station (hours from the origin) and what came of it."""

    casing: Hashable
    code: str
    at_h: float
    outcome: Outcome = "passed"


class Cured(NamedTuple):
    """One cure load, hours from the origin; ended_h None while it is in."""

    begun_h: float
    ended_h: float | None
    casings: tuple[Hashable, ...]


class Passage(NamedTuple):
    """One casing from its last scan to one at a station, worked hours. whole: both were scanned."""

    place: int
    came: float
    left: float
    whole: bool


def stories(
    seen: Iterable[Seen], loads: Sequence[Cured], entered: Sequence[Entered], now_h: float
) -> dict[Hashable, list[Seen]]:
    """Each casing's scans in their order; the end of a load stands for the scan of who came out of
    it unscanned."""
    known = {one.code for one in entered}
    chamber = next((one.code for one in entered if one.chamber), None)
    found: dict[Hashable, list[Seen]] = defaultdict(list)
    for scan in seen:
        if scan.code in known and scan.at_h <= now_h:
            found[scan.casing].append(scan)
    for load in loads:
        if chamber is None or load.ended_h is None or load.ended_h > now_h:
            continue
        for casing in load.casings:
            scanned = any(
                s.code == chamber and 0 <= s.at_h - load.ended_h < 168 for s in found[casing]
            )
            if not scanned:
                found[casing].append(Seen(casing, chamber, load.ended_h))
    for story in found.values():
        story.sort(key=lambda s: s.at_h)
    return found


def passages(
    told: Mapping[Hashable, Sequence[Seen]], entered: Sequence[Entered], hours: Hours
) -> list[Passage]:
    """Every way from scan to scan. Where scans between two are missing, the hours are parted as
    others part them."""
    places = {one.code: i for i, one in enumerate(entered)}
    must = [i for i, one in enumerate(entered) if (one.scans or one.chamber) and not one.optional]
    pairs = [
        (a, b) for story in told.values() for a, b in pairwise(story) if a.outcome != "rejected"
    ]
    came = calendar.worked(hours, np.array([a.at_h for a, _ in pairs]))
    left = calendar.worked(hours, np.array([b.at_h for _, b in pairs]))
    steps = [
        (places[a.code], places[b.code], c, e, a.outcome)
        for (a, b), c, e in zip(pairs, came.tolist(), left.tolist(), strict=True)
    ]
    gaps = [(step, [p for p in must if step[0] < p < step[1]]) for step in steps]
    took: dict[int, list[float]] = defaultdict(list)
    for (_, place, begin, end, _), missing in gaps:
        if not missing:
            took[place].append(end - begin)
    usual = {place: float(np.median(spent)) for place, spent in took.items()}
    found: list[Passage] = []
    for (start, place, begin, end, outcome), missing in gaps:
        # Told twice at one station, and not sent back: the later is no second work.
        if place > start or outcome == "rework":
            ways = _parted([*missing, place], begin, end, usual)
            whole = not missing and outcome != "rework"
            found += [Passage(p, b, e, whole) for p, b, e in ways]
    return found


def _parted(
    stops: Sequence[int], begin: float, end: float, usual: Mapping[int, float]
) -> list[tuple[int, float, float]]:
    """The hours of one way, parted between stations as theirs usually are."""
    parts = [usual.get(place, 0.0) + 1e-9 for place in stops]
    ends = [begin + (end - begin) * part / sum(parts) for part in accumulate(parts)]
    return list(zip(stops, [begin, *ends[:-1]], ends, strict=True))


def last_scans(seen: Iterable[Seen]) -> Callable[[Hashable, float], float | None]:
    """When a casing was last scanned before a moment."""
    times: dict[Hashable, list[float]] = defaultdict(list)
    for scan in sorted(seen, key=lambda s: s.at_h):
        times[scan.casing].append(scan.at_h)

    def last(casing: Hashable, before: float) -> float | None:
        at = times.get(casing, [])
        i = int(np.searchsorted(at, before))
        return at[i - 1] if i else None

    return last


def back_to(seen: Iterable[Seen]) -> Counter[str]:
    """Where casings that were sent back were scanned next, with how many."""
    found: Counter[str] = Counter()
    sent: set[Hashable] = set()
    for scan in sorted(seen, key=lambda s: s.at_h):
        if scan.casing in sent:
            found[scan.code] += 1
            sent.discard(scan.casing)
        if scan.outcome == "rework":
            sent.add(scan.casing)
    return found
