"""What a station has told its own plant takes back; a phone, and another plant, do not."""

from uuid import UUID

from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from pickups.custody import fold
from pickups.custody.fold import Fact, Kind
from tests.pickups.custody.histories import (
    LABELS,
    histories,
    picked_up,
    plant_facts,
    stamps,
    states,
    uids,
    withdrawn,
)

CASING = picked_up(UUID(int=1))
patiently = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
"""On a machine that does much else."""


def by_plant(uid: UUID, original: Fact, stamp: int, plant: str = "plant") -> Fact:
    back = withdrawn(uid, original, stamp)
    return Fact(back.uid, back.kind, back.label, back.stamp, back.corrects,
                told={**back.told, "plant": plant})  # fmt: skip


def state(facts: list[Fact]) -> fold.State:
    (view,) = fold.each(fold.labels([CASING, *facts], LABELS[:1]))
    return fold.progress(CASING, view.facts)


@patiently
@given(plant_facts(), uids, stamps, st.data())
def test_what_its_plant_took_back_was_never_told_whenever_it_was_said(
    facts: list[Fact], uid: UUID, stamp: int, data: st.DataObject
) -> None:
    facts = [f for f in facts if f.kind in fold.TOLD_AT_STATIONS]
    assume(facts and all(f.uid != uid for f in [*facts, CASING]))
    wrong = data.draw(st.sampled_from(facts))
    told = data.draw(st.permutations([*facts, by_plant(uid, wrong, stamp)]))
    assert state(told) == state([f for f in facts if f is not wrong])


@patiently
@given(plant_facts(), uids, stamps, st.data())
def test_a_phone_and_another_plant_take_nothing_of_it_back(
    facts: list[Fact], uid: UUID, stamp: int, data: st.DataObject
) -> None:
    facts = [f for f in facts if f.kind in fold.TOLD_AT_STATIONS]
    assume(facts and all(f.uid != uid for f in [*facts, CASING]))
    wrong = data.draw(st.sampled_from(facts))
    for back in (withdrawn(uid, wrong, stamp), by_plant(uid, wrong, stamp, "another")):
        assert state([*facts, back]) == state(facts)


@patiently
@given(histories(), st.data())
def test_taken_back_among_others_in_any_order_gives_the_same(
    facts: list[Fact], data: st.DataObject
) -> None:
    told = [f for f in facts if f.kind in fold.TOLD_AT_STATIONS and f.corrects is None]
    backs = [by_plant(UUID(int=2**120 + n), f, f.stamp) for n, f in enumerate(told)]
    whole = [*facts, *data.draw(st.lists(st.sampled_from(backs), unique_by=lambda f: f.uid)
                                if backs else st.just([]))]  # fmt: skip
    assert states(data.draw(st.permutations(whole))) == states(whole)
    assert Kind.WITHDRAWN not in {f.kind for v in fold.labels(whole, LABELS).values()
                                  for f in v.facts}  # fmt: skip
