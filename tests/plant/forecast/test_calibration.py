"""Calibration: what is promised at a level holds at it, whatever the simulation is worth."""

import json
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plant.forecast import calibration
from plant.forecast.calibration import LEAST, LEVELS, Scored

SOME = st.floats(0, 400, allow_nan=False)


def drawn(seed: int, n: int, courses: int = 200) -> np.ndarray:
    """Samples of n casings, some never finished in some courses."""
    luck = np.random.default_rng(seed)
    samples = luck.gamma(3, 4, (courses, n)) + luck.uniform(0, 20, n)
    samples[luck.random(samples.shape) < 0.1] = np.inf
    return samples


def told(seed: int, n: int, truth: float = 1.0, start: float = 0.0) -> list[Scored]:
    """Predictions of one law, of which the truth is `truth` times as long; one each worked hour."""
    luck = np.random.default_rng(seed)
    grids = calibration.grid(drawn(seed, n))
    return [
        Scored(start + i, grids[i], float(truth * (luck.gamma(3, 4) + luck.uniform(0, 20))))
        for i in range(n)
    ]


@given(st.lists(SOME, min_size=50, max_size=50), st.lists(SOME, min_size=1, max_size=20))
def test_a_score_and_the_hours_at_it_are_each_others_way_back(
    ends: list[float], hours: list[float]
) -> None:
    """Finished within the hours at a score exactly where one's own score is no larger."""
    quantiles = np.sort(np.array(ends))[None, :].repeat(len(hours), axis=0)
    took = np.array(hours)
    scores = calibration.score(quantiles, took)
    back = calibration.hours_at(quantiles[:1], scores)[0]
    assert back == pytest.approx(np.maximum(took, 0), abs=1e-6)
    for level in (-0.3, 0.005, 0.01, 0.42, 0.9, 0.99, 1.3):
        within = took <= calibration.hours_at(quantiles[:1], np.array([level]))[0, 0] + 1e-9
        assert (scores <= level + 1e-9).tolist() <= within.tolist()


def test_where_many_courses_end_together_the_score_is_the_lowest_that_reaches_it() -> None:
    """A load comes out: a quarter of the courses end in one minute."""
    ends = np.concatenate((np.arange(1.0, 21), np.full(15, 20.0), np.arange(21.0, 36)))[None, :]
    assert calibration.score(ends, np.array([20.0]))[0] == pytest.approx(LEVELS[19])
    assert calibration.hours_at(ends, np.array(LEVELS[19:35]))[0].tolist() == [20.0] * 16


@given(st.integers(0, 10_000), st.floats(0.3, 3.0))
@settings(max_examples=30, deadline=None)
def test_corrected_samples_keep_their_order_in_every_casing(seed: int, truth: float) -> None:
    samples = drawn(seed, 5)
    state = calibration.state(told(seed, 300, truth), 5_000.0)
    after = calibration.corrected(samples, state)
    assert np.array_equal(np.isinf(after), np.isinf(samples))
    for before, now in zip(samples.T, after.T, strict=True):
        order = np.argsort(before, kind="stable")
        finite = now[order][np.isfinite(now[order])]
        assert (np.diff(finite) >= 0).all()
        assert (finite >= 0).all()


@pytest.mark.parametrize("asked", [0.5, 0.9, 0.99])
@pytest.mark.parametrize("n", [19, 199])
def test_the_share_kept_is_exact_for_a_finite_past(asked: float, n: int) -> None:
    """Split conformal on exchangeable scores: kept with probability ceil((n + 1) p) / (n + 1), or
    always where that is beyond n; the binomial of 20,000 trials is all that may lie between."""
    luck = np.random.default_rng(n)
    trials, rank = 20_000, math.ceil((n + 1) * asked - 1e-9)
    past, new = luck.exponential(size=(trials, n)), luck.exponential(size=trials)
    _, share = calibration.split(past[0])
    found = int(np.searchsorted(share, asked - 1e-12))
    limits = [math.inf if found == n else calibration.split(row)[0][found] for row in past]
    kept = int((new <= np.array(limits)).sum())
    exact = min(1.0, rank / (n + 1))
    sigma = math.sqrt(exact * (1 - exact) / trials)
    assert abs(kept / trials - exact) <= 4 * sigma + 1e-12


def test_with_all_finished_and_alike_the_limit_is_split_conformal() -> None:
    scores = np.random.default_rng(3).normal(size=500)
    ordered, share = calibration.split(scores)
    again, limit = calibration.limit(scores, np.full(500, fill_value=True), np.ones(500))
    assert np.array_equal(ordered, again)
    assert share == pytest.approx(limit)


def test_with_some_only_known_to_be_larger_it_is_the_product_limit() -> None:
    """Weeks of remission under 6-mercaptopurine, + still going on (Freireich and others, Blood 21,
    1963), and the published estimates; from memory. Large weights leave out the new case."""
    ends = [6, 6, 6, 7, 10, 13, 16, 22, 23]
    going = [6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35]
    weeks = np.array([*ends, *going], dtype=float)
    ended = np.arange(len(weeks)) < len(ends)
    ordered, share = calibration.limit(weeks, ended, np.full(len(weeks), 1e9))
    survive = {week: 1 - last for week, last in zip(ordered, share, strict=True)}
    published = {6: 0.857, 7: 0.807, 10: 0.753, 13: 0.690, 16: 0.627, 22: 0.538, 23: 0.448}
    assert {week: round(survive[week], 3) for week in published} == published


@pytest.mark.parametrize("truth", [0.5, 1.0, 2.0])
def test_whatever_the_simulation_is_worth_the_share_is_the_one_asked(truth: float) -> None:
    """A simulation that is twice too fast or too slow, exchangeable days: each level holds."""
    state = calibration.state(told(1, 1500, truth), 10_000.0, gain=0.0, half=1e9)
    later = told(2, 4000, truth)
    quantiles = np.array([one.grid for one in later])
    took = np.array([one.took_h for one in later])
    for asked in (0.5, 0.8, 0.9, 0.95, 0.99):
        kept = (took <= calibration.read_at(quantiles, state, np.array([asked]))[:, 0]).mean()
        # 1,500 scores fix a share by sqrt(p (1 - p) / 1500); so do 4,000 trials.
        sigma = math.sqrt(asked * (1 - asked) * (1 / 1500 + 1 / 4000))
        assert abs(kept - asked) < 4 * sigma


def test_the_kth_smallest_sample_is_the_calibrated_quantile_of_its_rank() -> None:
    scored = told(5, 1000, 1.7)
    state = calibration.state(scored, 10_000.0)
    samples = drawn(9, 3)
    after = np.sort(calibration.corrected(samples, state), axis=0)
    for column in range(3):
        finite = int(np.isfinite(samples[:, column]).sum())
        for rank in (1, finite // 2, math.ceil(0.9 * finite), finite - 1):
            level = np.array([rank / finite])
            meant = calibration.read_at(calibration.grid(samples[:, [column]]), state, level)[0, 0]
            assert after[rank - 1, column] == pytest.approx(meant)


def followed(*, gain: float, censored: bool) -> list[float]:
    """Shares kept at 90 % in the weeks after all work takes twice as long, by what is known then.

    A hundred predictions a week of 80 worked hours; after the shift casings take about 36 hours.
    """
    before = [s._replace(asked_h=0.8 * s.asked_h) for s in told(11, 1500)]
    after = [s._replace(asked_h=1200 + 0.8 * s.asked_h) for s in told(12, 1000, 2.0)]
    shares = []
    for week in range(10):
        now = 1200 + 80.0 * week
        known = [s for s in [*before, *after] if s.asked_h < now]
        if not censored:
            known = [s for s in known if s.asked_h + s.took_h <= now]
        state = calibration.state(known, now, gain=gain)
        asked = [s for s in after if now <= s.asked_h < now + 80]
        grids = np.array([s.grid for s in asked])
        limits = calibration.read_at(grids, state, np.array([0.9]))[:, 0]
        shares.append(float((np.array([s.took_h for s in asked]) <= limits).mean()))
    return shares


def test_after_a_shift_the_share_comes_back() -> None:
    shares = followed(gain=calibration.GAIN, censored=True)
    assert shares[0] < 0.75
    assert np.mean(shares[5:]) > 0.85


def test_what_moves_the_level_and_what_is_still_inside_both_help() -> None:
    best = np.mean(followed(gain=calibration.GAIN, censored=True)[1:5])
    assert best > np.mean(followed(gain=0.0, censored=True)[1:5])
    assert best > np.mean(followed(gain=calibration.GAIN, censored=False)[1:5])


def test_casings_still_inside_count_as_taking_longer() -> None:
    """A chamber stands still: none of the last hundred comes out, and the promise gets longer."""
    past = told(21, 400)
    now = 400 + 60.0
    waiting = [s._replace(asked_h=400.0, took_h=math.inf) for s in told(22, 100)]
    sample = drawn(23, 1)
    before = calibration.corrected(sample, calibration.state(past, now))
    after = calibration.corrected(sample, calibration.state([*past, *waiting], now))
    assert np.quantile(after[np.isfinite(after)], 0.9) > 1.2 * np.quantile(
        before[np.isfinite(before)], 0.9
    )


@pytest.mark.parametrize("n", [0, 1, LEAST - 1])
def test_with_too_few_finished_nothing_is_changed_and_that_is_said(n: int) -> None:
    state = calibration.state(told(31, n), 10_000.0)
    samples = drawn(32, 4)
    assert calibration.corrected(samples, state) is samples
    assert not state.enough
    assert state.says().startswith(f"Not corrected: {n} finished casings")
    assert calibration.state(told(31, LEAST), 10_000.0).enough


def test_each_kind_is_corrected_by_its_own() -> None:
    arrivals = told(41, 300, 2.0)
    inside = [s._replace(kind="inside") for s in told(42, 50)]
    state = calibration.state([*arrivals, *inside], 10_000.0)
    samples = drawn(43, 2)
    assert calibration.corrected(samples, state, "inside") is samples
    assert not np.array_equal(calibration.corrected(samples, state, "arrival"), samples)
    assert "arrival: corrected by 300 finished casings, 0 still inside" in state.says()


def test_a_state_is_kept_as_json() -> None:
    state = calibration.state(told(51, 250, 1.3), 200.0)
    kept = calibration.State.of(json.loads(json.dumps(state.plain())))
    assert kept == state
    assert "still inside" in kept.says()


def test_the_order_of_what_is_told_does_not_matter() -> None:
    scored = told(61, 300, 1.3)
    assert calibration.state(scored, 200.0) == calibration.state(scored[::-1], 200.0)


def test_a_grid_is_of_the_finished_courses() -> None:
    samples = np.array([[1.0, np.inf], [np.inf, np.inf], [3.0, np.inf], [2.0, np.inf]])
    found = calibration.grid(samples)
    assert found.shape == (2, len(LEVELS))
    assert found[0, 0] == 1.0
    assert found[0, LEVELS.index(0.51)] == 2.0
    assert found[0, -1] == 3.0
    assert np.isinf(found[1]).all()


def test_a_casing_that_no_course_finishes_stays_so() -> None:
    state = calibration.state(told(71, 200), 10_000.0)
    samples = drawn(72, 2)
    samples[:, 1] = np.inf
    after = calibration.corrected(samples, state)
    assert np.isinf(after[:, 1]).all()
    assert np.isfinite(after[:, 0]).any()
