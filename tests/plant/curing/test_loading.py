"""What went in and what came out, and which word stands: the same in whatever order it came."""

from datetime import UTC, datetime, timedelta
from uuid import UUID

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from plant.curing.loading import Scan, Word, behind, contents, last

UNHURRIED = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
"""How fast a machine draws examples says nothing of the rule."""

START = datetime(2026, 7, 14, 6, tzinfo=UTC)
ROUTE = ("building", "enveloping", "curing", "stripping", "final-inspection")
BEHIND = behind(ROUTE)


def scan(casing: str, station: str, minute: int, *, named: bool = True, envelope: str = "") -> Scan:
    return Scan(casing, f"L{casing}", station, envelope, START + timedelta(minutes=minute), named)


def test_behind_the_chamber_lies_what_follows_it_in_the_route() -> None:
    assert {"stripping", "final-inspection"} == BEHIND
    assert behind(("enveloping", "stripping", "paint")) == {"stripping", "paint"}
    assert behind(("press", "shelf")) == frozenset()


def test_in_out_missing_and_over() -> None:
    found = contents(
        [scan("a", "enveloping", 0, envelope="E1"), scan("b", "enveloping", 1, envelope="E2"),
         scan("a", "curing", 2), scan("c", "curing", 3), scan("a", "stripping", 90),
         scan("x", "stripping", 91)],
        BEHIND,
    )  # fmt: skip
    assert found.set_in == [
        {"label": "La", "envelope": "E1"}, {"label": "Lb", "envelope": "E2"},
        {"label": "Lc", "envelope": ""},
    ]  # fmt: skip
    assert (found.set_out, found.missing, found.over) == (["La", "Lx"], ["Lb", "Lc"], ["Lx"])
    assert (found.since, found.out_at) == (START, START + timedelta(minutes=91))


def test_nothing_is_missing_where_nobody_scans_at_stripping() -> None:
    found = contents(
        [scan("a", "curing", 0), scan("b", "final-inspection", 9, named=False)], BEHIND
    )
    assert (found.missing, found.set_out, found.out_at) == ([], [], None)


def test_a_later_scan_elsewhere_says_that_it_came_out_and_an_earlier_one_does_not() -> None:
    scans = [scan("a", "final-inspection", -60, named=False), scan("a", "curing", 0),
             scan("b", "curing", 1), scan("b", "stripping", 90)]  # fmt: skip
    assert contents(scans, BEHIND).missing == ["La"]
    scans.append(scan("a", "final-inspection", 95, named=False))
    assert contents(scans, BEHIND).missing == []


SCANS = st.lists(
    st.builds(scan, st.sampled_from("abcd"), st.sampled_from(ROUTE), st.integers(0, 200),
              named=st.booleans(), envelope=st.sampled_from(["", "E1", "E2"])),
    max_size=12, unique_by=lambda s: (s.at, s.label),
)  # fmt: skip


@UNHURRIED
@given(SCANS, st.randoms())
def test_the_order_of_arrival_says_nothing(scans: list[Scan], random: object) -> None:
    mixed = list(scans)
    random.shuffle(mixed)  # type: ignore[attr-defined]
    assert contents(mixed, BEHIND) == contents(scans, BEHIND)


@UNHURRIED
@given(SCANS)
def test_what_went_in_came_out_or_is_missing_once_stripping_began(scans: list[Scan]) -> None:
    found = contents(scans, BEHIND)
    went = [row["label"] for row in found.set_in]
    assert len(set(went)) == len(went)
    assert set(found.missing) <= set(went)
    assert not set(found.missing) & set(found.set_out)
    if found.out_at is not None:
        assert set(went) == set(found.missing) | (set(found.set_out) - set(found.over))


SAID = st.fixed_dictionaries(
    {"started_at": st.sampled_from([None, "06:00"])},
    optional={"chamber": st.sampled_from(["", "c1"]), "lots": st.sampled_from([[], ["G-9"]]),
              "operator": st.sampled_from(["", "44"]), "note": st.sampled_from(["", "seal"])},
)  # fmt: skip
"""A word says its moments always, and of the rest what its teller knows."""
WORDS = st.lists(
    st.builds(Word, st.uuids(), st.sampled_from([UUID(int=1), UUID(int=2)]),
              st.sampled_from(["14-1", "14-2"]), st.integers(0, 3), SAID),
    max_size=6, unique_by=lambda w: w.uid,
)  # fmt: skip


@UNHURRIED
@given(WORDS, st.randoms())
def test_one_word_stands_of_a_number_and_none_that_its_teller_renumbered(
    words: list[Word], random: object
) -> None:
    mixed = list(words)
    random.shuffle(mixed)  # type: ignore[attr-defined]
    for number in ("14-1", "14-2"):
        stands = last(words, number)
        assert stands == last(mixed, number)
        if stands is not None:
            own = [w for w in words if w.load == stands.load]
            newest = max(own, key=lambda w: (w.stamp, w.uid))
            assert (stands.uid, stands.stamp) == (newest.uid, newest.stamp)


@UNHURRIED
@given(WORDS)
def test_what_a_word_does_not_say_stays_as_the_newest_that_said_it_left_it(
    words: list[Word],
) -> None:
    in_order = sorted(words, key=lambda w: (w.stamp, w.uid))
    for number in ("14-1", "14-2"):
        stands = last(words, number)
        if stands is None:
            continue
        named = {w.load: w.number for w in in_order}
        own = [w for w in in_order if named[w.load] == number]
        assert stands.told["started_at"] == own[-1].told["started_at"]
        for name in ("chamber", "lots", "operator", "note"):
            said = [w.told[name] for w in own if name in w.told]
            assert stands.told.get(name) == (said[-1] if said else None)
