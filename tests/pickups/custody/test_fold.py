"""State is a function of the set of facts: no order, repetition or clock can change it."""

from dataclasses import replace
from typing import Any
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


def test_what_comes_back_from_a_plant_without_having_left_it_is_impossible() -> None:
    back, seen = at_plant(UUID(int=2), Kind.RETURNED), at_plant(UUID(int=3), Kind.RECEIVED)
    assert fold.progress(CASING, [back, seen]).conflicts == (Conflict.RETURNED_NEVER_SHIPPED,)
    for kind in (Kind.SHIPPED, Kind.HANDED_OUT, Kind.FINISHED, Kind.REJECTED):
        left = at_plant(UUID(int=4), kind)
        assert fold.progress(CASING, [back, seen, left]).conflicts == ()


def test_what_no_plant_has_seen_may_be_fetched_back_as_it_was() -> None:
    rack = replace(at_plant(UUID(int=2), Kind.HANDED_IN), holder="site:store")
    back = replace(at_plant(UUID(int=3), Kind.RETURNED), holder="customer:tarn")
    for facts in ([back], [rack, back]):
        state = fold.progress(CASING, facts)
        assert (state.progress, state.holder) == (Progress.RETURNED, "customer:tarn")
        assert state.conflicts == ()


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


WANTED: dict[str, Any] = {"work": "repair", "basis": "pool", "tread_design": "open shoulder drive",
          "purchase_order": "PO 4471", "unit": "T-118", "back_to": "store",
          "promised": {"on": "2026-04-24", "basis": "by_hand"}}  # fmt: skip
"""What the second version of a pick_up tells and the first cannot."""


def told_anew(uid: int, original: Fact, stamp: int, *, knows: bool, **more: Any) -> Fact:
    """A correction by an app that knew of work wanted, or by one that did not."""
    again = corrected(UUID(int=uid), original, LABELS[0], stamp)
    bare = {k: v for k, v in again.told.items() if k not in {*WANTED, "store"}}
    return replace(again, told=bare | ({"work": "retread"} if knows else {}) | more)


def test_a_correction_by_an_app_that_knew_of_no_work_wanted_keeps_what_was_wanted() -> None:
    original = picked_up(UUID(int=1), **WANTED, tin="OLD 2910")
    old = told_anew(2, original, BEGAN_MS + 1, knows=False, tin="NEW 3011")
    (claim,) = fold.claims([old, original])
    assert {k: claim.fact.told.get(k) for k in WANTED} == WANTED
    assert claim.fact.told["tin"] == "NEW 3011"


def test_what_was_wanted_last_is_kept_by_whoever_could_not_know_of_it() -> None:
    original = picked_up(UUID(int=1), **WANTED)
    newer = told_anew(2, original, BEGAN_MS + 1, knows=True, unit="T-200")
    old = told_anew(3, original, BEGAN_MS + 2, knows=False)
    (claim,) = fold.claims([old, original, newer])
    found = {k: claim.fact.told[k] for k in WANTED if k in claim.fact.told}
    assert found == {"work": "retread", "unit": "T-200"}


def test_what_an_app_that_knows_of_it_leaves_out_is_wanted_no_longer() -> None:
    original = picked_up(UUID(int=1), **WANTED)
    (claim,) = fold.claims([original, told_anew(2, original, BEGAN_MS + 1, knows=True)])
    assert {k for k in WANTED if k in claim.fact.told} == {"work"}


def _store(name: str | None) -> dict[str, Any]:
    return {"store": name} if name else {}


@given(st.booleans(), st.booleans(), st.sampled_from([None, "store", "other"]))
def test_no_correction_moves_a_drop_off_to_another_counter_or_a_yard(
    dropped: bool, knows: bool, said: str | None
) -> None:
    original = picked_up(UUID(int=1), **WANTED, **_store("store" if dropped else None))
    again = told_anew(2, original, BEGAN_MS + 1, knows=knows, **_store(said))
    (claim,) = fold.claims([again, original])
    assert claim.fact.told.get("store") == ("store" if dropped else None)


@given(st.lists(st.tuples(stamps, st.booleans(), st.integers(0, 9)), max_size=5), st.data())
def test_what_is_wanted_is_the_same_whatever_correction_comes_first(
    drawn: list[tuple[int, bool, int]], data: st.DataObject
) -> None:
    original = picked_up(UUID(int=1), **WANTED)
    facts = [
        told_anew(n, original, stamp, knows=True, unit=f"T-{unit}")
        if knows
        else told_anew(n, original, stamp, knows=False)
        for n, (stamp, knows, unit) in enumerate(drawn, start=2)
    ]
    (claim,) = fold.claims(data.draw(st.permutations([original, *facts])))
    knowing = [f for f in facts if "work" in f.told]
    last = max(knowing, key=lambda f: f.order, default=original)
    assert claim.fact.told["unit"] == last.told["unit"]
    assert claim.fact.told["work"] == last.told["work"]


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
    views = fold.each(fold.labels(facts, LABELS))
    standing = [c.uid for view in views for c in view.claims]
    gone = [c.uid for c in fold.claims(facts) if c.withdrawn]
    everybody = {f.uid for f in facts if f.kind is Kind.PICKED_UP and f.corrects is None}
    assert sorted([*standing, *gone]) == sorted(everybody)


@given(histories())
def test_plant_facts_stay_with_the_labels_of_their_casing(facts: list[Fact]) -> None:
    for label, view in fold.labels(facts, LABELS).items():
        assert label in view.names.every
        own = {f.uid for f in facts if f.label in view.names.every and f.kind in PLANT}
        assert {f.uid for f in view.facts if f.kind in PLANT} == own
