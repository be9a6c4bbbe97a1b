"""What would be if, computed: nothing supposed changes nothing, and each thing that may be supposed
moves what it should, and only that way."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime, time, timedelta
from uuid import UUID

import numpy as np

from plant.forecast import coming, making, supposing
from plant.forecast.calibration import NOTHING
from plant.forecast.laid_out import Known, Oven
from plant.forecast.supposing import Course, Supposed
from tests.plant.forecast.routes import MONDAY, ZONE, casing, entered
from tests.plant.forecast.test_coming import USUAL

TODAY = MONDAY.astimezone(ZONE).date()
TWO = (Oven("A", 10, 120, max_wait_min=60), Oven("B", 10, 120, max_wait_min=60))
COMES = UUID(int=99)


def told(many: int = 30, ovens: Sequence[Oven] = TWO) -> making.Told:
    """Casings that wait in front of building, and one that a truck brings tomorrow."""
    inside = [
        casing(f"L{n}", "receiving", "initial-inspection", order=UUID(int=n + 1))
        for n in range(many)
    ]
    tomorrow = coming.Known(MONDAY + timedelta(days=1), "retread", COMES)
    plant = entered(ovens=tuple(ovens))
    return making.Told(MONDAY, plant, Known(), inside, {}, {}, [tomorrow], USUAL, NOTHING)


def mean(course: Course) -> float:
    """Of the hours in which orders are finished."""
    return float(np.mean([one.mean() for one in course.orders.values()]))


def late(course: Course) -> float:
    """Of the hours in which one that arrives in the next days is finished, in worked order."""
    return float(np.mean([one.mean() for one in course.arrive.values()]))


def test_nothing_supposed_is_the_plant_as_it_is() -> None:
    one, other = (supposing.course(told(), Supposed(), seed=3) for _ in range(2))
    assert set(one.orders) == {*(UUID(int=n + 1) for n in range(30)), COMES}
    for uid, sample in one.orders.items():
        assert np.array_equal(sample, other.orders[uid])
    made = making.make(told(), seed=3)
    for i, placed in enumerate(made.placed):
        assert placed.casing.order is not None
        ours = one.orders[placed.casing.order]
        assert np.median(ours) == np.median(made.samples[:, i]), "the forecast itself says so too"


def test_more_casings_delay_what_arrives_behind_them_and_hardly_what_is_there() -> None:
    before = supposing.course(told(), Supposed(), seed=3)
    after = supposing.course(told(), Supposed(more=60, on=TODAY), seed=3)
    tomorrow = TODAY + timedelta(days=1)
    assert after.arrive[tomorrow].mean() > before.arrive[tomorrow].mean() + 1
    assert after.orders[COMES].mean() > before.orders[COMES].mean() + 1
    assert sum(after.waits.values()) > sum(before.waits.values()) + 5
    inside = [uid for uid in before.orders if uid != COMES]
    assert all(after.orders[uid].mean() < before.orders[uid].mean() + 1 for uid in inside)


def test_a_chamber_less_is_later_and_a_second_shift_sooner() -> None:
    one_shift = replace(
        told().entered, shifts=tuple(s._replace(ends=time(14)) for s in told().entered.shifts or ())
    )
    plant = replace(told(120), entered=one_shift)
    as_it_is = supposing.course(plant, Supposed(), seed=3)
    less = supposing.course(plant, Supposed(without="B"), seed=3)
    shift = supposing.course(plant, Supposed(shift=(time(14), time(22))), seed=3)
    assert mean(less) > mean(as_it_is) + 1
    assert mean(shift) < mean(as_it_is) - 1
    assert late(shift) < late(as_it_is)
    assert less.waits["curing"] > as_it_is.waits["curing"] + 1
    assert supposing.busiest(less) == "building"


def test_a_retread_is_asked_about_on_each_day_on_which_the_plant_works() -> None:
    course = supposing.course(told(), Supposed(), seed=3)
    assert [day.weekday() for day in course.arrive] == [0, 1, 2, 3, 4] * 2
    for day, sample in course.arrive.items():
        begins = datetime.combine(day, time(6), tzinfo=ZONE)
        assert sample.min() > (begins.astimezone(UTC) - MONDAY).total_seconds() / 3600
