"""`make sim`: schedules of faults, resumable by seed.

SIM_SCHEDULES, SIM_PHONES, SIM_OPERATIONS (a phone) and SIM_SEED (the first) come from the
environment; a failing schedule names its seed: run it again with SIM_SEED=that SIM_SCHEDULES=1.
"""

import os
from collections import Counter
from collections.abc import Iterator

import pytest

from tests.sim.schedule import Schedule
from tests.world.stack import Stack

SCHEDULES = int(os.environ.get("SIM_SCHEDULES", "3"))
PHONES = int(os.environ.get("SIM_PHONES", "4"))
OPERATIONS = int(os.environ.get("SIM_OPERATIONS", "30"))
SEED = int(os.environ.get("SIM_SEED", "1"))
happened: Counter[str] = Counter()


@pytest.fixture(scope="module")
def stack() -> Iterator[Stack]:
    """One server for all schedules, with what a kill of the database needs to survive it."""
    with Stack(durable=True, labels=SCHEDULES * PHONES * OPERATIONS + 50) as made:
        made.start_web()
        yield made
    print(f"\n  faults: {dict(sorted(happened.items()))}")


@pytest.mark.parametrize("seed", range(SEED, SEED + SCHEDULES))
def test_no_entered_fact_is_lost_or_doubled_and_all_replicas_are_equal(
    stack: Stack, seed: int
) -> None:
    schedule = Schedule(stack, seed, phones=PHONES, operations=OPERATIONS)
    try:
        schedule.run()
        schedule.check()
    finally:
        happened.update(schedule.faults)
        schedule.end()
    print(f"\n  seed {seed}: {len(schedule.entered)} operations, {dict(schedule.faults)}")
