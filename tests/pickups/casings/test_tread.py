"""Tread depths: the lowest for the law, the mean for wear, and hints that claim nothing."""

from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from pickups.casings import tread
from pickups.casings.tread import Cause, Caution, Position

DEPTH = st.integers(0, tread.MOST_32NDS)
PLACES = st.lists(st.lists(DEPTH | st.none(), max_size=6), max_size=4)
EVEN_ROWS = st.integers(1, 6).flatmap(
    lambda grooves: st.lists(st.lists(DEPTH, min_size=grooves, max_size=grooves), min_size=1)
)


# --- The law --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("position", "section", "least"),
    [
        # 49 CFR 393.75(b): front wheels of a bus, truck or truck tractor; 570.62(a) has the words
        # "four thirty-seconds" for front tires other than a trailer's, "two" for all others.
        (Position.STEER, "49 CFR 393.75(b)", 4),
        (Position.DRIVE, "49 CFR 393.75(c)", 2),
        (Position.TRAILER, "49 CFR 393.75(c)", 2),
        (Position.BUS_FRONT, "49 CFR 393.75(b)", 4),
    ],
)
def test_limit_of_a_position_is_that_of_its_section(
    position: Position, section: str, least: int
) -> None:
    (limit,) = tread.limits(position)
    assert (limit.section, limit.least_32nds) == (section, least)
    assert tread.measure([[least + 9, least]], position).below == ()
    assert tread.measure([[least + 9, least - 1]], position).below == (limit,)


def test_no_retread_runs_on_the_front_wheels_of_a_bus_and_it_may_on_those_of_a_truck() -> None:
    # 49 CFR 393.75(d): no regrooved, recapped or retreaded tires there; (e) forbids trucks only
    # regrooved ones of 2,232 kg (4,920 lb) capacity or more.
    ban, *_ = tread.bans(Position.BUS_FRONT)
    assert (ban.section, ban.tires) == ("49 CFR 393.75(d)", ("regrooved", "recapped", "retreaded"))
    ban, *_ = tread.bans(Position.STEER)
    assert (ban.section, ban.tires) == ("49 CFR 393.75(e)", ("regrooved_from_2232_kg",))


@pytest.mark.parametrize("position", [None, *Position])
def test_a_reinforcement_repair_runs_on_no_front_wheel_and_a_mark_of_speed_holds_everywhere(
    position: Position | None,
) -> None:
    # 49 CFR 570.62(d): "except on front-mounted tires"; 393.75(f).
    sections = [ban.section for ban in tread.bans(position)]
    assert ("49 CFR 570.62(d)" in sections) == (position in {Position.STEER, Position.BUS_FRONT})
    assert sections[-1] == "49 CFR 393.75(f)"


def test_without_a_position_each_limit_that_is_not_reached_is_named() -> None:
    below = [[limit.least_32nds for limit in tread.measure([[d]]).below] for d in (1, 2, 3, 4)]
    assert below == [[4, 2], [4], [4], []]


def test_every_limit_carries_the_caution_that_it_is_a_minimum_and_no_advice() -> None:
    assert {limit.caution for limit in tread.limits(None)} == {Caution.LEGAL_MINIMUM}


@given(PLACES, st.sampled_from([None, *Position]))
def test_law_looks_at_the_lowest_reading_alone(
    places: list[list[int | None]], position: Position | None
) -> None:
    depths = [d for place in places for d in place if d is not None]
    assume(depths)
    assert tread.measure(places, position).below == tread.measure([[min(depths)]], position).below


# --- What is left ---------------------------------------------------------------------------------


def test_pull_depth_is_held_against_the_lowest_and_what_is_left_against_the_mean() -> None:
    measured = tread.measure([[5, 9, 9, 5]], Position.DRIVE, 6)
    assert (measured.lowest, measured.mean) == (5, 7)
    assert (measured.under_pull, measured.left) == (1, 1)


def test_without_pull_depth_or_reading_nothing_is_said_about_either() -> None:
    for measured in (tread.measure([[5, 9]]), tread.measure([[None]], None, 6)):
        assert (measured.under_pull, measured.left) == (None, None)


@given(EVEN_ROWS, st.integers(0, 20))
def test_lowest_mean_and_rest_are_those_of_exact_arithmetic(
    places: list[list[int]], pull: int
) -> None:
    depths = [d for place in places for d in place]
    measured = tread.measure(places, None, pull)
    mean = Fraction(sum(depths), len(depths))
    assert measured.readings == len(depths)
    assert measured.lowest == min(depths)
    assert measured.mean == pytest.approx(float(mean))
    assert measured.left == pytest.approx(float(max(mean - pull, Fraction(0))))
    assert measured.under_pull == max(0, pull - min(depths))
    assert measured.across == max(max(place) - min(place) for place in places)
    assert measured.between == max(max(g) - min(g) for g in zip(*places, strict=True))


def test_a_reading_that_no_tread_has_is_told_and_not_counted() -> None:
    measured = tread.measure([[8, 88, None], [-1, 8, 40]])
    assert measured.impossible == (88, -1)
    assert (measured.readings, measured.lowest) == (3, 8)


# --- Hints ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("places", "causes"),
    [
        ([[8, 8, 8, 8]], []),
        ([[8, 7, 8, 7]], []),
        ([[4, 8, 8, 4]], [Cause.LOW_INFLATION_OR_OVERLOAD]),
        ([[8, 5, 5, 8]], [Cause.HIGH_INFLATION]),
        ([[3, 5, 7, 9]], [Cause.ALIGNMENT]),
        ([[3, 9, 9, 6]], [Cause.LOW_INFLATION_OR_OVERLOAD, Cause.ALIGNMENT]),
        ([[8, 8, 8], [4, 4, 4], [8, 8, 8]], [Cause.BALANCE_OR_FLAT_SPOT]),
        ([[8, 4, 8, 8, 8]], [Cause.UNCLEAR]),
        ([[4, 8]], [Cause.ALIGNMENT]),
        ([[8, 6, 8]], [Cause.HIGH_INFLATION]),  # two 32nds are enough, for each pattern
        ([[6, 8, 6]], [Cause.LOW_INFLATION_OR_OVERLOAD]),
        ([[6, 8]], [Cause.ALIGNMENT]),
        ([[8], [6]], [Cause.BALANCE_OR_FLAT_SPOT]),
        ([[2]], []),
        ([], []),
    ],
)
def test_a_pattern_gives_its_hint(places: list[list[int]], causes: list[Cause]) -> None:
    assert list(tread.measure(places).causes) == causes


def test_every_hint_is_worded_as_a_possibility() -> None:
    assert all(cause.startswith("may_be_") or cause.endswith("_open") for cause in Cause)


@given(EVEN_ROWS, st.integers(1, 8))
def test_a_hint_is_given_just_where_some_difference_reaches_the_threshold(
    places: list[list[int]], by: int
) -> None:
    measured = tread.measure(places, None, None, by)
    assert bool(measured.causes) == (max(measured.across, measured.between) >= by)


@given(EVEN_ROWS)
def test_the_side_from_which_grooves_are_told_changes_no_hint(places: list[list[int]]) -> None:
    mirrored = [place[::-1] for place in places]
    assert tread.measure(places) == tread.measure(mirrored)


@given(EVEN_ROWS.flatmap(lambda rows: st.tuples(st.just(rows), st.permutations(rows))))
def test_the_place_at_which_measuring_begins_changes_nothing(
    rows: tuple[list[list[int]], list[list[int]]],
) -> None:
    assert tread.measure(rows[0]) == tread.measure(rows[1])


# --- Millimetres ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("depth", "mm"),
    [
        (0, 0.0),
        (1, 0.8),
        (2, 1.6),  # the wear indicator of 49 CFR 571.119 S6.4 is 1.6 mm high
        (4, 3.2),
        (6, 4.8),
        (8, 6.4),
        (10, 7.9),
        (12, 9.5),
        (32, 25.4),  # an inch
    ],
)
def test_32nds_are_shown_in_millimetres_and_read_back(depth: int, mm: float) -> None:
    assert tread.to_mm(depth) == mm
    assert tread.from_mm(mm) == depth


@pytest.mark.parametrize("depth", range(tread.MOST_32NDS + 1))
def test_a_gauge_of_tenths_or_hundredths_gives_back_its_32nds(depth: int) -> None:
    exact = Fraction(254, 320) * depth
    assert tread.from_mm(round(float(exact), 2), 2) == depth
    assert tread.from_mm(tread.to_mm(depth)) == depth
    assert abs(Fraction(tread.to_mm(depth)) - exact) <= Fraction(1, 20) + Fraction(1, 10**9)


@given(st.integers(0, 3200), st.integers(1, 2))
def test_a_gauge_never_gives_more_than_its_last_digit_allows(shown: int, decimals: int) -> None:
    steps = 10**decimals
    deepest = Fraction(2 * shown + 1, 2 * steps)  # mm: half of the last digit above what it shows
    depth = tread.from_mm(shown / steps, decimals)
    assert Fraction(254, 320) * depth <= deepest < Fraction(254, 320) * (depth + 1)


@pytest.mark.parametrize(
    ("mm", "decimals", "depth"), [(3.1, 1, 3), (3.2, 1, 4), (3.16, 2, 3), (3.17, 2, 4), (1.5, 1, 1)]
)
def test_a_depth_under_a_legal_minimum_does_not_pass_by_rounding(
    mm: float, decimals: int, depth: int
) -> None:
    # 49 CFR 393.75(b): 4/32 inch are 3.175 mm; (c): 2/32 are 1.5875 mm.
    assert tread.from_mm(mm, decimals) == depth
