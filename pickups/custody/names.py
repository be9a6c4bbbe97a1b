"""Which labels name one casing, and which of them it wears: pure, whatever came first.

A relabelling says that the casing under one label wears another instead. Labels that relabellings
join name one casing, in whatever direction and order they were told. What it wears is where the
chain ends; time decides only where that says nothing: between two ends, and in a ring. Neither is
refused; both are doubts for a person.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from uuid import UUID


class Doubt(StrEnum):
    """Why it cannot be told from the relabellings alone what a casing wears."""

    TWICE = "replaced_twice"
    RING = "replaced_in_a_ring"


@dataclass(frozen=True, slots=True)
class Swap:
    """One relabelling that stands: `now` in place of `label`; order: (stamp, uid) of its fact."""

    label: str
    now: str
    order: tuple[int, UUID]


@dataclass(frozen=True, slots=True)
class Names:
    """The labels of one casing.

    worn: the one on it. every: all of them, sorted, `worn` among them. doubts: by the label that
    is in doubt. first: the one that came in no other's place; of several, and in a ring, the first
    by its symbols.
    """

    worn: str
    every: tuple[str, ...]
    doubts: Mapping[str, Doubt]
    first: str

    @property
    def void(self) -> tuple[str, ...]:
        """Those that were given up for another."""
        return tuple(name for name in self.every if name != self.worn)


def alone(label: str) -> Names:
    """A label that nobody has replaced."""
    return Names(label, (label,), {}, label)


def joined(swaps: Iterable[Swap]) -> dict[str, Names]:
    """The names of every label that a relabelling speaks of."""
    swaps = sorted(set(swaps), key=lambda s: s.order)
    found: dict[str, Names] = {}
    for every in _parts(swaps):
        own = [s for s in swaps if s.label in every]
        first = min(every - {s.now for s in own} or every)
        names = Names(_worn(every, own), tuple(sorted(every)), _doubts(own), first)
        found |= dict.fromkeys(every, names)
    return found


def _parts(swaps: Iterable[Swap]) -> list[set[str]]:
    parts: list[set[str]] = []
    for s in swaps:
        part = {s.label, s.now}
        apart = []
        for other in parts:
            if other & part:
                part |= other
            else:
                apart.append(other)
        parts = [*apart, part]
    return parts


def _worn(every: set[str], swaps: list[Swap]) -> str:
    """The end of the chain; of several ends, and of a ring, the one told last."""
    ends = every - {s.label for s in swaps}
    told = [s.now for s in swaps if s.now in ends or not ends]
    return told[-1]


def _doubts(swaps: list[Swap]) -> dict[str, Doubt]:
    onward: dict[str, set[str]] = {}
    for s in sorted(swaps, key=lambda s: s.label):
        onward.setdefault(s.label, set()).add(s.now)
    found = {label: Doubt.TWICE for label, nows in onward.items() if len(nows) > 1}
    return found | {label: Doubt.RING for label in onward if _returns(label, onward)}


def _returns(label: str, onward: Mapping[str, set[str]]) -> bool:
    """Whether the chain from a label comes back to it."""
    seen: set[str] = set()
    ahead = set(onward[label])
    while ahead:
        if label in ahead:
            return True
        seen |= ahead
        ahead = {now for at in ahead for now in onward.get(at, ())} - seen
    return False
