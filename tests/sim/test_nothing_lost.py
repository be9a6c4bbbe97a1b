"""A few small schedules of faults, the same on every run; `make sim` plays large ones and many."""

import json

import pytest

from tests.sim import plan
from tests.sim.draft import Step
from tests.sim.playing import Stage, sentence
from tests.sim.server import SAID

SIZE = plan.Size(
    phones=4, operations=25, net=0.12, kill=0.05, web=0.01, database=0.005, broker=0.01, plant=0.1
)
SEEDS = [3, 5]
RESTORED = plan.Size(phones=2, operations=20, kill=0.05, restore=1.0)
pytestmark = pytest.mark.xdist_group("sim")


def held(stage: Stage, steps: list[Step]) -> dict[str, int]:
    """Plays it; nothing may be found. Returns the faults that happened."""
    outcome = stage.play(steps)
    said = "\n".join([sentence(outcome), *outcome.found, json.dumps(outcome.answers)])
    assert not outcome.found, said
    assert outcome.operations == sum(s["do"] == "tell" for s in steps)
    assert outcome.compared > 0
    return outcome.faults


@pytest.mark.parametrize("seed", SEEDS)
def test_no_entered_fact_is_lost_or_doubled_and_all_replicas_are_equal(
    stage: Stage, seed: int
) -> None:
    steps = plan.schedule(seed, SIZE)
    asked = {s["what"] for s in steps if s["do"] == "world"} - {"plant"}
    happened = held(stage, steps)
    assert {SAID[what] for what in asked} <= set(happened)
    assert sum(happened.values()) > 10


def test_phones_of_a_restored_server_tell_it_again(stage: Stage) -> None:
    happened = held(stage, plan.schedule(1, RESTORED))
    assert happened["restore"] == 1
