"""Each hand-over once, with everybody who told it, whatever way the tellings came in."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from uuid import UUID

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from pickups.custody import handing
from pickups.custody.fold import Fact, Kind
from pickups.custody.handing import HandOver, hand_overs, one_sided
from tests.pickups.custody.histories import (
    BEGAN_MS,
    DAY_MS,
    at_plant,
    corrected,
    picked_up,
    uids,
    withdrawn,
)

OWNER, PLANT, STORE = "customer:tarn", "plant:plant", "site:store"
DALE, MIRA = "person:dale", "person:mira"
HOUR = 3_600_000
TELLS = {Kind.PICKED_UP, Kind.HANDED_IN, Kind.HANDED_OUT, Kind.RETURNED, Kind.RECEIVED,
         Kind.SHIPPED}  # fmt: skip


def scan(n: int, way: str, giver: str, taker: str, at: int) -> Fact:
    kind = Kind.HANDED_IN if way == "in" else Kind.HANDED_OUT
    return Fact(UUID(int=n), kind, "K7AAAAAA", BEGAN_MS + at, holder=taker, told={"giver": giver})


def posted(n: int, kind: Kind, at: int) -> Fact:
    return at_plant(UUID(int=n), kind, stamp=BEGAN_MS + at)


def returned(n: int, giver: str, at: int) -> Fact:
    told = {"giver": giver}
    return Fact(UUID(int=n), Kind.RETURNED, "K7AAAAAA", BEGAN_MS + at, holder=OWNER, told=told)


def told(facts: Sequence[Fact]) -> list[tuple[str, str, list[int]]]:
    """Each hand-over with the numbers of its witnesses."""
    return [
        (h.giver, h.taker, [f.uid.int for f in h.witnesses]) for h in hand_overs(facts, owner=OWNER)
    ]


TAKEN = picked_up(UUID(int=1), stamp=BEGAN_MS)

# --- One pass -----------------------------------------------------------------------------------


def test_from_yard_to_yard_each_hand_over_stands_once_with_both_witnesses() -> None:
    facts = [
        TAKEN,
        scan(2, "in", DALE, STORE, HOUR),
        scan(3, "in", DALE, STORE, HOUR + 60_000),  # the counter's own scan
        scan(4, "in", STORE, MIRA, 2 * HOUR),
        scan(5, "in", MIRA, PLANT, 3 * HOUR),
        posted(6, Kind.RECEIVED, 4 * HOUR),
        posted(7, Kind.PASSED, 5 * HOUR),
        posted(8, Kind.FINISHED, 6 * HOUR),
        scan(9, "out", PLANT, MIRA, 7 * HOUR),
        posted(10, Kind.SHIPPED, 8 * HOUR),
        scan(11, "out", MIRA, STORE, 9 * HOUR),
        scan(12, "out", STORE, DALE, 10 * HOUR),
        returned(13, DALE, 11 * HOUR),
    ]
    assert told(facts) == [
        (OWNER, DALE, [1]),
        (DALE, STORE, [2, 3]),
        (STORE, MIRA, [4]),
        (MIRA, PLANT, [5, 6]),
        (PLANT, MIRA, [9, 10]),
        (MIRA, STORE, [11]),
        (STORE, DALE, [12]),
        (DALE, OWNER, [13]),
    ]


@pytest.mark.parametrize("days", [-3, 3])
def test_a_dock_whose_clock_is_days_off_is_still_the_second_witness(days: int) -> None:
    facts = [
        TAKEN,
        scan(2, "in", DALE, PLANT, HOUR),
        posted(3, Kind.RECEIVED, HOUR + days * DAY_MS),
        scan(4, "out", PLANT, DALE, 5 * HOUR),
        posted(5, Kind.SHIPPED, 5 * HOUR + days * DAY_MS),
    ]
    assert sorted(told(facts)) == sorted(
        [(OWNER, DALE, [1]), (DALE, PLANT, sorted_by_time(facts, 2, 3)),
         (PLANT, DALE, sorted_by_time(facts, 4, 5))]
    )  # fmt: skip


def sorted_by_time(facts: Sequence[Fact], *numbers: int) -> list[int]:
    found = sorted((f for f in facts if f.uid.int in numbers), key=lambda f: f.order)
    return [f.uid.int for f in found]


def test_what_only_the_dock_has_told_names_one_side() -> None:
    facts = [TAKEN, posted(2, Kind.RECEIVED, HOUR), posted(3, Kind.SHIPPED, 2 * HOUR)]
    assert told(facts)[1:] == [("", PLANT, [2]), (PLANT, "road:plant", [3])]


def test_repeated_scans_are_one_hand_over() -> None:
    facts = [
        TAKEN,
        scan(2, "in", DALE, PLANT, HOUR),
        scan(3, "in", DALE, PLANT, HOUR + 1),
        posted(4, Kind.RECEIVED, HOUR + 2),
        posted(5, Kind.RECEIVED, HOUR + 3),
    ]
    assert told(facts) == [(OWNER, DALE, [1]), (DALE, PLANT, [2, 3, 4, 5])]


def test_two_who_say_that_they_brought_it_are_two_and_the_dock_received_it_from_the_last() -> None:
    facts = [
        scan(2, "in", DALE, PLANT, HOUR),
        scan(3, "in", MIRA, PLANT, 2 * HOUR),
        posted(4, Kind.RECEIVED, 3 * HOUR),
    ]
    assert told(facts) == [(DALE, PLANT, [2]), (MIRA, PLANT, [3, 4])]


def test_from_one_plant_to_another_both_docks_are_witnesses() -> None:
    other = "plant:other"
    arrived = replace(posted(4, Kind.RECEIVED, 3 * HOUR), holder=other)
    facts = [posted(2, Kind.SHIPPED, HOUR), scan(3, "in", PLANT, other, 2 * HOUR), arrived]
    assert told(facts) == [(PLANT, other, [2, 3, 4])]


def test_a_drop_off_goes_from_its_owner_to_the_counter_and_back() -> None:
    dropped = replace(picked_up(UUID(int=1), store="store"), holder=STORE)
    facts = [dropped, returned(2, STORE, HOUR)]
    assert told(facts) == [(OWNER, STORE, [1]), (STORE, OWNER, [2])]


def test_a_pick_up_told_again_stays_where_and_by_whom_it_was_told_first() -> None:
    again = corrected(UUID(int=2), TAKEN, "K7BBBBBB", BEGAN_MS + 9 * DAY_MS)
    facts = [TAKEN, again, scan(3, "in", DALE, PLANT, HOUR)]
    assert told(facts) == [(OWNER, DALE, [1]), (DALE, PLANT, [3])]


def test_a_pick_up_that_was_withdrawn_is_no_hand_over() -> None:
    assert told([TAKEN, withdrawn(UUID(int=2), TAKEN, BEGAN_MS + 1)]) == []


# --- A second pass ------------------------------------------------------------------------------

THERE_AND_BACK = [
    (MIRA, PLANT, "in"),
    (PLANT, MIRA, "out"),
    (MIRA, STORE, "out"),
    (STORE, MIRA, "in"),
    (MIRA, PLANT, "in"),
    (PLANT, MIRA, "out"),
    (MIRA, STORE, "out"),
]


def test_a_casing_that_comes_back_to_the_plant_is_handed_over_a_second_time() -> None:
    facts = [
        scan(n, way, giver, taker, n * HOUR)
        for n, (giver, taker, way) in enumerate(THERE_AND_BACK, start=2)
    ]
    facts += [
        posted(22, Kind.RECEIVED, 2 * HOUR + 1),
        posted(23, Kind.SHIPPED, 3 * HOUR - 1),
        posted(26, Kind.RECEIVED, 6 * HOUR + 1),
        posted(27, Kind.SHIPPED, 7 * HOUR - 1),
    ]
    assert told(facts) == [
        (MIRA, PLANT, [2, 22]),
        (PLANT, MIRA, [23, 3]),
        (MIRA, STORE, [4]),
        (STORE, MIRA, [5]),
        (MIRA, PLANT, [6, 26]),
        (PLANT, MIRA, [27, 7]),
        (MIRA, STORE, [8]),
    ]


@pytest.mark.parametrize("days", [-3, 3])
def test_two_passes_are_two_though_the_docks_clock_says_that_both_were_one(days: int) -> None:
    facts = [
        scan(2, "in", MIRA, PLANT, HOUR),
        scan(3, "out", PLANT, MIRA, 5 * HOUR),
        scan(4, "in", MIRA, PLANT, 9 * HOUR),
        posted(12, Kind.RECEIVED, HOUR + days * DAY_MS),
        posted(13, Kind.SHIPPED, 5 * HOUR + days * DAY_MS),
        posted(14, Kind.RECEIVED, 9 * HOUR + days * DAY_MS),
    ]
    assert sorted(sorted(numbers) for _, _, numbers in told(facts)) == [[2, 12], [3, 13], [4, 14]]


def test_a_pass_that_a_driver_did_not_scan_is_told_by_the_dock_alone() -> None:
    facts = [
        posted(2, Kind.RECEIVED, HOUR),
        posted(3, Kind.SHIPPED, 2 * HOUR),
        scan(4, "in", MIRA, PLANT, 9 * HOUR),
        posted(5, Kind.RECEIVED, 10 * HOUR),
    ]
    assert told(facts) == [("", PLANT, [2]), (PLANT, "road:plant", [3]), (MIRA, PLANT, [4, 5])]


def test_a_dock_that_missed_the_way_out_is_split_by_what_the_drivers_say() -> None:
    facts = [
        scan(2, "in", MIRA, PLANT, HOUR),
        posted(3, Kind.RECEIVED, HOUR + 1),
        scan(4, "out", PLANT, MIRA, 5 * HOUR),
        scan(5, "in", MIRA, PLANT, 9 * HOUR),
        posted(6, Kind.RECEIVED, 9 * HOUR + 1),
    ]
    assert told(facts) == [(MIRA, PLANT, [2, 3]), (PLANT, MIRA, [4]), (MIRA, PLANT, [5, 6])]


def test_a_scan_repeated_days_late_makes_no_second_hand_over_between_people_and_racks() -> None:
    facts = [
        scan(2, "in", DALE, STORE, HOUR),
        scan(3, "in", STORE, MIRA, 2 * HOUR),
        scan(4, "in", DALE, STORE, 3 * HOUR),  # a counter's clock that runs ahead
    ]
    assert told(facts) == [(DALE, STORE, [2, 4]), (STORE, MIRA, [3])]


def test_one_who_brings_it_back_and_takes_it_again_is_told_twice() -> None:
    facts = [
        scan(2, "in", STORE, MIRA, HOUR),
        scan(3, "in", MIRA, STORE, 2 * HOUR),
        scan(4, "in", STORE, MIRA, 3 * HOUR),
    ]
    assert [witnesses for _, _, witnesses in told(facts)] == [[2], [3], [4]]


# --- Properties ---------------------------------------------------------------------------------

TELLING = sorted(TELLS - {Kind.PICKED_UP})
OTHERS = [k for k in Kind if k not in TELLS]
HOLDERS = (DALE, MIRA, STORE, PLANT, "plant:other", OWNER)
stamps = st.integers(-12, 12).map(lambda n: BEGAN_MS + n * DAY_MS // 4)
skews = st.sampled_from([-3 * DAY_MS, -DAY_MS, 0, DAY_MS, 3 * DAY_MS])
skews |= st.integers(-3 * DAY_MS, 3 * DAY_MS)


@st.composite
def anything(draw: st.DrawFn) -> list[Fact]:
    """Whatever may be told of one casing, true or not."""
    facts = [TAKEN] if draw(st.booleans()) else []
    for uid in draw(st.lists(uids.filter(lambda u: u.int != 1), max_size=14, unique=True)):
        kind = draw(st.sampled_from([*OTHERS, *TELLING, *TELLING]))
        stamp = draw(stamps)
        if kind in {Kind.HANDED_IN, Kind.HANDED_OUT, Kind.RETURNED}:
            giver, taker = draw(st.sampled_from(HOLDERS)), draw(st.sampled_from(HOLDERS))
            facts.append(Fact(uid, kind, "K7AAAAAA", stamp, holder=taker, told={"giver": giver}))
        elif kind is Kind.WITHDRAWN:
            facts.append(withdrawn(uid, TAKEN, stamp))
        elif kind in {Kind.PICKUP_END, Kind.DELIVERY_END}:
            facts.append(Fact(uid, kind, "", stamp))
        else:
            facts.append(at_plant(uid, kind, stamp=stamp))
    return facts


@given(anything(), st.data())
def test_any_order_and_repetition_gives_the_same_hand_overs(
    facts: list[Fact], data: st.DataObject
) -> None:
    shuffled = data.draw(st.permutations(facts))
    again = data.draw(st.lists(st.sampled_from(facts), max_size=5)) if facts else []
    assert hand_overs([*again, *shuffled], owner=OWNER) == hand_overs(facts, owner=OWNER)
    assert one_sided([*again, *shuffled]) == one_sided(facts)


@given(anything())
def test_every_fact_that_tells_of_a_hand_over_is_a_witness_of_exactly_one(
    facts: list[Fact],
) -> None:
    gone = any(f.kind is Kind.WITHDRAWN for f in facts)
    telling = {f.uid for f in facts if f.kind in TELLS and not (gone and f.kind is Kind.PICKED_UP)}
    found = [f.uid for h in hand_overs(facts, owner=OWNER) for f in h.witnesses]
    assert Counter(found) == Counter(telling)


@given(anything())
def test_hand_overs_and_their_witnesses_stand_in_order(facts: list[Fact]) -> None:
    made = hand_overs(facts, owner=OWNER)
    assert [h.order for h in made] == sorted(h.order for h in made)
    for h in made:
        orders = [f.order for f in h.witnesses]
        assert orders == sorted(orders)
        assert h.order == orders[0]


@given(anything())
def test_what_one_side_tells_apart_is_never_one_hand_over(facts: list[Fact]) -> None:
    """Received, shipped, received by one plant; brought, fetched, brought by scans."""
    of = {f.uid: i for i, h in enumerate(hand_overs(facts, owner=OWNER)) for f in h.witnesses}
    by_order = sorted(facts, key=lambda f: f.order)
    post = [f for f in by_order if f.kind in {Kind.RECEIVED, Kind.SHIPPED}]
    for i, f in enumerate(post):
        for later in post[i + 2 :]:
            between = post[i + 1 : post.index(later)]
            if later.kind is f.kind and any(b.kind is not f.kind for b in between):
                assert of[f.uid] != of[later.uid]
    scans = [f for f in by_order if f.kind in {Kind.HANDED_IN, Kind.HANDED_OUT, Kind.RETURNED}]
    for i, f in enumerate(scans):
        for later in scans[i + 1 :]:
            between = scans[i + 1 : scans.index(later)]
            brought = f.holder == later.holder and f.holder.startswith("plant:")
            if brought and any(b.told["giver"] == f.holder for b in between
                               if b.holder != f.holder):  # fmt: skip
                assert of[f.uid] != of[later.uid]


@dataclass(frozen=True)
class Move:
    """One true hand-over, and by how many it was told: scans and the plant's own words."""

    giver: str
    taker: str
    way: str
    scans: int
    posts: int


@st.composite
def journeys(draw: st.DrawFn, *, whole: bool, most: int) -> list[Move]:
    """A way from the yard to the yard, through the plant once or more often.

    whole: everybody told every hand-over; else anybody may have missed any.
    """
    legs = [(OWNER, DALE, "in")]
    if draw(st.booleans()):
        legs += [(DALE, STORE, "in"), (STORE, MIRA, "in"), (MIRA, PLANT, "in")]
    else:
        legs += [(DALE, PLANT, "in")]
    legs += [(PLANT, MIRA, "out"), (MIRA, STORE, "out")]
    for _ in range(draw(st.integers(0, most - 1))):
        legs += [(STORE, MIRA, "in"), (MIRA, PLANT, "in"), (PLANT, MIRA, "out")]
        legs += [(MIRA, STORE, "out")]
    legs += [(STORE, DALE, "out"), (DALE, OWNER, "out")]
    moves = []
    for giver, taker, way in legs:
        least = 1 if whole or giver == OWNER else 0
        scans = 1 if giver == OWNER else draw(st.integers(least, 2))
        posts = draw(st.integers(least, 2)) if PLANT in (giver, taker) else 0
        moves.append(Move(giver, taker, way, scans, posts))
    return moves


def telling(moves: Sequence[Move], *, off: int = 0) -> list[tuple[int, Fact]]:
    """The facts of a journey, each with the number of its move; the plant's clock is so far off."""
    facts, n = [], 1
    for i, m in enumerate(moves):
        for at in range(m.scans):
            n += 1
            when = i * 6 * HOUR + at * 60_000
            if m.giver == OWNER:
                fact = TAKEN
            elif m.taker == OWNER:
                fact = returned(n, m.giver, when)
            else:
                fact = scan(n, m.way, m.giver, m.taker, when)
            facts.append((i, fact))
        for at in range(m.posts):
            n += 1
            kind = Kind.RECEIVED if m.taker == PLANT else Kind.SHIPPED
            facts.append((i, posted(n, kind, i * 6 * HOUR + at * 60_000 + off)))
    return facts


def by_move(facts: Sequence[tuple[int, Fact]]) -> list[set[UUID]]:
    found: dict[int, set[UUID]] = {}
    for i, fact in facts:
        found.setdefault(i, set()).add(fact.uid)
    return [found[i] for i in sorted(found)]


def witnesses(made: Sequence[HandOver]) -> list[set[UUID]]:
    return [{f.uid for f in h.witnesses} for h in made]


@given(journeys(whole=True, most=3), skews)
def test_a_journey_told_by_everybody_is_told_as_it_was_whatever_the_plants_clock(
    moves: list[Move], off: int
) -> None:
    facts = telling(moves, off=off)
    found = witnesses(hand_overs([f for _, f in facts], owner=OWNER))
    assert sorted(map(sorted, found)) == sorted(map(sorted, by_move(facts)))


@given(journeys(whole=False, most=1), skews)
def test_a_journey_of_one_pass_is_told_as_it_was_whoever_missed_what(
    moves: list[Move], off: int
) -> None:
    facts = telling(moves, off=off)
    found = witnesses(hand_overs([f for _, f in facts], owner=OWNER))
    assert sorted(map(sorted, found)) == sorted(map(sorted, by_move(facts)))


TWICE_TO_THE_PLANT = [
    Move(OWNER, DALE, "in", 1, 0),
    Move(DALE, PLANT, "in", 1, 1),
    Move(PLANT, MIRA, "out", 0, 1),
    Move(MIRA, PLANT, "in", 1, 1),
]


@given(journeys(whole=False, most=3), skews)
@example(TWICE_TO_THE_PLANT, -3 * DAY_MS)  # the second receipt is nearer to the first one's scan
def test_no_journey_has_more_hand_overs_than_there_were(moves: list[Move], off: int) -> None:
    facts = telling(moves, off=off)
    assert len(hand_overs([f for _, f in facts], owner=OWNER)) <= len(by_move(facts))


# --- One side only ------------------------------------------------------------------------------


def sides(facts: Sequence[Fact]) -> list[list[int]]:
    return [[f.uid.int for f in h.witnesses] for h in one_sided(facts)]


def test_what_was_brought_to_a_plant_waits_for_a_word_of_the_plant() -> None:
    brought = scan(2, "in", DALE, PLANT, HOUR)
    assert sides([TAKEN, brought]) == [[2]]
    assert sides([TAKEN, brought, scan(3, "in", DALE, PLANT, HOUR + 1)]) == [[2, 3]]
    for kind in (Kind.RECEIVED, Kind.PASSED, Kind.HOLD, Kind.REJECTED, Kind.SHIPPED):
        later = [h for h in sides([TAKEN, brought, posted(4, kind, 2 * HOUR)]) if 2 in h]
        assert later == [], kind
    assert sides([TAKEN, brought, posted(4, Kind.RECEIVED, HOUR - DAY_MS)]) == []


def test_a_station_of_an_earlier_pass_answers_nothing() -> None:
    facts = [
        scan(2, "in", DALE, PLANT, HOUR),
        posted(3, Kind.RECEIVED, 2 * HOUR),
        posted(4, Kind.FINISHED, 3 * HOUR),
        posted(5, Kind.SHIPPED, 4 * HOUR),
        scan(6, "out", PLANT, MIRA, 4 * HOUR + 1),
        scan(7, "in", MIRA, PLANT, 9 * HOUR),
    ]
    assert sides(facts) == [[7]]
    assert sides([*facts, posted(8, Kind.PASSED, 10 * HOUR)]) == []


def test_what_a_plant_shipped_waits_for_somebody_to_take_it_over() -> None:
    left = posted(2, Kind.SHIPPED, HOUR)
    assert sides([TAKEN, left, posted(3, Kind.FINISHED, 2 * HOUR)]) == [[2]]
    for word in (
        scan(4, "out", PLANT, MIRA, HOUR - DAY_MS),
        scan(4, "out", MIRA, STORE, 2 * HOUR),
        returned(4, DALE, 2 * HOUR),
        posted(4, Kind.RECEIVED, 2 * HOUR),
    ):
        assert sides([TAKEN, left, word]) == []


def test_a_rack_that_one_person_fills_is_normal() -> None:
    facts = [TAKEN, scan(2, "in", DALE, STORE, HOUR), scan(3, "in", STORE, MIRA, 2 * HOUR)]
    assert sides(facts) == []
    assert [handing.is_told_by_one(f) for f in facts] == [False, False, False]
