"""Schedules follow from their seeds, parts of them are sound, and a failing one becomes small."""

import re

import pytest

from pickups.config.wiring import COMMANDS
from tests.sim.draft import Step
from tests.sim.plan import Size, drivers, kinds, phones, schedule, sound
from tests.sim.road import STOPS
from tests.sim.shrink import shrink

SMALL = Size(phones=4, operations=40, plant=0.2, web=0.02)


def tells(steps: list[Step]) -> list[Step]:
    return [s for s in steps if s["do"] == "tell"]


def test_a_seed_makes_the_same_schedule_and_another_seed_another() -> None:
    assert schedule(7, SMALL) == schedule(7, SMALL)
    assert schedule(7, SMALL) != schedule(8, SMALL)


def test_a_schedule_holds_every_kind_of_operation_and_of_fault() -> None:
    steps = [
        s for seed in range(6) for s in schedule(seed, Size(enrol=0.01, web=0.01, restore=1.0))
    ]
    assert set(kinds(steps)) == drivers(COMMANDS)
    assert {s["do"] for s in steps} >= {"net", "kill", "clock", "enrol", "sync", "rest"}
    assert {s["what"] for s in steps if s["do"] == "world"} == {
        "web", "webs", "database", "broker", "backup", "restore", "plant", "sheet"
    }  # fmt: skip
    assert any("corrects" in s["payload"] for s in tells(steps))
    assert any("photos" in s for s in tells(steps))


def test_two_phones_wear_one_label_and_the_plant_names_some_before_they_are_picked_up() -> None:
    steps = schedule(1, Size())
    taken: dict[str, set[int]] = {}
    early = set()
    for step in steps:
        if step["do"] == "world" and step["what"] == "plant":
            early |= {e["label"] for e in step["events"]} - set(taken)
        if step["do"] == "tell" and step["kind"] == "custody.pick_up":
            taken.setdefault(step["payload"]["label"], set()).add(step["phone"])
    assert any(len(who) > 1 for who in taken.values())
    assert early & set(taken)


@pytest.mark.parametrize("seed", range(5))
def test_a_part_of_a_schedule_names_nothing_that_is_not_in_it(seed: int) -> None:
    part = sound(schedule(seed, SMALL)[seed::3])
    told: set[str] = set()
    for step in tells(part):
        text = str(step["payload"])
        assert {w for w in told_in(text) if w not in told} == set()
        told.add(step["id"])


def told_in(text: str) -> set[str]:
    return {word for word in text.replace("'", " ").split() if word.startswith("@o")}


def test_a_failing_schedule_becomes_the_few_steps_that_make_it_fail() -> None:
    """The fault: a corrected pick_up on a phone that was killed before."""

    def fails(steps: list[Step]) -> bool:
        killed: set[int] = set()
        for step in steps:
            if step["do"] == "kill":
                killed.add(step["phone"])
            if step["do"] == "tell" and "corrects" in step["payload"] and step["phone"] in killed:
                return True
        return False

    seed = next(s for s in range(50) if fails(schedule(s, Size(phones=4, operations=40, kill=0.1))))
    steps = schedule(seed, Size(phones=4, operations=40, kill=0.1))
    smallest = shrink(steps, fails, most=500)
    assert fails(smallest)
    assert len(smallest) == 3  # the kill, what was told, its correction
    assert phones(smallest) <= 2


def test_the_phone_that_is_left_of_a_schedule_names_its_own_driver_sheet_and_stops() -> None:
    """Whose number changes is named by the new one everywhere, in what the office does too."""
    size = Size(phones=4, operations=60, sheet=0.1)

    def fails(steps: list[Step]) -> bool:
        words = [s for s in tells(steps) if s["phone"] == 3 and "runs." in s["kind"]]
        return len(words) > 3 and any(s.get("run") == "@run3" for s in steps)

    steps = next(s for s in (schedule(seed, size) for seed in range(50)) if fails(s))
    smallest = shrink(steps, fails, most=60)
    assert phones(smallest) == 2
    assert any(s.get("run") == "@run1" for s in smallest)
    text = str(smallest)
    assert set(re.findall(r"@(?:person|run)\d+", text)) <= {"@person1", "@run1"}
    assert set(re.findall(r"@stop\d+", text)) <= {f"@stop{n}" for n in range(STOPS, 2 * STOPS)}


def test_a_schedule_that_fails_only_as_a_whole_stays_whole() -> None:
    steps = schedule(1, Size(phones=2, operations=10))
    whole = len(tells(steps))
    smallest = shrink(steps, lambda some: len(tells(some)) == whole, most=500)
    assert len(tells(smallest)) == whole
