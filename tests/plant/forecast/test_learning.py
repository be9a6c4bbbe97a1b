"""Learning: what scans at the end of work say of the work, with waiting told apart from it."""

import random
from itertools import pairwise

import numpy as np
import pytest

from plant.forecast import hours, learning
from plant.forecast.learning import Cured, Entered, LearnedStation, Seen

ROUTE = (
    Entered("receiving", 1, None, scans=True),
    Entered("buffing", 2, 0.5, scans=True),
    Entered("skiving", 1, None, scans=False),
    Entered("building", 1, 0.3, scans=True),
)
NOW = 20 * 168.0
OPEN = hours.of([(d * 24 + 6 - NOW, d * 24 + 22 - NOW) for d in range(200) if d % 7 < 5])


def worked_through(
    seed: int = 1,
    *,
    n: int = 1200,
    gap: float = 0.3,
    buff: float = 0.4,
    delay: float = 0.6,
    build: float = 0.25,
    slower_from: float = 1e9,
    slower: float = 1.0,
) -> list[Seen]:
    """A plant of two buffers, a way of `delay` hours that nobody scans and one builder, first come
    first served, in worked hours; casings come in lumps of ten."""
    luck = random.Random(seed)
    at, found = 0.0, []
    buffers, builder = [0.0, 0.0], 0.0
    ways = []
    for casing in range(n):
        if casing % 10 == 0:
            at += luck.expovariate(1 / (10 * gap))
        came = at + casing % 10 * 0.01
        found.append(("receiving", casing, came))
        start = max(came, min(buffers))
        done = start + luck.gammavariate(4, buff / 4)
        buffers[buffers.index(min(buffers))] = done
        found.append(("buffing", casing, done))
        ways.append((done + luck.uniform(0.5, 1.5) * delay, casing))
    for there, casing in sorted(ways):
        factor = slower if there > slower_from else 1.0
        builder = max(there, builder) + luck.gammavariate(4, build / 4) * factor
        found.append(("building", casing, builder))
    end = max(at for _, _, at in found)
    first = hours.worked(OPEN, 0.0) - end - 0.01
    return [Seen(casing, code, hours.at_worked(OPEN, first + at)) for code, casing, at in found]


def learnt(seen: list[Seen], route: tuple[Entered, ...] = ROUTE) -> dict[str, LearnedStation]:
    return learning.learned(seen, (), route, OPEN)


@pytest.mark.parametrize("seed", [1, 2])
@pytest.mark.parametrize("gap", [0.27, 0.35, 0.6])
def test_work_is_told_apart_from_waiting(seed: int, gap: float) -> None:
    """Near its capacity, busy by half, mostly idle: the same hours of work are found."""
    found = learnt(worked_through(seed, gap=gap))
    assert found["buffing"].mean_h == pytest.approx(0.4, rel=0.1)
    assert found["building"].mean_h == pytest.approx(0.25, rel=0.12)
    if gap > 0.3:  # Where somebody waits all day, nobody's way is undisturbed.
        assert found["skiving"].mean_h == pytest.approx(0.6, rel=0.35)
    assert found["skiving"].machines == learning.MANY


def test_nights_and_weekends_are_no_work() -> None:
    seen = worked_through(gap=0.27)
    spans = [b.at_h - a.at_h for a, b in pairwise(sorted(seen, key=lambda s: s.at_h))]
    assert max(spans) > 7
    assert learnt(seen)["building"].mean_h < 0.3


def test_with_nothing_seen_what_was_entered_stands() -> None:
    found = learnt([])
    assert found == {
        "buffing": LearnedStation("buffing", 0.5, learning.SPREAD),
        "building": LearnedStation("building", 0.3, learning.SPREAD),
    }


def test_a_figure_moves_from_what_was_entered_to_what_is_seen() -> None:
    seen = worked_through(gap=0.27)
    weights, means = [], []
    for few in (12, 40, 150, 1200):
        last = set(range(1200 - few, 1200))
        one = learnt([s for s in seen if s.casing in last])["building"]
        weights.append(one.weight)
        means.append(abs(one.mean_h - 0.25))
    assert weights == sorted(weights)
    assert weights[0] < 0.5
    assert weights[-1] > 0.9
    assert means[-1] < means[0]


def test_nothing_entered_and_little_seen_is_no_figure() -> None:
    bare = tuple(one._replace(mean_h=None) for one in ROUTE)
    seen = worked_through()
    few = {s.casing for s in seen[-3:]}
    assert "building" not in learnt([s for s in seen if s.casing in few], bare)
    assert learnt(seen, bare)["building"].weight == 1.0


def test_missing_scans_change_little() -> None:
    """One scan in four is missing at the buffing: who has none counts as worked there as well."""
    luck = random.Random(5)
    seen = worked_through(gap=0.3)
    some = [s for s in seen if s.code != "buffing" or luck.random() > 0.25]
    for code in ("buffing", "building"):
        assert learnt(some)[code].mean_h == pytest.approx(learnt(seen)[code].mean_h, rel=0.1)


def test_slower_work_is_noticed_and_followed() -> None:
    steady = learnt(worked_through(3, n=1100, gap=0.27))["building"]
    assert not steady.drift
    slower = learnt(worked_through(3, n=1100, gap=0.27, slower_from=240.0, slower=1.5))["building"]
    assert slower.drift
    assert slower.mean_h > 1.2 * steady.mean_h


def test_a_steady_plant_is_rarely_said_to_drift() -> None:
    said = [
        one.drift
        for seed in range(10)
        for code, one in learnt(worked_through(seed, gap=0.27)).items()
        if code in ("buffing", "building")
    ]
    assert sum(said) <= 0.1 * len(said)


def test_shares_are_counted_and_few_are_held_small() -> None:
    seen = worked_through(n=1000)
    bad = set(range(0, 1000, 10))
    told = [s._replace(outcome="rejected") if s.code == "buffing" and s.casing in bad else s
            for s in seen if not (s.code == "building" and s.casing in bad)]  # fmt: skip
    assert learnt(told)["buffing"].reject == pytest.approx(0.1, abs=0.01)
    first = [s for s in told if isinstance(s.casing, int) and s.casing < 10]
    assert learnt(first)["buffing"].reject < 0.05


def test_an_optional_station_has_the_share_that_goes_there() -> None:
    route = (
        *ROUTE[:2],
        Entered("repair", 1, 0.5, scans=True, optional=True),
        *ROUTE[2:],
    )
    seen = worked_through()
    mended = [
        Seen(s.casing, "repair", s.at_h + 0.05)
        for s in seen
        if s.code == "buffing" and isinstance(s.casing, int) and s.casing % 4 == 0
    ]
    found = learnt([*seen, *mended], route)
    assert found["repair"].passes == pytest.approx(0.25, abs=0.01)
    assert found["buffing"].passes == 1.0


def test_where_casings_are_sent_back_to() -> None:
    seen = [
        Seen(1, "building", 1.0, "rework"), Seen(1, "buffing", 2.0), Seen(1, "building", 3.0),
        Seen(2, "building", 1.0), Seen(2, "buffing", 4.0),
    ]  # fmt: skip
    assert learning.back_to(seen) == {"buffing": 1}


def test_the_chambers_cycle_and_patience() -> None:
    """Loads of 4 hours with half an hour between; those that are not full had waited 3 hours."""
    loads, seen = [], []
    for n in range(20):
        begun = n * 4.5 - NOW
        casings = tuple(f"{n}-{i}" for i in range(22 if n % 2 else 12))
        loads.append(Cured(begun, begun + 4.0, casings))
        seen += [Seen(c, "building", begun - 3.0) for c in casings]
    found = learning.cure(loads, 22, hours.ALWAYS, seen)
    assert found is not None
    assert found.cycle_h == pytest.approx(4.5)
    assert found.wait_h == pytest.approx(3.0)
    assert learning.cure(loads[:9], 22, hours.ALWAYS, seen) is None
    full = [one for one in loads if len(one.casings) == 22]
    again = learning.cure(full, 22, hours.ALWAYS, seen)
    assert again is not None
    assert again.wait_h is None


def test_a_load_stands_for_the_scan_of_who_came_out_unscanned() -> None:
    route = (
        Entered("building", 1, 0.3, scans=True),
        Entered("curing", 1, None, scans=True, chamber=True),
        Entered("final-inspection", 1, 0.2, scans=True),
    )
    loads, seen = [], []
    for n in range(40):
        begun = n * 6.0 - 240
        casings = tuple(f"{n}-{i}" for i in range(10))
        loads.append(Cured(begun, begun + 4.0, casings))
        seen += [Seen(c, "building", begun - 1.0) for c in casings]
        seen += [
            Seen(c, "final-inspection", begun + 4.0 + 0.1 * (i + 1)) for i, c in enumerate(casings)
        ]
    found = learning.learned(seen, loads, route, hours.ALWAYS)
    assert found["final-inspection"].mean_h == pytest.approx(0.1, rel=0.1)
    assert found["curing"].n == 400


def test_what_comes_later_is_not_known_yet() -> None:
    seen = worked_through()
    later = [Seen(n, "building", 1.0 + n) for n in range(5000, 5100)]
    assert learnt([*seen, *later]) == learnt(seen)


def test_the_order_of_what_is_told_does_not_matter() -> None:
    seen = worked_through()
    other = list(np.random.default_rng(1).permutation(len(seen)))
    assert learnt([seen[i] for i in other]) == learnt(seen)
