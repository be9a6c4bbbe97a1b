"""Cure loads as their pages show them: in words, with both units, in the dealer's time."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.kernel import clock
from pickups.people import queries as people
from plant.curing import queries, tracing, units
from plant.curing.models import CureLoad, CureSpecification, Hold
from plant.curing.record import Terms
from plant.curing.tracing import Traced
from plant.dock import queries as dock
from plant.floor import words
from plant.floor.queries.drawing import Drawing, draw


@dataclass(frozen=True, slots=True)
class Row:
    """A load in the list."""

    number: str
    chamber: str
    state: str
    said: str
    since: str
    ended: str
    went_in: int
    came_out: int
    missing: list[str]
    alarm: bool


@dataclass(frozen=True, slots=True)
class Mate:
    """A casing of a load."""

    label: str
    said: str
    envelope: str
    out: str
    missing: bool
    owner: str
    where: str


@dataclass(frozen=True, slots=True)
class Held:
    """A held casing; said: what was decided, empty while nothing was."""

    label: str
    grouped: str
    said: str


@dataclass(frozen=True, slots=True)
class Pictured:
    """One gauge's drawing, said in words too."""

    said: str
    drawing: Drawing
    ticks: list[tuple[float, str]]


def zone() -> ZoneInfo:
    """The dealer's."""
    return ZoneInfo(settings.DEALER_TIME_ZONE)


def when(language: str, at: datetime | None) -> str:
    """A moment in the dealer's time, or nothing."""
    return words.day_and_time(language, clock.local(at, zone())) if at else ""


def celsius(value: float) -> str:
    """A temperature in both units."""
    return f"{value:.1f} °C ({units.fahrenheit(value):.0f} °F)"


def kpa(value: float) -> str:
    """A pressure in both units."""
    return f"{value:.0f} kPa ({units.psi(value):.0f} psi)"


def rows(plant: UUID, language: str, *, at: datetime) -> list[tuple[str, list[Row]]]:
    """What is open and what came out lately, by chamber."""
    names = chambers(plant)
    found: dict[str, list[Row]] = {}
    for load in queries.shown(plant, at=at):
        called = names.get(load.chamber, (load.chamber, None))[0]
        called = called or words.say(language, "load_no_chamber")
        found.setdefault(called, []).append(_row(load, language))
    return sorted(found.items())


def _row(load: CureLoad, language: str) -> Row:
    return Row(
        number=load.number,
        chamber=load.chamber,
        state=load.state,
        said=words.say(language, f"load_state_{load.state}"),
        since=when(language, load.since),
        ended=when(language, load.ended_at),
        went_in=len(load.set_in),
        came_out=len(load.set_out),
        missing=[words.grouped(label) for label in load.missing],
        alarm=load.state == queries.State.HELD or bool(load.missing),
    )


def chambers(plant: UUID) -> dict[str, tuple[str, int | None]]:
    """Name and room of the plant's chambers, by code."""
    return {c.code: (c.name, c.holds) for c in dock.route(plant).chambers}


def full(load: CureLoad, language: str) -> tuple[str, bool]:
    """How many went in of how many the chamber holds, and whether that is too many."""
    name, holds = chambers(load.plant_id).get(load.chamber, ("", None))
    if not holds:
        return "", False
    over = len(load.set_in) > holds
    key = "load_too_many" if over else "load_holds"
    return words.say(language, key, n=len(load.set_in), most=holds, name=name), over


def mates(load: CureLoad, language: str) -> list[Mate]:
    """Every casing that went in, and where it is now."""
    labels = [row["label"] for row in load.set_in]
    known = {label: c for c in tracing.standing(load.plant_id, labels) for label in c.every}
    called = dict(stations(load.plant_id, language))
    return [_mate(load, row, known.get(row["label"]), called, language) for row in load.set_in]


def _mate(
    load: CureLoad, row: Mapping[str, str], now: Traced | None, called: Mapping[str, str],
    language: str,
) -> Mate:  # fmt: skip
    label = row["label"]
    missing = label in load.missing
    came = "load_came" if label in load.set_out else "load_not_yet"
    return Mate(
        label=label,
        said=words.grouped(now.label if now else label),
        envelope=row["envelope"],
        out=words.say(language, "load_missing" if missing else came),
        missing=missing,
        owner=owner(now, language),
        where=called.get(now.station, now.station) if now else "",
    )


def owner(now: Traced | None, language: str) -> str:
    """Whose it is."""
    if now is not None and now.dealers:
        return str(settings.DEALER_NAME)
    return (now.owner_name if now else "") or words.say(language, "load_unknown")


def stations(plant: UUID, language: str) -> list[tuple[str, str]]:
    """Code and name of a plant's stations, in the order of the route."""
    return [(one.code, (one.name_es if language == "es" else "") or one.name)
            for one in dock.stations(plant)]  # fmt: skip


def lots(load: CureLoad, language: str) -> list[str]:
    """The lots that the load says of itself."""
    return [f"{words.say(language, 'material_' + lot['kind'])} {lot['number']}"
            for lot in load.lots]  # fmt: skip


def held(load: CureLoad, language: str) -> list[Held]:
    """Held casings with what was decided about each."""
    found = queries.holds(load.plant_id, load.number)
    decided = [d for d in map(queries.decision, found) if d]
    names = people.names({d.by for d in decided})
    return [_held(hold, names, language) for hold in found]


def _held(hold: Hold, names: Mapping[UUID, str], language: str) -> Held:
    decision = queries.decision(hold)
    said = "" if decision is None else words.say(
        language, "decided", what=words.say(language, f"decide_{decision.what}"),
        grounds=decision.grounds, who=names.get(decision.by, ""),
        when=when(language, decision.decided_at),
    )  # fmt: skip
    return Held(hold.label, words.grouped(hold.label), said)


def verdict(load: CureLoad, language: str) -> dict[str, Any]:
    """What the record came to, its grounds, and the figures as pairs of words."""
    told = load.record
    entered = queries.specification(told.get("specification_id"))
    terms = queries.terms_of(entered)
    say = {"meets": "verdict_meets_say", "no_terms": "verdict_no_terms_say"}.get(load.verdict)
    return {
        "key": load.verdict,
        "said": words.say(language, f"verdict_{load.verdict}"),
        "beside": words.say(language, say) if say else "",
        "grounds": [_ground(g, told, terms, language) for g in told.get("grounds", [])],
        "figures": _figures(told, entered, terms, load, language) if "count" in told else [],
    }


def _ground(key: str, told: Mapping[str, Any], terms: Terms | None, language: str) -> str:
    got: Any = ""
    wanted: Any = ""
    if key == "time" and terms:
        got, wanted = _minutes(told["in_range_s"], language), _minutes(terms.minutes * 60, language)
    elif key == "too_hot" and terms and terms.most_c is not None:
        got, wanted = celsius(told["highest_c"]), celsius(terms.most_c)
    elif key == "pressure_over" and terms and terms.most_kpa is not None:
        got, wanted = kpa(told["highest_kpa"]), kpa(terms.most_kpa)
    elif key == "gaps" and terms:
        wanted = _minutes(terms.gap_s, language)
        got = _gaps(told, language)
    return words.say(language, f"ground_{key}", got=got, wanted=wanted)


def _gaps(told: Mapping[str, Any], language: str) -> str:
    pairs = [[datetime.fromisoformat(at) for at in gap] for gap in told["gaps"]]
    said = [f"{clock.local(a, zone()):%H:%M} - {clock.local(b, zone()):%H:%M}" for a, b in pairs]
    return ", ".join(said[:8]) or words.say(language, "figure_none")


def _figures(
    told: Mapping[str, Any], entered: CureSpecification | None, terms: Terms | None,
    load: CureLoad, language: str,
) -> list[tuple[str, str]]:  # fmt: skip
    def say(key: str, **values: object) -> str:
        return words.say(language, key, **values)

    found = []
    if terms:
        found += [
            (say("figure_range"), _minutes(told["in_range_s"], language)),
            (say("figure_unbroken"), _minutes(told["unbroken_s"], language)),
        ]
    low, most = celsius(told["lowest_c"]), celsius(told["highest_c"])
    found.append((say("figure_temperature"), say("to", low=low, high=most)))
    if told.get("highest_kpa") is not None:
        low, most = kpa(told["lowest_kpa"]), kpa(told["highest_kpa"])
        found.append((say("figure_pressure"), say("to", low=low, high=most)))
    since, until = (datetime.fromisoformat(told[key]) for key in ("since", "until"))
    readings = say("figure_readings_say", n=told["count"], since=when(language, since),
                   until=when(language, until))  # fmt: skip
    found.append((say("figure_readings"), readings))
    if terms:
        found.append((say("figure_gaps"), _gaps(told, language)))
    if entered and entered.law and "equivalent_s" in told:
        law = entered.law
        said = say("figure_equivalent_say", minutes=round(told["equivalent_s"] / 60),
                   celsius=celsius(law["reference_c"]), energy=f"{law['energy_kj']:g}")  # fmt: skip
        found.append((say("figure_equivalent"), said))
    if entered and entered.terms:
        names = chambers(load.plant_id)
        whose = names.get(entered.chamber, (entered.chamber, None))[0] or say("cure_spec_every")
        found.append((say("figure_by"),
                      say("figure_by_say", number=entered.number, chamber=whose)))  # fmt: skip
    return found


def _minutes(seconds: float, language: str) -> str:
    return words.say(language, "minutes_of", n=f"{seconds / 60:.1f}".removesuffix(".0"))


def pictured(load: CureLoad, language: str) -> list[Pictured]:
    """The newest record drawn, each gauge by itself, with what was entered behind it."""
    newest = queries.newest_record(load.plant_id, load.number)
    if newest is None or "count" not in load.record:
        return []
    readings = queries.readings(newest)
    terms = queries.terms_of(queries.specification(load.record.get("specification_id")))
    gap_s = terms.gap_s if terms else float("inf")
    hot = [(r.at, r.celsius) for r in readings if r.celsius is not None]
    forced = [(r.at, r.kpa) for r in readings if r.kpa is not None]
    none: tuple[float | None, float | None] = (None, None)
    made = []
    for key, points, show, (low, most) in (
        ("drawn_temperature", hot, celsius, (terms.low_c, terms.most_c) if terms else none),
        ("drawn_pressure", forced, kpa, (terms.low_kpa, terms.most_kpa) if terms else none),
    ):
        drawing = draw(points, low=low, most=most, gap_s=gap_s)
        if drawing is not None:
            values = [v for _, v in points]
            said = words.say(language, key, low=show(min(values)), high=show(max(values)),
                             band=band(low, most, show, language))  # fmt: skip
            made.append(Pictured(said, drawing, [(y, show(v)) for y, v in drawing.ticks]))
    return made


def band(low: float | None, most: float | None, show: Any, language: str) -> str:
    """A band in words."""
    if low is not None and most is not None:
        return words.say(language, "to", low=show(low), high=show(most))
    if low is not None:
        return words.say(language, "drawn_from", low=show(low))
    return show(most) if most is not None else words.say(language, "drawn_no_band")
