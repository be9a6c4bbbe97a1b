"""Labels that name one casing: the same whatever order, direction and repetition they come in."""

from uuid import UUID

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pickups.custody import names
from pickups.custody.names import Doubt, Names, Swap, joined

LABELS = ("A", "B", "C", "D", "E")
swaps = st.lists(
    st.builds(
        Swap,
        st.sampled_from(LABELS),
        st.sampled_from(LABELS),
        st.tuples(st.integers(0, 3), st.integers(1, 2**60).map(lambda n: UUID(int=n))),
    ),
    max_size=6,
    unique_by=lambda s: s.order[1],
)


def told(*pairs: str) -> list[Swap]:
    """Relabellings such as AB, each told later than the one before it."""
    return [Swap(p[0], p[1], (at, UUID(int=at + 1))) for at, p in enumerate(pairs)]


@given(swaps, st.data())
def test_no_order_and_no_repetition_changes_what_a_casing_wears(
    made: list[Swap], data: st.DataObject
) -> None:
    again = data.draw(st.permutations([*made, *made[:2]]))
    assert joined(again) == joined(made)


@given(swaps)
def test_labels_are_joined_where_a_chain_of_relabellings_leads_from_one_to_the_other(
    made: list[Swap],
) -> None:
    reach = {label: {label} for s in made for label in (s.label, s.now)}
    for _ in made:  # by brute force: whatever is beside a label belongs to it
        for s in made:
            both = reach[s.label] | reach[s.now]
            for label in both:
                reach[label] = reach[label] | both
    found = joined(made)
    assert {label: set(n.every) for label, n in found.items()} == reach
    for label, n in found.items():
        assert n.worn in n.every
        assert set(n.void) == set(n.every) - {n.worn}
        assert found[n.worn] is n, label


@given(swaps)
def test_a_label_that_was_given_up_is_never_worn_while_its_chain_has_an_end(
    made: list[Swap],
) -> None:
    given_up = {s.label for s in made}
    for n in joined(made).values():
        if set(n.every) - given_up:
            assert n.worn not in given_up


@pytest.mark.parametrize(
    ("pairs", "worn", "doubts"),
    [
        (["AB"], "B", {}),
        (["AB", "AB"], "B", {}),
        (["AB", "BC"], "C", {}),
        (["BC", "AB"], "C", {}),  # a clock that ran slow changes no chain
        (["AB", "AC"], "C", {"A": Doubt.TWICE}),
        (["AC", "AB"], "B", {"A": Doubt.TWICE}),
        (["AB", "BA"], "A", {"A": Doubt.RING, "B": Doubt.RING}),
        (["BA", "AB"], "B", {"A": Doubt.RING, "B": Doubt.RING}),
        (["AA"], "A", {"A": Doubt.RING}),
        (["AB", "BC", "CB"], "B", {"B": Doubt.RING, "C": Doubt.RING}),
        (["AC", "BC"], "C", {}),  # whether two casings wear it is told by their pick_ups
    ],
)
def test_what_is_worn_and_what_is_in_doubt(
    pairs: list[str], worn: str, doubts: dict[str, Doubt]
) -> None:
    found = joined(told(*pairs))
    assert {(n.worn, tuple(n.doubts.items())) for n in found.values()} == {
        (worn, tuple(doubts.items()))
    }


def test_a_label_that_nobody_has_replaced_names_itself() -> None:
    assert names.alone("A") == Names("A", ("A",), {}, "A")
    assert names.alone("A").void == ()
    assert joined([]) == {}
