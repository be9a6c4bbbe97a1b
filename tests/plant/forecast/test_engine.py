"""The engine's corners: laws and their tails, casings begun before the origin, plants that stop,
chambers, shares, luck that is shared."""

import math
from datetime import UTC, datetime, time
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plant.dock.rules import Shift
from plant.forecast import hours
from plant.forecast.engine import draws, finishes, jobs, passages
from plant.forecast.engine.compiled import whole
from plant.forecast.hours import ALWAYS
from plant.forecast.shop import Chamber, Job, Law, Shop, Station
from tests.plant.forecast.shops import CALENDARS, shift

DAY = shift(8, 16)


def one(station: Station, *more: Station, open_: hours.Hours = ALWAYS) -> Shop:
    return Shop((station, *more), (open_,))


def times(law: Law, cv: float, job: Job, open_: hours.Hours = ALWAYS) -> list[float]:
    """Hours from the origin, 20,000 replications of one casing at a station of mean 2 h, sorted."""
    found = finishes(
        one(Station("s", 1, 2.0, cv, law), open_=open_), jobs([job]), replications=20_000, seed=5
    )
    return sorted(found[:, 0].tolist())


@settings(deadline=None)  # the first call compiles
@given(st.floats(1e-290, 1 - 1e-12))
def test_the_normal_quantile_inverts_the_error_function(p: float) -> None:
    back = 0.5 * math.erfc(-draws.normal(p) / math.sqrt(2))
    assert back == pytest.approx(p, rel=1e-12, abs=1e-300)


def test_uniform_numbers_are_spread_and_do_not_hang_together() -> None:
    begin = np.uint64(draws.stream(1, 2))
    u = np.array(
        [draws.uniform(begin, whole(j), whole(k), draws.FIRST, draws.WORK)
         for j in range(2_000) for k in range(8)]
    )  # fmt: skip
    counts = np.histogram(u, bins=64, range=(0, 1))[0]
    expected = u.size / 64
    assert ((counts - expected) ** 2 / expected).sum() < 120, "chi-squared, 63 degrees, p 1e-5"
    for apart in (1, 8):
        assert abs(np.corrcoef(u[:-apart], u[apart:])[0, 1]) < 4 / math.sqrt(u.size)
    assert len(set(u.tolist())) == u.size


@pytest.mark.parametrize(
    ("law", "cv", "deviation"),
    [("lognormal", 0.5, 1.0), ("exponential", 9.0, 2.0), ("fixed", 9.0, 0.0)],
)
def test_laws_have_their_mean_and_deviation(law: Law, cv: float, deviation: float) -> None:
    found = np.array(times(law, cv, Job(0, 0.0)))
    assert found.mean() == pytest.approx(2.0, rel=0.02)
    assert found.std() == pytest.approx(deviation, rel=0.04)


def test_an_exponential_time_does_not_remember_what_has_passed() -> None:
    fresh, begun = times("exponential", 1, Job(0, 0.0)), times("exponential", 1, Job(0, -9, -5))
    assert begun == pytest.approx(fresh, abs=1e-6)


def test_the_rest_of_a_lognormal_time_is_its_law_given_that_it_lasts() -> None:
    whole = [one - 3.0 for one in times("lognormal", 0.5, Job(0, 0.0)) if one > 3.0]
    rest = times("lognormal", 0.5, Job(0, -4.0, -3.0))
    for share in (0.1, 0.5, 0.9):
        assert np.quantile(rest, share) == pytest.approx(np.quantile(whole, share), rel=0.1)


def test_far_in_the_tail_there_is_still_a_rest() -> None:
    rest = times("lognormal", 0.5, Job(0, -9000.0, -8000.0))
    assert 0 < rest[0] <= rest[-1] < 8000


def test_a_fixed_time_has_what_is_left_of_it_and_one_overdue_is_done_at_once() -> None:
    assert times("fixed", 0, Job(0, -3.0, -0.5))[0] == 1.5
    assert times("fixed", 0, Job(0, -9.0, -7.0))[-1] < 1e-6


def test_only_worked_hours_have_passed_since_it_was_begun() -> None:
    """Begun at noon of the Friday before; the origin is Monday's midnight."""
    assert times("fixed", 0, Job(0, -70.0, -60.0), shift(11, 13))[0] == 12.0


def test_work_runs_over_a_night_in_which_clocks_change() -> None:
    zone = ZoneInfo("America/Chicago")
    origin = datetime(2027, 3, 13, 12, tzinfo=zone).astimezone(UTC)
    nights = hours.week([Shift(day, time(22), time(6)) for day in range(7)], [], zone, origin, 2)
    shop = one(Station("s", 1, 7.5, 0, "fixed"), open_=nights)
    found = finishes(shop, jobs([Job(0, 0.0)]), replications=1, seed=1)[0, 0]
    assert found == 10 + 23 + 0.5, "seven hours that night, and half of one in the next"


def test_nothing_to_do() -> None:
    shop = one(Station("s", 1, 1.0, 0.5))
    assert finishes(shop, jobs([]), replications=3, seed=1).shape == (3, 0)
    assert passages(shop, jobs([]), replications=3, seed=1).casing.size == 0


@pytest.mark.parametrize("by_events", [False, True], ids=["recursion", "events"])
def test_what_the_hours_do_not_reach_is_never_finished(by_events: bool) -> None:
    shop = one(Station("s", 1, 3.0, 0, "fixed"), open_=hours.of([(0, 8), (24, 25)]))
    some = jobs([Job(0, 0.0)] * 4)
    found = finishes(shop, some, replications=1, seed=1, by_events=by_events)[0]
    assert found.tolist() == [3.0, 6.0, 25.0, np.inf]
    shut = one(Station("s", 1, 3.0, 0, "fixed"), open_=hours.of([]))
    assert np.isinf(finishes(shut, some, replications=1, seed=1, by_events=by_events)).all()


def test_a_full_chamber_that_never_comes_is_never_started() -> None:
    cure = Station("c", 1, 0, 0, chamber=Chamber(4, 2.0, 4))
    found = finishes(one(cure), jobs([Job(0, 0.5 * i) for i in range(6)]), replications=1, seed=1)
    assert found[0].tolist() == [3.5] * 4 + [np.inf] * 2


def test_a_chamber_starts_full_or_when_the_first_has_waited_enough() -> None:
    cure = Station("c", 1, 0, 0, chamber=Chamber(4, 2.0, 4, 1.0))
    some = jobs([Job(0, at) for at in (0.0, 0.1, 0.2, 0.3, 0.9, 5.0)])
    found = finishes(one(cure), some, replications=1, seed=1)[0]
    assert found == pytest.approx([2.3, 2.3, 2.3, 2.3, 4.3, 8.0])


def test_a_chamber_at_fixed_hours_starts_only_then_and_only_while_open() -> None:
    cure = Station("c", 1, 0, 0, chamber=Chamber(4, 2.0, fixed_h=(7.0, 9.0, 15.0, 33.0)))
    some = jobs([Job(0, at) for at in (0.0, 9.0, 9.5, 15.5)])
    found = finishes(one(cure, open_=DAY), some, replications=1, seed=1)[0]
    assert found.tolist() == [11.0, 11.0, 17.0, 35.0], "at seven the plant is shut"


def test_of_chambers_that_differ_the_first_that_may_start_is_filled() -> None:
    cells = (Chamber(4, 2.0, 4, 9.0), Chamber(2, 1.0, 2, 9.0))
    cure = Station("c", 2, 0, 0, chamber=cells)
    found = finishes(one(cure), jobs([Job(0, -1.0)] * 6), replications=1, seed=1)[0]
    assert found.tolist() == [2.0] * 4 + [1.0] * 2


def test_a_load_in_its_chamber_comes_out_when_its_cycle_ends() -> None:
    cure = Station("c", 2, 0, 0, chamber=Chamber(4, 3.0))
    some = [Job(0, -5.0, -1.0), Job(0, -5.0, -1.0), Job(0, -9.0, -8.0), Job(0, -0.5)]
    found = finishes(one(cure), jobs(some), replications=1, seed=1)[0]
    assert found.tolist() == [2.0, 2.0, 0.0, 3.0], "the one overdue made room at once"


def test_more_in_work_than_there_is_room_for_wait_in_front() -> None:
    press = Station("s", 1, 1.0, 0, "fixed")
    some = [Job(0, -3.0), Job(0, -1.0, -0.5), Job(0, -2.0, -0.75)]
    found = finishes(one(press), jobs(some), replications=1, seed=1)[0]
    assert found.tolist() == [1.25, 2.25, 0.25]


def test_shares_of_rejected_of_passing_and_of_coming() -> None:
    shop = one(
        Station("a", 1, 0.1, 0.5, reject=0.2),
        Station("b", 1, 50.0, 0, "fixed", passes=0.25),
    )
    found = finishes(shop, jobs([Job(0, 0.0, chance=0.5)]), replications=20_000, seed=6)
    done = np.isfinite(found)
    assert done.mean() == pytest.approx(0.4, abs=0.015)
    assert (found[done] > 50).mean() == pytest.approx(0.25, abs=0.015)


def test_repair_only_skips_what_it_does_not_need() -> None:
    shop = one(Station("a", 1, 1.0, 0, "fixed"), Station("b", 1, 9.0, 0, "fixed"))
    found = finishes(shop, jobs([Job(0, 0.0, skip=frozenset({1}))]), replications=1, seed=1)
    assert found[0, 0] == 1.0


@pytest.mark.parametrize("rework", [0.0, 1e-9], ids=["in order", "by events"])
def test_a_casing_that_is_marked_visits_what_few_others_do(rework: float) -> None:
    few = Station("b", 1, 9.0, 0, "fixed", passes=0.2)
    last = Station("c", 1, 1.0, 0, "fixed", rework=rework, rework_to=0)
    shop = one(Station("a", 1, 1.0, 0, "fixed"), few, last)
    marked = Job(0, 0.0, visit=frozenset({1}))
    found = finishes(shop, jobs([marked]), replications=500, seed=1)
    assert (found == 11.0).all()
    found = finishes(shop, jobs([Job(0, 0.0)]), replications=500, seed=1)
    assert (found == 11.0).mean() == pytest.approx(0.2, abs=0.06)


@pytest.mark.parametrize(("limit", "share"), [(0, 0.5), (1, 0.75), (None, 1.0)])
def test_sent_back_too_often_is_rejected(limit: int | None, share: float) -> None:
    shop = Shop(
        (Station("a", 1, 1.0, 0, "fixed", rework=0.5, rework_to=0),), (ALWAYS,), rework_limit=limit
    )
    found = finishes(shop, jobs([Job(0, 0.0)]), replications=20_000, seed=7)
    assert np.isfinite(found).mean() == pytest.approx(share, abs=0.012)


def test_rush_goes_first_but_interrupts_nobody() -> None:
    press = Station("s", 1, 1.0, 0, "fixed")
    some = [Job(0, -2.0), Job(0, -1.0), Job(0, 0.5, priority=1)]
    found = finishes(one(press), jobs(some), replications=1, seed=1)[0]
    assert found.tolist() == [1.0, 3.0, 2.0]


def test_overnight_the_one_in_a_rush_is_taken_first() -> None:
    press = Station("s", 1, 1.0, 0, "fixed")
    some = [Job(0, 20.0), Job(0, 22.0, priority=1)]
    found = finishes(one(press, open_=DAY), jobs(some), replications=1, seed=1)[0]
    assert found.tolist() == [24 + 10.0, 24 + 9.0]


def test_breakdowns_take_their_share_of_the_worked_hours() -> None:
    """Up 9 h, down 1 h in the mean: work of 1,000 h takes some 1,111."""
    press = Station("s", 1, 1000.0, 0, "fixed", breakdown=(9.0, 1.0))
    found = finishes(one(press), jobs([Job(0, 0.0)]), replications=400, seed=8)
    assert found.mean() == pytest.approx(1000 / 0.9, rel=0.01)


@pytest.mark.parametrize("by_events", [False, True], ids=["recursion", "events"])
def test_the_same_seed_is_the_same_luck_however_it_is_shared_out(by_events: bool) -> None:
    shop = Shop((Station("a", 2, 1.0, 0.5), Station("b", 1, 0.5, 1.0, hours=1)), CALENDARS)
    some = [Job(0, 0.5 * i) for i in range(30)]

    def run(replications: int, seed: int, threads: int, more: list[Job]) -> np.ndarray:
        return finishes(
            shop, jobs(some + more), replications=replications, seed=seed, threads=threads,
            by_events=by_events,
        )[:, :30]  # fmt: skip

    alone = run(64, 9, 1, [])
    assert np.array_equal(alone, run(64, 9, 3, []))
    assert np.array_equal(alone[:20], run(20, 9, 1, []))
    assert np.array_equal(alone, run(64, 9, 2, [Job(0, 100.0)])), "who comes later changes nothing"
    assert not np.array_equal(alone, run(64, 10, 1, []))


@pytest.mark.parametrize(
    ("made", "said"),
    [
        (lambda: Station("buff", 0, 1.0, 0.5), r"Station buff: machines is 0; allowed: 1 or more"),
        (lambda: Station("buff", 1, 0.0, 0.5), "mean_h is 0.0; allowed: more than 0"),
        (lambda: Station("buff", 1, 1.0, 0.5, reject=0.7, rework=0.5), "together is 1.2"),
        (lambda: Chamber(4, 2.0, 5), "least is 5; allowed: 1 to 4"),
        (lambda: Shop((Station("a", 1, 1.0, 0.5, hours=1),), (ALWAYS,)), "hours is 1"),
        (
            lambda: Shop((Station("a", 1, 1.0, 0.5, rework=0.1, rework_to=1),), (ALWAYS,)),
            "rework_to is 1; allowed: 0 to 0",
        ),
        (lambda: Job(0, 1.0, 0.5), "begun_h is 0.5"),
        (
            lambda: finishes(one(Station("a", 1, 1, 1)), jobs([Job(1, 0)]), replications=1, seed=1),
            "station is 1; allowed: 0 to 0",
        ),
    ],
    ids=["machines", "mean", "shares", "least", "hours", "rework", "begun", "station"],
)
def test_what_cannot_be_is_named(made: object, said: str) -> None:
    assert callable(made)
    with pytest.raises(ValueError, match=said):
        made()
