"""What can stand on a load sheet, what the truck carries between its stops, and refusals. Pure."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, time
from enum import StrEnum
from uuid import UUID

from pickups.casings.rules import DONE, Progress

KG_A_CASING = 50
"""About. Common practice, no published source."""
WRITTEN, HANDED, BACK = "written", "handed", "back"
"""The states of a sheet, as `models.Run.State` explains them."""
MOST_FETCHED = 999
MOST_STOPS = 60


class Refusal(StrEnum):
    """Why a step on a load sheet is not taken. `facts` of Refused name what it is about."""

    STALE = "stale"
    """Somebody else has changed the sheet since it was shown."""
    NOT_HERE = "not_here"
    """The sheet, or the stop, is there no longer."""
    STATE = "state"
    """Not while the sheet is `state`; `allowed` are the states in which it can be done."""
    NO_DRIVER = "no_driver"
    """It needs a driver of its store; `driver` is who was named, if anybody."""
    NO_STOP = "no_stop"
    """A sheet without a stop is handed to nobody."""
    DAY_OVER = "day_over"
    """Its day, `on`, is over."""
    PLACE = "place"
    """`place` is no place where this sheet can start or stop."""
    WINDOW = "window"
    """The window ends, at `to`, before it begins, at `begins`."""
    FETCH = "fetch"
    """So many casings, `fetch`, are not fetched at one stop."""
    STOPS = "stops"
    """More stops than a sheet takes."""
    CASINGS = "casings"
    """Some of the casings cannot go there: `casings` of Refused says which and why."""


class Why(StrEnum):
    """Why a casing cannot be dropped at a stop."""

    UNKNOWN = "unknown"
    WITHDRAWN = "withdrawn"
    CONTESTED = "contested"
    BACK = "back"
    ON_HOLD = "on_hold"
    NOT_DONE = "not_done"
    SENT = "sent"
    THERE = "there"
    OTHER_STORE = "other_store"
    OTHER_CUSTOMER = "other_customer"
    DEALERS = "dealers"
    OTHER_SHEET = "other_sheet"


class Refused(Exception):
    """A step that was not taken; nothing was written.

    facts: what the code speaks of, ids and figures as text. casings: work order and why, each.
    """

    def __init__(
        self, code: Refusal, casings: Sequence[tuple[UUID, Why]] = (), **facts: str
    ) -> None:
        super().__init__(f"{code} {facts or list(casings)}")
        self.code, self.casings, self.facts = code, list(casings), facts


@dataclass(frozen=True, slots=True)
class Head:
    """What stands at the head of a sheet: where it loads, the day, what kind of trip, who drives
    what."""

    start: UUID
    on: date
    kind: str = "route"
    vehicle: str = ""
    driver: UUID | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Said:
    """What is said of a stop: its window, how many casings wait there, a note for the driver."""

    begins: time | None = None
    to: time | None = None
    fetch: int | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Taken:
    """A stop as it was when it was removed: enough to put it back."""

    uid: UUID
    place: int
    yard: UUID | None
    site: UUID | None
    said: Said
    drops: Sequence[UUID]


@dataclass(frozen=True, slots=True)
class Placed:
    """What `put` did: where each work order was before, and the stops that it made."""

    before: Mapping[UUID, UUID | None]
    made: Sequence[UUID] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Casing:
    """What of a work order decides where it can be dropped."""

    progress: str
    holder: str
    site: UUID
    customer: UUID | None
    on_hold: bool
    contested: bool
    withdrawn: bool
    dealers: bool = False


@dataclass(frozen=True, slots=True)
class Place:
    """Where a stop is: a yard with its customer, a store or a plant."""

    kind: str
    uid: UUID
    customer: UUID | None = None


def why_not(casing: Casing, place: Place, *, site: UUID) -> Why | None:
    """Why a casing cannot be dropped at a place by a truck of a store; None where it can.

    A yard takes what is its own customer's, not the dealer's by now, and done with; a store what
    is done with and comes home; a plant what has not been there.
    """
    if casing.withdrawn:
        return Why.WITHDRAWN
    if casing.contested:
        return Why.CONTESTED
    if casing.progress == Progress.RETURNED or casing.holder.startswith("customer:"):
        return Why.BACK
    if casing.site != site:
        return Why.OTHER_STORE
    if place.kind == "plant":
        waits = casing.progress == Progress.PICKED_UP and not casing.holder.startswith("plant:")
        return None if waits else Why.SENT
    if place.kind == "yard" and casing.dealers:
        return Why.DEALERS
    if place.kind == "yard" and place.customer != casing.customer:
        return Why.OTHER_CUSTOMER
    if casing.progress not in DONE:
        return Why.NOT_DONE
    if casing.on_hold and casing.holder.startswith("plant:"):
        return Why.ON_HOLD
    return Why.THERE if casing.holder == f"site:{place.uid}" else None


def window_ok(begins: time | None, to: time | None) -> bool:
    """Whether a window ends after it begins; either end may be open."""
    return begins is None or to is None or begins < to


@dataclass(frozen=True, slots=True)
class Load:
    """What a stop does to the truck: so many are dropped; of those dropped later, so many are
    taken on here; and so many are said to wait there, if anything is said."""

    drop: int
    load: int = 0
    fetch: int | None = None


def on_truck(stops: Sequence[Load]) -> list[int]:
    """Casings on the truck when it leaves the start, and after each stop.

    What is said to wait at a place counts the casings among it that the sheet knows by name.
    """
    aboard = sum(s.drop for s in stops) - sum(s.load for s in stops)
    carried = [aboard]
    for s in stops:
        aboard += max(s.load, s.fetch or 0) - s.drop
        carried.append(aboard)
    return carried


def loaded_at(holder: str, before: Sequence[UUID | None], *, start: UUID) -> int | None:
    """At which of the stops before its own a casing is taken on, by who holds it now.

    before: the dealer's site of each of them, None for a yard. None for the start, or where the
    truck comes by neither: see `on_the_way`.
    """
    if holder in _held_at(start):
        return None
    found = [i for i, site in enumerate(before) if site and holder in _held_at(site)]
    return found[-1] if found else None


def on_the_way(holder: str, before: Sequence[UUID | None], *, start: UUID, driver: str) -> bool:
    """Whether a truck that starts there and passes there finds a casing that this holder has."""
    if holder == f"person:{driver}" or holder in _held_at(start):
        return True
    return loaded_at(holder, before, start=start) is not None


def _held_at(site: UUID) -> tuple[str, str]:
    return f"site:{site}", f"plant:{site}"


def regular(kind: str, weekdays: Sequence[int], *, yards: int, plant: bool) -> str:
    """What is wrong with a regular run, in words that name what is allowed; "" where nothing is."""
    if not weekdays or not set(weekdays) <= set(range(7)):
        return f"weekdays are {list(weekdays)}; one or more of 0 (Monday) to 6 (Sunday) are allowed"
    if kind == "route" and (not yards or plant):
        return "a route goes to one yard or more and to no plant"
    if kind == "transfer" and (yards or not plant):
        return "a transfer goes to a plant and to no yard"
    return "" if kind in ("route", "transfer") else f"{kind} is neither route nor transfer"
