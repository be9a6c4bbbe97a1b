"""Calendars, trucks and days as Hypothesis draws them, and what the cast's plant publishes."""

from collections.abc import Sequence
from datetime import date, timedelta

from hypothesis import strategies as st

from pickups.kernel import clock
from pickups.promises import services as promises
from pickups.promises.rules import STORE, Calendar, Plant, Trucks
from tests.world import World

START = date(2026, 4, 20)  # a Monday
WEEK = list(range(7))
YARD, OTHER = "yard", "other"
PLACES = [STORE, YARD, OTHER]

weekdays = st.frozensets(st.integers(0, 6))
starts = st.integers(0, 40).map(lambda days: START + timedelta(days=days))
days = st.integers(0, 60).map(lambda days: START + timedelta(days=days))
# Few, as plants have them, and so many that they meet every truck.
holidays = st.frozensets(days, max_size=5) | st.frozensets(days, min_size=20)
calendars = st.builds(Calendar, weekdays, holidays)
trucks = st.builds(
    Trucks, weekdays, weekdays, st.dictionaries(st.sampled_from([YARD, OTHER]), weekdays)
)
places = st.sampled_from(PLACES)
working = st.integers(1, 20) | st.integers(1, 130)
works = st.dictionaries(st.sampled_from(["retread", "repair"]), working)
plants = st.builds(Plant, works, calendars, trucks)


def publish(
    world: World,
    *,
    days: int | None = 5,
    to_plant: Sequence[int] = (0, 2, 4),
    to_yard: Sequence[int] = (1, 3),
    weekdays: Sequence[int] = (0, 1, 2, 3, 4),
    holidays: Sequence[date] = (),
) -> None:
    """The cast's plant and store publish: by default trucks on Monday, Wednesday, Friday, and the
    yard's run on Tuesday and Thursday. Without days there is no standard time."""
    at = clock.now()
    times = {} if days is None else {"retread": days, "repair": 1}
    promises.publish_standard_times(
        plant=world.plant.uid, times=times, weekdays=weekdays, holidays=holidays, at=at
    )
    timetable(world, to_plant=to_plant, to_yard=to_yard)


def timetable(
    world: World, *, to_plant: Sequence[int] = (0, 2, 4), to_yard: Sequence[int] = (1, 3)
) -> None:
    """The first store's regular trucks."""
    plant = world.plant.uid
    rows = [
        (plant, "to_plant", list(to_plant)),
        (plant, "from_plant", list(to_plant)),
        (world.yard.uid, "to_yard", list(to_yard)),
    ]
    promises.publish_timetable(site=world.store.uid, rows=rows, at=clock.now())
