"""Twenty casings at the counter, by keys and by scanner: input events and seconds a casing.

The model and its operators are those of `stopwatch`. An input event is a key pressed, each typed
character one of them, or a scan. At the counter the next label is proposed and printed, so that
nobody types it; a label from the roll is scanned. Before several grooves could be typed in one run
and Enter passed by a size that is as before, a plain casing with six readings took 18 keys: four of
the date, two Tabs, eleven of the treads, Enter.
"""

from statistics import mean

import pytest
from playwright.sync_api import expect

from tests.journeys.clerk import Counter, a_drop_off
from tests.journeys.stopwatch import AT_MOST, K_SKILLED_S, Found, Hand, pile
from tests.world.stack import Stack

CASINGS = 20
BEFORE = 18
SCAN = ("H", "P", "K", "H")
"""To aim and to pull the trigger, the hand there and back: one event."""


def enter(counter: Counter, way: str, casing: Found, *, number: int) -> Hand:
    """One casing, from where the cursor stands after the one before."""
    hand, page = Hand(counter.page), counter.page
    if way == "scanned":
        hand.mind()
        counter.scan(casing.label, "tin")
        hand.events += 1
        hand.operators.update(SCAN)
    counter.expect_at("tin")
    hand.mind()
    hand.keys(*casing.tin, "Enter")
    if number == 1:
        hand.mind()
        hand.keys(*casing.size, "Enter")
    counter.expect_at("treads")
    for at, place in enumerate(casing.treads):
        if at > 0:
            hand.keys("/")
        for depth in place:
            hand.mind()  # each depth is a thought of its own
            hand.keys(str(depth))
    hand.mind()
    hand.keys("Enter")
    expect(page.get_by_test_id("booked").locator("li")).to_have_count(number)
    return hand


@pytest.mark.parametrize("way", ["printed", "scanned"])
def test_a_casing_with_six_tread_readings_takes_few_events_at_the_counter(
    store: Stack, counter: Counter, way: str
) -> None:
    page = counter.page
    labels = [store.cast["labels"].pop() for _ in range(CASINGS)] if way == "scanned" else []
    a_drop_off(counter, CASINGS)
    counter.expect_at("tin")
    casings = pile(labels or [""] * CASINGS)
    hands = [enter(counter, way, casing, number=i) for i, casing in enumerate(casings, 1)]
    first, *others = hands
    most = max(hand.events for hand in others)
    print(
        f"\n  counter, {way}: {most} events a casing at most,"
        f" {mean(h.seconds() for h in others):.1f} s"
        f" ({mean(h.seconds(K_SKILLED_S) for h in others):.1f} s skilled);"
        f" the first {first.events} events, {first.seconds():.1f} s"
    )
    assert most <= AT_MOST
    assert most < BEFORE
    counter.expect_waiting(0, patience_s=60)
    visit = page.url.rsplit("/", 1)[1]
    query = (
        "SELECT label, told FROM custody_fact"
        " WHERE kind = 'picked_up' AND told->>'pickup' = %s ORDER BY stamp"
    )
    told = store.rows(query, visit)
    assert len(told) == CASINGS
    assert labels in ([], [label for label, _ in told])
    for casing, (_, one) in zip(casings, told, strict=True):
        assert one["tins"] == [{"tin": casing.tin, "made": ""}]
        assert (one["size"], one["treads_32nds"]) == (casing.size, casing.treads)
