"""A plant's stations as the simulation is told them, and what is missing for that."""

from dataclasses import replace
from datetime import datetime, time, timedelta
from itertools import pairwise
from typing import Any

import pytest

from plant.dock.rules import Shift
from plant.forecast import fitted, laid_out
from plant.forecast import hours as calendar
from plant.forecast.fitted import Cure, Past
from plant.forecast.laid_out import Before, Entered, Figures, Known, Missing, Oven, Stop
from tests.plant.forecast.routes import MONDAY, STOPS, entered, known


def codes(plant: Entered, of: Known | None = None) -> tuple[str, ...]:
    return laid_out.layout(plant, of or Known(), MONDAY).codes


def test_the_door_takes_no_time_and_what_lies_behind_the_finish_is_no_part_of_it() -> None:
    inner = ("cleaning", "initial-inspection", "repair", "building", "curing", "final-inspection")
    assert codes(entered()) == (*inner, "paint")
    assert codes(entered(), Known(finishes={"final-inspection": 7, "paint": 2})) == inner


@pytest.mark.parametrize(
    ("more", "found"),
    [
        ({"stops": ()}, [Missing("route")]),
        ({"shifts": None}, [Missing("calendar")]),
        ({"shifts": ()}, [Missing("shifts")]),
        ({"ovens": ()}, [Missing("chamber", "curing")]),
        ({"ovens": (Oven("A", 10),)}, [Missing("chamber_cycle", "A")]),
        ({"stops": (*STOPS[:1], Stop("buffing"), *STOPS[2:])}, [Missing("cycle", "buffing")]),
        ({"stops": (Stop("receiving"), Stop("shipping"))}, [Missing("route")]),
        ({"stops": (Stop("receiving"), Stop("ply-test", optional=True))}, [Missing("route")]),
        ({"stops": tuple(Stop(f"s{n}", cycle_min=1) for n in range(61))}, [Missing("fewer")]),
        ({}, []),
    ],
    ids=[
        "route",
        "calendar",
        "shifts",
        "chamber",
        "cycle of a chamber",
        "cycle",
        "no station",
        "only some casings' stations",
        "too many",
        "nothing",
    ],
)
def test_what_is_missing_is_named(more: dict[str, Any], found: list[Missing]) -> None:
    assert laid_out.missing(replace(entered(), **more), Known()) == found


def test_what_was_learned_stands_for_what_nobody_entered() -> None:
    plant = entered(*STOPS[:1], Stop("buffing"), *STOPS[2:])
    learned = known(buffing=Figures(0.3, n=40))
    assert laid_out.missing(plant, learned) == []
    shop = laid_out.layout(plant, learned, MONDAY).shop
    assert shop.stations[0].mean_h == 0.3
    assert laid_out.missing(entered(ovens=(Oven("A", 10),)), Known(cure_h={"": 3.9})) == []


def test_a_station_of_some_casings_whose_time_nobody_knows_is_left_out_and_said() -> None:
    plant = entered(*STOPS[:3], Stop("shearography", optional=True), *STOPS[3:])
    made = laid_out.layout(plant, Known(), MONDAY)
    assert "shearography" not in made.codes
    assert made.left_out == ("shearography",)


def test_a_share_that_is_sent_back_goes_where_this_plant_sends_most() -> None:
    figures = {"final-inspection": Figures(0.25, rework=0.04, n=99)}
    made = laid_out.layout(entered(), Known(figures=figures), MONDAY)
    last = made.codes.index("final-inspection")
    assert made.codes[made.shop.stations[last].rework_to] == "building"
    told = Known(figures=figures, back_to={"repair": 5, "building": 2, "gone": 9})
    made = laid_out.layout(entered(), told, MONDAY)
    assert made.codes[made.shop.stations[last].rework_to] == "repair"


def test_without_a_limit_nothing_goes_round_for_ever() -> None:
    figures = {"final-inspection": Figures(0.25, rework=1.0, n=99)}
    plant = entered(rework_limit=None)
    made = laid_out.layout(plant, Known(figures=figures), MONDAY)
    assert made.shop.stations[made.codes.index("final-inspection")].rework == 0.9


def test_a_chamber_waits_as_entered_else_as_learned_else_as_we_say() -> None:
    ovens = (Oven("A", 10, 120, max_wait_min=30), Oven("B", 6, 90, least=4), Oven("C", 8, 60))

    def made(of: Known) -> list[tuple[int, float, float]]:
        shop = laid_out.layout(entered(ovens=ovens), of, MONDAY).shop
        chambers = next(s for s in shop.stations if s.code == "curing").chambers
        return [(c.least, c.max_wait_h, c.cycle_h) for c in chambers]

    assert made(Known()) == [(10, 0.5, 2.0), (4, 4.0, 1.5), (8, 4.0, 1.0)]
    learned = Known(wait_h=2.5, cure_h={"A": 2.2})
    assert made(learned) == [(10, 0.5, 2.2), (4, 2.5, 1.5), (8, 2.5, 1.0)]


def test_a_delay_has_room_for_all_and_its_share_stands_as_it_is() -> None:
    plant = entered(*STOPS[:3], Stop("repair", optional=True, scans=False, machines=1), *STOPS[4:])
    made = laid_out.layout(plant, known(repair=Figures(3.0, n=50, machines=60)), MONDAY)
    station = made.shop.stations[made.codes.index("repair")]
    assert (station.machines, station.takes, station.passes) == (60, 1, 1.0)
    assert laid_out.skipped(made, plant, work="retread", marked=False) == frozenset()


def test_repair_only_needs_nothing_of_a_new_tread() -> None:
    plant = entered()
    made = laid_out.layout(plant, Known(), MONDAY)
    skipped = laid_out.skipped(made, plant, work="repair", marked=None)
    assert [made.codes[i] for i in sorted(skipped)] == ["building", "curing"]
    unmarked = laid_out.skipped(made, plant, work="retread", marked=False)
    assert [made.codes[i] for i in unmarked] == ["repair"]
    assert laid_out.skipped(made, plant, work="retread", marked=None) == frozenset()


@pytest.mark.parametrize("night", ["2026-11-01", "2027-03-14"], ids=["autumn", "spring"])
def test_fixed_times_of_a_chamber_stand_over_a_night_on_which_clocks_change(night: str) -> None:
    ovens = (Oven("A", 10, 60, starts=(time(1), time(2), time(2, 30), time(3))),)
    origin = datetime.fromisoformat(f"{night}T00:00:00+00:00")
    made = laid_out.layout(entered(ovens=ovens), Known(), origin)
    (chamber,) = next(s for s in made.shop.stations if s.code == "curing").chambers
    assert list(chamber.fixed_h) == sorted(set(chamber.fixed_h))
    assert chamber.least == 1  # with what is there


def test_a_plant_does_what_it_has_a_standard_time_for_else_what_its_stations_can() -> None:
    codes_ = laid_out.layout(entered(), Known(), MONDAY).codes
    assert laid_out.works(entered(), codes_) == {"retread", "repair"}
    assert laid_out.works(entered(works=frozenset({"retread"})), codes_) == {"retread"}
    assert laid_out.works(entered(), ["building", "paint"]) == {"retread"}


def test_worked_hours_of_the_past_are_those_of_the_shifts_of_then() -> None:
    one_shift = tuple(Shift(day, time(6), time(14)) for day in range(5))
    changed = MONDAY - timedelta(days=14)
    plant = entered(before=(Before(changed, one_shift),))
    hours = laid_out.open_hours(plant, MONDAY, back=10)
    a_week = 7 * 24.0
    worked = [calendar.worked(hours, -n * a_week) for n in (0, 1, 2, 3, 4)]
    assert [a - b for a, b in pairwise(worked)] == pytest.approx([80, 80, 40, 40])
    assert calendar.worked(hours, a_week) == pytest.approx(80)
    plain = laid_out.open_hours(entered(), MONDAY)
    assert calendar.worked(plain, -4 * a_week) == pytest.approx(-320)


def test_a_load_that_was_told_when_its_door_opened_says_nothing_of_its_cycle() -> None:
    at = MONDAY - timedelta(days=9)
    cures = [Cure("A", at + timedelta(hours=n), at + timedelta(hours=n), ()) for n in range(20)]
    plant = entered()
    hours = laid_out.open_hours(plant, MONDAY)
    known_, _ = fitted.known(plant, Past(cures=cures), hours, MONDAY)
    assert known_.cure_h == {}
    long = [replace(c, ended_at=c.begun_at + timedelta(hours=2.5)) for c in cures]
    known_, _ = fitted.known(plant, Past(cures=long), hours, MONDAY)
    assert known_.cure_h["A"] >= 2.5
