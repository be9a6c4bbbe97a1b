"""A trace in words: the casings that something touched by owner, and what touched one casing."""

import csv
import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from uuid import UUID

from django.conf import settings

from pickups.customers import queries as customers
from pickups.people import queries as people
from plant.curing.tracing import Found, Life, Traced
from plant.floor import words
from plant.floor.queries import loads
from plant.inspection.tracing import Seen


@dataclass(frozen=True, slots=True)
class Line:
    """One casing of an owner."""

    label: str
    said: str
    where: str
    progress: str
    station: str
    unit: str


@dataclass(frozen=True, slots=True)
class Owner:
    """An owner with all their casings, and whom to write to there."""

    name: str
    lines: list[Line]
    write_to: list[str]


@dataclass(frozen=True, slots=True)
class Step:
    """One thing that was told of a casing."""

    when: str
    station: str
    what: str
    who: str
    beside: str


def owners(plant: UUID, found: Found, language: str, *, names: bool) -> list[Owner]:
    """By owner; those whose owner is not known come last. names: the reader may see who to write
    to."""
    by_owner: dict[tuple[str, UUID | None], list[Traced]] = {}
    for one in found.casings:
        by_owner.setdefault((called(one, language), one.owner), []).append(one)
    places = _places(found.casings, language)
    called_at = dict(loads.stations(plant, language))
    return [
        Owner(name, [_line(one, places, called_at, language) for one in held],
              _write_to(found, owner, language, names))
        for (name, owner), held in by_owner.items()
    ]  # fmt: skip


def called(one: Traced, language: str) -> str:
    """Whose it is."""
    if one.dealers:
        return str(settings.DEALER_NAME)
    return one.owner_name or words.say(language, "trace_owner_none")


def _write_to(found: Found, owner: UUID | None, language: str, names: bool) -> list[str]:
    if owner is None:
        return []
    known = found.contacts.get(owner, [])
    if not known:
        return [words.say(language, "trace_no_address")]
    if not names:
        return [words.say(language, "trace_not_yours")]
    return [f"{c.name} <{c.email}>" for c in known]


def _line(
    one: Traced, places: Mapping[str, str], called_at: Mapping[str, str], language: str
) -> Line:
    return Line(
        label=one.label,
        said=words.grouped(one.label),
        where=places.get(one.holder, words.say(language, "load_unknown")),
        progress=words.say(language, f"progress_{one.progress}")
        + (f", {words.say(language, 'trace_corrected')}" if one.corrected else ""),
        station=called_at.get(one.station, one.station),
        unit=str(one.order.told.get("unit", "")) if one.order else "",
    )


def _places(held: Sequence[Traced], language: str) -> dict[str, str]:
    """Who has them, in words, by the holder's text."""
    texts = {one.holder for one in held if one.holder}
    ids = {text: UUID(text.partition(":")[2]) for text in texts}
    sites = {s.uid: s.name for s in people.sites()}
    persons = people.names(ids.values())
    owners = customers.names(ids.values())
    road = words.say(language, "progress_shipped")
    return {
        text: road if text.startswith("road:")
        else sites.get(uid) or owners.get(uid) or persons.get(uid) or
        words.say(language, "load_unknown")
        for text, uid in ids.items()
    }  # fmt: skip


def table(plant: UUID, found: Found, language: str, *, names: bool) -> str:
    """The same as a table (RFC 4180): a row a casing."""
    out = io.StringIO()
    sheet = csv.writer(out)
    say = words.of(language)
    sheet.writerow([say["load_owner"], say["trace_write_to"], say["load_label"],
                    say["trace_labels"], say["trace_where"], say["load_state"],
                    say["trace_station"]])  # fmt: skip
    every = {one.label: one.every for one in found.casings}
    for owner in owners(plant, found, language, names=names):
        for line in owner.lines:
            sheet.writerow(_harmless([owner.name, "; ".join(owner.write_to), line.label,
                                      " ".join(every[line.label]), line.where, line.progress,
                                      line.station]))  # fmt: skip
    return out.getvalue()


def _harmless(cells: Sequence[str]) -> list[str]:
    """A cell that a spreadsheet would take for a formula is text."""
    return [f"'{cell}" if cell[:1] in "=+-@\t\r" and cell else cell for cell in cells]


def steps(plant: UUID, life: Life, language: str) -> list[Step]:
    """What was told of a casing, the first first."""
    persons = people.names({s.by for s in life.seen if s.by})
    called_at = dict(loads.stations(plant, language))
    return [_step(s, persons, called_at, language) for s in life.seen]


def _step(
    s: Seen, persons: Mapping[UUID, str], called_at: Mapping[str, str], language: str
) -> Step:
    beside = [s.machine, s.load, s.envelope, *(lot["number"] for lot in s.lots)]
    return Step(
        when=loads.when(language, s.happened_at),
        station=called_at.get(s.station, s.station),
        what=words.say(language, f"outcome_{s.outcome}"),
        who=(persons.get(s.by, "") if s.by else "") or s.operator,
        beside=", ".join(filter(None, beside)),
    )


def gathered(plant: UUID, life: Life, language: str) -> list[tuple[str, list[str]]]:
    """Lots, operators and machines that touched it, each with where."""
    persons = people.names({s.by for s in life.seen if s.by})
    called_at = dict(loads.stations(plant, language))
    lots: dict[str, None] = {}
    who: dict[str, None] = {}
    machines: dict[str, None] = {}
    for s in life.seen:
        at = called_at.get(s.station, s.station)
        for lot in s.lots:
            lots[f"{words.say(language, 'material_' + lot['kind'])} {lot['number']} ({at})"] = None
        name = (persons.get(s.by, "") if s.by else "") or s.operator
        if name:
            who[f"{name} ({at})"] = None
        if s.machine:
            machines[f"{s.machine} ({at})"] = None
    for load in life.loads:
        lots |= dict.fromkeys(f"{said} ({load.number})" for said in loads.lots(load, language))
        if load.operator:
            who[f"{load.operator} ({load.number})"] = None
    return [
        (words.say(language, "trace_lots"), list(lots)),
        (words.say(language, "trace_operators"), list(who)),
        (words.say(language, "trace_machines"), list(machines)),
    ]
