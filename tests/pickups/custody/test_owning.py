"""The second ledger's fold: in any order, told once or often, the same facts, the same owners."""

from datetime import UTC, datetime
from uuid import UUID

from hypothesis import given
from hypothesis import strategies as st

from pickups.custody import owning
from pickups.custody.owning import DEALER, Change, Kind, Owned

CASINGS = [UUID(int=n) for n in range(1, 4)]
YARDS = [UUID(int=n) for n in range(11, 14)]
AT = datetime(2026, 4, 15, 12, tzinfo=UTC)


def sold(n: int, casing: UUID = CASINGS[0], stamp: int = 0, kind: Kind = Kind.SOLD) -> Change:
    return Change(UUID(int=100 + n), kind, stamp or n, AT, {casing: DEALER})


def settled(n: int, *pairs: tuple[UUID, UUID]) -> Change:
    owners = {casing: str(yard) for casing, yard in pairs}
    return Change(UUID(int=100 + n), Kind.SETTLED, n, AT, owners)


def undone(n: int, which: Change) -> Change:
    return Change(UUID(int=100 + n), Kind.UNDONE, n, AT, {}, which.uid)


DRAWN = st.builds(
    sold,
    st.integers(0, 9),
    st.sampled_from(CASINGS),
    st.integers(1, 5),
    st.sampled_from([Kind.SOLD, Kind.EXCHANGED]),
) | st.builds(
    lambda n, casings, yards: settled(n, *zip(casings, yards, strict=True)),
    st.integers(10, 19),
    st.permutations(CASINGS).map(lambda c: c[:2]),
    st.permutations(YARDS).map(lambda y: y[:2]),
)
UNDOINGS = st.builds(
    lambda n, target: Change(UUID(int=100 + n), Kind.UNDONE, n, AT, {}, UUID(int=100 + target)),
    st.integers(20, 25),
    st.integers(0, 19),
)
FACTS = st.lists(DRAWN | UNDOINGS, max_size=8, unique_by=lambda change: change.uid)


def owners(facts: list[Change]) -> list[Owned]:
    return [owning.owned(casing, facts) for casing in CASINGS]


def test_a_casing_is_its_customers_while_nothing_is_told() -> None:
    assert owning.owned(CASINGS[0], []) == Owned()


def test_a_sale_makes_it_the_dealers_and_undoing_that_the_customers_again() -> None:
    sale = sold(1)
    assert owning.owned(CASINGS[0], [sale]) == Owned(None, "sold", AT, sale.uid)
    assert owning.owned(CASINGS[0], [undone(2, sale), sale]) == Owned()


def test_a_settled_mix_up_puts_each_where_the_other_came_from() -> None:
    change = settled(1, (CASINGS[0], YARDS[1]), (CASINGS[1], YARDS[0]))
    first, second, third = owners([change])
    assert (first.yard, second.yard, third) == (YARDS[1], YARDS[0], Owned())
    assert owners([change, undone(2, change)]) == [Owned()] * 3


def test_the_last_that_stands_counts_whatever_came_between() -> None:
    first, second = sold(1), sold(2, kind=Kind.EXCHANGED)
    assert owning.owned(CASINGS[0], [second, first]).dealers == "exchanged"
    assert owning.owned(CASINGS[0], [second, first, undone(3, second)]).dealers == "sold"


def test_what_is_sold_after_a_mix_up_keeps_the_yard_that_was_settled() -> None:
    change = settled(1, (CASINGS[0], YARDS[1]), (CASINGS[1], YARDS[0]))
    last = owning.owned(CASINGS[0], [sold(2), change])
    assert (last.yard, last.dealers) == (YARDS[1], "sold")


@given(FACTS, st.randoms(use_true_random=False))
def test_order_and_repetition_change_no_owner(facts: list[Change], random: object) -> None:
    told = [*facts, *facts]
    random.shuffle(told)  # type: ignore[attr-defined]
    assert owners(told) == owners(facts)


@given(FACTS, DRAWN)
def test_undoing_a_change_gives_the_owners_without_it(facts: list[Change], more: Change) -> None:
    if more.uid in {fact.uid for fact in facts}:
        return
    assert owners([*facts, more, undone(30, more)]) == owners(facts)


@given(FACTS)
def test_only_facts_that_name_a_casing_change_its_owner(facts: list[Change]) -> None:
    for casing in CASINGS:
        about = [f for f in facts if casing in f.owners or f.kind is Kind.UNDONE]
        assert owning.owned(casing, about) == owning.owned(casing, facts)


@given(FACTS)
def test_an_owner_is_named_by_the_fact_that_made_it(facts: list[Change]) -> None:
    for casing in CASINGS:
        last = owning.owned(casing, facts)
        if last.by is not None:
            (by,) = [f for f in facts if f.uid == last.by]
            assert by.owners[casing] == (DEALER if last.dealers else str(last.yard))
            assert not any(f.undoes == last.by for f in facts)
