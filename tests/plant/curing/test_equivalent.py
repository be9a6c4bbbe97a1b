"""Equivalent cure time, against the law's closed form and an integration of another kind."""

import math
from datetime import UTC, datetime, timedelta
from decimal import Decimal, getcontext
from itertools import accumulate, pairwise

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from plant.curing.equivalent import GAS, Law, seconds
from plant.curing.series import Reading

UNHURRIED = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
"""How fast a machine draws examples says nothing of the rule."""

START = datetime(2026, 7, 14, 6, tzinfo=UTC)
FAR = 1e9
HEAT = st.floats(15, 180)
LAW = st.builds(Law, st.floats(80, 160), st.floats(40, 150))


def series(*told: tuple[float, float]) -> list[Reading]:
    """Readings from (seconds since the start, °C)."""
    return [Reading(START + timedelta(seconds=s), c) for s, c in told]


def closed(from_c: float, to_c: float, over_s: float, law: Law) -> Decimal:
    """The integral over one ramp in closed form: with b = E/R, that of exp(-b/T) is
    T exp(-b/T) - b E1(b/T), E1 by its continued fraction (Abramowitz and Stegun 5.1.22)."""
    getcontext().prec = 50
    b = Decimal(law.energy_kj) * 1000 / Decimal(GAS)
    kelvin = Decimal("273.15")

    def whole(t: Decimal) -> Decimal:
        x = b / t
        fraction = Decimal(0)
        for n in range(200, 0, -1):
            fraction = n / (1 + n / (x + fraction))
        return t * (-x).exp() - b * (-x).exp() / (x + fraction)

    one, two = Decimal(from_c) + kelvin, Decimal(to_c) + kelvin
    at_reference = (b / (Decimal(law.reference_c) + kelvin)).exp()
    return (whole(two) - whole(one)) / (two - one) * Decimal(over_s) * at_reference


@UNHURRIED
@given(LAW, HEAT, HEAT, st.floats(1, 20_000))
def test_a_ramp_is_what_the_law_gives_in_closed_form(
    law: Law, one: float, two: float, over_s: float
) -> None:
    if abs(one - two) < 0.01:  # the closed form divides by it
        two = one + 0.01
    told = seconds(series((0, one), (over_s, two)), law, gap_s=FAR)
    whole = timedelta(seconds=over_s).total_seconds()  # as fine as a clock
    assert told == pytest.approx(float(closed(one, two, whole, law)), rel=1e-8)


def test_a_cure_as_a_plant_runs_it_against_a_sum_of_small_steps() -> None:
    """Up in 45 minutes, 99 °C for 3 h, down in 30: summed in steps of a second by the midpoint."""
    law = Law(reference_c=99, energy_kj=90)
    corners = [(0, 25), (2700, 99), (13_500, 99), (15_300, 60)]
    total = 0.0
    for (t0, c0), (t1, c1) in pairwise(corners):
        for second in range(t0, t1):
            heat = c0 + (c1 - c0) * (second + 0.5 - t0) / (t1 - t0)
            total += math.exp(
                law.energy_kj * 1000 / GAS * (1 / (99 + 273.15) - 1 / (heat + 273.15))
            )
    told = seconds(series(*corners), law, gap_s=FAR)
    assert told == pytest.approx(total, rel=1e-6)
    assert 10_800 < told < 13_500


def test_ten_degrees_more_double_the_rate_where_the_energy_says_so() -> None:
    """By hand: E = R ln 2 / (1/T1 - 1/T2) makes 109 °C twice as fast as 99 °C."""
    energy = GAS * math.log(2) / (1 / 372.15 - 1 / 382.15) / 1000
    law = Law(99, energy)
    assert 81 < energy < 82.1
    assert seconds(series((0, 109), (3600, 109)), law, gap_s=FAR) == pytest.approx(7200)


@UNHURRIED
@given(LAW, st.floats(1, 20_000))
def test_at_the_reference_it_is_the_clock(law: Law, over_s: float) -> None:
    told = seconds(series((0, law.reference_c), (over_s, law.reference_c)), law, gap_s=FAR)
    assert told == pytest.approx(over_s, abs=2e-6)


steps = st.lists(st.tuples(st.integers(1, 600), HEAT), min_size=3, max_size=12)


def walked(told: list[tuple[int, float]]) -> list[Reading]:
    moments = accumulate(s for s, _ in told)
    return series(*((m, c) for m, (_, c) in zip(moments, told, strict=True)))


@UNHURRIED
@given(LAW, steps, st.data())
def test_parts_add_up_to_the_whole(
    law: Law, told: list[tuple[int, float]], data: st.DataObject
) -> None:
    whole = walked(told)
    cut = data.draw(st.integers(1, len(whole) - 2))
    parts = seconds(whole[: cut + 1], law, gap_s=FAR) + seconds(whole[cut:], law, gap_s=FAR)
    assert parts == pytest.approx(seconds(whole, law, gap_s=FAR))


@UNHURRIED
@given(LAW, steps, st.data())
def test_a_reading_on_the_line_changes_nothing(
    law: Law, told: list[tuple[int, float]], data: st.DataObject
) -> None:
    whole = walked(told)
    at = data.draw(st.integers(0, len(whole) - 2))
    one, two = whole[at], whole[at + 1]
    assert one.celsius is not None
    assert two.celsius is not None
    middle = Reading(one.at + (two.at - one.at) / 2, (one.celsius + two.celsius) / 2)
    with_it = [*whole[: at + 1], middle, *whole[at + 1 :]]
    assert seconds(with_it, law, gap_s=FAR) == pytest.approx(
        seconds(whole, law, gap_s=FAR), rel=1e-6
    )


@UNHURRIED
@given(LAW, steps, st.floats(0.1, 40))
def test_hotter_is_never_less(law: Law, told: list[tuple[int, float]], more: float) -> None:
    hotter = [(s, c + more) for s, c in told]
    assert seconds(walked(hotter), law, gap_s=FAR) > seconds(walked(told), law, gap_s=FAR)


def test_a_gap_counts_nothing() -> None:
    law = Law(99, 90)
    told = series((0, 99), (60, 99), (1060, 99), (1120, 99))
    assert seconds(told, law, gap_s=120) == pytest.approx(120)
