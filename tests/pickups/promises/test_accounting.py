"""What counts as kept, Wilson's interval by published figures, and the bins of the diagram."""

from dataclasses import replace
from datetime import date, timedelta
from math import isclose, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pickups.custody.fold import Kind
from pickups.promises.accounting import (
    Outcome,
    Seen,
    Share,
    Told,
    back_on,
    first_and_last,
    outcome,
    reliability,
    shared,
    wilson,
)

MONDAY = date(2026, 4, 20)
DAY = timedelta(days=1)
STORE, PLANT = "store", "plant"


def seen(kind: Kind, place: str, on: int) -> Seen:
    return Seen(kind.value, place, MONDAY + on * DAY)


# --- Intervals -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("kept", "of", "low", "high"),
    [
        (81, 263, 0.2553, 0.3662),
        (15, 148, 0.0624, 0.1605),
        (0, 20, 0.0, 0.1611),
        (1, 29, 0.0061, 0.1718),
    ],
)
def test_wilsons_interval_has_the_published_limits(
    kept: int, of: int, low: float, high: float
) -> None:
    """Newcombe (1998), "Two-sided confidence intervals for the single proportion: comparison of
    seven methods", Statistics in Medicine 17, 857-872, table I, method 3; figures from memory."""
    assert [round(limit, 4) for limit in wilson(kept, of)] == [low, high]


@given(st.integers(1, 5000).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n))))
def test_a_limit_is_a_share_from_which_what_was_seen_is_just_so_far_off(
    drawn: tuple[int, int],
) -> None:
    """Wilson's own definition: each limit p solves |seen - p| = z sqrt(p (1 - p) / n)."""
    kept, of = drawn
    low, high = wilson(kept, of)
    assert 0 <= low <= kept / of <= high <= 1
    for limit, certain in ((low, kept == 0), (high, kept == of)):
        if not certain:
            away = 1.959964 * sqrt(limit * (1 - limit) / of)
            assert isclose(abs(kept / of - limit), away, rel_tol=1e-6, abs_tol=1e-9)


@given(st.integers(1, 500).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n))))
def test_kept_and_broken_mirror_each_other(drawn: tuple[int, int]) -> None:
    kept, of = drawn
    low, high = wilson(kept, of)
    again = wilson(of - kept, of)
    assert isclose(low, 1 - again[1], abs_tol=1e-12)
    assert isclose(high, 1 - again[0], abs_tol=1e-12)


def test_of_none_everything_is_possible_and_more_than_all_is_refused() -> None:
    assert (Share(0, 0).share, Share(0, 0).interval) == (None, (0.0, 1.0))
    with pytest.raises(ValueError, match="kept is 3 of 2; 0 to 2 are allowed"):
        wilson(3, 2)


# --- The rule ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("back", "today", "came"),
    [
        (0, 1, Outcome.KEPT),
        (-3, 1, Outcome.KEPT),
        (1, 2, Outcome.BROKEN),
        (None, 1, Outcome.BROKEN),
        (None, 0, None),
        (-3, 0, None),  # early, and its month is not over
    ],
    ids=["on the day", "before it", "after it", "not yet", "the day itself", "early"],
)
def test_a_promise_counts_once_its_day_is_over(
    back: int | None, today: int, came: Outcome | None
) -> None:
    there = None if back is None else MONDAY + back * DAY
    assert outcome(MONDAY, back=there, today=MONDAY + today * DAY) is came


def test_what_is_brought_is_back_when_it_was_handed_over() -> None:
    way = [
        seen(Kind.PICKED_UP, "driver", 0),
        seen(Kind.FINISHED, PLANT, 4),
        seen(Kind.HANDED_OUT, STORE, 5),
        seen(Kind.RETURNED, "fleet", 6),
    ]
    assert back_on(way, fetched_at=set()) == MONDAY + 6 * DAY
    assert back_on(way[:-1], fetched_at=set()) is None


def test_what_is_fetched_is_back_when_it_lies_there_finished_and_not_when_it_was_left_there() -> (
    None
):
    way = [
        seen(Kind.PICKED_UP, STORE, 0),
        seen(Kind.HANDED_IN, PLANT, 1),
        seen(Kind.FINISHED, PLANT, 4),
        seen(Kind.HANDED_OUT, STORE, 5),
        seen(Kind.RETURNED, "fleet", 9),
    ]
    assert back_on(way, fetched_at={STORE}) == MONDAY + 5 * DAY
    assert back_on(way[:3], fetched_at={STORE}) is None
    assert back_on([*way[:3], way[4]], fetched_at={STORE}) == MONDAY + 9 * DAY


def told(*pairs: tuple[int, int]) -> list[Told]:
    """With the casing first, then in its place."""
    return [
        Told(MONDAY + told_on * DAY, MONDAY + on * DAY, revises=bool(i))
        for i, (told_on, on) in enumerate(pairs)
    ]


def told_again(*pairs: tuple[int, int]) -> list[Told]:
    """Each with the casing."""
    return [replace(one, revises=False) for one in told(*pairs)]


@pytest.mark.parametrize(
    ("promises", "found"),
    [
        (told((0, 9)), (0, 0)),
        (told((0, 9), (4, 12)), (0, 1)),
        (told((0, 9), (8, 12), (11, 15)), (0, 2)),
        (told((0, 9), (9, 12)), (0, 0)),
        (told((0, 9), (10, 12)), (0, 0)),
        (told((0, 9), (4, 12), (12, 15), (13, 20)), (0, 1)),
        (told_again((0, 5), (0, 9)), (1, 1)),
        (told((0, 5), (0, 9)), (0, 1)),
        ([*told_again((0, 5), (0, 6)), *told((9, 9), (0, 9))[1:]], (1, 2)),
    ],
    ids=[
        "one",
        "before its day",
        "twice in time",
        "on the day",
        "after the day",
        "in time and then too late",
        "put right on the day it was handed over",
        "a new day on the day it was handed over is a later word",
        "put right, and a new day on the same day",
    ],
)
def test_a_new_day_counts_where_it_was_told_before_the_old_one(
    promises: list[Told], found: tuple[int, int]
) -> None:
    assert first_and_last(promises) == found


# --- The diagram ---------------------------------------------------------------------------------


def test_promises_of_like_probability_are_looked_at_together() -> None:
    kept, broken = Outcome.KEPT, Outcome.BROKEN
    drawn = [(90, kept), (94, broken), (95, kept), (99, kept), (100, kept), (52, broken)]
    found = reliability(drawn)
    assert [(b.least, b.most, b.promised, b.kept) for b in found] == [
        (50, 54, 52.0, Share(0, 1)),
        (90, 94, 92.0, Share(1, 2)),
        (95, 100, 98.0, Share(3, 3)),
    ]
    with pytest.raises(ValueError, match="percent is 101; 0 to 100 is allowed"):
        reliability([(101, kept)])


@given(st.lists(st.tuples(st.integers(0, 100), st.sampled_from(Outcome))))
def test_every_promise_is_in_one_bin_and_lies_inside_it(drawn: list[tuple[int, Outcome]]) -> None:
    found = reliability(drawn)
    whole = shared(came for _, came in drawn)
    assert Share(sum(b.kept.kept for b in found), sum(b.kept.of for b in found)) == whole
    assert all(b.least <= b.promised <= b.most for b in found)
    assert [b.least for b in found] == sorted({b.least for b in found})
