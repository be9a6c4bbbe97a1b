"""What was told of a run reads the same in any order of arrival, and as the shared cases say."""

import json
from typing import Any
from uuid import UUID

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pickups.config import places
from pickups.runs.happenings import AtStop, Happened, Kind, fold

VECTORS = json.loads((places.PROJECT / "fixtures" / "vectors" / "happenings.json").read_text())
KINDS = {
    "runs.arrive": Kind.ARRIVED,
    "runs.skip": Kind.SKIPPED,
    "runs.resume": Kind.RESUMED,
    "runs.add_stop": Kind.ADDED,
    "runs.count_load": Kind.COUNTED,
}
A, B = UUID(int=1), UUID(int=2)


def happened(op: dict[str, Any]) -> Happened:
    told = op["payload"]
    stop = UUID(told["stop"]) if "stop" in told else None
    kind = KINDS[op["kind"]]
    return Happened(UUID(op["id"]), kind, stop, op["stamp"], op["happened_at"], told)


def body(at: AtStop) -> dict[str, Any]:
    return {
        "arrived_at": at.arrived_at,
        "skipped": at.skipped,
        "loaded_at": at.loaded_at,
        "why_added": at.why_added,
    }


@pytest.mark.parametrize("case", VECTORS["cases"], ids=lambda c: c["name"])
def test_each_case_stands_as_it_says(case: dict[str, Any]) -> None:
    stands = fold(happened(op) for op in case["told"])
    assert {str(uid or "start"): body(at) for uid, at in stands.items()} == case["stands"]


TOLD = st.builds(
    Happened,
    uid=st.integers(100, 140).map(lambda n: UUID(int=n)),
    kind=st.sampled_from([Kind.ARRIVED, Kind.SKIPPED, Kind.RESUMED]),
    stop=st.sampled_from([A, B]),
    stamp=st.integers(1, 6),
    at=st.sampled_from(["2026-04-28T14:00:00.000Z", "2026-04-25T14:00:00.000Z"]),
    told=st.sampled_from([{"why": "closed", "note": "x"}, {"why": "no_time"}]),
)


@given(st.lists(TOLD, unique_by=lambda h: h.uid, max_size=12), st.randoms(use_true_random=False))
def test_any_order_of_arrival_gives_the_same(told: list[Happened], random: Any) -> None:
    shuffled = list(told)
    random.shuffle(shuffled)
    assert fold(shuffled) == fold(told)


@given(st.lists(TOLD, unique_by=lambda h: h.uid, max_size=12))
def test_a_stop_stands_by_its_own_words_and_the_last_of_them(told: list[Happened]) -> None:
    stands = fold(told)
    for stop in (A, B):
        mine = sorted((h for h in told if h.stop == stop), key=lambda h: (h.stamp, h.uid))
        if not mine:
            assert stop not in stands
            continue
        assert (stands[stop].skipped is not None) == (mine[-1].kind is Kind.SKIPPED)
        if mine[-1].kind is Kind.ARRIVED:
            assert stands[stop].arrived_at == mine[-1].at
