"""Pro-rata credit: by hand, and what always holds."""

from fractions import Fraction

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from pickups.kernel.wire import Malformed
from plant.adjustments.prorata import Terms, credit_cents, remaining

UNHURRIED = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
"""How fast a machine draws examples says nothing of the rule."""


def test_by_hand() -> None:
    """164.60 for 22/32; pulled at 4, so 18 to use; 13 left is 9 of them: a half."""
    assert credit_cents([13], Terms(16_460, 22, 4)) == 8_230
    assert credit_cents([12, 13, 14, 13], Terms(16_460, 22, 4)) == 8_230
    assert credit_cents([22], Terms(16_460, 22, 4)) == 16_460
    assert credit_cents([25], Terms(16_460, 22, 4)) == 16_460
    assert credit_cents([4], Terms(16_460, 22, 4)) == 0
    assert credit_cents([0, 1], Terms(16_460, 22, 4)) == 0
    assert credit_cents([2], Terms(1, 4, 0)) == 1  # half a cent goes up
    assert remaining([1, 2]) == Fraction(3, 2)


@pytest.mark.parametrize(
    ("price", "original", "pull"), [(-1, 22, 4), (1, 0, 0), (1, 22, 22), (1, 41, 4), (10**7, 22, 4)]
)
def test_terms_that_say_nothing_are_refused(price: int, original: int, pull: int) -> None:
    with pytest.raises(Malformed):
        Terms(price, original, pull)


@pytest.mark.parametrize("readings", [[], [41], [-1, 3]])
def test_a_depth_that_no_gauge_shows_is_refused(readings: list[int]) -> None:
    with pytest.raises(Malformed):
        remaining(readings)


DEPTH = st.integers(0, 40)
READINGS = st.lists(DEPTH, min_size=1, max_size=8)


@UNHURRIED
@given(READINGS, DEPTH, st.integers(0, 1_000_000), st.integers(1, 40), DEPTH)
def test_never_less_than_nothing_nor_more_than_the_price_and_more_tread_is_never_less(
    readings: list[int], deeper: int, price: int, original: int, pull: int
) -> None:
    assume(pull < original)
    terms = Terms(price, original, pull)
    credit = credit_cents(readings, terms)
    assert 0 <= credit <= price
    more = [max(one, deeper) for one in readings]
    assert credit_cents(more, terms) >= credit
    exact = (remaining(readings) - pull) / (original - pull) * price
    bound = min(max(exact, Fraction(0)), Fraction(price))
    assert abs(credit - bound) <= Fraction(1, 2)
