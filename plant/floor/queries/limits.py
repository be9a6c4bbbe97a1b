"""Repair limits as their page shows them."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.casings import reasons
from pickups.casings.condition import KINDS_BY_ZONE, Zone, kind_in_words, zone_in_words
from pickups.kernel import clock
from plant.dock import queries as dock
from plant.dock.models import RepairLimit
from plant.floor import words
from plant.inspection.limits import CLASSES, NEVER_KINDS, REFERENCES
from plant.inspection.rules import NEVER_RELEASED

Choices = list[tuple[str, str]]
ZONES = tuple(str(zone) for zone in Zone)
KINDS = tuple(
    dict.fromkeys(
        str(kind) for kinds in KINDS_BY_ZONE.values() for kind in kinds if kind not in NEVER_KINDS
    )
)
"""Kinds of finding for which a limit can be entered."""


@dataclass(frozen=True, slots=True)
class Line:
    """One limit in words. id: of an entered one, 0 of a published one."""

    id: int
    zone: str
    kind: str
    sizes: str
    most: str
    source: str
    said: str
    back_said: str = ""


def entered(plant: UUID, language: str) -> list[Line]:
    """What the plant has entered: with who, when and which chart."""
    return [_line(row, language) for row in dock.repair_limits([plant])]


def _line(row: RepairLimit, language: str) -> Line:
    at = clock.local(row.entered_at, ZoneInfo(settings.DEALER_TIME_ZONE))
    when = words.day_and_time(language, at)
    zone, kind = zone_in_words(row.zone, language), kind_in_words(row.kind, language)
    return Line(
        id=row.pk,
        zone=zone,
        kind=kind,
        sizes=sizes(row.size_class, language),
        most=most(row.most_mm, row.most_count, language),
        source=row.chart,
        said=words.say(language, "limits_when", who=row.entered_by, when=when),
        back_said=words.say(language, "limits_back_of", zone=zone, kind=kind),
    )


def published(language: str) -> list[Line]:
    """Published figures, which do not count: with what they say and how sure it is."""
    w = words.of(language)
    return [
        Line(
            id=0,
            zone=zone_in_words(one.zone, language),
            kind=kind_in_words(one.kind, language),
            sizes=sizes(one.size_class, language),
            most=one.meaning[language],
            source=one.source,
            said=w[f"sure_{one.sure}"],
        )
        for one in REFERENCES
    ]


def never(language: str) -> list[str]:
    """What may never be released, in words."""
    return sorted(reasons.words(code, language) for code in NEVER_RELEASED)


def choices(language: str) -> Mapping[str, Choices]:
    """What can be chosen for zone and kind."""
    return {
        "zones": [(zone, zone_in_words(zone, language)) for zone in ZONES],
        "kinds": [(kind, kind_in_words(kind, language)) for kind in KINDS],
        "classes": [(one, words.of(language)[f"class_{one}"]) for one in CLASSES],
    }


def last_chart(plant: UUID) -> str:
    """The chart of the line that was entered last; a chart has many lines."""
    rows: Iterator[RepairLimit] = iter(
        sorted(dock.repair_limits([plant]), key=lambda row: row.entered_at, reverse=True)
    )
    last = next(rows, None)
    return last.chart if last else ""


def sizes(size_class: str, language: str) -> str:
    """For which sizes a limit is."""
    w = words.of(language)
    return w.get(f"class_{size_class}", size_class) if size_class else w["limits_all_sizes"]


def most(mm: float | None, count: int | None, language: str) -> str:
    """How large and how many at most."""
    if mm is None:
        return words.say(language, "limits_count", n=count)
    if count is None:
        return words.say(language, "limits_mm", mm=f"{mm:g}")
    return words.say(language, "limits_and", mm=f"{mm:g}", n=count)
