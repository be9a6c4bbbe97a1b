"""Which missing casing a nameless one may be: pure. The order is our own, no published rule."""

from datetime import UTC, datetime, timedelta
from uuid import UUID

from hypothesis import given
from hypothesis import strategies as st

from plant.unlabelled.rules import MOST, Feature, Missing, Seen, candidates

ROUTE = ("receiving", "buffing", "building", "curing", "final-inspection")
MONDAY = datetime(2026, 11, 23, 8, tzinfo=UTC)


def missing(number: int = 1, **more: object) -> Missing:
    told = {
        "size": "295/75R22.5",
        "brand": "Ostler",
        "date_codes": frozenset({"2322"}),
        "tread_32nds": 6,
        "station": "buffing",
        "seen_at": MONDAY,
    } | more
    return Missing(work_order=UUID(int=number), label=f"K7AAAA{number:02}", **told)  # type: ignore[arg-type]


SEEN = Seen("295/75 R 22.5", "ostler ", "2322", 7, "curing")


def test_sizes_written_otherwise_and_treads_near_each_other_agree() -> None:
    (found,) = candidates(SEEN, [missing()], ROUTE)
    assert found.agrees == tuple(Feature)
    assert found.differs == ()


def test_what_differs_is_told_and_hides_no_candidate() -> None:
    (found,) = candidates(SEEN, [missing(date_codes=frozenset({"2323"}), tread_32nds=12)], ROUTE)
    assert found.differs == (Feature.DATE_CODE, Feature.TREAD)
    assert Feature.SIZE in found.agrees


def test_what_nobody_read_neither_agrees_nor_differs() -> None:
    buffed = Seen(size="295/75R22.5")
    (found,) = candidates(buffed, [missing(brand="", tread_32nds=None)], ROUTE)
    assert (found.agrees, found.differs) == ((Feature.SIZE,), ())


def test_a_casing_seen_further_on_is_said_to_differ_in_place() -> None:
    (found,) = candidates(Seen(size="295/75R22.5", station="buffing"),
                          [missing(station="curing")], ROUTE)  # fmt: skip
    assert found.differs == (Feature.PLACE,)


def test_without_one_agreement_but_the_place_nothing_is_a_candidate() -> None:
    assert candidates(Seen(size="11R22.5", station="curing"), [missing()], ROUTE) == ()
    assert candidates(Seen(station="curing"), [missing()], ROUTE) == ()


def test_fewest_differences_come_first_then_most_agreements_then_longest_not_seen() -> None:
    old = missing(1, seen_at=MONDAY - timedelta(days=4))
    new = missing(2)
    odd = missing(3, brand="Kestrel")
    less = missing(4, brand="")
    found = candidates(SEEN, [odd, less, new, old], ROUTE)
    assert [c.missing.work_order.int for c in found] == [1, 2, 4, 3]


@given(st.lists(st.sampled_from(["295/75R22.5", "11R22.5", ""]), max_size=30), st.randoms())
def test_candidates_are_the_same_in_whatever_order_they_are_read(sizes: list[str], rng) -> None:  # type: ignore[no-untyped-def]
    rows = [missing(n, size=size, seen_at=MONDAY + timedelta(hours=n))
            for n, size in enumerate(sizes)]  # fmt: skip
    shuffled = list(rows)
    rng.shuffle(shuffled)
    found = candidates(SEEN, rows, ROUTE)
    assert found == candidates(SEEN, shuffled, ROUTE)
    assert len(found) <= MOST
