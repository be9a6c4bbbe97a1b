"""What can be seen of a casing at pickup: zones, sides, kinds, and what has to be said. Pure.

Six kinds stop a casing at once. The cautions stand where the hand would be; they advise, and
certify nothing. Sources: Army TM 9-2610-200-14 (September 2005), paragraphs 2-23 (beads, sidewall,
tread) and 2-44c (inspection before retreading); 49 CFR 393.75(a), what may not run on a road;
29 CFR 1910.177, servicing of large rims; clauses of UN Regulation 109 from memory, not checked.
frontend/src/domain/condition.ts is the twin; fixtures/vectors/condition.json holds both to the
same answers. The words of screens stand with the phone; those below are for paper, mail and pages.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Protocol

from pickups.casings import reasons


class Zone(StrEnum):
    """Where on a casing, from the road to the air."""

    CROWN = "crown"
    SHOULDER = "shoulder"
    SIDEWALL = "sidewall"
    BEAD = "bead"
    INNER_LINER = "inner_liner"


class Side(StrEnum):
    """The side that carries the full TIN, or the other one."""

    SERIAL = "serial"
    OTHER = "other"


class Condition(StrEnum):
    """One kind of thing that can be seen."""

    NAIL_HOLE = "nail_hole"
    CUT = "cut"
    CRACK = "crack"
    BULGE = "bulge"
    ABRASION = "abrasion"
    CHUNKING = "chunking"
    STONE_DRILLING = "stone_drilling"
    BEAD_DAMAGE = "bead_damage"
    LINER_DAMAGE = "liner_damage"
    OLD_NAIL_REPAIR = "old_nail_repair"
    OLD_SPOT_REPAIR = "old_spot_repair"
    OLD_SECTION_REPAIR = "old_section_repair"
    OLD_BEAD_REPAIR = "old_bead_repair"
    DOT_REMOVED = "dot_removed"
    OTHER = "other"
    BEAD_WIRE = "bead_wire"
    CORD = "cord"
    SEPARATION = "separation"
    RUN_FLAT = "run_flat"
    OIL = "oil"
    HEAT = "heat"


class Caution(StrEnum):
    """What has to be said where somebody may lay a hand on it; the gravest first."""

    NEVER_ADD_AIR = "never_add_air"
    DO_NOT_RUN = "do_not_run"
    BULGE_MAY_BE_CORDS = "bulge_may_be_cords"
    WIRE_ENDS = "wire_ends"
    HOT_OR_OILY = "hot_or_oily"


class Seen(Protocol):
    """As much of a finding as the cautions ask for."""

    @property
    def zone(self) -> str: ...
    @property
    def kind(self) -> str: ...


STOPS = (
    Condition.BEAD_WIRE,  # TM 2-23a(1); 49 CFR 571.117 S5.2.1(a), for cars, the practice for trucks
    Condition.CORD,  # 49 CFR 393.75(a)(1) and (4); TM 2-23b; R109 6.4.4.2
    Condition.SEPARATION,  # 49 CFR 393.75(a)(2); TM 2-23b(4), 2-44c(4): unserviceable
    Condition.RUN_FLAT,  # TM 2-23b(6), the line of broken cords; R109 6.4.3
    Condition.OIL,  # TM 2-23a(4); R109 6.4.4.1(c)
    Condition.HEAT,  # TM 2-23a(3), bead rubber hard, brittle or discoloured
)
"""Each stops a casing where it lies."""

OLD_REPAIRS = (
    Condition.OLD_NAIL_REPAIR,
    Condition.OLD_SPOT_REPAIR,
    Condition.OLD_SECTION_REPAIR,
    Condition.OLD_BEAD_REPAIR,
)
"""Done before it came to us; a customer may not accept some."""

_C = Condition
KINDS_BY_ZONE: Mapping[Zone, tuple[Condition, ...]] = {
    # TM 2-23c: nails in lugs and grooves. Repairs sit in the crown and the shoulder.
    Zone.CROWN: (
        _C.NAIL_HOLE, _C.CUT, _C.CRACK, _C.BULGE, _C.CHUNKING, _C.STONE_DRILLING,
        _C.OLD_NAIL_REPAIR, _C.OLD_SPOT_REPAIR, _C.OLD_SECTION_REPAIR, _C.OTHER,
        _C.CORD, _C.SEPARATION, _C.OIL, _C.HEAT,
    ),
    Zone.SHOULDER: (
        _C.NAIL_HOLE, _C.CUT, _C.CRACK, _C.BULGE, _C.ABRASION, _C.CHUNKING,
        _C.OLD_NAIL_REPAIR, _C.OLD_SPOT_REPAIR, _C.OLD_SECTION_REPAIR, _C.OTHER,
        _C.CORD, _C.SEPARATION, _C.RUN_FLAT, _C.OIL, _C.HEAT,
    ),
    # TM 2-23b: bulges, cuts and scrapes, cracks, separation, the line of broken cords, nails.
    Zone.SIDEWALL: (
        _C.NAIL_HOLE, _C.CUT, _C.CRACK, _C.BULGE, _C.ABRASION,
        _C.OLD_SPOT_REPAIR, _C.OLD_SECTION_REPAIR, _C.DOT_REMOVED, _C.OTHER,
        _C.CORD, _C.SEPARATION, _C.RUN_FLAT, _C.OIL, _C.HEAT,
    ),
    # TM 2-23a: torn, kinked, burned, petroleum, rippled by curbs.
    Zone.BEAD: (
        _C.BEAD_DAMAGE, _C.CUT, _C.CRACK, _C.ABRASION, _C.OLD_BEAD_REPAIR, _C.OTHER,
        _C.BEAD_WIRE, _C.SEPARATION, _C.OIL, _C.HEAT,
    ),
    # TM 2-44c(2) streaks at the inside shoulder, (3) holes. A nail hole is told from outside, once.
    Zone.INNER_LINER: (
        _C.LINER_DAMAGE, _C.CRACK, _C.BULGE,
        _C.OLD_NAIL_REPAIR, _C.OLD_SPOT_REPAIR, _C.OLD_SECTION_REPAIR, _C.OTHER,
        _C.CORD, _C.SEPARATION, _C.RUN_FLAT, _C.OIL, _C.HEAT,
    ),
}  # fmt: skip
"""What can be in a zone, in the order of a list to choose from; the stops stand last."""


def is_stop(kind: str) -> bool:
    """Whether it stops a casing at once."""
    return kind in STOPS


def sides_of(zone: str) -> tuple[Side, ...]:
    """The sides to choose from; the crown runs round the middle and has none."""
    return () if zone == Zone.CROWN else tuple(Side)


def cautions_of(findings: Iterable[Seen]) -> list[Caution]:
    """What has to be said about these findings, each once, the gravest first."""
    told = {caution for finding in findings for caution in _cautions(finding.zone, finding.kind)}
    return [caution for caution in Caution if caution in told]


def _cautions(zone: str, kind: str) -> list[Caution]:
    said = list(_SAID.get(kind, ()))
    if kind == Condition.CORD and zone == Zone.SIDEWALL:
        said.append(Caution.NEVER_ADD_AIR)  # broken cords may tear open like a zipper
    return said


_SAID: Mapping[str, tuple[Caution, ...]] = {
    # 29 CFR 1910.177(d)(2), (e): what ran flat or low is not inflated where it lies.
    Condition.RUN_FLAT: (Caution.NEVER_ADD_AIR, Caution.DO_NOT_RUN),
    # TM 2-23b(1): a bulge like a pencil in the sidewall is a row of damaged cords.
    Condition.BULGE: (Caution.NEVER_ADD_AIR, Caution.BULGE_MAY_BE_CORDS),
    # 49 CFR 393.75(a)
    Condition.CORD: (Caution.DO_NOT_RUN, Caution.WIRE_ENDS),
    Condition.SEPARATION: (Caution.DO_NOT_RUN,),
    # Sharp ends, oily and hot rubber: common practice, no published source.
    Condition.BEAD_WIRE: (Caution.WIRE_ENDS,),
    Condition.OIL: (Caution.HOT_OR_OILY,),
    Condition.HEAT: (Caution.HOT_OR_OILY,),
}


# --- Words for paper, mail and pages -------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Words:
    """The same in both languages."""

    en: str
    es: str

    def say(self, language: str) -> str:
        """In the language of a reader; English for any that is not Spanish."""
        return self.es if language == "es" else self.en


KINDS: Mapping[str, Words] = {
    _C.NAIL_HOLE: Words("nail hole", "perforación de clavo"),
    _C.CUT: Words("cut", "corte"),
    _C.CRACK: Words("crack", "grieta"),
    _C.BULGE: Words("bulge", "bulto"),
    _C.ABRASION: Words("scraped rubber", "caucho raspado"),
    _C.CHUNKING: Words("pieces torn out", "trozos arrancados"),
    _C.STONE_DRILLING: Words("stones driven in", "piedras clavadas"),
    _C.BEAD_DAMAGE: Words("bead damage", "talón dañado"),
    _C.LINER_DAMAGE: Words("liner damage", "forro interior dañado"),
    _C.OLD_NAIL_REPAIR: Words("old nail hole repair", "reparación anterior de clavo"),
    _C.OLD_SPOT_REPAIR: Words("old spot repair", "reparación superficial anterior"),
    _C.OLD_SECTION_REPAIR: Words("old section repair", "reparación de sección anterior"),
    _C.OLD_BEAD_REPAIR: Words("old bead repair", "reparación de talón anterior"),
    _C.DOT_REMOVED: Words("DOT code removed", "código DOT quitado"),
    _C.OTHER: Words("something else", "otra cosa"),
    _C.BEAD_WIRE: Words("bead wire showing", "alambre del talón a la vista"),
    _C.CORD: Words("cord showing", "cuerdas a la vista"),
    _C.SEPARATION: Words("separation", "separación"),
    _C.RUN_FLAT: Words("signs of running flat", "señales de haber rodado sin aire"),
    _C.OIL: Words("oil or fuel damage", "daño por aceite o combustible"),
    _C.HEAT: Words("heat damage", "daño por calor"),
}

SIDES: Mapping[str, Words] = {
    Side.SERIAL: Words("serial side", "lado de la serie"),
    Side.OTHER: Words("other side", "otro lado"),
}

CAUTIONS: Mapping[str, Words] = {
    Caution.NEVER_ADD_AIR: Words(
        "Never add air. The sidewall may burst along its cords.",
        "No le ponga aire. El flanco puede reventar a lo largo de sus cuerdas.",
    ),
    Caution.DO_NOT_RUN: Words(
        "Do not run this tire.",
        "No ruede con esta llanta.",
    ),
    Caution.BULGE_MAY_BE_CORDS: Words(
        "A bulge may be broken cords. Let nobody inflate it.",
        "Un bulto puede ser de cuerdas rotas. Que nadie la infle.",
    ),
    Caution.WIRE_ENDS: Words(
        "Wire ends cut. Keep hands off them.",
        "Las puntas de alambre cortan. No las toque.",
    ),
    Caution.HOT_OR_OILY: Words(
        "Rubber may be hot or oily. Gloves on, and keep it apart.",
        "El caucho puede estar caliente o aceitoso. Use guantes y apártela.",
    ),
}


def kind_in_words(kind: str, language: str) -> str:
    """A kind of finding; one that is not known here as it can be read."""
    return _say(KINDS, kind, language)


def zone_in_words(zone: str, language: str) -> str:
    """Where on the casing, in the words that reasons are told with."""
    return reasons.zone(zone, language)


def side_in_words(side: str, language: str) -> str:
    """Which side; nothing where none was told."""
    return _say(SIDES, side, language)


def caution_in_words(caution: str, language: str) -> str:
    """A caution as a whole sentence or two."""
    return _say(CAUTIONS, caution, language)


def _say(table: Mapping[str, Words], code: str, language: str) -> str:
    said = table.get(code)
    return said.say(language) if said else code.replace("_", " ")
