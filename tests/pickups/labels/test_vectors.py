"""Label grammar against the vectors that Python and TypeScript share, and against another's check.

fixtures/vectors/labels.json is read by this file and by frontend/tests/domain/labels.test.ts.
"""

import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum.iso7064 import mod_37_2

from pickups.labels import rules

VECTORS: dict[str, Any] = json.loads(
    (Path(__file__).parents[3] / "fixtures/vectors/labels.json").read_text()
)

SYMBOL = st.sampled_from(rules.SYMBOLS)


@st.composite
def codes(draw: st.DrawFn) -> str:
    """A sound code of any range, serial and random part."""
    range_symbols = draw(st.sampled_from(rules.LETTERS)) + draw(SYMBOL)
    serial = draw(st.integers(0, rules.SERIALS - 1))
    # Of 37 checks 30 are symbols of a label: some random part always gives one.
    first, second = draw(SYMBOL), draw(st.permutations(rules.SYMBOLS))
    made = (rules.code(range_symbols, serial, first + last) for last in second)
    return next(code for code in made if code is not None)


@pytest.mark.parametrize("case", VECTORS["cases"], ids=lambda c: f"{c['about']}: {c['text']!r}")
def test_text_is_read_as_the_vector_says(case: dict[str, str | None]) -> None:
    text = case["text"]
    assert text is not None
    tidied = rules.tidy(text)
    assert tidied == case["tidy"]
    assert rules.fault(tidied) == case["fault"]


@pytest.mark.parametrize("case", VECTORS["checks"], ids=lambda c: c["body"])
def test_check_is_that_of_iso_7064_mod_37_2(case: dict[str, str]) -> None:
    assert rules.check_symbol(case["body"]) == case["check"]
    assert mod_37_2.calc_check_digit(case["body"]) == case["check"]


def test_vectors_hold_every_fault_and_enough_cases() -> None:
    faults = {case["fault"] for case in VECTORS["cases"]}
    assert faults == {None, *rules.LabelFault}
    assert len(VECTORS["cases"]) >= 60


@given(codes())
def test_every_code_made_is_sound_and_passes_the_other_check(code: str) -> None:
    assert rules.fault(code) is None
    assert mod_37_2.is_valid(code)


@given(codes())
def test_every_single_slip_of_a_code_shows(code: str) -> None:
    for at in range(rules.LENGTH):
        for symbol in rules.SYMBOLS:
            slipped = code[:at] + symbol + code[at + 1 :]
            assert (rules.fault(slipped) is None) == (slipped == code)


@given(codes())
def test_every_swap_of_unlike_neighbours_of_a_code_shows(code: str) -> None:
    for at in range(rules.LENGTH - 1):
        swapped = code[:at] + code[at + 1] + code[at] + code[at + 2 :]
        assert (rules.fault(swapped) is None) == (swapped == code)


@given(codes(), st.text(alphabet=" \t-._\u2009\u00a0", max_size=6), st.integers(0, 8))
def test_gaps_and_small_letters_do_not_matter(code: str, gap: str, at: int) -> None:
    assert rules.tidy(code[:at].lower() + gap + code[at:]) == code


@pytest.mark.parametrize("case", VECTORS["meant"], ids=lambda c: f"{c['about']}: {c['typed']!r}")
def test_what_may_be_meant_is_what_the_vector_says(case: dict[str, Any]) -> None:
    offers = [{"code": c, "slip": s} for c, s in rules.meant(case["typed"], set(case["known"]))]
    assert offers == case["offers"]


@given(codes(), st.integers(0, rules.LENGTH - 1), SYMBOL)
def test_a_known_label_is_offered_for_every_single_slip_of_it(
    code: str, at: int, symbol: str
) -> None:
    swapped = code[:at] + code[at + 1 : at + 2] + code[at] + code[at + 2 :]
    for typed, slip in (
        (swapped, rules.Slip.SWAPPED),
        (code[:at] + symbol + code[at + 1 :], rules.Slip.WRONG),
        (code[:at] + code[at + 1 :], rules.Slip.MISSING),
        (code[:at] + symbol + code[at:], rules.Slip.TOO_MANY),
    ):
        if typed != code:
            assert rules.meant(typed, {code}) == [(code, slip)]
            assert rules.meant(typed, set()) == []
    assert rules.meant(code, {code}) == []
