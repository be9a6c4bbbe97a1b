"""How alike a casing without a label is to one that is missing. Pure; decides nothing.

What was seen is compared feature by feature; a feature that either side does not tell is silent. A
feature that differs hides no candidate: what was read in a wet yard may be wrong, and whoever looks
at both decides. Order and tolerances are our own, no published rule.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from uuid import UUID

from pickups.casings import size

TREAD_32NDS = 2
"""Two gauges read one groove this far apart; and a casing that was buffed has no tread to read."""
MOST = 8
"""Candidates shown: what a person can hold beside a casing."""


class Feature(StrEnum):
    """What is compared."""

    SIZE = "size"
    BRAND = "brand"
    DATE_CODE = "date_code"
    TREAD = "tread"
    PLACE = "place"


@dataclass(frozen=True, slots=True)
class Seen:
    """What can be read of a casing without a label. date_code: week and year, four digits.

    tread_32nds: the shallowest groove, None where it is buffed. station: where it was found.
    """

    size: str = ""
    brand: str = ""
    date_code: str = ""
    tread_32nds: int | None = None
    station: str = ""


@dataclass(frozen=True, slots=True)
class Missing:
    """A casing that ought to be in the plant, as it was taken in and where it was seen last."""

    work_order: UUID
    label: str
    size: str
    brand: str
    date_codes: frozenset[str]
    tread_32nds: int | None
    station: str
    seen_at: datetime


@dataclass(frozen=True, slots=True)
class Candidate:
    """A missing casing with what speaks for it and what against."""

    missing: Missing
    agrees: tuple[Feature, ...]
    differs: tuple[Feature, ...]


def candidates(
    seen: Seen, missing: Iterable[Missing], route: Sequence[str]
) -> tuple[Candidate, ...]:
    """The likeliest first: fewest differences, then most agreements, then longest not seen.

    Without a single agreement a casing is no candidate. route: the plant's stations in order.
    """
    compared = [_compare(seen, one, route) for one in missing]
    told = [one for one in compared if set(one.agrees) - {Feature.PLACE}]
    told.sort(key=lambda one: (len(one.differs), -len(one.agrees), one.missing.seen_at))
    return tuple(told[:MOST])


def _compare(seen: Seen, one: Missing, route: Sequence[str]) -> Candidate:
    spoke = {
        Feature.SIZE: _same_size(seen.size, one.size),
        Feature.BRAND: _same(seen.brand, one.brand),
        Feature.DATE_CODE: seen.date_code in one.date_codes
        if seen.date_code and one.date_codes
        else None,
        Feature.TREAD: None
        if seen.tread_32nds is None or one.tread_32nds is None
        else abs(seen.tread_32nds - one.tread_32nds) <= TREAD_32NDS,
        Feature.PLACE: _can_be_here(seen.station, one.station, route),
    }
    return Candidate(
        one,
        tuple(feature for feature, same in spoke.items() if same),
        tuple(feature for feature, same in spoke.items() if same is False),
    )


def _same(a: str, b: str) -> bool | None:
    if not a.strip() or not b.strip():
        return None
    return " ".join(a.split()).casefold() == " ".join(b.split()).casefold()


def _same_size(a: str, b: str) -> bool | None:
    """Two ways to write one size are one size: 295/75 R 22.5 and 295/75R22.5."""
    read_a, read_b = size.read(a).size, size.read(b).size
    return read_a == read_b if read_a and read_b else _same(a, b)


def _can_be_here(found: str, last: str, route: Sequence[str]) -> bool | None:
    """A casing moves on along the route: what was last seen further on than here is not this one,
    unless it was sent back."""
    if found not in route or last not in route:
        return None
    return route.index(last) <= route.index(found)
