"""A finished tire against its order: the vectors of both languages."""

import json
from dataclasses import asdict
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from pickups.casings.eligibility import Tin
from plant.inspection import ordering
from plant.inspection.ordering import Ordered
from plant.inspection.wire import Built

VECTORS: dict[str, Any] = json.loads(
    (Path(__file__).parents[3] / "fixtures/vectors/ordering.json").read_text()
)


@pytest.mark.parametrize("case", VECTORS["differences"], ids=lambda c: c["about"])
def test_differences_are_those_of_the_vector(case: dict[str, Any]) -> None:
    made = ordering.differences(
        Ordered(**case["ordered"]), Built(**case["found"]), date.fromisoformat(case["on"])
    )
    assert [asdict(difference) for difference in made] == case["differences"]


@pytest.mark.parametrize("case", VECTORS["before"], ids=lambda c: c["about"])
def test_caps_before_are_counted_as_the_vector_says(case: dict[str, Any]) -> None:
    tins = [Tin(**told) for told in case["tins"]]
    least, most = ordering.before(tins, date.fromisoformat(case["on"]))
    assert {"caps_least": least, "caps_most": most} == case["before"]


def test_every_way_to_differ_is_among_the_vectors() -> None:
    seen = {(d["field"], d["why"]) for case in VECTORS["differences"] for d in case["differences"]}
    assert {why for _, why in seen} == {why.value for why in ordering.Why}
    assert {field for field, _ in seen} == {field.value for field in ordering.Field}
