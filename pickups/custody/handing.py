"""From facts to hand-overs: each once, with everybody who told it. Pure, like the fold.

A scan by who gave or took names both; a plant's own word names itself alone: it received, it
shipped. What several say of one hand-over are its witnesses. The same giver, taker and way told
again is the same hand-over, unless the casing was told to have gone on and come back between:
that is another pass. Order is read among the scans and among a plant's words, never across, since a
machine's clock may be days off; then the passes of the side that tells fewer are laid against
those of the other, in order and as near in time as they go. So what one driver brought and the
plant received is one hand-over whatever their clocks say, and two that one side tells apart are
two. Where each side missed another one of two, they count as one: nothing tells them apart.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import inf
from typing import Literal
from uuid import UUID

from pickups.custody import fold
from pickups.custody.fold import AT_PLANT, Fact, Kind

Way = Literal["in", "out"]
_WAY: dict[Kind, Way] = {
    Kind.PICKED_UP: "in",
    Kind.HANDED_IN: "in",
    Kind.RECEIVED: "in",
    Kind.SHIPPED: "out",
    Kind.HANDED_OUT: "out",
    Kind.RETURNED: "out",
}
_POSTED = frozenset({Kind.RECEIVED, Kind.SHIPPED})
ANSWERS: Mapping[Kind, frozenset[Kind]] = {
    Kind.HANDED_IN: AT_PLANT | {Kind.SHIPPED, Kind.HANDED_OUT, Kind.RETURNED},
    Kind.SHIPPED: frozenset({Kind.RECEIVED, Kind.HANDED_IN, Kind.HANDED_OUT, Kind.RETURNED}),
}
"""What says, where it comes later, where a casing is that one side alone has told of. A missed scan
is normal: any word of a plant answers for its dock, any of a driver, a store or an owner for a
truck."""


@dataclass(frozen=True, slots=True)
class HandOver:
    """One casing from one holder to another; a holder that nobody named is empty, or `road:`.

    witnesses: the facts that tell of it, in order; its own place in time is that of the first.
    """

    way: Way
    giver: str
    taker: str
    witnesses: tuple[Fact, ...]

    @property
    def order(self) -> tuple[int, UUID]:
        """Its place among the others."""
        return self.witnesses[0].order


_Thread = tuple[Literal["gives", "takes", "hands"], str]
"""What is told of again and again: that a plant gives, that it takes, that one hands to another."""


@dataclass(frozen=True, slots=True)
class _Word:
    """What one fact says of a hand-over."""

    fact: Fact
    giver: str
    taker: str

    @property
    def way(self) -> Way:
        return _WAY[self.fact.kind]

    @property
    def threads(self) -> list[_Thread]:
        """A plant tells its own side only, so there the other side may have any name."""
        found: list[_Thread] = []
        if _is_plant(self.giver):
            found.append(("gives", self.giver))
        if _is_plant(self.taker):
            found.append(("takes", self.taker))
        return found or [("hands", f"{self.giver} {self.taker} {self.way}")]


_Passes = Sequence[tuple[_Word, int]]
"""One side's words of a thread, in order, each with the number of its pass."""
_Turns = Mapping[tuple[_Thread, UUID], int]


def hand_overs(facts: Iterable[Fact], *, owner: str = "") -> list[HandOver]:
    """The hand-overs that the facts of one casing tell of, in order, each once.

    facts: those of a work order, or those under a label that nobody claims. Corrections change no
    hand-over and are left out; a pick_up that was withdrawn is none. owner: `customer:` and an id.
    Every other fact that tells of a hand-over is a witness of exactly one.
    """
    words = _words(facts, owner)
    scans = [w for w in words if w.fact.kind not in _POSTED]
    turns = _turns(scans, [w for w in words if w.fact.kind in _POSTED])
    last = {(thread, turns[thread, w.fact.uid]): w for w in scans for thread in w.threads}
    found: dict[tuple[object, ...], list[_Word]] = {}
    for w in words:
        passes = [(thread, turns[thread, w.fact.uid]) for thread in w.threads]
        # Of several who say that they brought it, the last one is whom the plant received it from.
        named = last.get(passes[0], w) if w.fact.kind in _POSTED else w
        numbers = [turns[thread, named.fact.uid] for thread in named.threads]
        found.setdefault((named.giver, named.taker, named.way, *numbers), []).append(w)
    made = []
    for together in found.values():
        named = next((w for w in together if w.fact.kind not in _POSTED), together[0])
        witnesses = tuple(w.fact for w in together)
        made.append(HandOver(named.way, named.giver, named.taker, witnesses))
    return sorted(made, key=lambda h: h.order)


def one_sided(facts: Iterable[Fact]) -> list[HandOver]:
    """What only one side has told and nothing later has answered: handed in to a plant of which
    no plant has told since, shipped by a plant and taken over by nobody."""
    facts = list(facts)
    return [h for h in hand_overs(facts) if _waits(h) and not _answered(h, facts)]


def is_told_by_one(fact: Fact) -> bool:
    """Whether it tells of a hand-over that the other side has to tell of too."""
    to_plant = fact.kind is Kind.HANDED_IN and _is_plant(fact.holder)
    return to_plant or fact.kind is Kind.SHIPPED


def _waits(h: HandOver) -> bool:
    kinds = {f.kind for f in h.witnesses}
    if Kind.HANDED_IN in kinds:
        return _is_plant(h.taker) and Kind.RECEIVED not in kinds
    return kinds == {Kind.SHIPPED}


def _answered(h: HandOver, facts: Iterable[Fact]) -> bool:
    """Whether something later says where the casing is."""
    answers = ANSWERS[Kind.HANDED_IN if _is_plant(h.taker) else Kind.SHIPPED]
    return any(f.kind in answers and f.order > h.order for f in facts)


def _words(facts: Iterable[Fact], owner: str) -> list[_Word]:
    """What the facts say of hand-overs, sorted, each fact once."""
    known = {f.uid: f for f in facts}
    stands = fold.standing(known.values())
    told = [f for f in known.values() if f.kind in _WAY and stands.get(f.uid)]
    return [_word(f, owner) for f in sorted(told, key=lambda f: f.order)]


def _word(f: Fact, owner: str) -> _Word:
    if f.kind is Kind.PICKED_UP:
        return _Word(f, owner, f.holder)
    giver = str(f.told.get("giver", ""))
    if f.kind is Kind.SHIPPED:
        giver = f"plant:{f.holder.partition(':')[2]}"
    return _Word(f, giver, f.holder)


def _is_plant(holder: str) -> bool:
    return holder.startswith("plant:")


def _turns(scans: Sequence[_Word], posted: Sequence[_Word]) -> _Turns:
    """The pass of each word in each of its threads, the same for both sides."""
    ours, theirs = _numbered(scans), _numbered(posted)
    turns = {}
    for thread in {**ours, **theirs}:
        few, many = theirs.get(thread, []), ours.get(thread, [])
        if few and many:
            if few[-1][1] > many[-1][1]:
                few, many = many, few
            few = _laid(few, many)
        for word, number in (*few, *many):
            turns[thread, word.fact.uid] = number
    return turns


def _numbered(words: Sequence[_Word]) -> Mapping[_Thread, _Passes]:
    """The words of one side by thread, a new pass wherever it went on and came back between."""
    found: dict[_Thread, list[tuple[_Word, int]]] = {}
    told: dict[_Thread, int] = {}
    got: dict[str, int] = {}
    gave: dict[str, int] = {}
    for i, w in enumerate(words):
        for thread in w.threads:
            gone, back = gave.get(w.taker, -1), got.get(w.giver, -1)
            between = {"takes": gone, "gives": back, "hands": min(gone, back)}[thread[0]]
            passes = found.setdefault(thread, [])
            number = passes[-1][1] + (between > told[thread]) if passes else 0
            passes.append((w, number))
            told[thread] = i
        gave[w.giver] = got[w.taker] = i
    return found


def _laid(few: _Passes, many: _Passes) -> _Passes:
    """The words of the side with fewer passes, numbered by the passes of the other.

    In order; two passes are never laid on one. Of all such ways one of those that make the fewest
    hand-overs: what two gave or took is laid on two passes where there are two. Of those the one
    whose differences of time add up to the least, the earlier pass where two are alike.
    """
    times: list[int] = []
    for word, number in many:
        if number == len(times):
            times.append(word.fact.stamp)
    costs: list[_Cost] = [(0, 0)] * len(times)
    came: list[list[int]] = []
    for i, (word, number) in enumerate(few):
        before, told = few[max(i - 1, 0)]
        stay = int((before.giver, before.taker) != (word.giver, word.taker))
        ways = _cheapest(costs, stay if number == told else inf)
        came.append([at for _, at in ways])
        costs = [
            (more, apart + abs(word.fact.stamp - time))
            for ((more, apart), _), time in zip(ways, times, strict=True)
        ]
    at = costs.index(min(costs))
    laid = []
    for (word, _), row in zip(reversed(few), reversed(came), strict=True):
        laid.append((word, at))
        at = row[at]
    return laid[::-1]


_Cost = tuple[float, float]
"""Hand-overs too many, then milliseconds."""


def _cheapest(costs: Sequence[_Cost], stay: float) -> list[tuple[_Cost, int]]:
    """For each pass the least that leads to it, and from which one: an earlier one, or itself at
    `stay` hand-overs more; the first of equals, -1 for none."""
    found: list[tuple[_Cost, int]] = []
    best: tuple[_Cost, int] = ((inf, inf), -1)
    for at, (more, apart) in enumerate(costs):
        found.append(min(best, ((more + stay, apart), at)))
        best = min(best, ((more, apart), at))
    return found
