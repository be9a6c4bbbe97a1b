"""A truck's list against scans, as a rule: each label in one place, whatever the order."""

from dataclasses import asdict
from typing import Literal

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from plant.dock.comparing import KINDS, Compared, Seen, compare

HERE, THERE = "plant:p1", "plant:p2"


def held(way: Literal["in", "out"], listed: str, scanned: str, **known: Seen) -> Compared:
    return compare(way, plant="p1", listed=listed, scanned=scanned, known=known)


def seen(holder: str = HERE, progress: str = "picked_up", **more: bool) -> Seen:
    return Seen(holder, progress, **more)


def test_what_was_listed_and_scanned_is_nowhere() -> None:
    found = held("in", "AB", "BA", A=seen(), B=seen())
    assert found == Compared()
    assert not found.differs


def test_each_thing_that_can_be_wrong_has_its_own_name() -> None:
    found = held(
        "in", "ABS", "ABOUEC",
        A=seen(), B=seen(contested=True), O=seen(), E=seen(THERE), C=seen(contested=True),
    )  # fmt: skip
    assert found == Compared(
        short=["S"], over=["O"], unknown=["U"], elsewhere=["E"], contested=["B", "C"]
    )


def test_on_its_way_out_too_early_is_named() -> None:
    done, road = seen(progress="finished"), seen("road:p1", "shipped")
    found = held(
        "out", "FRNHS", "FRNHX",
        F=done, R=road, N=seen(progress="in_work"), X=seen(progress="rejected"),
        H=seen(progress="finished", on_hold=True),
    )  # fmt: skip
    assert found == Compared(short=["S"], over=["X"], not_finished=["N"], on_hold=["H"])


def test_a_hold_says_nothing_of_what_comes_in() -> None:
    assert held("in", "A", "A", A=seen(on_hold=True)) == Compared()


LABELS = st.lists(st.sampled_from("ABCDEFGH"), max_size=8)
SEEN = st.builds(
    Seen,
    holder=st.sampled_from([HERE, THERE, "person:d", "road:p1", "site:s"]),
    progress=st.sampled_from(["picked_up", "in_work", "finished", "rejected", "shipped"]),
    on_hold=st.booleans(),
    contested=st.booleans(),
)


@given(
    st.sampled_from(["in", "out"]),
    LABELS,
    LABELS,
    st.dictionaries(st.sampled_from("ABCDEFGH"), SEEN),
)
@settings(suppress_health_check=[HealthCheck.too_slow])
def test_each_label_stands_in_one_place_at_most_in_whatever_order_it_was_scanned(
    way: Literal["in", "out"],
    listed: list[str],
    scanned: list[str],
    known: dict[str, Seen],
) -> None:
    found = compare(way, plant="p1", listed=listed, scanned=scanned, known=known)
    told = [label for kind in KINDS for label in asdict(found)[kind]]
    assert len(told) == len(set(told))
    assert set(told) <= {*listed, *scanned}
    assert set(found.short) == {*listed} - {*scanned}
    again = [*scanned, *scanned[::-1]]
    assert compare(way, plant="p1", listed=listed, scanned=again, known=known) == found
    fitting = {*scanned} - set(told)
    assert fitting <= {*listed}
    assert all(known[label].holder != THERE for label in fitting)
