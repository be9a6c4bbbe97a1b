"""Repair limits: how large and how many an injury may be to be repaired, as the plant entered it
from the chart of its repair material's supplier. Pure.

A limit counts only once the plant has entered it, with who, when and which chart. Published figures
are shipped beside as references; they never count (`active` is false), and no figure is invented.
What is not beyond a limit is no permission: whether a casing is repaired decides who stands before
it. The twin of frontend/src/domain/limits.ts; fixtures/vectors/repair_limits.json holds both to the
same answers.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

LIGHT, MEDIUM = "light", "medium"
CLASSES = (LIGHT, MEDIUM)
"""Size classes besides single sizes: nominal rims below 17.5 in, and from there on. Our own line
between passenger and light truck tires and those of trucks and buses."""

MOST_MM = 1000.0
MOST_COUNT = 50
"""Bounds of what a plant enters, to catch slips. Our own figures."""

NEVER_KINDS = ("bead_wire", "cord", "separation", "run_flat", "dot_removed")
"""Kinds of finding for which no limit is asked: such a casing is rejected and never released."""

_RIM = re.compile(r"[R-](\d{2}(?:\.5)?)(?:C|LT)?$")


class Says(StrEnum):
    """What a limit has to say of a find; there is no word for a permission."""

    NONE = "no limit entered"
    BEYOND = "beyond the entered limit"
    NOT_BEYOND = "not beyond the entered limit"


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit. zone, kind: as a finding has them. size_class: one of CLASSES, a size as it stands
    on a sidewall, or empty for all. most_mm: the longest, in mm; most_count: how many on a casing;
    None where the chart says nothing of it. source: which chart."""

    zone: str
    kind: str
    size_class: str
    most_mm: float | None
    most_count: int | None
    source: str
    active: bool


@dataclass(frozen=True, slots=True)
class Verdict:
    """What the entered limits say of a find. charts: the ones that were asked, by name. silent: the
    measures of which no limit was entered, "size" and, where there is more than one, "count"."""

    says: Says
    charts: tuple[str, ...] = ()
    silent: tuple[str, ...] = ()

    def __str__(self) -> str:
        named = f" ({', '.join(self.charts)})" if self.says is Says.NOT_BEYOND else ""
        return f"{self.says}{named}"


def verdict(
    zone: str, kind: str, size_mm: float, count: int, size_class: str, limits: Iterable[Limit]
) -> Verdict:
    """A find held against the entered limits; the strictest of several speaks. One that is silent
    on how long a find may be says nothing of it, however few there are.

    size_mm: across its longest. count: how many like it the casing has. size_class: the casing's
    size as read, or its class; where it is empty nobody knows it, and each limit of the zone and
    kind counts, whatever its class.
    """
    known = classes_of(size_class)
    asked = [
        one
        for one in limits
        if one.active
        and (one.zone, one.kind) == (zone, kind)
        and (not size_class or one.size_class in known)
    ]
    over = [one for one in asked if _is_over(one, size_mm, count)]
    charts = tuple(sorted({one.source for one in over or asked}))
    silent = _silent(asked, count)
    if not over and "size" in silent:
        return Verdict(Says.NONE, silent=silent)
    return Verdict(Says.BEYOND if over else Says.NOT_BEYOND, charts, silent)


def _silent(asked: Sequence[Limit], count: int) -> tuple[str, ...]:
    size = all(one.most_mm is None for one in asked)
    several = count > 1 and all(one.most_count is None for one in asked)
    return ("size",) * size + ("count",) * several


def classes_of(size: str) -> frozenset[str]:
    """Under which size classes a casing falls: all, its own size, and light or medium by its rim
    where the size tells it."""
    found = _RIM.search(size)
    if found is None:
        return frozenset({"", size})
    return frozenset({"", size, MEDIUM if float(found[1]) >= 17.5 else LIGHT})


def _is_over(one: Limit, size_mm: float, count: int) -> bool:
    too_long = one.most_mm is not None and size_mm > one.most_mm
    too_many = one.most_count is not None and count > one.most_count
    return too_long or too_many


@dataclass(frozen=True, slots=True)
class Reference:
    """A published figure, shown and never used. meaning: what it says, in both languages. sure:
    how sure it is: read in the source named, or told of it by another."""

    zone: str
    kind: str
    size_class: str
    most_mm: float | None
    most_count: int | None
    meaning: Mapping[str, str]
    source: str
    sure: str


READ, SECOND_HAND = "read", "second_hand"
_MANUAL = "TM 9-2610-200-14 (September 2005), "
_GRADES = "grade list of exporters of used tires, e-tosho.co.jp"


REFERENCES: tuple[Reference, ...] = (
    Reference(
        "crown", "nail_hole", MEDIUM, 10, None,
        {"en": "3/8 in: the largest injury that a standard puncture repair is published for; a "
               "larger one is a section repair",
         "es": "3/8 in: el daño más grande para el que se publica una reparación normal de "
               "pinchazo; uno mayor es una reparación de sección"},
        "beasts.cc; techtirerepairs.com for the shoulder", SECOND_HAND,
    ),
    Reference(
        "crown", "nail_hole", LIGHT, 6, None,
        {"en": "1/4 in: the largest injury, passenger tires and light truck to load range E",
         "es": "1/4 in: el daño más grande, llantas de pasajeros y camioneta hasta rango E"},
        "RMA guideline, by tirebusiness.com 2011-04-06", SECOND_HAND,
    ),
    Reference(
        "shoulder", "nail_hole", MEDIUM, 10, None,
        {"en": "3/8 in: the largest injury, with a longer, offset, reinforced unit in two pieces",
         "es": "3/8 in: el daño más grande, con una unidad reforzada más larga, descentrada, en "
               "dos piezas"},
        "techtirerepairs.com; fleetowner.com for the TRMG guideline behind it", SECOND_HAND,
    ),
    Reference(
        "sidewall", "nail_hole", MEDIUM, 0, None,
        {"en": "none without a reinforced unit: a section repair in a full-service shop, or reject",
         "es": "ninguno sin unidad reforzada: reparación de sección en un taller completo, o "
               "rechazo"},
        "fleetowner.com article 21686832; " + _MANUAL + "paragraph 2-32, caution", READ,
    ),
    Reference(
        "shoulder", "cut", MEDIUM, 0, None,
        {"en": "none without a reinforced unit: a section repair in a full-service shop, or reject",
         "es": "ninguno sin unidad reforzada: reparación de sección en un taller completo, o "
               "rechazo"},
        "fleetowner.com article 21686832; " + _MANUAL + "paragraph 2-32, caution", READ,
    ),
    Reference(
        "crown", "nail_hole", MEDIUM, 6, 2,
        {"en": "2 holes up to 1/4 in: export grade A, with no section repair and no sidewall "
               "damage; a grade, no repair limit",
         "es": "2 agujeros de hasta 1/4 in: grado A de exportación, sin reparación de sección ni "
               "daño de costado; un grado, no un límite de reparación"},
        _GRADES, READ,
    ),
    Reference(
        "crown", "nail_hole", MEDIUM, 6, 4,
        {"en": "4 holes up to 1/4 in: export grade B, section repairs allowed; a grade, no repair "
               "limit",
         "es": "4 agujeros de hasta 1/4 in: grado B de exportación, se admiten reparaciones de "
               "sección; un grado, no un límite de reparación"},
        _GRADES, READ,
    ),
    Reference(
        "bead", "bead_damage", "", 1.6, None,
        {"en": "2/32 in deep, army truck tires: more than this, or wire showing, is out of service",
         "es": "2/32 in de profundidad, llantas de camión del ejército: más que esto, o alambre a "
               "la vista, queda fuera de servicio"},
        _MANUAL + "paragraph 2-23a", READ,
    ),
    Reference(
        "sidewall", "cut", "", 1.6, None,
        {"en": "2/32 in deep, army truck tires: this deep, or cords showing, is out of service",
         "es": "2/32 in de profundidad, llantas de camión del ejército: así de profundo, o cuerdas "
               "a la vista, queda fuera de servicio"},
        _MANUAL + "paragraph 2-23b", READ,
    ),
    Reference(
        "sidewall", "crack", "", 1.6, None,
        {"en": "2/32 in deep, army truck tires: this deep, to the cord body, or two cracks joined, "
               "is out of service",
         "es": "2/32 in de profundidad, llantas de camión del ejército: así de profunda, hasta las "
               "cuerdas, o dos grietas unidas, queda fuera de servicio"},
        _MANUAL + "paragraph 2-23b", READ,
    ),
)  # fmt: skip
"""Taken as published, inches as they stand and beside them millimetres (rounded: 3/8 in is 9.5,
trade lists write 10). How large a section repair may be by tire size was found nowhere: it is the
repair-material supplier's chart (UN Regulation 109, 6.6.1, puts that duty on the supplier, from
memory, clause not checked)."""
