"""Repair limits as a rule: what was entered speaks, the strictest first, and nothing else does."""

import json
from dataclasses import replace
from pathlib import Path
from typing import Any, get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pickups.casings.condition import Condition
from plant.inspection.limits import NEVER_KINDS, REFERENCES, Limit, Says, Verdict, verdict
from plant.inspection.wire import Zone

VECTORS = Path(__file__).parents[3] / "fixtures" / "vectors" / "repair_limits.json"
CASES = json.loads(VECTORS.read_text())["cases"]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["about"])
def test_the_vectors_that_are_read_by_typescript_too(case: dict[str, Any]) -> None:
    limits = [Limit(**one) for one in case["limits"]]
    keys = ("zone", "kind", "size_mm", "count", "size_class")
    assert verdict(**{key: case[key] for key in keys}, limits=limits) == Verdict(
        Says(case["says"]), tuple(case["charts"]), tuple(case["silent"])
    )


LIMITS = st.builds(
    Limit,
    zone=st.sampled_from(get_args(Zone)),
    kind=st.sampled_from(["nail_hole", "cut"]),
    size_class=st.sampled_from(["", "light", "medium", "11R22.5"]),
    most_mm=st.none() | st.floats(0, 100),
    most_count=st.none() | st.integers(0, 9),
    source=st.sampled_from(["Chart 1", "Chart 2"]),
    active=st.booleans(),
)
FINDS = st.tuples(
    st.sampled_from(get_args(Zone)),
    st.sampled_from(["nail_hole", "cut"]),
    st.floats(0, 100),
    st.integers(1, 9),
    st.sampled_from(["", "11R22.5", "12R22.5", "235/85R16"]),
)
Find = tuple[str, str, float, int, str]
ORDER = [Says.NONE, Says.NOT_BEYOND, Says.BEYOND]


@given(FINDS, st.lists(LIMITS, max_size=6))
def test_a_limit_that_nobody_entered_changes_nothing(find: Find, limits: list[Limit]) -> None:
    assert verdict(*find, limits) == verdict(*find, [one for one in limits if one.active])
    assert verdict(*find, [replace(one, active=False) for one in limits]).says is Says.NONE


@given(FINDS, st.lists(LIMITS, max_size=6), LIMITS)
def test_one_limit_more_is_never_more_lenient(find: Find, limits: list[Limit], more: Limit) -> None:
    before, after = verdict(*find, limits).says, verdict(*find, [*limits, more]).says
    assert ORDER.index(after) >= ORDER.index(before)


@given(FINDS, st.lists(LIMITS, max_size=6), st.floats(0, 50), st.integers(0, 5))
def test_a_larger_find_is_never_judged_more_mildly(
    find: Find, limits: list[Limit], longer: float, more: int
) -> None:
    zone, kind, size_mm, count, size = find
    larger = verdict(zone, kind, size_mm + longer, count + more, size, limits).says
    assert ORDER.index(larger) >= ORDER.index(verdict(*find, limits).says)


@given(FINDS, st.lists(LIMITS, max_size=6))
def test_not_knowing_the_size_is_never_judged_more_mildly(find: Find, limits: list[Limit]) -> None:
    zone, kind, size_mm, count, _ = find
    unknown = verdict(zone, kind, size_mm, count, "", limits).says
    assert ORDER.index(unknown) >= ORDER.index(verdict(*find, limits).says)


def test_the_words_are_these_three_and_none_is_a_permission() -> None:
    entered = Limit("crown", "cut", "", 10, None, "Chart 7", active=True)
    said = [str(verdict("crown", "cut", mm, 1, "", [entered])) for mm in (9, 11)]
    assert said == ["not beyond the entered limit (Chart 7)", "beyond the entered limit"]
    several = Limit("crown", "cut", "", None, 2, "Chart 7", active=True)
    assert str(verdict("crown", "cut", 300, 1, "", [several])) == "no limit entered"
    assert str(verdict("crown", "cut", 9, 1, "", [])) == "no limit entered"


def test_every_reference_names_its_source_and_how_sure_it_is_in_both_languages() -> None:
    for one in REFERENCES:
        assert one.source
        assert one.sure in ("read", "second_hand")
        assert set(one.meaning) == {"en", "es"}
        assert one.zone in get_args(Zone)
        assert one.kind in set(Condition)
    assert set(NEVER_KINDS) <= set(Condition)
