"""When a new day is told, and which promise stands: rules alone."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pickups.promises.revising import Told, may_tell, new_day, standing

FIRST = date(2026, 4, 20)
DAY = timedelta(days=1)
days = st.integers(-20, 40).map(lambda n: FIRST + n * DAY)
probabilities = st.none() | st.floats(0, 1)
told = st.lists(
    st.builds(Told, days, st.sampled_from(["yard", "store"]), st.booleans()), min_size=1, max_size=6
)


def casing(on: int) -> Told:
    return Told(FIRST + on * DAY, "yard", revises=False)


def revised(on: int) -> Told:
    return Told(FIRST + on * DAY, "yard", revises=True)


@pytest.mark.parametrize(
    ("promises", "stands"),
    [
        ([casing(0)], 0),
        ([casing(0), revised(5)], 1),
        ([casing(0), revised(5), casing(0)], 1),
        ([casing(0), revised(5), casing(0), casing(0)], 1),
        ([casing(0), revised(5), casing(7)], 2),
        ([casing(0), casing(0)], 1),
        ([casing(0), revised(5), revised(0)], 2),
    ],
    ids=[
        "one",
        "a new day",
        "the casing told again, otherwise in something else",
        "told again twice",
        "told again with another day",
        "repeated, never revised",
        "back on the first day",
    ],
)
def test_what_only_repeats_what_was_revised_does_not_stand(
    promises: list[Told], stands: int
) -> None:
    assert standing(promises) == stands


@given(told)
def test_a_day_that_was_told_in_anothers_place_stands_until_another_word_differs(
    promises: list[Told],
) -> None:
    at = standing(promises)
    first = next((i for i, one in enumerate(promises) if one.revises), len(promises))
    assert at == len(promises) - 1 or at >= first
    assert all(not one.revises for one in promises[at + 1 :])


@given(days, days, days, st.floats(0, 1), st.floats(0.01, 0.99))
def test_once_a_day_was_told_the_same_forecast_tells_no_other(
    stands: date, first: date, expected: date, probability: float, bound: float
) -> None:
    told_now = new_day(stands, first=first, expected=expected, probability=probability, bound=bound)
    if told_now is None:
        return
    assert told_now != stands
    for again in (None, 0.0, probability, 1.0):
        found = new_day(told_now, first=first, expected=expected, probability=again, bound=bound)
        assert found is None


@pytest.mark.parametrize(
    ("stands", "expected", "probability", "tells"),
    [
        (0, 3, 0.4, 3),
        (0, 3, 0.5, None),
        (0, 3, None, 3),
        (0, 0, 0.4, None),
        (0, None, None, None),
        (5, 4, 0.9, None),
        (5, 0, 0.9, 0),
        (5, -2, 0.9, 0),
        (5, 8, 0.1, 8),
    ],
    ids=[
        "late and at risk",
        "just not at risk",
        "went back, nobody computes",
        "at risk and no other day known",
        "nothing known",
        "a little better than was told",
        "the first day holds again",
        "better than the first",
        "late once more",
    ],
)
def test_a_new_day_is_told_where_it_is_needed(
    stands: int, expected: int | None, probability: float | None, tells: int | None
) -> None:
    found = new_day(
        FIRST + stands * DAY,
        first=FIRST,
        expected=None if expected is None else FIRST + expected * DAY,
        probability=probability,
        bound=0.5,
    )
    assert found == (None if tells is None else FIRST + tells * DAY)


@pytest.mark.parametrize(("hour", "may"), [(6, False), (7, True), (19, True), (20, False)])
def test_nobody_is_written_to_at_night(hour: int, may: bool) -> None:
    assert may_tell(hour, begins=7, ends=20) is may
