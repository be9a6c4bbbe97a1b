"""What the plant entered for its cures, and whom it named, in words."""

from dataclasses import dataclass
from uuid import UUID

from pickups.people import queries as people
from plant.curing import queries
from plant.curing.models import CureSpecification
from plant.floor import words
from plant.floor.queries import loads


@dataclass(frozen=True, slots=True)
class Entered:
    """One chamber's: what holds now, and what was entered before."""

    chamber: str
    stands: list[str]
    before: list[str]


@dataclass(frozen=True, slots=True)
class Named:
    """A person who is or was qualified."""

    id: int
    name: str
    said: str
    over: bool
    end: str


def entered(plant: UUID, language: str) -> list[Entered]:
    """By chamber, all chambers first."""
    names = loads.chambers(plant)
    every = queries.specifications(plant)
    who = people.names({row.entered_by for rows in every.values() for row in rows})
    return [
        Entered(
            names.get(code, (code, None))[0] or words.say(language, "cure_spec_every"),
            _said(rows[0], who, language),
            [" ".join(_said(row, who, language)) for row in rows[1:6]],
        )
        for code, rows in every.items()
    ]


def numbers(plant: UUID) -> list[tuple[str, int]]:
    """The newest number of each chamber's, so that none is written over unseen."""
    return [(code, rows[0].number) for code, rows in queries.specifications(plant).items()]


def _said(row: CureSpecification, who: dict[UUID, str], language: str) -> list[str]:
    when, by = loads.when(language, row.entered_at), who.get(row.entered_by, "")
    terms = queries.terms_of(row)
    if terms is None:
        return [words.say(language, "cure_spec_ended", number=row.number, when=when, who=by)]
    pressure = (
        loads.band(terms.low_kpa, terms.most_kpa, loads.kpa, language)
        if terms.asks_pressure
        else words.say(language, "cure_spec_no_pressure")
    )
    told = [
        words.say(language, "cure_spec_terms", pressure=pressure, minutes=f"{terms.minutes:g}",
                  band=loads.band(terms.low_c, terms.most_c, loads.celsius, language),
                  gap=f"{terms.gap_s / 60:g}"),
        words.say(language, "cure_spec_stands", number=row.number, when=when, who=by,
                  source=row.source),
    ]  # fmt: skip
    if row.law:
        told.insert(1, words.say(language, "cure_spec_law", energy=f"{row.law['energy_kj']:g}",
                                 celsius=loads.celsius(row.law["reference_c"])) + ".")  # fmt: skip
    told[0] += "."
    return told


def qualified(plant: UUID, language: str) -> list[Named]:
    """Those who decide, then those who did."""
    rows = queries.qualified(plant)
    who = people.names({uid for q in rows for uid in (q.person, q.named_by)})
    found = []
    for q in rows:
        said = {"name": who.get(q.person, ""), "matter": words.say(language, f"matter_{q.matter}"),
                "since": loads.when(language, q.since)}  # fmt: skip
        over = q.until is not None
        said |= {"until": loads.when(language, q.until), "grounds": q.grounds,
                 "by": who.get(q.named_by, "")}  # fmt: skip
        line = words.say(language, "qualified_over" if over else "qualified_line", **said)
        end = words.say(language, "qualified_end", name=said["name"])
        found.append(Named(q.id, said["name"], line, over, end))
    return found
