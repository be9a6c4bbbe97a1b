"""Histories for the properties of the ledger: facts about a few labels, true or not, in any order.

Nothing here keeps a history plausible: whatever was told may arrive.
"""

from dataclasses import replace
from datetime import timedelta
from uuid import UUID

from hypothesis import strategies as st

from pickups.casings.rules import Progress
from pickups.custody import fold
from pickups.custody.fold import LEG, Fact, Kind
from pickups.custody.ledger import Told
from pickups.kernel import clock

BEGAN_MS = 1_760_000_000_000
DAY_MS = 86_400_000
LABELS = ("K7AAAAAA", "K7BBBBBB", "K7CCCCCC")
PLANT = tuple(k for k in LEG if k is not Kind.PICKED_UP)
YARD = UUID(int=0xA1)
PICKUP = UUID(int=0xB1)

uids = st.integers(1, 2**100).map(lambda n: UUID(int=n))
# Few different stamps, so that facts with the same stamp are met too.
stamps = st.integers(-12, 12).map(lambda n: BEGAN_MS + n * DAY_MS // 4)


def picked_up(uid: UUID, label: str = LABELS[0], stamp: int = BEGAN_MS, **more: object) -> Fact:
    """The pick_up of a casing."""
    told = {"at": clock.rfc3339(clock.from_ms(stamp)), "pickup": str(PICKUP), "yard": str(YARD)}
    return Fact(uid, Kind.PICKED_UP, label, stamp, holder="person:dale", told=told | more)


def corrected(uid: UUID, original: Fact, label: str, stamp: int, **more: object) -> Fact:
    """The same casing told again, in the place of the original."""
    told = {**original.told, "original_label": original.label, **more}
    return Fact(uid, Kind.PICKED_UP, label, stamp, corrects=original.uid, told=told)


def withdrawn(uid: UUID, original: Fact, stamp: int) -> Fact:
    """It was never picked up."""
    told = {"at": clock.rfc3339(clock.from_ms(stamp)), "reason": "wrong pile"}
    return Fact(uid, Kind.WITHDRAWN, original.label, stamp, corrects=original.uid, told=told)


def relabelled(uid: UUID, label: str, now: str, stamp: int = BEGAN_MS) -> Fact:
    """The casing under a label wears another instead."""
    told = {"at": clock.rfc3339(clock.from_ms(stamp)), "now": now, "why": "lost"}
    return Fact(uid, Kind.RELABELLED, label, stamp, told=told)


def reminded(uid: UUID, label: str, stamp: int = BEGAN_MS) -> Fact:
    """Its owner was called."""
    told = {"at": clock.rfc3339(clock.from_ms(stamp)), "step": "called", "said": f"call {uid.int}"}
    return Fact(uid, Kind.REMINDED, label, stamp, told=told)


def at_plant(uid: UUID, kind: Kind, label: str = LABELS[0], stamp: int = BEGAN_MS,
             releases: UUID | None = None) -> Fact:  # fmt: skip
    """What a station did with the label."""
    told = {"at": clock.rfc3339(clock.from_ms(stamp)), "station": f"station-{uid.int % 7}"}
    if kind is Kind.REJECTED:
        told["reason"] = f"reason-{uid.int % 5}"
    if releases is not None:
        told["releases"] = str(releases)
    holder = "road:plant" if kind is Kind.SHIPPED else "plant:plant"
    return Fact(uid, kind, label, stamp, holder=holder, told=told)


SECOND_VERSION = (fold.STORE, *fold.WANTED)
wanted: st.SearchStrategy[dict[str, str]] = st.one_of(
    st.just({}),
    st.fixed_dictionaries(
        {"work": st.sampled_from(["retread", "repair"])},
        optional={"store": st.sampled_from(["s1", "s2"]), "unit": st.sampled_from(["T-1", "T-2"])},
    ),
)
"""What a pick_up tells beside the first version's, by an app of the first version or the second."""


@st.composite
def plant_facts(draw: st.DrawFn, most: int = 8) -> list[Fact]:
    """Facts of a plant under one label; releases name a fact that is there, or nothing."""
    drawn = draw(st.lists(uids, max_size=most, unique=True))
    found: list[Fact] = []
    for uid in drawn:
        kind = draw(st.sampled_from(PLANT))
        named = None
        if kind is Kind.RELEASED:
            named = draw(st.sampled_from([f.uid for f in found] or [UUID(int=0)]))
        found.append(at_plant(uid, kind, stamp=draw(stamps), releases=named))
    return found


@st.composite
def histories(draw: st.DrawFn) -> list[Fact]:
    """Up to four casings on three labels, told again, taken back, relabelled, seen by a plant."""
    drawn = iter(draw(st.lists(uids, min_size=20, max_size=20, unique=True)))
    originals = [
        picked_up(next(drawn), draw(st.sampled_from(LABELS)), draw(stamps), **draw(wanted))
        for _ in range(draw(st.integers(1, 4)))
    ]
    facts = list(originals)
    for _ in range(draw(st.integers(0, 4))):
        original = draw(st.sampled_from(originals))
        if draw(st.integers(0, 3)):
            label, more = draw(st.sampled_from(LABELS)), draw(wanted)
            again = corrected(next(drawn), original, label, draw(stamps), size="11R22.5")
            bare = {k: v for k, v in again.told.items() if k not in SECOND_VERSION}
            facts.append(replace(again, told=bare | more))
        else:
            facts.append(withdrawn(next(drawn), original, draw(stamps)))
    for _ in range(draw(st.integers(0, 3))):
        label, now = draw(st.sampled_from(LABELS)), draw(st.sampled_from(LABELS))
        facts.append(relabelled(next(drawn), label, now, draw(stamps)))
        if not draw(st.integers(0, 3)):
            facts.append(withdrawn(next(drawn), facts[-1], draw(stamps)))
    facts += [replace(f, label=draw(st.sampled_from(LABELS))) for f in draw(plant_facts())]
    return list({f.uid: f for f in facts}.values())


def told(fact: Fact) -> Told:
    """The fact as somebody told it to the ledger."""
    return Told(fact, clock.from_ms(fact.stamp) - timedelta(days=30), None, None, None)


RANK = {
    step: i
    for i, step in enumerate(
        (Progress.PICKED_UP, Progress.RECEIVED, Progress.IN_WORK, Progress.FINISHED,
         Progress.REJECTED, Progress.SHIPPED, Progress.RETURNED)
    )
}  # fmt: skip
"""What outdoes what: a rejection ends the work, even of a casing that was told to be finished."""


def states(facts: list[Fact]) -> dict[UUID, fold.State]:
    """The state of every work order that the facts speak of."""
    views = fold.labels(facts, LABELS)
    found = {}
    for claim in fold.claims(facts):
        view = views[claim.fact.label]
        silent = claim.withdrawn or view.contested
        found[claim.uid] = fold.progress(claim.fact, () if silent else view.facts)
    return found
