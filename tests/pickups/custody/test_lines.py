"""A line without a label is a function of the set of its facts: no order can change it."""

from typing import Any
from uuid import UUID

from hypothesis import given
from hypothesis import strategies as st

from pickups.custody import lines
from pickups.custody.fold import Fact, Kind
from tests.pickups.custody.histories import BEGAN_MS, PICKUP, YARD, picked_up, stamps, uids

ELSEWHERE = UUID(int=0xB2)


def line(uid: UUID, kind: Kind, stamp: int = BEGAN_MS, corrects: UUID | None = None,
         visit: UUID = PICKUP, **more: Any) -> Fact:  # fmt: skip
    """Scrap counted, or a casing left there; told again where `corrects` names one."""
    told = {"at": "2026-04-28T16:20:00.000Z", "visit": str(visit), "yard": str(YARD)}
    return Fact(uid, kind, "", stamp, corrects, told=told | more)


says: st.SearchStrategy[dict[str, Any]] = st.fixed_dictionaries(
    {}, optional={"count": st.integers(0, 3), "taken": st.just(True), "note": st.just("wet")}
)
kinds = st.sampled_from([Kind.SCRAP, Kind.LEFT])


@st.composite
def histories(draw: st.DrawFn) -> list[Fact]:
    """Up to three lines and corrections of them, of another kind or pickup, or of nothing here."""
    drawn = iter(draw(st.lists(uids, min_size=12, max_size=12, unique=True)))
    first = [line(next(drawn), draw(kinds), draw(stamps), **draw(says)) for _ in range(3)]
    facts = [*first, picked_up(next(drawn))]
    for _ in range(draw(st.integers(0, 7))):
        named = draw(st.sampled_from([*(f.uid for f in facts), UUID(int=0)]))
        visit = draw(st.sampled_from([PICKUP, PICKUP, ELSEWHERE]))
        facts.append(line(next(drawn), draw(kinds), draw(stamps), named, visit, **draw(says)))
    return facts


@given(histories(), st.randoms())
def test_any_order_and_repetition_gives_the_same_lines(facts: list[Fact], dice: Any) -> None:
    other = [*facts, *facts[:3]]
    dice.shuffle(other)
    assert lines.standing(other) == lines.standing(facts)


@given(histories())
def test_each_line_stands_once_as_the_last_that_names_it_and_fits_it(facts: list[Fact]) -> None:
    found = lines.standing(facts)
    first = {f.uid: f for f in facts if f.kind in lines.KINDS and f.corrects is None}
    assert found.keys() == first.keys()
    for uid, original in first.items():
        again = [
            f for f in facts
            if f.corrects == uid and f.kind is original.kind and f.told["visit"] == str(PICKUP)
        ]  # fmt: skip
        # A correction with an earlier stamp than what it corrects counts for nothing.
        last = max([original, *again], key=lambda f: (f.stamp, f.uid))
        assert found[uid].kind is original.kind
        assert found[uid].told.get("count") == last.told.get("count")
        assert found[uid].told.get("note") == last.told.get("note")
        scrap = original.kind is Kind.SCRAP
        gone = not last.told.get("count") if scrap else "taken" in last.told
        assert found[uid].withdrawn == gone


def test_a_count_of_none_is_no_scrap_and_what_was_taken_is_not_left() -> None:
    one, two = UUID(int=1), UUID(int=2)
    found = lines.standing(
        [line(one, Kind.SCRAP, count=6), line(two, Kind.LEFT),
         line(UUID(int=3), Kind.SCRAP, BEGAN_MS + 1, one, count=0),
         line(UUID(int=4), Kind.LEFT, BEGAN_MS + 1, two, taken=True)]
    )  # fmt: skip
    assert [v.withdrawn for v in found.values()] == [True, True]
