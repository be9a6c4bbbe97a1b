"""The hash that a signature covers, against the vectors that Python and TypeScript share.

fixtures/vectors/shown.json holds its texts beside their SHA-256 (FIPS 180-4), as computed by
sha256sum; frontend/tests/domain/shown.test.ts reads the same file.
"""

import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pickups.custody.shown import shown

VECTORS: dict[str, Any] = json.loads(
    (Path(__file__).parents[3] / "fixtures/vectors/shown.json").read_text()
)


@pytest.mark.parametrize("case", VECTORS["cases"], ids=lambda c: c["text"] or "nothing")
def test_a_list_has_the_hash_of_its_text(case: dict[str, Any]) -> None:
    counted = {name: case[name] for name in ("scrap", "left") if name in case}
    assert shown(((label, day) for label, day in case["lines"]), **counted) == case["sha256"]


def test_what_is_counted_cannot_be_taken_for_a_label() -> None:
    assert shown([], scrap=6) != shown([], left=6)
    assert shown([("K72K54X2", "")], scrap=0, left=0) == shown([("K72K54X2", "")])


LINES = st.lists(st.tuples(st.sampled_from(["K72K54X2", "K72K6P0D"]), st.dates().map(str)))


@given(LINES, st.randoms())
def test_the_order_of_the_screen_does_not_matter(lines: list[tuple[str, str]], dice: Any) -> None:
    other = list(lines)
    dice.shuffle(other)
    assert shown(other) == shown(lines)


@given(LINES, LINES)
def test_another_list_has_another_hash(
    one: list[tuple[str, str]], two: list[tuple[str, str]]
) -> None:
    assert (shown(one) == shown(two)) == (sorted(one) == sorted(two))
