"""Tread depths of a casing: the lowest for the law, the mean for wear, and what is left. Pure.

A reading is a whole number of 32nds of an inch in one major groove at one place round the tire,
never on a tie bar, hump or fillet. Grooves are told across the tread, always from the same side.
The federal limits are the least that the law lets run; they are no advice to run down to them,
and each limit carries that caution. What uneven wear may point to is a hint to look, no finding.
frontend/src/domain/tread.ts is the twin; fixtures/vectors/tread.json holds both to one answer.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

MOST_32NDS = 40
"""No tread of a truck tire is deeper; a greater reading is a slip of the hand."""

UNEVEN_FROM_32NDS = 2
"""From which difference a hint is given: the house's own figure, no published rule."""

Places = Sequence[Sequence[int | None]]
"""Readings by place and groove; None where a groove was not read."""


class Position(StrEnum):
    """Where the tire ran, as far as the limits tell positions apart."""

    STEER = "steer"  # front wheels of a truck or truck tractor: 393.75(e)
    DRIVE = "drive"
    TRAILER = "trailer"  # its front wheels too: 393.75(b) does not name them
    BUS_FRONT = "bus_front"  # the limit of a steer tire, and no retread: 393.75(d)


class Caution(StrEnum):
    """What has to be said with a figure; screens have words for it."""

    LEGAL_MINIMUM = "legal_minimum_not_advice"


class Cause(StrEnum):
    """What a difference may point to; somebody has to look before it is said to be so."""

    LOW_INFLATION_OR_OVERLOAD = "may_be_low_inflation_or_overload"  # both shoulders lower
    HIGH_INFLATION = "may_be_high_inflation"  # centre lower than both shoulders
    ALIGNMENT = "may_be_alignment"  # one shoulder lower than the other
    BALANCE_OR_FLAT_SPOT = "may_be_balance_or_flat_spot"  # one groove differs round the tire
    UNCLEAR = "uneven_cause_open"  # uneven, and none of these patterns


@dataclass(frozen=True, slots=True)
class Limit:
    """A legal minimum. wheels, where: keys of what the section names."""

    section: str
    wheels: str
    least_32nds: int
    where: str
    caution: Caution = Caution.LEGAL_MINIMUM


# The figures in words stand in 49 CFR 570.62(a): four thirty-seconds on front tires of any vehicle
# other than a trailer, two on all others.
STEER_LIMIT = Limit("49 CFR 393.75(b)", "front_of_bus_truck_tractor", 4, "any_point_major_groove")
OTHER_LIMIT = Limit("49 CFR 393.75(c)", "all_other", 2, "major_groove")


@dataclass(frozen=True, slots=True)
class Ban:
    """What may not run on some wheels, however deep its tread is. tires, wheels: keys."""

    section: str
    wheels: str
    tires: tuple[str, ...]


BUS_FRONT_BAN = Ban("49 CFR 393.75(d)", "front_of_bus", ("regrooved", "recapped", "retreaded"))
TRUCK_FRONT_BAN = Ban("49 CFR 393.75(e)", "front_of_truck_tractor", ("regrooved_from_2232_kg",))
REPAIR_BAN = Ban("49 CFR 570.62(d)", "front", ("reinforcement_repaired",))
SPEED_BAN = Ban("49 CFR 393.75(f)", "all", ("faster_than_marked",))
"""A tire marked for 55 mph or less, where the vehicle runs faster than the mark allows."""


@dataclass(frozen=True, slots=True)
class Measurement:
    """What the readings come to, all in 32nds.

    readings: how many counted. across: the greatest difference within a place; between: the
    greatest within a groove. below: the limits that the lowest reading does not reach.
    under_pull: by how much the lowest is under the pull depth. left: the mean above the pull
    depth, tread paid for and not run. Both None without a pull depth. impossible: not counted.
    """

    readings: int
    lowest: int | None
    mean: float | None
    across: int
    between: int
    below: tuple[Limit, ...]
    under_pull: int | None
    left: float | None
    causes: tuple[Cause, ...]
    impossible: tuple[int, ...]


def limits(position: Position | None) -> tuple[Limit, ...]:
    """The minimum that holds at a position; both where the position is not known."""
    if position is None:
        return (STEER_LIMIT, OTHER_LIMIT)
    front = position in {Position.STEER, Position.BUS_FRONT}
    return (STEER_LIMIT if front else OTHER_LIMIT,)


def bans(position: Position | None) -> tuple[Ban, ...]:
    """What may not run there; of a position that is not known, what may run nowhere."""
    front = {Position.STEER: TRUCK_FRONT_BAN, Position.BUS_FRONT: BUS_FRONT_BAN}
    if position in front:
        return (front[position], REPAIR_BAN, SPEED_BAN)
    return (SPEED_BAN,)


def measure(
    places: Places,
    position: Position | None = None,
    pull_depth_32nds: int | None = None,
    uneven_from_32nds: int = UNEVEN_FROM_32NDS,
) -> Measurement:
    """What readings come to. The pull depth is the customer's or the yard's, never the law's."""
    read = [[d if d is not None and _possible(d) else None for d in place] for place in places]
    impossible = [d for place in places for d in place if d is not None and not _possible(d)]
    grooves = [
        [place[at] for place in read if at < len(place)]
        for at in range(max(map(len, read), default=0))
    ]
    depths = [d for place in read for d in place if d is not None]
    across, between = _widest(read), _widest(grooves)
    lowest = min(depths, default=None)
    mean = sum(depths) / len(depths) if depths else None
    pull = pull_depth_32nds
    return Measurement(
        readings=len(depths),
        lowest=lowest,
        mean=mean,
        across=across,
        between=between,
        below=tuple(
            limit for limit in limits(position) if lowest is not None and lowest < limit.least_32nds
        ),
        under_pull=None if pull is None or lowest is None else max(0, pull - lowest),
        left=None if pull is None or mean is None else max(0.0, mean - pull),
        causes=_causes(grooves, across, between, uneven_from_32nds),
        impossible=tuple(impossible),
    )


def to_mm(depth_32nds: int) -> float:
    """Millimetres as they are shown, to one decimal, halves up: 1/32 inch is 0.79375 mm."""
    return (254 * depth_32nds + 16) // 32 / 10


def from_mm(mm: float, decimals: int = 1) -> int:
    """Whole 32nds under a gauge in millimetres that shows so many decimals, one or two.

    Rounded down: the most whole 32nds that the last digit allows, so 3.2 is 4/32 (3.175 mm) and
    3.1 is not. A gauge of hundredths passes for no more than it shows: 3.17 is 4/32, 3.16 is 3.
    """
    steps: int = 10**decimals
    shown = math.floor(mm * steps + 0.5)
    return (2 * shown + 1) * 80 // (127 * steps)


def _possible(depth: int) -> bool:
    return 0 <= depth <= MOST_32NDS


def _widest(rows: Sequence[Sequence[int | None]]) -> int:
    told = [[d for d in row if d is not None] for row in rows]
    return max((max(row) - min(row) for row in told if row), default=0)


def _causes(
    grooves: Sequence[Sequence[int | None]], across: int, between: int, by: int
) -> tuple[Cause, ...]:
    """Hints from the mean of each groove over the places, and from the spread within a groove."""
    told = [depths for row in grooves if (depths := [d for d in row if d is not None])]
    causes = []
    if len(told) >= 2:
        left, right = told[0], told[-1]
        inner = [d for row in told[1:-1] for d in row]
        if inner and _deeper(inner, left, by) and _deeper(inner, right, by):
            causes.append(Cause.LOW_INFLATION_OR_OVERLOAD)
        if inner and _deeper(left, inner, by) and _deeper(right, inner, by):
            causes.append(Cause.HIGH_INFLATION)
        if _deeper(left, right, by) or _deeper(right, left, by):
            causes.append(Cause.ALIGNMENT)
    if between >= by:
        causes.append(Cause.BALANCE_OR_FLAT_SPOT)
    if across >= by and not causes:
        causes.append(Cause.UNCLEAR)
    return tuple(causes)


def _deeper(some: Sequence[int], others: Sequence[int], by: int) -> bool:
    """Whether the mean of some is greater by so much; in whole numbers, so nothing is rounded."""
    apart = sum(some) * len(others) - sum(others) * len(some)
    return apart >= by * len(some) * len(others)
