"""Casings that are still to come to a plant: known ones, and as many as usually do. Pure.

Known are those on a truck's list and those on runs that are planned; beside them as many are
expected on a day as came on such a weekday lately, known ones counted in. A casing that is asked
about ("when would one be finished that arrives on Thursday") is one of those expected, where any
are: it takes the place of one, and comes when most of a day's casings are there.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from uuid import UUID
from zoneinfo import ZoneInfo

from plant.forecast.laid_out import Entered, Layout, skipped
from plant.forecast.shop import Job

WEEKS = 4
"""Over so many weeks casings that came are counted."""
NOON = time(12)
"""When casings come in, where nothing is known of it."""
LATE = 0.75
"""The share of a day's casings that are there when one that is asked about comes."""
WORKS = ("retread", "repair")


@dataclass(frozen=True, slots=True)
class Known:
    """One casing that is known to come: when, and what was ordered for it."""

    at: datetime
    work: str
    order: UUID | None = None


@dataclass(frozen=True, slots=True)
class Usual:
    """What came lately. by_weekday: casings a day, 0 is Monday. times: of the day at which they
    came, ascending. repairs: the share of repair only."""

    by_weekday: Mapping[int, float] = field(default_factory=dict)
    times: Sequence[time] = ()
    repairs: float = 0.0

    def at(self, share: float) -> time:
        """By when such a share of a day's casings is there."""
        if not self.times:
            return NOON
        return self.times[min(len(self.times) - 1, int(share * len(self.times)))]


@dataclass(frozen=True, slots=True)
class Group:
    """Casings that arrive together on a day: the indices of their jobs."""

    work: str
    on: date
    jobs: tuple[int, ...]


def usual(came: Iterable[datetime], repairs: float, zone: ZoneInfo) -> Usual:
    """What came in the last WEEKS weeks, from when each casing was first told of here."""
    local = sorted((at.astimezone(zone) for at in came), key=lambda at: at.time())
    counts: dict[int, float] = {}
    for at in local:
        counts[at.weekday()] = counts.get(at.weekday(), 0.0) + 1 / WEEKS
    return Usual(counts, [at.time() for at in local], repairs)


def jobs(
    layout: Layout,
    entered: Entered,
    known: Sequence[Known],
    lately: Usual,
    *,
    origin: datetime,
    days: int,
    asked: Mapping[date, Sequence[tuple[str, int]]] | None = None,
) -> tuple[list[Job], list[Group]]:
    """All that comes in so many days from the origin's on, in the order of coming; and the groups
    that were `asked` about, as (work, how many) by day."""
    zone = entered.zone
    first = origin.astimezone(zone).date()
    made: list[tuple[Job, int]] = []
    groups: list[tuple[str, date]] = []
    skips = {work: _skip(layout, entered, work) for work in ("", *WORKS)}
    for away in range(days):
        day = first + timedelta(days=away)
        here = [one for one in known if _day(one.at, origin, zone) == day]
        made += [(_job(layout, _hours(one.at, origin), skips.get(one.work, skips[""])), -1)
                 for one in here]  # fmt: skip
        wanted = asked.get(day, ()) if asked else ()
        for work, count in wanted:
            at_h = _at(day, lately.at(LATE), zone, origin)
            made += [(_job(layout, at_h, skips[work]), len(groups))] * count
            groups.append((work, day))
        # Those asked about are some of those expected.
        taken = len(here) + sum(count for _, count in wanted)
        left = lately.by_weekday.get(day.weekday(), 0.0) - taken
        made += [(job, -1) for job in _expected(layout, left, lately, day, zone, origin, skips)]
    made.sort(key=lambda pair: pair[0].at_h)
    found: list[list[int]] = [[] for _ in groups]
    for i, (_, group) in enumerate(made):
        if group >= 0:
            found[group].append(i)
    return [job for job, _ in made], [
        Group(work, day, tuple(found[g])) for g, (work, day) in enumerate(groups)
    ]


def whose(
    layout: Layout,
    entered: Entered,
    known: Sequence[Known],
    come: Sequence[Job],
    *,
    origin: datetime,
    days: int,
) -> dict[UUID, int]:
    """Which of those that come is the casing of which order. Those that are told the same way are
    one as good as the other."""
    free: dict[Job, list[int]] = {}
    for i, job in enumerate(come):
        free.setdefault(job, []).append(i)
    found = {}
    for one in known:
        alone, _ = jobs(layout, entered, [one], Usual(), origin=origin, days=days)
        if one.order is not None and alone and free.get(alone[0]):
            found[one.order] = free[alone[0]].pop(0)
    return found


def _expected(
    layout: Layout,
    count: float,
    lately: Usual,
    day: date,
    zone: ZoneInfo,
    origin: datetime,
    skips: Mapping[str, frozenset[int]],
) -> Iterable[Job]:
    """So many casings spread over the day as they came lately; of the last, the chance that it
    comes. Those of today whose time is over came or do not come."""
    whole = math.ceil(count - 1e-9)
    for n in range(max(0, whole)):
        share = (n + 0.5) / whole
        at_h = _at(day, lately.at(share), zone, origin)
        if at_h <= 0:
            continue
        work = "repair" if _is_nth(n + day.toordinal(), lately.repairs) else "retread"
        chance = min(1.0, count - n)
        yield Job(0, at_h, skip=skips[work], chance=chance)


def _is_nth(n: int, share: float) -> bool:
    """Spreads a share evenly over what is counted."""
    return math.floor((n + 1) * share) > math.floor(n * share)


def _skip(layout: Layout, entered: Entered, work: str) -> frozenset[int]:
    return skipped(layout, entered, work=work, marked=None)


def _job(layout: Layout, at_h: float, skip: frozenset[int]) -> Job:
    first = next((i for i in range(len(layout.codes)) if i not in skip), 0)
    return Job(first, max(0.0, at_h), skip=skip - {first})


def _day(at: datetime, origin: datetime, zone: ZoneInfo) -> date:
    """What should have come already comes today."""
    return max(at, origin).astimezone(zone).date()


def _hours(at: datetime, origin: datetime) -> float:
    return (at - origin).total_seconds() / 3600


def _at(day: date, clock: time, zone: ZoneInfo, origin: datetime) -> float:
    return _hours(datetime.combine(day, clock, tzinfo=zone), origin)
