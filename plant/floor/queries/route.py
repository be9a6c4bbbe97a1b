"""The plant's route as its page shows it."""

from dataclasses import dataclass
from uuid import UUID

from plant.dock import queries as dock
from plant.dock.models import Station
from plant.floor import words


@dataclass(frozen=True, slots=True)
class Line:
    """One station: its place, what it is called, how it works, and where it can be moved."""

    id: int
    place: int
    code: str
    name: str
    how: list[str]
    cycle: str
    caution: str
    first: bool
    last: bool
    up_said: str
    down_said: str

    @property
    def up(self) -> int:
        """The place above."""
        return self.place - 1

    @property
    def down(self) -> int:
        """The place below."""
        return self.place + 1


@dataclass(frozen=True, slots=True)
class Hours:
    """When the plant works, as sentences; None of a calendar where there is none."""

    days: str
    shifts: list[str]
    holidays: list[str]


def lines(plant: UUID, language: str) -> list[Line]:
    """The stations in their order, in a language."""
    found = dock.stations(plant)
    return [_line(one, place, place == len(found), language) for place, one in enumerate(found, 1)]


def _line(one: Station, place: int, last: bool, language: str) -> Line:
    called = name(one, language)
    return Line(
        id=one.pk,
        place=place,
        code=one.code,
        name=called,
        how=_how(one, language),
        cycle=_minutes(one.cycle_min, language),
        caution=caution(one, language),
        first=place == 1,
        last=last,
        up_said=words.say(language, "route_up_of", name=called),
        down_said=words.say(language, "route_down_of", name=called),
    )


def name(station: Station, language: str) -> str:
    """What a station is called; in its first language where the other has no word."""
    return (station.name_es if language == "es" else "") or station.name


def caution(station: Station, language: str) -> str:
    """What to look out for there."""
    return (station.caution_es if language == "es" else "") or station.caution


def chambers(plant: UUID, language: str) -> list[str]:
    """Each chamber as a sentence."""
    return [
        words.say(language, "chamber_line", name=c.name, code=c.code, holds=c.holds,
                  cycle=_minutes(c.cycle_min, language))
        for c in dock.route(plant).chambers
    ]  # fmt: skip


def hours(plant: UUID, language: str) -> Hours | None:
    """Weekdays, shifts and holidays as sentences."""
    calendar = dock.calendar(plant)
    if calendar is None:
        return None
    w = words.of(language)
    return Hours(
        days=words.say(language, "hours_days",
                       days=", ".join(w[f"weekday_{day}"] for day in calendar.weekdays)),
        shifts=[
            words.say(language, "hours_line", day=w[f"weekday_{s.weekday}"],
                      begins=f"{s.begins:%H:%M}", ends=f"{s.ends:%H:%M}")
            for s in calendar.shifts.all()
        ],
        holidays=[
            words.say(language, "hours_holiday", day=words.day_in_words(language, h.on),
                      name=h.name).strip()
            for h in calendar.holidays.all()
        ],
    )  # fmt: skip


def rework_limit(plant: UUID, language: str) -> str:
    """How often a casing may be worked again, as a sentence."""
    limit = dock.rework_limit(plant)
    if limit is None:
        return words.of(language)["rework_limit_none"]
    return words.say(language, "rework_limit_is", n=limit)


def _how(one: Station, language: str) -> list[str]:
    w = words.of(language)
    said = [w["route_scans" if one.scans else "route_no_scan"]]
    if one.optional:
        said.append(w["route_optional"])
    if one.machines > 1:
        said.append(words.say(language, "route_machines", n=one.machines))
    if one.batch > 1:
        said.append(words.say(language, "route_batch", n=one.batch))
    return said


def _minutes(told: int | None, language: str) -> str:
    if told is None:
        return words.of(language)["route_no_time"]
    return words.say(language, "route_minutes", n=told)
