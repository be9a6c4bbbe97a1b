"""A finished tire held against its order: tread design, fleet brand, retread TIN, cap count. Pure.

Differences stand until somebody clears or releases them with a reason; nothing is put right by
itself. What was not ordered, or cannot be known, is compared with nothing.
frontend/src/domain/ordering.ts is the twin; fixtures/vectors/ordering.json holds both together.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from typing import Protocol

from pickups.casings import tin
from pickups.casings.eligibility import Tin

BRANDED_WITHIN_DAYS = 42
"""A retread TIN tells the week of its making; a date older than six weeks was not of this cure.
Our own figure."""
CODE_SYMBOLS = 3
"""49 CFR 574.5(b)(1) with 574.6: a retreader's plant code, three symbols since 13 April 2025."""


class Read(Protocol):
    """What final inspection read off the tire."""

    @property
    def tread_design(self) -> str: ...
    @property
    def fleet_brand(self) -> str: ...
    @property
    def retread_tin(self) -> str: ...
    @property
    def caps(self) -> int | None: ...


class Field(StrEnum):
    """What can differ."""

    TREAD_DESIGN = "tread_design"
    FLEET_BRAND = "fleet_brand"
    RETREAD_TIN = "retread_tin"
    CAPS = "caps"


class Why(StrEnum):
    """How it differs; the words belong to the screens."""

    OTHER = "other_than_ordered"
    NOT_ORDERED = "not_ordered"
    MISSING = "not_read"
    NOT_A_TIN = "not_a_retread_tin"
    OTHER_PLANT = "another_plants_code"
    NOT_THIS_WEEK = "not_of_these_weeks"
    CAPS = "not_one_more"


@dataclass(frozen=True, slots=True)
class Ordered:
    """What is to come out. plant_code: the plant's own three symbols, empty where it entered none.

    caps_least, caps_most: how often it was retreaded before, as far as its TINs tell; None where
    they do not.
    """

    tread_design: str = ""
    fleet_brand: str = ""
    plant_code: str = ""
    caps_least: int = 0
    caps_most: int | None = None


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing that is not as ordered, with both sides as they were written.

    A cap count is figures: "2", "2-3", and "2+" for two or more.
    """

    field: Field
    why: Why
    ordered: str
    found: str


def differences(ordered: Ordered, found: Read, on: date) -> tuple[Difference, ...]:
    """What is not as ordered. on: the day of the inspection, at the plant."""
    return (
        *_design(ordered, found),
        *_brand(ordered, found),
        *_tin(ordered, found, on),
        *_caps(ordered, found),
    )


def before(tins: Iterable[Tin], on: date) -> tuple[int, int | None]:
    """How often a casing was retreaded before, from the TINs told at its pickup: at least, at most.

    A new tire's TIN counts none, a retread's one, one that may be either leaves the bound open;
    the same TIN told of both sides is one. Without a single TIN nothing is known.
    """
    kinds: dict[str, tuple[tin.Kind, ...]] = {}
    for told in tins:
        reading = tin.read(told.tin, on)
        if reading.tin:
            kinds[reading.tin] = (tin.Kind(told.made),) if told.made else reading.kinds
    if not kinds:
        return 0, None
    least = sum(made == (tin.Kind.RETREAD,) for made in kinds.values())
    return least, len(kinds) - sum(made == (tin.Kind.NEW,) for made in kinds.values())


def _same(a: str, b: str) -> bool:
    return " ".join(a.split()).casefold() == " ".join(b.split()).casefold()


def _design(ordered: Ordered, found: Read) -> Iterator[Difference]:
    if ordered.tread_design and not _same(ordered.tread_design, found.tread_design):
        why = Why.OTHER if found.tread_design.strip() else Why.MISSING
        yield Difference(Field.TREAD_DESIGN, why, ordered.tread_design, found.tread_design)


def _brand(ordered: Ordered, found: Read) -> Iterator[Difference]:
    if _same(ordered.fleet_brand, found.fleet_brand):
        return
    why = Why.OTHER
    if not found.fleet_brand.strip():
        why = Why.MISSING
    elif not ordered.fleet_brand.strip():
        why = Why.NOT_ORDERED
    yield Difference(Field.FLEET_BRAND, why, ordered.fleet_brand, found.fleet_brand)


def _tin(ordered: Ordered, found: Read, on: date) -> Iterator[Difference]:
    def differs(why: Why, wanted: str) -> Difference:
        return Difference(Field.RETREAD_TIN, why, wanted, found.retread_tin)

    text = found.retread_tin
    if not text.strip():
        yield differs(Why.MISSING, ordered.plant_code)
        return
    # The R that a retreader brands before it (574.5(d)(2)) may be read along or not.
    reading = tin.read(text if text.lstrip().upper().startswith("R") else f"R {text}", on)
    retread = next((c for c in reading.candidates if c.layout is tin.Layout.RETREAD), None)
    if retread is None or not retread.dates:
        yield differs(Why.NOT_A_TIN, ordered.plant_code)
        return
    if ordered.plant_code and retread.plant != ordered.plant_code:
        yield differs(Why.OTHER_PLANT, ordered.plant_code)
    earliest = on - timedelta(days=BRANDED_WITHIN_DAYS)
    if not any(earliest <= week.last and week.first <= on for week in retread.dates):
        yield differs(Why.NOT_THIS_WEEK, tin.code_of(on).digits)


def _caps(ordered: Ordered, found: Read) -> Iterator[Difference]:
    least, most = ordered.caps_least + 1, None
    if ordered.caps_most is not None:
        most = ordered.caps_most + 1
    wanted = f"{least}" if least == most else f"{least}-{most}" if most else f"{least}+"
    if found.caps is None:
        if most is not None:
            yield Difference(Field.CAPS, Why.MISSING, wanted, "")
    elif found.caps < least or (most is not None and found.caps > most):
        yield Difference(Field.CAPS, Why.CAPS, wanted, str(found.caps))
