"""Buffing and building figures: the vectors of both languages, and the circle's own arithmetic."""

import json
import math
from dataclasses import asdict
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plant.inspection import figures
from plant.inspection.figures import Target, tread_length
from plant.inspection.wire import Measured

VECTORS: dict[str, Any] = json.loads(
    (Path(__file__).parents[3] / "fixtures/vectors/figures.json").read_text()
)
LENGTH = st.floats(1000, 6000, allow_nan=False)
PITCH = st.floats(10, 400, allow_nan=False)


@pytest.mark.parametrize("case", VECTORS["lengths"], ids=lambda c: f"{c['circumference_mm']}")
def test_tread_is_as_long_as_the_vector_says(case: dict[str, Any]) -> None:
    made = tread_length(case["circumference_mm"], case["pitch_mm"], gum_mm=case["gum_mm"])
    assert asdict(made) == case["length"]


@pytest.mark.parametrize("case", VECTORS["remarks"], ids=lambda c: c["about"])
def test_remarks_are_those_of_the_vector(case: dict[str, Any]) -> None:
    made = figures.remarks(Measured(**case["measured"]), Target(**case["target"]))
    assert [asdict(remark) for remark in made] == case["remarks"]


def test_a_casing_of_120_inches_takes_forty_pitches_of_three_inches() -> None:
    # 120 in round is the usual truck casing (moderntiredealer.com 25714): 3,048 mm by 25.4 mm/in.
    made = tread_length(120 * 25.4, 3 * 25.4)
    assert made.pitches == 40
    assert math.isclose(made.stretch_mm, 0, abs_tol=1e-9)


@given(circumference=LENGTH, pitch=PITCH)
def test_tread_is_whole_pitches_and_off_by_half_of_one_at_most(
    circumference: float, pitch: float
) -> None:
    made = tread_length(circumference, pitch)
    assert made.length_mm == made.pitches * pitch
    assert abs(made.stretch_mm) <= pitch / 2 + 1e-6
    assert math.isclose(made.length_mm + made.stretch_mm, circumference)


@given(circumference=LENGTH, pitch=PITCH, gum=st.floats(0, 10))
def test_gum_widens_the_ring_as_the_radius_grows(
    circumference: float, pitch: float, gum: float
) -> None:
    radius = circumference / (2 * math.pi)
    made = tread_length(circumference, pitch, gum_mm=gum)
    assert math.isclose(made.ring_mm, 2 * math.pi * (radius + gum))


@pytest.mark.parametrize(("circumference", "pitch", "gum"), [(0, 50, 0), (3000, 0, 0), (1, 1, -1)])
def test_a_length_that_is_none_is_refused(circumference: float, pitch: float, gum: float) -> None:
    with pytest.raises(ValueError, match="above zero"):
        tread_length(circumference, pitch, gum_mm=gum)


@given(
    st.builds(Measured, buffed_radius_mm=st.floats(100, 2000), crown_width_mm=st.floats(50, 700))
)
def test_nothing_entered_is_never_spoken_of(measured: Measured) -> None:
    assert figures.remarks(measured, Target()) == ()
