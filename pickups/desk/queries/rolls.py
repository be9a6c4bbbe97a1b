"""The rolls of labels that were printed, and how many of each are on casings."""

from dataclasses import dataclass

from pickups.casings import queries as casings
from pickups.desk import words
from pickups.desk.queries.names import Names
from pickups.labels import queries as labels
from pickups.people import queries as people
from pickups.people.models import Site

SHOWN = 40
"""How many of the rolls printed last are shown."""


@dataclass(frozen=True)
class Row:
    """A roll as the office reads it."""

    id: int
    store: str
    printed: str
    span: str
    used: str


def rolls(language: str) -> list[Row]:
    """The rolls printed last, the newest first."""
    names, found = Names(language), labels.newest_rolls(SHOWN)
    codes = labels.codes_by_roll(found)
    worn = casings.worn(code for each in codes.values() for code in each)
    made = []
    for roll in found:
        own = codes[roll.pk]
        used = sum(code in worn for code in own)
        key = "roll_used_said" if used < len(own) else "roll_used_all"
        made.append(
            Row(
                roll.pk,
                roll.site.name,
                names.when(roll.printed_at),
                _span(own, names),
                names.say(key, used=used, n=len(own)),
            )
        )
    return made


def _span(codes: list[str], names: Names) -> str:
    first, last = (words.grouped(code, 4) for code in (codes[0], codes[-1]))
    key = "roll_span_said" if len(codes) > 1 else "roll_span_one"
    return names.say(key, n=len(codes), first=first, last=last)


def stores() -> list[Site]:
    """For whom a roll can be printed."""
    return [site for site in people.sites() if site.kind == "store"]
