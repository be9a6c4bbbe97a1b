"""From facts to state: pure, and the same for every order, repetition and split of the facts.

Facts are sorted by (stamp, uid); time orders only facts of one rank, ranks order the rest: a
casing that was finished is not unfinished by a clock that ran slow. A rank is undone only by a
fact that names it: `corrects` (the greatest (stamp, uid) of several wins; one whose original has
not arrived is parked; what a station told only its plant takes back) or `releases`. Missed scans
are normal: a later fact implies the earlier. Only the impossible is reported as a conflict. This
module reads no clock and no table.
"""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import Any
from uuid import UUID

from pickups.casings.rules import Progress
from pickups.custody.names import Names, Swap, alone, joined


class Kind(StrEnum):
    """What a fact says happened."""

    PICKED_UP = "picked_up"
    WITHDRAWN = "withdrawn"
    RECEIVED = "received"
    PASSED = "passed"
    REPAIR = "repair"
    HOLD = "hold"
    RELEASED = "released"
    REJECTED = "rejected"
    FINISHED = "finished"
    SHIPPED = "shipped"
    RETURNED = "returned"
    HANDED_IN = "handed_in"
    HANDED_OUT = "handed_out"
    RELABELLED = "relabelled"
    REMINDED = "reminded"
    PICKUP_END = "pickup_end"
    DELIVERY_END = "delivery_end"
    EMPTIED = "emptied"
    SCRAP = "scrap"
    LEFT = "left"


class Conflict(StrEnum):
    """Facts that cannot all be true."""

    FINISHED_AND_REJECTED = "finished_and_rejected"
    RETURNED_NEVER_SHIPPED = "returned_never_left_the_plant"
    WORKED_ON_BEFORE = "at_the_plant_before_it_was_picked_up"


BEFORE_MS = 7 * 24 * 3600 * 1000
"""How much earlier than its pick_up a plant's word may be told before it cannot be true. Clocks of
phones and machines may be days off, in both directions; a week they are not. Our own figure."""


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing that happened to the casing under a label.

    stamp: whole milliseconds, made once where it happened. holder: who has the casing after it,
    empty where it says nothing of that. told: what else was said (ids, codes, figures).
    """

    uid: UUID
    kind: Kind
    label: str
    stamp: int
    corrects: UUID | None = None
    holder: str = ""
    told: Mapping[str, Any] = field(default_factory=dict)

    @property
    def order(self) -> tuple[int, UUID]:
        """The place of the fact among those of its rank."""
        return (self.stamp, self.uid)


@dataclass(frozen=True, slots=True)
class State:
    """Where a work order stands: what a phone, a page and a notice say of it."""

    progress: Progress
    station: str
    reason: str
    on_hold: bool
    holder: str
    conflicts: tuple[Conflict, ...]


@dataclass(frozen=True, slots=True)
class Claim:
    """A pick_up as it stands after corrections; `uid` is the original's and the work order's."""

    uid: UUID
    fact: Fact
    withdrawn: bool


@dataclass(frozen=True, slots=True)
class LabelView:
    """One label with all that name the same casing: the claims on them that stand, and the other
    facts under them, sorted."""

    names: Names
    claims: tuple[Claim, ...]
    facts: tuple[Fact, ...]

    @property
    def label(self) -> str:
        """The one that the casing wears now."""
        return self.names.worn

    @property
    def contested(self) -> bool:
        """Two casings wear the label; nobody outside may hear of either."""
        return len(self.claims) > 1


AT_PLANT = frozenset(
    {
        Kind.RECEIVED,
        Kind.PASSED,
        Kind.REPAIR,
        Kind.HOLD,
        Kind.RELEASED,
        Kind.REJECTED,
        Kind.FINISHED,
    }
)
TOLD_AT_STATIONS = AT_PLANT | {Kind.SHIPPED}
LEG: dict[Kind, int] = {
    Kind.PICKED_UP: 1,
    Kind.HANDED_IN: 2,
    **dict.fromkeys(AT_PLANT, 3),
    Kind.SHIPPED: 4,
    Kind.HANDED_OUT: 4,
    Kind.RETURNED: 5,
}
"""Which part of the way a kind belongs to; the holder is told by the furthest part."""

WANTED = ("work", "basis", "tread_design", "purchase_order", "unit", "back_to", "promised")
"""What only the second version of a pick_up tells, and a correction may change."""
SEEN = ("line", "tins", "rating", "brand", "treads_32nds", "position", "wheel", "odometer",
        "odometer_in", "pulled_for", "findings", "check", "fleet_brand", "sale", "complaint", "rim",
        "valve_out", "dual_with")  # fmt: skip
"""What only the third version and later ones tell, and a correction may change."""
STORE = "store"
"""The counter that took it in: told by the second version too, and by no correction."""

_OUT = frozenset({Kind.SHIPPED, Kind.HANDED_OUT})
_LEAVES = _OUT | {Kind.FINISHED}
"""What says, beside a rejection, that the plant is done with it. A casing that no plant has seen
may be back with its owner all the same: he changed his mind, at the counter or in the yard."""
_STEPS = frozenset({Kind.PASSED, Kind.REPAIR, Kind.HOLD, Kind.RELEASED})


def standing(facts: Iterable[Fact]) -> dict[UUID, Fact | None]:
    """Each original as it stands after its corrections, by its uid; None where it was withdrawn.

    Corrections whose original is not among the facts are left out: they are parked.
    """
    originals: dict[UUID, Fact] = {}
    last: dict[UUID, Fact] = {}
    last_wanted: dict[UUID, Fact] = {}
    last_seen: dict[UUID, Fact] = {}
    taken_back: dict[UUID, set[str]] = {}
    for fact in facts:
        if fact.corrects is None:
            originals[fact.uid] = fact
            continue
        if fact.kind is Kind.WITHDRAWN:
            taken_back.setdefault(fact.corrects, set()).add(fact.told.get("plant", ""))
        _keep_last(last, fact)
        if _tells_wanted(fact):
            _keep_last(last_wanted, fact)
        if _tells_seen(fact):
            _keep_last(last_seen, fact)
    result: dict[UUID, Fact | None] = dict(originals)
    for uid, correction in last.items():
        if uid in originals and uid in taken_back and _is_back(originals[uid], taken_back[uid]):
            result[uid] = None  # for good: it cannot be told again
        if uid in originals and originals[uid].kind is Kind.PICKED_UP:
            gone = correction.kind is Kind.WITHDRAWN
            original = originals[uid]
            told = replace(
                correction,
                uid=uid,
                corrects=None,
                # Who took the casing is not changed by who tells it again.
                holder=correction.holder or original.holder,
                told=_told_again(
                    original,
                    last_wanted.get(uid, original),
                    last_seen.get(uid, original),
                    correction,
                ),
            )
            result[uid] = None if gone else told
    return result


def _is_back(original: Fact, by: Collection[str]) -> bool:
    """Whether what was told is taken back: what a station has told only by its own plant."""
    if original.kind in TOLD_AT_STATIONS:
        return original.holder.partition(":")[2] in by
    return original.kind is Kind.RELABELLED


def _keep_last(last: dict[UUID, Fact], correction: Fact) -> None:
    assert correction.corrects is not None
    known = last.get(correction.corrects)
    if known is None or known.order < correction.order:
        last[correction.corrects] = correction


def _tells_wanted(fact: Fact) -> bool:
    """Whether its app knew of work wanted: then what it leaves out is not wanted."""
    return "work" in fact.told


def _tells_seen(fact: Fact) -> bool:
    """Whether its app knew of lines and of what is seen of a casing."""
    return "line" in fact.told


_READ_TWICE = {"tins": "tin", "treads_32nds": "tread_32nds"}
"""What the third version tells more finely than those before it, which may correct it."""


def _told_again(original: Fact, wanted: Fact, seen: Fact, correction: Fact) -> Mapping[str, Any]:
    """What stands after a correction: all of it, but for what its teller could not know of, which
    stands as it was `wanted` and `seen` last; and it was taken in where it was taken in."""
    told = dict(correction.told)
    if not _tells_seen(correction):
        kept = {k: seen.told[k] for k in SEEN if k in seen.told}
        for fine, coarse in _READ_TWICE.items():
            if told.get(coarse) != seen.told.get(coarse):
                kept.pop(fine, None)
        told |= kept
    if not _tells_wanted(correction):
        told |= {k: wanted.told[k] for k in WANTED if k in wanted.told}
    told.pop(STORE, None)
    return told | ({STORE: original.told[STORE]} if STORE in original.told else {})


def claims(facts: Iterable[Fact]) -> list[Claim]:
    """Every pick_up among the facts as it stands, withdrawn ones with what was told at first."""
    facts = list(facts)
    return _claims(facts, standing(facts))


def _claims(facts: Iterable[Fact], stand: Mapping[UUID, Fact | None]) -> list[Claim]:
    first = {f.uid: f for f in facts if f.corrects is None and f.kind is Kind.PICKED_UP}
    made = []
    for uid, original in first.items():
        now = stand[uid]
        made.append(Claim(uid, now or original, withdrawn=now is None))
    return made


def labels(facts: Iterable[Fact], wanted: Iterable[str]) -> dict[str, LabelView]:
    """The labels wanted, each with the claims that stand on it and the other facts under it.

    Labels that name one casing have one view. `facts` must hold every fact under these labels and
    under those that relabellings join to them, the originals that their corrections name, and
    every correction of those.
    """
    facts = list(facts)
    every = standing(facts)
    stand = [f for f in every.values() if f is not None]
    swaps = [swap(f) for f in stand if f.kind is Kind.RELABELLED]
    known = joined(swaps) if swaps else {}
    names = {label: known.get(label) or alone(label) for label in wanted}
    found: dict[str, tuple[list[Claim], list[Fact]]] = {n.worn: ([], []) for n in names.values()}
    at = {label: n.worn for n in names.values() for label in n.every}
    for claim in _claims(facts, every):
        if not claim.withdrawn and claim.fact.label in at:
            found[at[claim.fact.label]][0].append(claim)
    for fact in stand:
        if fact.kind is not Kind.PICKED_UP and fact.label in at:
            found[at[fact.label]][1].append(fact)
    views = {
        n.worn: LabelView(
            n,
            tuple(sorted(found[n.worn][0], key=lambda c: c.uid)),
            tuple(sorted(found[n.worn][1], key=lambda f: f.order)),
        )
        for n in names.values()
    }
    return {label: views[n.worn] for label, n in names.items()}


def each(views: Mapping[str, LabelView]) -> list[LabelView]:
    """Every view once, however many of its labels were wanted."""
    return list({view.label: view for view in views.values()}.values())


def swap(fact: Fact) -> Swap:
    """What a relabelling says."""
    return Swap(fact.label, fact.told["now"], fact.order)


def progress(pick_up: Fact, facts: Iterable[Fact]) -> State:
    """The state of one work order from its pick_up and the facts that are its own."""
    seen: dict[UUID, Fact] = {f.uid: f for f in facts}
    if not seen:  # the common case in a yard: nothing but the pick_up yet
        return State(Progress.PICKED_UP, "", "", False, pick_up.holder, ())
    ordered = sorted(seen.values(), key=lambda f: f.order)
    kinds = {f.kind for f in ordered}
    released = {f.told.get("releases") for f in ordered if f.kind is Kind.RELEASED}
    rejections, _ = standing_rejections(ordered)
    holds = [f for f in ordered if f.kind is Kind.HOLD and str(f.uid) not in released]
    conflicts = []
    if rejections and Kind.FINISHED in kinds:
        conflicts.append(Conflict.FINISHED_AND_REJECTED)
    if Kind.RETURNED in kinds and kinds & AT_PLANT and not (rejections or kinds & _LEAVES):
        conflicts.append(Conflict.RETURNED_NEVER_SHIPPED)
    if any(f.stamp < pick_up.stamp - BEFORE_MS for f in ordered if f.kind in AT_PLANT):
        conflicts.append(Conflict.WORKED_ON_BEFORE)
    stations = [f.told.get("station", "") for f in ordered if f.kind in AT_PLANT]
    return State(
        progress=_furthest(kinds, rejected=bool(rejections)),
        station=next((s for s in reversed(stations) if s), ""),
        reason=rejections[-1].told.get("reason", "") if rejections else "",
        on_hold=bool(holds),
        holder=_holder([pick_up, *ordered]),
        conflicts=tuple(conflicts),
    )


def standing_rejections(facts: Iterable[Fact]) -> tuple[list[Fact], int]:
    """The rejections that no release names, sorted, and how many were released before the first.

    That count tells a casing that was rejected anew from one that two stations rejected.
    """
    ordered = sorted(facts, key=lambda f: f.order)
    rejected = {str(f.uid): f for f in ordered if f.kind is Kind.REJECTED}
    releases = [
        f for f in ordered if f.kind is Kind.RELEASED and f.told.get("releases") in rejected
    ]
    released = {f.told["releases"] for f in releases}
    stand = [f for uid, f in rejected.items() if uid not in released]
    before = {f.told["releases"] for f in releases if stand and f.order < stand[0].order}
    return stand, len(before)


def _furthest(kinds: set[Kind], *, rejected: bool) -> Progress:
    if Kind.RETURNED in kinds:
        return Progress.RETURNED
    if kinds & _OUT:
        return Progress.SHIPPED
    if rejected:
        return Progress.REJECTED
    if Kind.FINISHED in kinds:
        return Progress.FINISHED
    if kinds & _STEPS or Kind.REJECTED in kinds:
        return Progress.IN_WORK
    if Kind.RECEIVED in kinds:
        return Progress.RECEIVED
    return Progress.PICKED_UP


def _holder(facts: list[Fact]) -> str:
    leg = max(LEG.get(f.kind, 0) for f in facts)
    told = [f for f in facts if LEG.get(f.kind) == leg and f.holder]
    # "On the road" and the driver's own scan are two words for one hand-over: the name counts.
    told = [f for f in told if not f.holder.startswith("road:")] or told
    return max(told, key=lambda f: f.order).holder if told else ""
