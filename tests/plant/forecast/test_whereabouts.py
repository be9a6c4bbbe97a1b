"""Where casings are, as the simulation is told it."""

import pytest

from plant.forecast import laid_out, whereabouts
from plant.forecast.laid_out import Figures, Known, Stop
from plant.forecast.shop import Job
from plant.forecast.whereabouts import Inside, Load
from tests.plant.forecast.routes import MONDAY, STOPS, casing, entered, known

PLANT = entered()
LAYOUT = laid_out.layout(PLANT, Known(), MONDAY)


def at(one: Inside, **loads: Load) -> tuple[str, float, float | None]:
    """Station, since when it is there, since when it is worked on."""
    (found,) = whereabouts.placed(LAYOUT, PLANT, [one], loads, {})
    return LAYOUT.codes[found.job.station], found.job.at_h, found.job.begun_h


def test_a_casing_waits_behind_the_last_station_that_it_is_done_with() -> None:
    assert at(casing("A", "receiving", "initial-inspection"))[0] == "building"
    assert at(casing("A", "receiving", "initial-inspection", "building"))[0] == "curing"
    assert at(casing("A", seen_h=-0.1))[0] == "cleaning"


def test_a_station_that_nobody_scans_is_passed_once_its_time_is_over() -> None:
    assert at(casing("A", "receiving", seen_h=-0.25)) == ("cleaning", -0.25, -0.25)
    station, since, _ = at(casing("A", "receiving", seen_h=-1.0))
    assert station == "initial-inspection"
    assert since == pytest.approx(-0.5)
    # A weekend does not count: seen on Friday evening ten minutes before the last shift ends.
    station, since, _ = at(casing("A", "receiving", seen_h=-58 - 1 / 6))
    assert station == "initial-inspection"
    assert since == pytest.approx(-2 + 1 / 3)


def test_what_waits_for_a_person_or_is_done_is_no_job() -> None:
    stages = ("on_hold", "rejected", "finished", "shipped")
    waiting = [casing(stage, "receiving", stage=stage) for stage in stages]
    assert whereabouts.placed(LAYOUT, PLANT, waiting, {}, {}) == []


def test_what_is_done_with_all_and_not_told_finished_is_at_the_last() -> None:
    assert at(casing("A", "paint"))[0] == "paint"
    assert at(casing("A", "shipping"))[0] == "paint"


def test_what_was_sent_back_is_where_it_was_sent() -> None:
    back = casing("A", "receiving", "initial-inspection", stage="repair", again_at="building",
                  next="building")  # fmt: skip
    assert at(back)[0] == "building"


def test_a_mark_told_behind_the_repair_leads_back_there() -> None:
    marked = casing("A", "receiving", "initial-inspection", "building", stage="repair",
                    next="repair")  # fmt: skip
    assert at(marked)[0] == "repair"


def test_a_casing_without_a_mark_passes_by_the_repair_once_somebody_has_looked() -> None:
    def skips(one: Inside) -> set[str]:
        (found,) = whereabouts.placed(LAYOUT, PLANT, [one], {}, {})
        return {LAYOUT.codes[i] for i in found.job.skip}

    assert skips(casing("A", "receiving", seen_h=-0.1)) == set()
    assert skips(casing("A", "receiving", "initial-inspection", "building")) == {"repair"}
    marked = casing("A", "initial-inspection", stage="repair", next="repair")
    assert skips(marked) == set()


def test_a_casing_with_a_mark_visits_the_repair_whatever_share_does() -> None:
    layout = laid_out.layout(PLANT, known(repair=Figures(0.5, passes=0.1, n=99)), MONDAY)

    def job(one: Inside) -> Job:
        (found,) = whereabouts.placed(layout, PLANT, [one], {}, {})
        return found.job

    marked = casing("A", "initial-inspection", stage="repair", next="repair")
    assert layout.codes[job(marked).station] == "repair"
    early = casing("A", "receiving", stage="repair", next="repair", seen_h=-0.1)
    assert {layout.codes[i] for i in job(early).visit} == {"repair"}
    assert job(casing("A", "receiving", seen_h=-0.1)).visit == frozenset()


def test_of_those_before_a_station_of_some_casings_as_many_go_there_as_the_share_says() -> None:
    plant = entered(*STOPS[:3], Stop("ply-test", optional=True, cycle_min=9), *STOPS[4:])
    layout = laid_out.layout(plant, known(ply_test=Figures(0.2, passes=0.3, n=99)), MONDAY)
    many = [casing(f"C{n}", "initial-inspection") for n in range(400)]
    found = whereabouts.placed(layout, plant, many, {}, {})
    there = sum(layout.codes[one.job.station] == "ply-test" for one in found)
    assert 90 < there < 150
    assert found == whereabouts.placed(layout, plant, many, {}, {})


def test_what_was_set_in_is_in_the_chamber_until_it_comes_out() -> None:
    one = casing("A", "receiving", "building", load="L7")
    assert at(one, L7=Load("L7", -1.5)) == ("curing", -1.5, -1.5)
    assert at(one, L7=Load("L7", None)) == ("curing", -1.0, None)
    # A load of which nobody has said anything is no load.
    assert at(one)[:2] == ("curing", -1.0)


def test_machines_are_at_work_on_what_came_first_since_the_last_left() -> None:
    queue = [casing(f"C{n}", "receiving", "initial-inspection", seen_h=-4.0 + n / 4)
             for n in range(4)]  # fmt: skip
    plant = entered(*STOPS[:3], *STOPS[4:])
    layout = laid_out.layout(plant, Known(), MONDAY)
    found = whereabouts.placed(layout, plant, queue, {}, {"building": (-0.1, -0.25, -9.0)})
    assert [one.casing.label for one in found] == ["C0", "C1", "C2", "C3"]
    assert {layout.codes[one.job.station] for one in found} == {"building"}
    assert [one.job.begun_h for one in found] == [-0.25, -0.1, None, None]


def test_nobody_has_worked_on_one_casing_for_longer_than_any_ever_takes() -> None:
    layout = laid_out.layout(PLANT, known(building=Figures(0.3, 0.5, n=9)), MONDAY)
    (found,) = whereabouts.placed(
        layout, PLANT, [casing("A", "initial-inspection", seen_h=-1.9)], {}, {"building": (-1.8,)}
    )
    assert (found.job.at_h, found.job.begun_h) == (-1.9, None)


def test_a_plant_that_scans_its_chamber_only_afterwards_says_when_a_load_must_be_out() -> None:
    plant = entered(*STOPS[:5], Stop("curing", scans=False), *STOPS[6:])
    layout = laid_out.layout(plant, Known(), MONDAY)
    inside = casing("A", "building", seen_h=-2.5)
    outside = casing("B", "building", seen_h=-3.5)
    places = {
        one.casing.label: layout.codes[one.job.station]
        for one in whereabouts.placed(layout, plant, [inside, outside], {}, {})
    }
    assert places == {"A": "curing", "B": "final-inspection"}


def test_what_was_not_seen_for_very_long_takes_nobodys_place() -> None:
    ghosts = [casing(f"G{n}", "receiving", seen_h=-24.0 * 90) for n in range(9)]
    real = casing("A", "receiving", seen_h=-24.0 * 3)
    found = whereabouts.placed(LAYOUT, PLANT, [*ghosts, real], {}, {}, 24.0 * 14)
    assert [one.casing.label for one in found] == ["A"]
