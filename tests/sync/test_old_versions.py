"""An app that was not brought up to date for a year is still understood: every version for ever."""

import json
from pathlib import Path
from typing import Any

import pytest

from pickups.config.places import PROJECT
from pickups.sync.models import Operation
from tests.conftest import Enrol
from tests.sync.batches import push_bytes
from tests.world import World

OPERATIONS = sorted((PROJECT / "fixtures" / "wire").glob("*.v[0-9]*.json"))
NOT_KNOWN = {"version_unknown", "kind_unknown", "payload_not_understood", "could_not_apply"}


AT_THE_PLANT = ("inspection", "dock", "curing")


def is_of_the_plant(told: dict[str, Any]) -> bool:
    """Whether a tablet of a plant tells it; a driver's phone does not."""
    return str(told["kind"]).startswith(AT_THE_PLANT)


@pytest.mark.parametrize("file", OPERATIONS, ids=lambda f: f.stem)
def test_each_version_of_each_operation_is_taken_by_the_door(
    world: World, enrol: Enrol, file: Path
) -> None:
    told = json.loads(file.read_text())["message"]
    phone = enrol(world.operator if is_of_the_plant(told) else world.driver)
    (answer,) = push_bytes(phone, [json.dumps(told).encode()])
    assert answer["outcome"] in {"accepted", "contested", "held"}
    assert answer.get("code") not in NOT_KNOWN
    assert Operation.objects.get().version == told["version"]


def test_all_of_them_in_one_batch_too(world: World, enrol: Enrol) -> None:
    told = [json.loads(f.read_text())["message"] for f in OPERATIONS]
    told.sort(key=lambda m: (m["incarnation"], m["sequence"]))
    for person, of_the_plant in ((world.driver, False), (world.operator, True)):
        batch = [json.dumps(m).encode() for m in told if is_of_the_plant(m) is of_the_plant]
        answers = push_bytes(enrol(person), batch)
        odd = [a for a in answers if a["outcome"] == "refused" or a.get("code") in NOT_KNOWN]
        assert odd == []
    assert Operation.objects.count() == len(OPERATIONS)
