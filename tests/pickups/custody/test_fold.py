"""State is a function of the set of facts: no order, repetition or clock can change it."""

from dataclasses import replace
from uuid import UUID

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from pickups.casings.rules import Progress
from pickups.custody import fold
from pickups.custody.fold import LEG, Conflict, Fact, Kind
from tests.pickups.custody.histories import (
    BEGAN_MS,
    DAY_MS,
    LABELS,
    PLANT,
    RANK,
    at_plant,
    corrected,
    histories,
    picked_up,
    plant_facts,
    stamps,
    states,
    uids,
    withdrawn,
)

CASING = picked_up(UUID(int=1))


def rank(progress: Progress) -> int:
    return RANK[progress]


# --- Order, repetition, split -------------------------------------------------------------------


@given(histories(), st.data())
def test_any_order_repetition_and_split_gives_the_same_state(
    facts: list[Fact], data: st.DataObject
) -> None:
    shuffled = data.draw(st.permutations(facts))
    cut = data.draw(st.integers(0, len(facts)))
    again = data.draw(st.lists(st.sampled_from(facts), max_size=5))
    # Two parts that overlap, as two pushes of one outbox do.
    told_again = [*shuffled[:cut], *again, *shuffled[max(0, cut - 2) :]]
    assert states(told_again) == states(facts)
    assert fold.labels(told_again, LABELS) == fold.labels(facts, LABELS)
    by_uid = {c.uid: c for c in fold.claims(facts)}
    assert {c.uid: c for c in fold.claims(told_again)} == by_uid


@given(plant_facts(), st.data())
def test_clocks_that_jump_three_days_never_undo_a_rank(
    facts: list[Fact], data: st.DataObject
) -> None:
    jumps = [data.draw(st.integers(-3 * DAY_MS, 3 * DAY_MS)) for _ in facts]
    jumped = [replace(f, stamp=f.stamp + by) for f, by in zip(facts, jumps, strict=True)]
    before, after = fold.progress(CASING, facts), fold.progress(CASING, jumped)
    assert after.progress == before.progress
    assert after.on_hold == before.on_hold
    assert after.conflicts == before.conflicts
    assert bool(after.reason) == bool(before.reason)


@given(plant_facts(), uids, st.sampled_from(sorted(set(PLANT) - {Kind.RELEASED})), stamps)
def test_a_further_fact_never_takes_a_casing_back(
    facts: list[Fact], uid: UUID, kind: Kind, stamp: int
) -> None:
    assume(all(f.uid != uid for f in facts))  # two facts never share a uid
    before = fold.progress(CASING, facts).progress
    after = fold.progress(CASING, [*facts, at_plant(uid, kind, stamp=stamp)]).progress
    assert rank(after) >= rank(before)


# --- Ranks --------------------------------------------------------------------------------------

ALONE = [
    (Kind.RECEIVED, Progress.RECEIVED),
    (Kind.PASSED, Progress.IN_WORK),
    (Kind.REPAIR, Progress.IN_WORK),
    (Kind.HOLD, Progress.IN_WORK),
    (Kind.RELEASED, Progress.IN_WORK),
    (Kind.REJECTED, Progress.REJECTED),
    (Kind.FINISHED, Progress.FINISHED),
    (Kind.SHIPPED, Progress.SHIPPED),
    (Kind.RETURNED, Progress.RETURNED),
    (Kind.HANDED_IN, Progress.PICKED_UP),
    (Kind.HANDED_OUT, Progress.SHIPPED),
]


@pytest.mark.parametrize(("kind", "progress"), ALONE)
def test_one_scan_implies_those_that_were_missed(kind: Kind, progress: Progress) -> None:
    state = fold.progress(CASING, [at_plant(UUID(int=2), kind)])
    assert state.progress == progress


def test_every_kind_that_a_plant_can_tell_has_a_rank() -> None:
    assert {kind for kind, _ in ALONE} == set(PLANT) == set(LEG) - {Kind.PICKED_UP}
    assert set(RANK) == set(Progress)


def test_the_drivers_scan_and_the_docks_are_two_words_for_one_hand_over() -> None:
    dock = at_plant(UUID(int=2), Kind.SHIPPED, stamp=200)
    driver = replace(at_plant(UUID(int=3), Kind.HANDED_OUT, stamp=100), holder="person:mira")
    for facts in ([dock, driver], [driver, dock]):
        state = fold.progress(CASING, facts)
        assert (state.progress, state.holder) == (Progress.SHIPPED, "person:mira")


def test_a_way_in_never_undoes_what_the_plant_has_done() -> None:
    late = replace(at_plant(UUID(int=3), Kind.HANDED_IN, stamp=900), holder="site:store")
    state = fold.progress(CASING, [at_plant(UUID(int=2), Kind.FINISHED, stamp=100), late])
    assert (state.progress, state.holder) == (Progress.FINISHED, "plant:plant")


def test_nothing_but_the_pick_up_says_picked_up() -> None:
    state = fold.progress(CASING, [])
    assert state.progress == Progress.PICKED_UP
    assert state.holder == "person:dale"


@given(st.permutations([Kind.FINISHED, Kind.REJECTED, Kind.PASSED, Kind.RECEIVED]), st.data())
def test_a_rejected_casing_is_never_shown_as_finished(
    kinds: list[Kind], data: st.DataObject
) -> None:
    facts = [
        at_plant(UUID(int=10 + i), kind, stamp=data.draw(stamps)) for i, kind in enumerate(kinds)
    ]
    state = fold.progress(CASING, facts)
    assert state.progress == Progress.REJECTED
    assert state.reason.startswith("reason-")
    assert state.conflicts == (Conflict.FINISHED_AND_REJECTED,)


def test_a_plants_word_from_weeks_before_the_pick_up_cannot_be_about_it() -> None:
    early = at_plant(UUID(int=2), Kind.RECEIVED, stamp=CASING.stamp - 8 * DAY_MS)
    assert fold.progress(CASING, [early]).conflicts == (Conflict.WORKED_ON_BEFORE,)
    slow = at_plant(UUID(int=2), Kind.RECEIVED, stamp=CASING.stamp - 6 * DAY_MS)
    assert fold.progress(CASING, [slow]).conflicts == ()


def test_what_comes_back_without_having_left_is_impossible() -> None:
    back = at_plant(UUID(int=2), Kind.RETURNED)
    assert fold.progress(CASING, [back]).conflicts == (Conflict.RETURNED_NEVER_SHIPPED,)
    for kind in (Kind.SHIPPED, Kind.FINISHED, Kind.REJECTED):
        assert fold.progress(CASING, [back, at_plant(UUID(int=3), kind)]).conflicts == ()


# --- Releases -----------------------------------------------------------------------------------


@given(plant_facts(), st.sampled_from([Kind.HOLD, Kind.REJECTED]), uids, stamps)
def test_a_release_undoes_what_it_names_whatever_its_clock_says(
    facts: list[Fact], kind: Kind, uid: UUID, stamp: int
) -> None:
    stopped = at_plant(UUID(int=2**110), kind, stamp=BEGAN_MS)
    released = at_plant(uid, Kind.RELEASED, stamp=stamp, releases=stopped.uid)
    without = fold.progress(CASING, [*facts, released])
    undone = fold.progress(CASING, [*facts, stopped, released])
    assert (undone.progress, undone.on_hold, undone.reason, undone.conflicts) == (
        without.progress,
        without.on_hold,
        without.reason,
        without.conflicts,
    )


@given(st.sampled_from([Kind.HOLD, Kind.REJECTED]), st.sampled_from([None, UUID(int=9)]), stamps)
def test_a_release_undoes_nothing_that_it_does_not_name(
    kind: Kind, named: UUID | None, stamp: int
) -> None:
    stopped = at_plant(UUID(int=2), kind)
    released = at_plant(UUID(int=3), Kind.RELEASED, stamp=stamp, releases=named)
    state = fold.progress(CASING, [stopped, released])
    assert state.on_hold == (kind is Kind.HOLD)
    assert (state.progress == Progress.REJECTED) == (kind is Kind.REJECTED)


def test_of_two_rejections_one_released_the_other_stands_with_its_reason() -> None:
    first, second = (at_plant(UUID(int=n), Kind.REJECTED, stamp=BEGAN_MS + n) for n in (11, 12))
    released = at_plant(UUID(int=13), Kind.RELEASED, releases=second.uid)
    state = fold.progress(CASING, [first, second, released])
    assert (state.progress, state.reason) == (Progress.REJECTED, first.told["reason"])


# --- Corrections --------------------------------------------------------------------------------


def test_a_correction_is_parked_until_its_original_arrives() -> None:
    original = picked_up(UUID(int=1), LABELS[0])
    correction = corrected(UUID(int=2), original, LABELS[1], BEGAN_MS - DAY_MS)
    assert fold.claims([correction]) == []
    assert not any(v.claims for v in fold.labels([correction], LABELS).values())
    (claim,) = fold.claims([correction, original])
    assert (claim.uid, claim.fact.label, claim.withdrawn) == (original.uid, LABELS[1], False)


@given(st.lists(st.tuples(uids, stamps, st.sampled_from(LABELS), st.booleans()), min_size=1,
                max_size=5, unique_by=lambda t: t[0]))  # fmt: skip
def test_of_several_corrections_the_greatest_stamp_and_uid_wins(
    drawn: list[tuple[UUID, int, str, bool]],
) -> None:
    original = picked_up(UUID(int=2**110), LABELS[0])
    corrections = [
        withdrawn(uid, original, stamp) if gone else corrected(uid, original, label, stamp)
        for uid, stamp, label, gone in drawn
    ]
    last = max(drawn, key=lambda t: (t[1], t[0]))
    (claim,) = fold.claims([*corrections, original])
    assert claim.uid == original.uid
    assert claim.withdrawn == last[3]
    assert claim.fact.label == (original.label if last[3] else last[2])


def test_a_withdrawn_casing_claims_no_label_and_keeps_what_was_told() -> None:
    original = picked_up(UUID(int=1), tin="1U3X ABC 1225")
    facts = [original, withdrawn(UUID(int=2), original, BEGAN_MS + 1)]
    (claim,) = fold.claims(facts)
    assert claim.withdrawn
    assert claim.fact.told["tin"] == "1U3X ABC 1225"
    assert fold.labels(facts, LABELS)[LABELS[0]].claims == ()


def test_who_took_a_casing_is_not_changed_by_who_tells_it_again() -> None:
    original = picked_up(UUID(int=1))
    (claim,) = fold.claims([original, corrected(UUID(int=2), original, LABELS[1], BEGAN_MS + 1)])
    assert claim.fact.holder == original.holder


# --- Holders ------------------------------------------------------------------------------------


@given(plant_facts(), st.data())
def test_the_holder_is_told_by_the_furthest_leg(facts: list[Fact], data: st.DataObject) -> None:
    named = [replace(f, holder=f"holder-{i}") for i, f in enumerate(facts)]
    state = fold.progress(CASING, named)
    leg = max((LEG[f.kind] for f in named), default=1)
    furthest = [f for f in [CASING, *named] if LEG[f.kind] == leg]
    assert state.holder == max(furthest, key=lambda f: f.order).holder


def test_a_truck_that_left_has_the_casing_though_a_station_says_later_that_it_does() -> None:
    shipped = at_plant(UUID(int=2), Kind.SHIPPED, stamp=BEGAN_MS)
    late = at_plant(UUID(int=3), Kind.PASSED, stamp=BEGAN_MS + 3 * DAY_MS)
    assert fold.progress(CASING, [late, shipped]).holder == "road:plant"


# --- Labels -------------------------------------------------------------------------------------


def test_two_casings_under_one_label_contest_it_and_three_do_too() -> None:
    one, two, three = (picked_up(UUID(int=n)) for n in (1, 2, 3))
    views = fold.labels([two, one], LABELS)
    assert views[LABELS[0]].contested
    assert [c.uid for c in views[LABELS[0]].claims] == [one.uid, two.uid]
    assert fold.labels([one, two, three], LABELS)[LABELS[0]].contested
    gone = withdrawn(UUID(int=4), three, BEGAN_MS + 1)
    assert fold.labels([one, two, three, gone], LABELS)[LABELS[0]].contested
    moved = corrected(UUID(int=5), two, LABELS[1], BEGAN_MS + 1)
    settled = fold.labels([one, two, three, gone, moved], LABELS)
    assert [c.uid for c in settled[LABELS[0]].claims] == [one.uid]
    assert [c.uid for c in settled[LABELS[1]].claims] == [two.uid]
    assert not any(view.contested for view in settled.values())


@given(histories())
def test_every_claim_stands_under_one_label_or_is_withdrawn(facts: list[Fact]) -> None:
    standing = [c.uid for view in fold.labels(facts, LABELS).values() for c in view.claims]
    gone = [c.uid for c in fold.claims(facts) if c.withdrawn]
    everybody = {f.uid for f in facts if f.kind is Kind.PICKED_UP and f.corrects is None}
    assert sorted([*standing, *gone]) == sorted(everybody)


@given(histories())
def test_plant_facts_stay_with_their_own_label(facts: list[Fact]) -> None:
    for label, view in fold.labels(facts, LABELS).items():
        own = {f.uid for f in facts if f.label == label and f.kind in PLANT}
        assert {f.uid for f in view.facts} == own
