"""A casing at the sheet: input events, and seconds by the keystroke-level model."""

from statistics import mean

from tests.bench.figures import note
from tests.journeys.conftest import OpenApp, open_app, stack, web
from tests.journeys.stopwatch import AT_MOST, K_SKILLED_S, pile, run
from tests.world.stack import Stack

__all__ = ["open_app", "stack", "web"]  # fixtures that the journeys have too

CASINGS = 6


def test_a_casing_by_keys_and_by_thumb(web: Stack, open_app: OpenApp) -> None:
    figures: dict[str, float] = {}
    for way in ("scanned", "typed", "thumb"):
        labels = [web.cast["labels"].pop() for _ in range(CASINGS)]
        _, *others = run(open_app().page, way, pile(labels))
        figures[f"{way}_events"] = max(hand.events for hand in others)
        figures[f"{way}_s"] = mean(hand.seconds() for hand in others)
        figures[f"{way}_skilled_s"] = mean(hand.seconds(K_SKILLED_S) for hand in others)
    note("a casing with six tread readings", **figures, aim=f"at most {AT_MOST} input events")
