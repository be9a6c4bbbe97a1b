"""When a new day is told in the place of one that was promised, and which of them stands. Pure."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class Told:
    """A promise as it is compared: its day, where the casing comes back to, and whether it was told
    in the place of another; else it was told with the casing."""

    on: date
    back_to: str
    revises: bool


def standing(told: Sequence[Told]) -> int:
    """Which of a casing's promises stands, of one or more in the order told: the last, but for one
    that came with the casing told again and only repeats what had been revised by then."""
    last = len(told) - 1
    while last and not told[last].revises:
        with_casing = [one for one in told[:last] if not one.revises]
        repeats = bool(with_casing) and with_casing[-1] == told[last]
        if not (repeats and any(one.revises for one in told[:last])):
            break
        last -= 1
    return last


def at_risk(probability: float | None, *, bound: float) -> bool:
    """Whether a promise that is kept with this probability needs somebody; nobody can say of None:
    then what is known is that it went back to be worked again."""
    return probability is None or probability < bound


def new_day(
    standing: date,
    *,
    first: date,
    expected: date | None,
    probability: float | None,
    bound: float,
) -> date | None:
    """The day to tell in the place of the one that stands, if any.

    Later, where that one is at risk and another is expected; or the first again, where a later one
    stands and the first can be kept after all. Once it was told nothing more is due until the
    expected day moves past it: what swings in between tells nobody anything.
    """
    if expected is None:
        return None
    if at_risk(probability, bound=bound) and expected > standing:
        return expected
    return first if expected <= first < standing else None


def may_tell(hour: int, *, begins: int, ends: int) -> bool:
    """Whether a person may be written to at an hour of the day without having asked: from the hour
    `begins` to before `ends`, which is later."""
    return begins <= hour < ends
