"""The plant's day as its page shows it: as many queries however many casings are inside."""

import hashlib
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.casings import reasons as catalogue
from pickups.kernel import clock
from plant.dock import queries as dock
from plant.floor import figures, words
from plant.floor.figures import Inside
from plant.floor.queries import asked, ended
from plant.floor.queries.asked import Asked
from plant.floor.queries.route import caution, name
from plant.inspection import daily
from plant.inspection.doors import rushing

SHOWN = 200
"""How many casings of a station are listed."""


@dataclass(frozen=True, slots=True)
class Station:
    """One station of the day, in words."""

    code: str
    name: str
    here: int
    waits: int
    since: str
    done: int


@dataclass(frozen=True, slots=True)
class Day:
    """All that the page says. mark: differs as soon as anything of it does."""

    at: str
    inside: list[str]
    throughput: list[str]
    first_pass: str
    reasons: list[tuple[str, int]]
    stations: list[Station]
    asked: list[Asked]
    mark: str


@dataclass(frozen=True, slots=True)
class Casing:
    """One casing at a station."""

    label: str
    code: str
    stage: str
    age: str
    again: str
    rush: str


@dataclass(frozen=True, slots=True)
class Queue:
    """What lies at a station and what comes there next, the longest first."""

    name: str
    caution: str
    here: list[Casing]
    waits: list[Casing]
    here_said: str
    waits_said: str
    more: str


def day(plant: UUID, language: str, *, at: datetime) -> Day:
    """The day and the week (from Monday, in the dealer's zone) as they stand at a moment."""
    local = clock.local(at, ZoneInfo(settings.DEALER_TIME_ZONE))
    midnight = local.replace(hour=0, minute=0, second=0, microsecond=0)
    monday = midnight - timedelta(days=midnight.weekday())
    events = daily.since(plant, monday)
    rows = inside(plant)
    stops = {one.code: name(one, language) for one in dock.stations(plant)}
    stations = [
        Station(
            code=one.code,
            name=stops.get(one.code, one.code),
            here=one.here,
            waits=one.waits,
            since=words.span(language, (at - one.since).total_seconds()) if one.since else "",
            done=one.done,
        )
        for one in figures.by_station(list(stops), rows, ended.done_at(events, midnight))
    ]
    ends = ended.ends(plant, events)
    said = Day(
        at=f"{local:%H:%M}",
        inside=_inside(rows, language, at),
        throughput=[
            words.say(language, "day_today", n=ended.finished(ends, midnight)),
            words.say(language, "day_week", n=ended.finished(ends, monday)),
        ],
        first_pass=_first_pass(ended.ended(plant, ends), language),
        reasons=[(catalogue.words(c, language), n) for c, n in ended.reasons(ends, events)],
        stations=stations,
        asked=asked.open_ones(plant, language, at=at),
        mark="",
    )
    told = repr(replace(said, at=""))
    mark = hashlib.sha256(told.encode()).hexdigest()[:16]
    return replace(said, mark=mark)


def inside(plant: UUID) -> list[Inside]:
    """What is inside a plant and has not left it."""
    return [Inside(*row) for row in daily.inside(plant)]


def queue(plant: UUID, code: str, language: str, *, at: datetime) -> Queue | None:
    """One station; None where the plant has none of this code and nothing lies there."""
    rows = inside(plant)
    here = sorted((r for r in rows if r.station == code), key=lambda r: (r.seen_at, r.label))
    waits = [r for r in rows if r.next == code and r.stage in figures.ON_THE_WAY]
    rush = rushing.labels(rushing.in_force(plant))
    here.sort(key=lambda r: r.label not in rush)
    waits.sort(key=lambda r: (r.label not in rush, r.seen_at, r.label))
    known = {one.code: one for one in dock.stations(plant)}
    if code not in known and not here:
        return None
    more = len(here) > SHOWN or len(waits) > SHOWN
    return Queue(
        name=name(known[code], language) if code in known else code,
        caution=caution(known[code], language) if code in known else "",
        here=[_casing(one, language, at, rush) for one in here[:SHOWN]],
        waits=[_casing(one, language, at, rush) for one in waits[:SHOWN]],
        here_said=words.say(language, "at_here", n=len(here)),
        waits_said=words.say(language, "at_waits", n=len(waits)),
        more=words.say(language, "at_more", n=SHOWN) if more else "",
    )


def _casing(one: Inside, language: str, at: datetime, rush: frozenset[str]) -> Casing:
    again = words.say(language, "at_reworks", n=one.reworks) if one.reworks else ""
    return Casing(
        label=words.grouped(one.label),
        code=one.label,
        stage=words.of(language)[f"stage_{one.stage}"],
        age=words.span(language, (at - one.seen_at).total_seconds()),
        again=again,
        rush=words.of(language)["rush_first"] if one.label in rush else "",
    )


def _inside(rows: list[Inside], language: str, at: datetime) -> list[str]:
    """How many are inside, the longest of them, and what waits for a person."""
    if not rows:
        return [words.of(language)["day_none"]]
    stages = [row.stage for row in rows]
    working = [row for row in rows if row.stage in (*figures.ON_THE_WAY, "on_hold")]
    said = [words.say(language, "day_inside_of", n=len(working))]
    if working:
        oldest = min(row.entered_at for row in working)
        span = words.span(language, (at - oldest).total_seconds())
        said.append(words.say(language, "day_oldest", span=span))
    for stage, key in (
        ("on_hold", "day_hold"),
        ("repair", "day_repair"),
        ("rejected", "day_rejected"),
        ("finished", "day_finished_here"),
    ):
        if n := stages.count(stage):
            said.append(words.say(language, key, n=n))
    return said


def _first_pass(rows: list[figures.Ended], language: str) -> str:
    share = figures.first_pass(rows)
    if share is None:
        return words.of(language)["day_yield_none"]
    return words.say(language, "day_yield_is", percent=f"{share * 100:.0f}", n=len(rows))
