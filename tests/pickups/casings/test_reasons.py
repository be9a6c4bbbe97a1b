"""The catalogue of reasons: every code once, in both languages, with its source; for ever."""

from typing import get_args

import pytest

from pickups.casings import reasons
from pickups.casings.reasons import REASONS, Reason
from plant.dock.rules import DEFAULT_ROUTE
from plant.inspection.wire import Cause, Zone

# Told once, a code can be told again: none of these may ever be missing.
TEXT = """
AGE_POLICY BEAD_BURNED BEAD_CORE BEAD_CURB BEAD_KINKED BEAD_TEAR BELT_REMOVED BELT_SEPARATION
CARCASS_BREAKUP CORD_EXPOSED_PROCESS CORD_EXPOSED_WEAR CURED_DEFECT DOT_REMOVED FABRIC_FATIGUE
IMPACT_SEPARATION LINER_DETERIORATED LINER_HOLE MULTI_PENETRATION NO_DOT_CODE OIL_CHEMICAL
OLD_REPAIR_OUT_OF_LIMITS PETROLEUM RETREAD_COUNT_POLICY RUBBER_CRACK_TO_CARCASS RUN_FLAT
SEPARATION STONE_DRILLING SW_CHAIN SW_CORD_BULGE SW_CUT SW_SEPARATION UNECONOMIC_REPAIR
WEATHER_CHECK WIRE_OR_CORD_EXPOSED_IN ZIPPER
"""
CODES = TEXT.split()

each = pytest.mark.parametrize("reason", REASONS, ids=lambda r: r.code)


def test_no_code_is_missing_and_none_is_there_twice() -> None:
    assert sorted(reasons.CODES) == CODES
    assert len(REASONS) == len(CODES)
    assert all(reasons.known(code) for code in CODES)
    assert not reasons.known("separation")
    assert not reasons.known("")


@each
def test_a_reason_has_words_in_both_languages_that_are_no_code(reason: Reason) -> None:
    for language in ("en", "es"):
        said = reasons.words(reason.code, language)
        assert said[0].islower()
        assert "_" not in said
        assert not said.endswith(".")
        assert reason.code.lower().replace("_", " ") != said
    assert reason.en != reason.es
    assert reasons.words(reason.code, "en") == reason.en
    assert reasons.words(reason.code, "es") == reason.es


@each
def test_a_reason_names_its_source_and_an_unchecked_clause_says_so(reason: Reason) -> None:
    assert any(sign.isdigit() for sign in reason.source) or "article" in reason.source
    assert ("R109" in reason.source) == ("from memory, clause not checked" in reason.source)
    assert reason.shows_at


@each
def test_a_code_fits_where_it_is_kept_and_told(reason: Reason) -> None:
    """The wire takes 40 characters, as does the work order; a notice keeps it with the cause."""
    assert len(reason.code) <= 40
    assert len(f"rejected {reason.code} road_or_dock 999") <= 120


def test_zones_causes_and_stations_that_a_plant_may_tell_have_words_in_both_languages() -> None:
    assert set(reasons.ZONES) == set(get_args(Zone))
    assert set(reasons.CAUSES) == set(get_args(Cause))
    for code in reasons.ZONES:
        assert reasons.zone(code, "en") == code.replace("_", " ")
        assert reasons.zone(code, "es") != reasons.zone(code, "en")
    assert reasons.cause("plant", "en") == "our plant"
    assert reasons.cause("plant", "es") == "nuestra planta"
    for station in DEFAULT_ROUTE:
        assert reasons.station(station, "es") != reasons.station(station, "en")
    assert reasons.station("final-ndt", "en") == "final NDT"


def test_what_the_catalogue_does_not_know_is_said_as_it_can_be_read() -> None:
    assert reasons.words("EXPOSED_CORD", "es") == "exposed cord"
    assert reasons.zone("tread_edge", "en") == "tread edge"
    assert reasons.cause("", "en") == ""
    assert reasons.station("second-look", "es") == "second look"


def test_a_language_that_is_not_spoken_here_is_answered_in_english() -> None:
    assert reasons.words("ZIPPER", "fr") == reasons.words("ZIPPER", "en")
    assert reasons.zone("bead", "fr") == "bead"
