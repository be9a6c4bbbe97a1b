"""What a truck carries between its stops, what fits where, and what a regular run can be."""

from datetime import time
from uuid import uuid4

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pickups.casings.rules import Progress
from pickups.runs.rules import (
    Casing,
    Load,
    Place,
    Why,
    loaded_at,
    on_the_way,
    on_truck,
    regular,
    why_not,
    window_ok,
)

SITE, OTHER, PLANT, CUSTOMER = uuid4(), uuid4(), uuid4(), uuid4()


def test_a_route_leaves_with_its_drops_and_fills_with_what_it_fetches() -> None:
    assert on_truck([Load(drop=3, fetch=14), Load(drop=2), Load(drop=0, fetch=1)]) == [
        5,
        16,
        14,
        15,
    ]


def test_what_is_taken_on_at_the_plant_is_not_on_the_truck_before() -> None:
    there_and_back = [Load(drop=6, load=4), Load(drop=4)]
    assert on_truck(there_and_back) == [6, 4, 0]
    assert on_truck([Load(drop=6, load=4, fetch=9), Load(drop=4)]) == [6, 9, 5], "4 of the 9 said"
    assert on_truck([Load(drop=6, load=4, fetch=1), Load(drop=4)]) == [6, 4, 0]


@given(st.lists(st.tuples(st.integers(0, 20), st.integers(0, 9)), max_size=12))
def test_a_route_that_is_told_everything_ends_with_what_it_fetched(
    stops: list[tuple[int, int]],
) -> None:
    carried = on_truck([Load(drop=d, fetch=f) for d, f in stops])
    assert carried[0] == sum(d for d, _ in stops)
    assert carried[-1] == sum(f for _, f in stops)
    assert min(carried) >= 0


def test_a_casing_is_taken_on_where_it_is_if_the_truck_passes_there_before() -> None:
    before = [None, PLANT, None]
    assert loaded_at(f"plant:{PLANT}", before, start=SITE) == 1
    assert loaded_at(f"plant:{PLANT}", before, start=PLANT) is None
    assert loaded_at(f"site:{OTHER}", before, start=SITE) is None
    assert on_the_way(f"plant:{PLANT}", before, start=SITE, driver="")
    assert on_the_way(f"site:{SITE}", [], start=SITE, driver="")
    assert on_the_way("person:x", [], start=SITE, driver="x")
    assert not on_the_way("person:y", [], start=SITE, driver="x")
    assert not on_the_way(f"plant:{PLANT}", [], start=SITE, driver="")


def casing(progress: Progress, holder: str = f"site:{SITE}", **more: bool) -> Casing:
    told = {"on_hold": False, "contested": False, "withdrawn": False} | more
    return Casing(progress, holder, SITE, CUSTOMER, **told)


YARD, STORE, WORKS = Place("yard", uuid4(), CUSTOMER), Place("store", OTHER), Place("plant", PLANT)
WAITS, DONE = Progress.PICKED_UP, Progress.FINISHED


@pytest.mark.parametrize("done", [Progress.FINISHED, Progress.SHIPPED, Progress.REJECTED])
def test_what_is_done_with_goes_home_and_nowhere_else(done: Progress) -> None:
    assert why_not(casing(done), YARD, site=SITE) is None
    assert why_not(casing(done), STORE, site=SITE) is None
    assert why_not(casing(done), WORKS, site=SITE) is Why.SENT


def test_what_was_sold_or_exchanged_goes_to_no_yard() -> None:
    assert why_not(casing(DONE, dealers=True), YARD, site=SITE) is Why.DEALERS
    assert why_not(casing(DONE, dealers=True), STORE, site=SITE) is None
    assert why_not(casing(WAITS, dealers=True), WORKS, site=SITE) is None


@pytest.mark.parametrize("progress", [WAITS, Progress.RECEIVED, Progress.IN_WORK])
def test_what_is_not_done_with_does_not_go_home(progress: Progress) -> None:
    assert why_not(casing(progress), YARD, site=SITE) is Why.NOT_DONE
    assert why_not(casing(progress), STORE, site=SITE) is Why.NOT_DONE
    sent = why_not(casing(progress), WORKS, site=SITE)
    assert sent is (None if progress is WAITS else Why.SENT)


def test_each_reason_is_told_before_those_that_matter_less() -> None:
    assert why_not(casing(DONE, withdrawn=True, contested=True), YARD, site=OTHER) is Why.WITHDRAWN
    assert why_not(casing(DONE, contested=True), YARD, site=OTHER) is Why.CONTESTED
    assert why_not(casing(DONE, f"customer:{CUSTOMER}"), YARD, site=OTHER) is Why.BACK
    assert why_not(casing(Progress.RETURNED), WORKS, site=OTHER) is Why.BACK
    assert why_not(casing(DONE), YARD, site=OTHER) is Why.OTHER_STORE
    strange = Place("yard", uuid4(), uuid4())
    assert why_not(casing(WAITS), strange, site=SITE) is Why.OTHER_CUSTOMER
    held = casing(DONE, f"plant:{PLANT}", on_hold=True)
    assert why_not(held, YARD, site=SITE) is Why.ON_HOLD
    assert why_not(casing(DONE, on_hold=True), YARD, site=SITE) is None, "it has left the plant"
    assert why_not(casing(DONE), Place("store", SITE), site=SITE) is Why.THERE
    there = casing(WAITS, f"plant:{PLANT}")
    assert why_not(there, WORKS, site=SITE) is Why.SENT


def test_a_window_may_be_open_at_either_end_and_never_ends_before_it_begins() -> None:
    assert window_ok(None, None)
    assert window_ok(time(9), None)
    assert window_ok(None, time(9))
    assert window_ok(time(8), time(9))
    assert not window_ok(time(9), time(9))
    assert not window_ok(time(10), time(9))


def test_a_regular_run_goes_to_yards_or_to_a_plant_on_some_weekday() -> None:
    assert regular("route", [0, 6], yards=1, plant=False) == ""
    assert regular("transfer", [3], yards=0, plant=True) == ""
    wrong = [
        regular("route", [], yards=1, plant=False),
        regular("route", [0, 7], yards=1, plant=False),
        regular("route", [0], yards=0, plant=False),
        regular("route", [0], yards=1, plant=True),
        regular("transfer", [0], yards=1, plant=True),
        regular("transfer", [0], yards=0, plant=False),
        regular("swap", [0], yards=0, plant=False),
    ]
    assert "" not in wrong
