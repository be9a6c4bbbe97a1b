"""Figures of a plant's day. Pure: from what is inside and what ended to what the page says.

First-pass yield: of the casings that ended (finished or rejected) in a stretch of time, the share
that was finished without ever being sent back to be worked again and without ever being rejected.
A mark for repair ahead of the repair station is ordinary work and counts as first pass. Common
practice, no published source.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True)
class Inside:
    """One casing inside: where it was seen last, where it goes next, since when."""

    label: str
    station: str
    next: str
    stage: str
    entered_at: datetime
    seen_at: datetime
    reworks: int = 0


@dataclass(frozen=True, slots=True)
class Ended:
    """One casing that ended: how, and what had happened to it before."""

    finished: bool
    again: bool
    rejected: bool


@dataclass(frozen=True, slots=True)
class AtStation:
    """One station. here: seen there last and not shipped; waits: of all inside, those that go there
    next. since: when the one that lies here longest was seen; None where none is. done: casings
    told as done there today."""

    code: str
    here: int
    waits: int
    since: datetime | None
    done: int


def by_station(
    order: Sequence[str], inside: Iterable[Inside], done: dict[str, int]
) -> list[AtStation]:
    """Each station of the route in its order; then those that the route has no longer."""
    rows = list(inside)
    gone = {row.station for row in rows if row.station} | set(done)
    codes = [*order, *sorted(gone - set(order))]
    made = []
    for code in codes:
        here = [row for row in rows if row.station == code]
        made.append(
            AtStation(
                code=code,
                here=len(here),
                waits=sum(row.next == code for row in rows if row.stage in ON_THE_WAY),
                since=min((row.seen_at for row in here), default=None),
                done=done.get(code, 0),
            )
        )
    return made


ON_THE_WAY = ("in_work", "repair")
"""Stages in which a casing goes on by itself; on hold, rejected and finished wait for a person."""


def first_pass(ended: Iterable[Ended]) -> float | None:
    """The first-pass yield, from 0 to 1; None where nothing ended."""
    rows = list(ended)
    if not rows:
        return None
    return sum(one.finished and not one.again and not one.rejected for one in rows) / len(rows)
