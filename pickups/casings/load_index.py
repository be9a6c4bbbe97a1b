"""Ratings on a truck tire's sidewall: load index, load range, ply rating, speed symbol. Pure.

Weights stay in kg, as ISO 4000-1 has them. They are never turned into pounds: a sidewall's pounds
are figures of their own (6,175 lb on a tire of load index 144, where arithmetic gives 6,172.9), and
a figure that differs from the rubber in a person's hand is taken for an error.
What somebody typed is read as far as it goes; what is wrong is a fault, a key with its facts.
frontend/src/domain/load_index.ts is the twin; fixtures/vectors/size.json holds both to one answer.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

_KG = """
 800  825  850  875  900  925  950  975 1000 1030 1060 1090 1120 1150 1180 1215 1250 1285 1320 1360
1400 1450 1500 1550 1600 1650 1700 1750 1800 1850 1900 1950 2000 2060 2120 2180 2240 2300 2360 2430
2500 2575 2650 2725 2800 2900 3000 3075 3150 3250 3350 3450 3550 3650 3750 3875 4000 4125 4250 4375
4500 4625 4750 4875 5000 5150 5300 5450 5600 5800 6000 6150 6300 6500 6700 6900 7100 7300 7500 7750
8000
"""
LEAST_INDEX = 100
KG = {LEAST_INDEX + at: int(kg) for at, kg in enumerate(_KG.split())}
"""Load index to kg, ISO 4000-1: to 160 as two public tables have it that agree; from 161 on from
memory, each within 2.5 % of 45 * 10 ** (index / 80)."""
MOST_INDEX = max(KG)

PLY = dict(zip("ABCDEFGHJLMN", range(2, 26, 2), strict=True))
"""Load range to ply rating. From memory; 49 CFR 571.119 S6.5(j) asks for the letter alone."""

_SPEEDS = (50, 60, 65, 70, 80, 90, 100, 110, 120, 130, 140, 150, 160, 170, 180, 190, 200)
KM_H = dict(zip("BCDEFGJKLMNPQRSTU", _SPEEDS, strict=True)) | {
    "H": 210,
    "V": 240,
    "W": 270,
    "Y": 300,
}
"""Speed symbol to km/h, ISO 4000-1: from F on as public tables have it, B to E from memory."""


class Wrong(StrEnum):
    """What there is to say about a rating; screens have words for each."""

    LOAD_RANGE = "load_range_unknown"
    LOAD_INDEX = "load_index_unknown"
    SPEED_SYMBOL = "speed_symbol_unknown"
    DUAL_ABOVE_SINGLE = "dual_above_single"
    PLY_DIFFERS = "ply_differs"
    UNREAD = "unread"


@dataclass(frozen=True, slots=True)
class Fault:
    """A key for the screens, and the figures that their sentence needs."""

    key: Wrong
    facts: Mapping[str, int | str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Service:
    """A service description: 144/141L. One index alone is the single one, as on a wide base."""

    single: int
    dual: int | None
    symbol: str | None


@dataclass(frozen=True, slots=True)
class Rating:
    """What a sidewall says of its load. second: the description in brackets."""

    load_range: str | None
    ply: int | None
    single: int | None
    dual: int | None
    symbol: str | None
    second: Service | None
    faults: tuple[Fault, ...]


_SPACES = re.compile("[\t-\r \x85\xa0\u1680\u2000-\u200b\u2028\u2029\u202f\u205f\u3000\ufeff]+")
_DASHES = re.compile("[\u2010-\u2015\u2212]")


def written(text: str) -> str:
    """A typed text with capitals, one space where there were some, plain dashes, X and points."""
    upper = re.sub("[a-z]", lambda letter: letter[0].upper(), text)
    plain = _DASHES.sub("-", _SPACES.sub(" ", upper)).replace("\u00d7", "X")
    return re.sub("([0-9]),(?=[0-9])", r"\1.", plain).strip(" .,;")


def kg(index: int) -> int | None:
    """What a tire of this load index carries, in kg; None outside the table."""
    return KG.get(index)


_DESCRIPTION = "([0-9]{2,3})(?: ?/ ?([0-9]{2,3}))? ?([A-Z])?"
_LOAD_RANGE = re.compile("(?:(?:LOAD RANGE|LR) ?)?([A-Z])(?![A-Z0-9])")
_PLY = re.compile("([0-9]{1,2}) ?(?:PR|PLY)(?![A-Z0-9])")
_SERVICE = re.compile(f"{_DESCRIPTION}(?![A-Z0-9])")
_SECOND = re.compile(rf"\( ?{_DESCRIPTION} ?\)")
_TUBE = re.compile("(?:TL|TT)(?![A-Z0-9])")
_PARTS = {"load_range": _LOAD_RANGE, "ply": _PLY, "service": _SERVICE, "second": _SECOND}


def read_rating(text: str) -> Rating:
    """Read load range, ply rating and service descriptions, in any order, each at most once.

    A letter after a load index is the speed symbol (144/141L), a letter alone the load range (G).
    TL and TT (tubeless, tube type) are passed over: the rim already tells.
    """
    rest, parts = written(text), dict[str, re.Match[str]]()
    while rest:
        name, match = next(
            (
                (name, match)
                for name, part in {**_PARTS, "tube": _TUBE}.items()
                if name not in parts and (match := part.match(rest))
            ),
            ("", None),
        )
        if match is None:
            break
        parts[name] = match
        rest = rest[match.end() :].lstrip(" ")
    service, second = _service(parts.get("service")), _service(parts.get("second"))
    load_range = parts["load_range"][1] if "load_range" in parts else None
    told_ply = int(parts["ply"][1]) if "ply" in parts else None
    ply_of_range = PLY.get(load_range) if load_range else None
    faults: list[Fault] = []
    if load_range and ply_of_range is None:
        allowed = " ".join(PLY)
        faults.append(Fault(Wrong.LOAD_RANGE, {"load_range": load_range, "allowed": allowed}))
    if load_range and told_ply and ply_of_range and told_ply != ply_of_range:
        facts = {"load_range": load_range, "ply": told_ply, "expected": ply_of_range}
        faults.append(Fault(Wrong.PLY_DIFFERS, facts))
    for told in (service, second):
        faults += _faults(told) if told else []
    if rest:
        faults.append(Fault(Wrong.UNREAD, {"text": rest}))
    return Rating(
        load_range,
        told_ply or ply_of_range,
        service.single if service else None,
        service.dual if service else None,
        service.symbol if service else None,
        second,
        tuple(faults),
    )


def _service(match: re.Match[str] | None) -> Service | None:
    if match is None:
        return None
    return Service(int(match[1]), int(match[2]) if match[2] else None, match[3])


def _faults(service: Service) -> list[Fault]:
    single, dual, symbol = service.single, service.dual, service.symbol
    faults = [
        Fault(Wrong.LOAD_INDEX, {"index": index, "least": LEAST_INDEX, "most": MOST_INDEX})
        for index in (single, dual)
        if index is not None and index not in KG
    ]
    if dual is not None and dual > single:
        faults.append(Fault(Wrong.DUAL_ABOVE_SINGLE, {"single": single, "dual": dual}))
    if symbol is not None and symbol not in KM_H:
        facts = {"symbol": symbol, "allowed": " ".join(KM_H)}
        faults.append(Fault(Wrong.SPEED_SYMBOL, facts))
    return faults
