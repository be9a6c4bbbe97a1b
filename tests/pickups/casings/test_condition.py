"""What can be seen of a casing: the vectors that the phone reads too, and their words."""

import json
from pathlib import Path
from types import SimpleNamespace
from typing import Any, get_args

import pytest

from pickups.casings import condition
from pickups.casings.condition import Caution, Condition, Side, Zone
from pickups.custody.wire import seen
from pickups.customers import rules as customers

PROJECT = Path(__file__).parents[3]
VECTORS: dict[str, Any] = json.loads((PROJECT / "fixtures/vectors/condition.json").read_text())


@pytest.mark.parametrize("case", VECTORS["cases"], ids=lambda c: c["about"])
def test_cautions_are_those_of_the_vector(case: dict[str, Any]) -> None:
    findings = [SimpleNamespace(**finding) for finding in case["findings"]]
    assert condition.cautions_of(findings) == case["cautions"]
    assert condition.cautions_of(reversed(findings)) == case["cautions"]


def test_zones_hold_the_kinds_of_the_vectors() -> None:
    assert {z: list(kinds) for z, kinds in condition.KINDS_BY_ZONE.items()} == VECTORS[
        "kinds_by_zone"
    ]
    assert {z: list(condition.sides_of(z)) for z in Zone} == VECTORS["sides"]
    assert list(condition.STOPS) == VECTORS["stops"]
    assert list(condition.OLD_REPAIRS) == VECTORS["old_repairs"]


def test_every_kind_can_be_told_somewhere_and_stops_stand_last() -> None:
    assert {kind for kinds in condition.KINDS_BY_ZONE.values() for kind in kinds} == set(Condition)
    for kinds in condition.KINDS_BY_ZONE.values():
        stops = [condition.is_stop(kind) for kind in kinds]
        assert stops == sorted(stops)
        assert len(set(kinds)) == len(kinds)


def test_a_bead_wire_is_looked_for_at_a_bead_only() -> None:
    # TM 9-2610-200-14, 2-23a(1)
    assert [z for z, kinds in condition.KINDS_BY_ZONE.items() if Condition.BEAD_WIRE in kinds] == [
        Zone.BEAD
    ]


def test_every_caution_is_said_of_something() -> None:
    assert {said for case in VECTORS["cases"] for said in case["cautions"]} == set(Caution)


def test_codes_are_those_of_the_wire_and_of_a_specification() -> None:
    assert get_args(seen.Condition) == tuple(Condition)
    assert get_args(seen.Zone) == tuple(Zone)
    assert get_args(seen.Side) == ("", *Side)
    assert tuple(condition.OLD_REPAIRS) == customers.REPAIRS


@pytest.mark.parametrize("language", ["en", "es"])
def test_everything_has_words_of_its_own(language: str) -> None:
    kinds = [condition.kind_in_words(kind, language) for kind in Condition]
    zones = [condition.zone_in_words(zone, language) for zone in Zone]
    sides = [condition.side_in_words(side, language) for side in Side]
    cautions = [condition.caution_in_words(caution, language) for caution in Caution]
    for said in (kinds, zones, sides, cautions):
        assert len(set(said)) == len(said)
        assert not [one for one in said if "_" in one or "!" in one or one != one.strip()]


def test_both_languages_differ_and_a_strange_code_is_still_said() -> None:
    assert condition.kind_in_words("cord", "en") == "cord showing"
    assert condition.kind_in_words("cord", "es") == "cuerdas a la vista"
    assert condition.kind_in_words("rim_rust", "es") == "rim rust"
    assert condition.side_in_words("", "en") == ""
