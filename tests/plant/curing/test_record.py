"""A record held against what the plant entered: figures by hand, and what always holds."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import accumulate

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from plant.curing.record import Gap, Ground, Terms, Verdict, judge, measure
from plant.curing.series import Reading

UNHURRIED = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
"""How fast a machine draws examples says nothing of the rule."""

START = datetime(2026, 7, 14, 6, tzinfo=UTC)
TERMS = Terms(low_c=95, most_c=105, minutes=60, gap_s=300, low_kpa=500, most_kpa=650)


def at(minutes: float) -> datetime:
    return START + timedelta(minutes=minutes)


def ran(*told: tuple[float, float | None, float | None]) -> list[Reading]:
    return [Reading(at(m), c, p) for m, c, p in told]


def level(c: float, p: float | None, until: int, step: int = 5) -> list[Reading]:
    return ran(*((m, c, p) for m in range(0, until + 1, step)))


def test_time_in_range_is_cut_where_the_line_crosses_the_band() -> None:
    """From 85 to 105 in four minutes: 95 is crossed after two. Pressure crosses 500 after one."""
    seen = measure(ran((0, 85, 480), (4, 105, 560)), TERMS)
    assert seen.in_range_s == pytest.approx(120)
    seen = measure(ran((0, 100, 480), (4, 100, 560)), TERMS)
    assert seen.in_range_s == pytest.approx(180)
    assert (seen.lowest_kpa, seen.highest_kpa) == (480, 560)


def test_a_load_that_meets_what_was_entered() -> None:
    judged = judge(level(99, 586, 60), TERMS, started_at=START, ended_at=at(60))
    assert (judged.verdict, judged.grounds) == (Verdict.MEETS, ())


@pytest.mark.parametrize(
    ("readings", "grounds"),
    [
        (level(99, 586, 55), {Ground.TIME}),
        (level(94.9, 586, 60), {Ground.TIME}),
        (level(99, 586, 60) + ran((65, 106, 586)), {Ground.TOO_HOT}),
        (level(99, 586, 60) + ran((65, 99, 660)), {Ground.PRESSURE_OVER}),
        (level(99, None, 60), {Ground.TIME, Ground.NO_PRESSURE}),
        (level(99, 586, 60) + ran((66, 99, 586)), {Ground.GAPS}),
        (level(99, 586, 60)[::2], {Ground.TIME, Ground.GAPS}),
        (level(99, 400, 60), {Ground.TIME}),
    ],
    ids=["time", "cold", "hot", "pressure", "no-gauge", "gap", "every-other", "low-pressure"],
)
def test_each_ground_by_itself(readings: list[Reading], grounds: set[Ground]) -> None:
    judged = judge(readings, TERMS)
    assert judged.verdict is Verdict.SHORT
    assert set(judged.grounds) == grounds


def test_the_record_reaches_the_loads_start_and_end() -> None:
    judged = judge(level(99, 586, 70), TERMS, started_at=at(-10), ended_at=at(76))
    assert judged.grounds == (Ground.GAPS,)
    assert judged.figures is not None
    assert judged.figures.gaps == (Gap(at(-10), at(0)), Gap(at(70), at(76)))


def test_without_a_specification_nothing_is_said_of_it() -> None:
    judged = judge(level(20, None, 60), None)
    assert (judged.verdict, judged.grounds) == (Verdict.NO_TERMS, ())
    assert judge([], TERMS).verdict is Verdict.NO_RECORD
    assert judge(None, None).verdict is Verdict.NO_RECORD


def test_the_longest_stretch_ends_where_the_band_was_left() -> None:
    told = ran((0, 99, 586), (4, 99, 586), (5, 90, 586), (6, 99, 586), (9, 99, 586), (12, 99, 586))
    seen = measure(told, TERMS)
    down = (99 - 95) / 9  # minutes to leave the band, and again to come back
    assert seen.unbroken_s == pytest.approx((6 + down) * 60)
    assert seen.in_range_s == pytest.approx((10 + 2 * down) * 60)


@st.composite
def records(draw: st.DrawFn) -> list[Reading]:
    steps = draw(st.lists(st.tuples(st.integers(1, 400), st.floats(60, 130), st.floats(300, 800)),
                          min_size=2, max_size=15))  # fmt: skip
    moments = accumulate(s for s, _, _ in steps)
    return [Reading(START + timedelta(seconds=m), c, p)
            for m, (_, c, p) in zip(moments, steps, strict=True)]  # fmt: skip


@UNHURRIED
@given(records())
def test_time_in_range_and_gaps_never_pass_the_record(readings: list[Reading]) -> None:
    seen = measure(readings, TERMS)
    whole = (seen.until - seen.since).total_seconds()
    missing = sum(g.seconds for g in seen.gaps)
    assert -1e-6 <= seen.unbroken_s <= seen.in_range_s + 1e-6
    assert seen.in_range_s + missing <= whole + 1e-6


@UNHURRIED
@given(records(), st.floats(0.1, 20))
def test_a_wider_band_is_never_less_time(readings: list[Reading], wider: float) -> None:
    wide = replace(TERMS, low_c=TERMS.low_c - wider, most_c=105 + wider, low_kpa=500 - wider)
    assert measure(readings, wide).in_range_s >= measure(readings, TERMS).in_range_s - 1e-6


@UNHURRIED
@given(records(), st.data())
def test_parts_of_a_record_add_up(readings: list[Reading], data: st.DataObject) -> None:
    cut = data.draw(st.integers(0, len(readings) - 1))
    parts = [p for p in (readings[: cut + 1], readings[cut:]) if len(p) > 1]
    summed = sum(measure(p, TERMS).in_range_s for p in parts)
    assert summed == pytest.approx(measure(readings, TERMS).in_range_s, abs=1e-6)


@UNHURRIED
@given(records())
def test_asking_for_more_minutes_never_mends_a_load(readings: list[Reading]) -> None:
    if judge(readings, TERMS).verdict is Verdict.SHORT:
        assert judge(readings, replace(TERMS, minutes=61)).verdict is Verdict.SHORT
