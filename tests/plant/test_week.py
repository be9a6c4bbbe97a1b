"""A plant's week of casings over HTTP, told as badly as real senders do: every label stands as
the story has it, every count matches, nothing is there twice.

The story and its truth are made up (week/story.py); the server is held against it through its
documented doors, and the number of rows through the database.
"""

import os
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from random import Random
from typing import Any
from uuid import UUID, uuid4

import pytest

from tests.plant.week.senders import Plant
from tests.plant.week.story import Story
from tests.world.herd import kept_door
from tests.world.phone import Phone
from tests.world.stack import Stack

CASINGS, SEED = int(os.environ.get("WEEK_CASINGS", "60")), 20261126
"""A whole week is WEEK_CASINGS=400, some minutes long; the suite plays a short one."""
UNKNOWN = 12
"""So many are never picked up, as far as anybody hears: labels that the plant alone knows."""


@dataclass
class Week:
    """What was told, and the doors to ask."""

    stack: Stack
    story: Story
    plant: Plant

    def get(self, path: str) -> Any:
        """What a plant's system reads."""
        headers = {"Authorization": f"Key {self.plant.key}"}
        reply = self.stack.door("GET", path, b"", headers)
        assert reply.status == 200, reply.body
        return reply.json

    def standing(self) -> dict[str, dict[str, Any]]:
        """Where each casing stands, by its label, page by page from the changes."""
        found: dict[str, dict[str, Any]] = {}
        cursor, more = "", True
        while more:
            page = self.get(f"/api/plant/changes?cursor={cursor}")
            found |= {row["work"]["label"]: row["work"] for row in page["changes"] if row["work"]}
            cursor, more = page["cursor"], page["more"]
        return found

    def inside(self) -> Counter[str]:
        """What is inside, by its label and how often it is told, page by page."""
        found: Counter[str] = Counter()
        cursor: str | None = ""
        while cursor is not None:
            page = self.get(f"/api/plant/work?cursor={cursor}")
            found.update(row["label"] for row in page["work"])
            cursor = page.get("cursor")
        return found


@pytest.fixture(scope="module")
def week() -> Iterator[Week]:
    with Stack(labels=CASINGS) as stack:
        stack.start_web(workers=2)
        start = datetime.now(UTC).replace(hour=6, minute=0, second=0) - timedelta(days=9)
        labels = stack.cast["labels"][:CASINGS]
        story = Story(SEED, labels, start)
        plant = Plant(kept_door(stack), stack.cast["plant_key"], Random(SEED), start)
        early, late = labels[: CASINGS * 9 // 10], labels[CASINGS * 9 // 10 : -UNKNOWN]
        events = story.events()
        _pick_up(stack, early, start - timedelta(days=1))
        plant.tell(events[: len(events) // 2])
        stack.kill_web()  # in the middle of the week
        stack.start_web(workers=2)
        plant.tell(events[len(events) // 2 :])
        plant.settle()
        _pick_up(stack, late, start - timedelta(days=1))
        yield Week(stack, story, plant)


def _pick_up(stack: Stack, labels: list[str], at: datetime) -> None:
    """A driver's phone sends these pickups; the later ones have been to the plant before that."""
    phone = Phone(stack.door, UUID(stack.cast["driver"]), ahead=at - datetime.now(UTC))
    assert phone.enrol(stack.fresh_code()).status == 200
    pickup, yard = uuid4(), UUID(stack.cast["yard"])
    for label in labels:
        phone.pick_up(label, yard, pickup, size="295/75R22.5")
    while phone.outbox:
        assert phone.push().status == 200


def test_faults_really_happened(week: Week) -> None:
    faults = week.plant.faults
    assert min(faults["twice"], faults["answer lost"], faults["away"]) > 0, faults


def test_every_label_stands_as_the_story_has_it(week: Week) -> None:
    standing = week.standing()
    wrong = {}
    for casing in week.story.casings:
        if not casing.events:
            continue
        row, truth = standing[casing.label], casing.truth
        found = {
            "reworks": row["reworks"],
            "holds": len(row["holds"]),
            "finds": len(row["findings"]),
            "reason": row["rejections"][-1]["reason"] if row["rejections"] else "",
            "loads": set(row["loads"]),
        }
        told = {name: getattr(truth, name) for name in found}
        if truth.stage in ("rejected", "finished", "shipped"):
            found["stage"], told["stage"] = row["stage"], truth.stage
        elif truth.holds:
            found["stage"], told["stage"] = row["stage"], "on_hold"
        else:
            found["stage"], told["stage"] = row["stage"] in ("in_work", "repair"), True
        if found != told:
            wrong[casing.label] = (found, told)
    assert wrong == {}
    assert set(standing) == {c.label for c in week.story.casings if c.events}


def test_work_in_process_counts_what_the_story_left_inside(week: Week) -> None:
    inside = {
        casing.label
        for casing in week.story.casings
        if casing.events and casing.truth.stage != "shipped"
    }
    found = week.inside()
    assert set(found) == inside
    assert set(found.values()) == {1}


def test_each_event_is_kept_once_and_told_once(week: Week) -> None:
    posted = len(week.story.events())
    ((events, ids),) = week.stack.rows(
        "SELECT count(*), count(DISTINCT event) FROM inspection_station_event"
    )
    assert events == ids == posted
    ((facts,),) = week.stack.rows(
        "SELECT count(*) FROM custody_fact f JOIN inspection_station_event e ON e.fact = f.uid"
    )
    assert facts == posted


def test_trunk_knows_of_each_casing_what_the_plant_knows(week: Week) -> None:
    rows = week.stack.rows("SELECT label, progress, reason FROM casings_work_order")
    orders = {label: (progress, reason) for label, progress, reason in rows}
    told = [c for c in week.story.casings if c.events and c.label in orders]
    assert len(told) > CASINGS * 8 // 10
    for casing in told:
        progress, reason = orders[casing.label]
        if casing.truth.stage in ("rejected", "finished", "shipped"):
            assert (progress, reason) == (casing.truth.stage, casing.truth.reason), casing.label
        else:
            assert progress in ("received", "in_work"), casing.label
