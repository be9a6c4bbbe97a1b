"""Whether a promise was kept, and what shares of kept ones say. Pure: no table, no clock.

The rule. A casing is back when it was handed to its owner; one that is fetched at a store, when it
lies there finished. A promise is kept where that was on its day or before. It counts once its day
is over, never before: else those that come early would flatter a month that is not over. Of a
casing two are shown: the first, as it was told with the casing when the day of hand-over was over,
and the last that was told in time, that is at the latest on the day before the one that stood until
then; a new day told later mends nothing. What was told in the place of another is never the first,
however soon.

Intervals: Wilson (1927), "Probable inference, the law of succession, and statistical inference",
Journal of the American Statistical Association 22, 209-212. They take each promise for one of its
own; casings of one cure load come late together, so that the truth is somewhat wider.
"""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from math import sqrt

from pickups.custody.fold import Kind

Z_95 = 1.959964
"""The normal quantile of 0.975: two-sided intervals of 95 %."""
BIN_PERCENT = 5
"""How many percent of promised probability are looked at together."""
DONE = frozenset({Kind.FINISHED, Kind.SHIPPED, Kind.HANDED_OUT})
"""Once one of these was told the plant is done with a casing."""


class Outcome(StrEnum):
    """What became of a promise whose day is over."""

    KEPT = "kept"
    BROKEN = "broken"


class Apart(StrEnum):
    """Why nothing can be said of a promise by this casing's way."""

    REJECTED = "rejected"  # what the plant did not spoil comes back as it was
    DEALERS = "dealers"  # sold, or given in exchange
    ANOTHER = "another"  # another casing than this one is to come back for it


@dataclass(frozen=True, slots=True)
class Seen:
    """A fact of a casing's way: its kind, the id of the place that has it then, the dealer's
    day."""

    kind: str
    place: str
    on: date


def back_on(way: Iterable[Seen], *, fetched_at: Collection[str]) -> date | None:
    """The first day on which a casing was back, of its facts in the order of the fold; fetched_at:
    the places where its owner fetches it, none where it is brought."""
    done = False
    for seen in way:
        done = done or seen.kind in DONE
        if seen.kind == Kind.RETURNED or (done and seen.place in fetched_at):
            return seen.on
    return None


def outcome(on: date, *, back: date | None, today: date) -> Outcome | None:
    """What became of a promise for a day; None while that day is not over."""
    if today <= on:
        return None
    return Outcome.KEPT if back is not None and back <= on else Outcome.BROKEN


@dataclass(frozen=True, slots=True)
class Told:
    """A promise that stood: the day it was told on, the day it names, and whether it was told in
    the place of another; else with the casing."""

    at: date
    on: date
    revises: bool


def first_and_last(told: Sequence[Told]) -> tuple[int, int]:
    """Which of a casing's promises, in the order told, is the first, and which the last that was
    told in time."""
    first = 0
    for i, one in enumerate(told):
        if one.at <= told[0].at and not one.revises:
            first = i
    last = first
    for i in range(first + 1, len(told)):
        if told[i].at >= told[last].on:
            break
        last = i
    return first, last


@dataclass(frozen=True, slots=True)
class Share:
    """How many of how many were kept."""

    kept: int
    of: int

    @property
    def share(self) -> float | None:
        """None of none."""
        return self.kept / self.of if self.of else None

    @property
    def interval(self) -> tuple[float, float]:
        """Wilson's interval of 95 %; of none everything is possible."""
        return wilson(self.kept, self.of)


def shared(outcomes: Iterable[Outcome | None]) -> Share:
    """How many of those that count were kept."""
    counted = [one for one in outcomes if one is not None]
    return Share(sum(one is Outcome.KEPT for one in counted), len(counted))


def wilson(kept: int, of: int, *, z: float = Z_95) -> tuple[float, float]:
    """Lower and upper limit of a proportion by Wilson's score interval, without correction for
    continuity. Raises ValueError where more were kept than there are."""
    if not 0 <= kept <= of:
        raise ValueError(f"kept is {kept} of {of}; 0 to {of} are allowed")
    if not of:
        return 0.0, 1.0
    share, square = kept / of, z * z
    middle = share + square / (2 * of)
    spread = z * sqrt(share * (1 - share) / of + square / (4 * of * of))
    low, high = (middle - spread) / (1 + square / of), (middle + spread) / (1 + square / of)
    return (0.0 if kept == 0 else low), (1.0 if kept == of else high)


@dataclass(frozen=True, slots=True)
class Bin:
    """Promises whose stated probability lies from `least` to `most` percent, the mean of what was
    stated, and how many were kept."""

    least: int
    most: int
    promised: float
    kept: Share


def reliability(told: Iterable[tuple[int, Outcome]]) -> list[Bin]:
    """Promises by their stated probability in percent, the least first; what nobody promised is
    absent. Raises ValueError for what is no probability."""
    bins: dict[int, list[tuple[int, Outcome]]] = {}
    for percent, came in told:
        if not 0 <= percent <= 100:
            raise ValueError(f"percent is {percent}; 0 to 100 is allowed")
        least = min(percent // BIN_PERCENT * BIN_PERCENT, 100 - BIN_PERCENT)
        bins.setdefault(least, []).append((percent, came))
    return [
        Bin(
            least,
            100 if least == 100 - BIN_PERCENT else least + BIN_PERCENT - 1,
            sum(percent for percent, _ in inside) / len(inside),
            shared(came for _, came in inside),
        )
        for least, inside in sorted(bins.items())
    ]
