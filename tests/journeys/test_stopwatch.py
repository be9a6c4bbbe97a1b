"""Twenty casings by keys and by thumb: how many input events one takes, and how many seconds."""

from statistics import mean

import pytest

from tests.journeys.conftest import OpenApp
from tests.journeys.stopwatch import AT_MOST, K_SKILLED_S, pile, run
from tests.world.stack import Stack

CASINGS = 20


@pytest.mark.parametrize("way", ["scanned", "typed", "thumb"])
def test_a_casing_with_six_tread_readings_takes_few_events(
    web: Stack, open_app: OpenApp, way: str
) -> None:
    app = open_app()
    casings = pile([web.cast["labels"].pop() for _ in range(CASINGS)])
    app.set_offline(True)
    first, *others = run(app.page, way, casings)
    most = max(hand.events for hand in others)
    print(
        f"\n  {way}: {most} events a casing at most, {mean(h.seconds() for h in others):.1f} s"
        f" ({mean(h.seconds(K_SKILLED_S) for h in others):.1f} s skilled);"
        f" the first {first.events} events, {first.seconds():.1f} s"
    )
    assert most <= AT_MOST
    app.set_offline(False)
    app.expect_waiting(0, patience_s=40)
    for casing in casings:
        [(told,)] = web.rows("SELECT told FROM custody_fact WHERE label = %s", casing.label)
        assert told["size"] == casing.size
        assert told["treads_32nds"] == casing.treads
        assert told["tins"] == [{"tin": casing.tin, "made": ""}]
