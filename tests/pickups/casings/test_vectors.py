"""TIN and tread rules: the vectors that both languages share.

fixtures/vectors/tin.json and tread.json are read here and by frontend/tests/domain. Both languages
on the same random input: tests/house/test_twins.py.
"""

import json
from dataclasses import asdict
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from pickups.casings import tin, tread

PROJECT = Path(__file__).parents[3]
TIN: dict[str, Any] = json.loads((PROJECT / "fixtures/vectors/tin.json").read_text())
TREAD: dict[str, Any] = json.loads((PROJECT / "fixtures/vectors/tread.json").read_text())


def plain(told: Any) -> Any:
    """A dataclass as JSON has it."""
    return json.loads(json.dumps(asdict(told), default=date.isoformat))


def position(name: str | None) -> tread.Position | None:
    return None if name is None else tread.Position(name)


# --- The vectors ----------------------------------------------------------------------------------


@pytest.mark.parametrize("case", TIN["cases"], ids=lambda c: f"{c['about']}: {c['text']!r}")
def test_text_is_read_as_the_vector_says(case: dict[str, Any]) -> None:
    today = date.fromisoformat(case["today"])
    assert plain(tin.read(case["text"], today, case["age_limit_years"])) == case["reading"]


@pytest.mark.parametrize("case", TIN["days"], ids=lambda c: c["day"])
def test_day_lies_in_the_week_of_the_vector(case: dict[str, Any]) -> None:
    code = tin.code_of(date.fromisoformat(case["day"]))
    assert (plain(code), code.digits) == (case["code"], case["digits"])


@pytest.mark.parametrize("case", TIN["ages"], ids=lambda c: f"{c['week']}-{c['year']}-{c['on']}")
def test_age_is_that_of_the_vector(case: dict[str, Any]) -> None:
    code, on = tin.date_code(case["week"], case["year"]), date.fromisoformat(case["on"])
    assert code is not None
    assert tin.age_weeks(code, on) == case["weeks"]
    assert tin.age_years(code, on) == case["years"]


@pytest.mark.parametrize("case", TREAD["cases"], ids=lambda c: f"{c['about']}: {c['places']}")
def test_readings_come_to_what_the_vector_says(case: dict[str, Any]) -> None:
    measured = tread.measure(
        case["places"],
        position(case["position"]),
        case["pull_depth_32nds"],
        case["uneven_from_32nds"],
    )
    assert plain(measured) == case["measurement"]


@pytest.mark.parametrize("case", TREAD["bans"], ids=lambda c: str(c["position"]))
def test_what_may_not_run_at_a_position_is_that_of_the_vector(case: dict[str, Any]) -> None:
    assert [plain(ban) for ban in tread.bans(position(case["position"]))] == case["bans"]


def test_millimetres_are_those_of_the_vectors() -> None:
    for case in TREAD["to_mm"]:
        assert tread.to_mm(case["depth_32nds"]) == case["mm"]
    for case in TREAD["from_mm"]:
        assert tread.from_mm(case["mm"], case["decimals"]) == case["depth_32nds"]


def test_vectors_hold_every_layout_finding_correction_position_and_cause() -> None:
    readings = [case["reading"] for case in TIN["cases"]]
    assert {f["key"] for r in readings for f in r["findings"]} == set(tin.Found)
    assert {c["layout"] for r in readings for c in r["candidates"]} == set(tin.Layout)
    assert {c["typed"] for r in readings for c in r["corrections"]} == set(tin.SLIPS)
    assert {case["position"] for case in TREAD["cases"]} == {None, *tread.Position}
    measured = [case["measurement"] for case in TREAD["cases"]]
    assert {cause for m in measured for cause in m["causes"]} == set(tread.Cause)
    assert len(TIN["cases"]) >= 120
    assert len(TREAD["cases"]) >= 40
