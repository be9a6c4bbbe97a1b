"""The forecast part of a table: what a phone reads from it is what the server would offer."""

import gzip
import json
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pickups.kernel import clock
from pickups.promises import offering
from pickups.promises.finishing import ALL_SIZES, GROUPS, NEVER
from pickups.promises.offering import Asked, Reached
from pickups.promises.rules import DAYS_OFFERED, STORE
from tests.pickups.promises.foretold import CHICAGO, DAY_MIN, reached
from tests.pickups.promises.trucks import OTHER, START, YARD, weekdays
from tests.pickups.promises.vectors import plant, told, two_hundred_yards

VECTORS = json.loads(Path("fixtures/vectors/offers.json").read_text())
PERCENTS = [50, 80, 95]

runs = st.fixed_dictionaries({YARD: weekdays}, optional={OTHER: weekdays})
asks = st.builds(
    Asked,
    st.sampled_from(["retread", "repair"]),
    st.sampled_from([ALL_SIZES, "wide"]),
    st.sampled_from([*GROUPS, 3, 14]),
    st.sampled_from([*PERCENTS, 90, 99]),
)


def body(today: date, forecast: dict[str, Any] | None) -> dict[str, Any]:
    """A table's body as a phone has it."""
    return {"computed_on": today.isoformat(), "forecast": forecast}


@given(
    st.lists(reached, min_size=1, max_size=2),
    runs,
    asks,
    st.integers(0, DAYS_OFFERED - 1),
    st.sampled_from([STORE, YARD, OTHER]),
)
def test_a_phone_reads_what_the_server_would_offer(
    plants: list[Reached], to_yard: dict[str, frozenset[int]], asked: Asked, ahead: int, place: str
) -> None:
    made = offering.table(START, plants=plants, runs=to_yard, percents=PERCENTS, zone=CHICAGO)
    day = START + timedelta(days=ahead)
    now = clock.rfc3339(min((p.forecast.made_at for p in plants if p.forecast), default=clock.END))
    read = offering.read(body(START, made), asked, place=place, handed_over=day, now=now)
    here = None if place == STORE else to_yard.get(place, frozenset())
    due = offering.answered(day, asked, plants=plants, runs=here, zone=CHICAGO)
    # A group that is not told is read as the next larger one that is: later, never earlier.
    keys = [key for p in plants if p.forecast for key in p.forecast.arrivals]
    told = asked.count in {key[3] for key in keys if key[0] == asked.work}
    if told:
        assert read == (due.isoformat() if due else due)
    elif read and due:
        assert read >= due.isoformat()


@given(st.lists(reached, min_size=1, max_size=2), asks)
def test_who_wants_to_be_surer_is_never_offered_an_earlier_day(
    plants: list[Reached], asked: Asked
) -> None:
    made = offering.table(START, plants=plants, runs={}, percents=PERCENTS, zone=CHICAGO)
    if made is None:
        return
    assert made["percents"] == [50, 80, 90, 95, 99]
    for groups in (g for sizes in made["days"].values() for g in sizes.values()):
        for per_percent in groups.values():
            for days in zip(*per_percent, strict=True):
                known = [999 if day is False else day for day in days if day is not None]
                assert known == sorted(known)


@pytest.mark.parametrize("case", VECTORS["cases"], ids=lambda c: c["about"])
def test_the_vectors(case: dict[str, Any]) -> None:
    asked = Asked(case["work"], case["size_class"], case["count"], case["percent"])
    found = offering.read(
        VECTORS["tables"][case["table"]],
        asked,
        place=case["place"],
        handed_over=date.fromisoformat(case["handed_over"]),
        now=case["now"],
    )
    assert found == case["on"]


def test_a_plant_without_a_forecast_leaves_the_work_to_standard_times() -> None:
    both = [Reached(plant(), told()), Reached(plant(), None)]
    made = offering.table(START, plants=both, runs={}, percents=[90], zone=CHICAGO)
    assert made is not None
    assert made["days"]["retread"][ALL_SIZES]["1"][0] == [None] * DAYS_OFFERED


def test_what_is_too_far_or_rejected_in_every_course_is_no_silence() -> None:
    """A plant so far behind must not be offered by its standard time of five days."""
    late, asked = told(), Asked("retread")
    handed = START + timedelta(days=1)
    for minute in (200 * DAY_MIN, NEVER):
        far = replace(late, arrivals={key: [minute] * 9 for key in late.arrivals})
        made = offering.table(
            START, plants=[Reached(plant(), far)], runs={}, percents=[90], zone=CHICAGO
        )
        assert made is not None
        assert set(made["days"]["retread"][ALL_SIZES]["1"][0]) == {offering.NO_DAY}
        both = [Reached(plant(), late), Reached(plant(), far)]
        assert offering.at_store(handed, asked, plants=both, zone=CHICAGO) is offering.NO_DAY
    crowd, other = Asked("retread", count=51), Asked("polish", count=51)
    of_late = Reached(plant(), late)
    assert of_late.at_store(handed, crowd, CHICAGO) is offering.NO_DAY
    assert of_late.at_store(handed, other, CHICAGO) is None


def test_two_hundred_yards_need_less_than_fifty_kilobytes() -> None:
    table = two_hundred_yards()
    packed = gzip.compress(json.dumps(table, separators=(",", ":")).encode(), 6)
    assert len(table["forecast"]["runs"]) == 200
    assert len(packed) < 50_000


@pytest.mark.parametrize(
    ("change", "same"),
    [
        ({}, True),
        ({"ahead": []}, True),
        ({"made_at": "2026-04-20T13:00:00.000Z", "valid_until": "2026-04-21T13:00:00.000Z"}, True),
        ({"valid_until": "2026-04-25T12:00:00.000Z"}, False),
        ({"runs": {}}, False),
        ({"percents": [50, 90, 97, 99]}, False),
    ],
)
def test_a_phone_fetches_anew_where_a_day_changed_or_the_end_is_near(
    change: dict[str, Any], same: bool
) -> None:
    standing = VECTORS["tables"]["usual"]["forecast"]
    now = "2026-04-20T13:00:00.000Z"
    assert offering.is_same(standing, standing | change, now) == same
    assert not offering.is_same(standing, None, now)
    assert not offering.is_same(None, standing, now)
    assert offering.is_same(None, None, now)


@pytest.mark.parametrize(
    ("told", "kind"), [("11R22.5", "standard"), ("445/50R22.5", "wide"), ("", ""), ("huge", "")]
)
def test_a_size_that_is_not_read_is_of_any_class(told: str, kind: str) -> None:
    assert offering.size_class(told) == kind
