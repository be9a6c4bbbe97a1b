"""What is still to come to a plant."""

from collections import Counter
from datetime import UTC, date, datetime, time, timedelta

from hypothesis import given
from hypothesis import strategies as st

from plant.forecast import coming, laid_out
from plant.forecast.laid_out import Known
from tests.plant.forecast.routes import MONDAY, ZONE, entered

PLANT = entered()
LAYOUT = laid_out.layout(PLANT, Known(), MONDAY)
FIRST = date(2026, 4, 20)
USUAL = coming.Usual(dict.fromkeys(range(5), 6.0), [time(9), time(10), time(14)], 0.0)


def hours(day: int, clock: time) -> float:
    at = datetime.combine(FIRST + timedelta(days=day), clock, tzinfo=ZONE)
    return (at - MONDAY).total_seconds() / 3600


def test_as_many_come_on_a_weekday_as_lately_did() -> None:
    came = [MONDAY - timedelta(days=7 * week) for week in range(1, 5) for _ in range(3)]
    came += [MONDAY - timedelta(days=6)]
    usual = coming.usual(came, 0.25, ZONE)
    assert usual.by_weekday == {0: 3.0, 1: 0.25}
    jobs, groups = coming.jobs(LAYOUT, PLANT, [], usual, origin=MONDAY - timedelta(hours=3), days=8)
    assert groups == []
    chances = Counter(round(job.chance, 2) for job in jobs)
    assert chances == {1.0: 6, 0.25: 1}


def test_known_ones_are_some_of_those_expected() -> None:
    known = [coming.Known(MONDAY + timedelta(days=1), "retread") for _ in range(4)]
    jobs, _ = coming.jobs(LAYOUT, PLANT, known, USUAL, origin=MONDAY, days=2)
    tuesday = [job for job in jobs if job.at_h > hours(1, time())]
    assert len(tuesday) == 6
    assert [job.at_h for job in tuesday].count(24.0) == 4


def test_what_should_have_come_already_comes_now() -> None:
    late = [coming.Known(MONDAY - timedelta(days=3), "repair")]
    jobs, _ = coming.jobs(LAYOUT, PLANT, late, coming.Usual(), origin=MONDAY, days=1)
    (job,) = jobs
    assert job.at_h == 0.0
    assert {LAYOUT.codes[i] for i in job.skip} == {"building", "curing"}


def test_of_today_those_come_whose_time_is_not_over() -> None:
    noon = MONDAY + timedelta(hours=4)
    jobs, _ = coming.jobs(LAYOUT, PLANT, [], USUAL, origin=noon, days=1)
    assert [job.at_h for job in jobs] == [2.0, 2.0]


def test_a_casing_that_is_asked_about_is_one_of_those_expected() -> None:
    asked = {
        FIRST + timedelta(days=1): [("retread", 2)],
        FIRST + timedelta(days=5): [("repair", 3)],
    }
    jobs, groups = coming.jobs(LAYOUT, PLANT, [], USUAL, origin=MONDAY, days=6, asked=asked)
    assert [(g.work, g.on, len(g.jobs)) for g in groups] == [
        ("retread", FIRST + timedelta(days=1), 2),
        ("repair", FIRST + timedelta(days=5), 3),
    ]
    assert {jobs[i].at_h for i in groups[0].jobs} == {hours(1, time(14))}
    by_day = Counter((MONDAY + timedelta(hours=job.at_h)).astimezone(ZONE).date() for job in jobs)
    assert by_day[FIRST + timedelta(days=1)] == 6
    # On a Saturday nobody is expected, and who is asked about comes all the same.
    assert by_day[FIRST + timedelta(days=5)] == 3


def test_repair_only_is_spread_over_what_comes() -> None:
    usual = coming.Usual({0: 10.0}, [time(9)], 0.3)
    jobs, _ = coming.jobs(LAYOUT, PLANT, [], usual, origin=MONDAY, days=1)
    assert sum(bool(job.skip) for job in jobs) == 3


@given(
    st.dictionaries(st.integers(0, 6), st.floats(0, 40)),
    st.lists(st.tuples(st.integers(-100, 400), st.sampled_from(["", "retread", "repair"]))),
    st.integers(0, 167),
)
def test_jobs_come_in_order_within_the_days_and_never_before_now(
    by_weekday: dict[int, float], known: list[tuple[int, str]], later_h: int
) -> None:
    origin = datetime(2026, 10, 30, tzinfo=UTC) + timedelta(hours=later_h)  # clocks change in it
    told = [coming.Known(origin + timedelta(hours=h), work) for h, work in known]
    usual = coming.Usual(by_weekday, [time(0), time(7, 30), time(23, 59)], 0.5)
    layout = laid_out.layout(PLANT, Known(), origin)
    asked = {origin.astimezone(ZONE).date(): [("retread", 5)]}
    jobs, groups = coming.jobs(layout, PLANT, told, usual, origin=origin, days=7, asked=asked)
    assert [job.at_h for job in jobs] == sorted(job.at_h for job in jobs)
    assert all(0 <= job.at_h <= 7 * 24 + 1 for job in jobs)
    assert len(groups[0].jobs) == 5
