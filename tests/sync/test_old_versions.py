"""An app that was not brought up to date for a year is still understood: every version for ever."""

import json
from pathlib import Path

import pytest

from pickups.config.places import PROJECT
from pickups.sync.models import Operation
from tests.sync.batches import push_bytes
from tests.world import Phone, World

OPERATIONS = sorted((PROJECT / "fixtures" / "wire").glob("*.v[0-9]*.json"))
NOT_KNOWN = {"version_unknown", "kind_unknown", "payload_not_understood", "could_not_apply"}


@pytest.mark.parametrize("file", OPERATIONS, ids=lambda f: f.stem)
def test_each_version_of_each_operation_is_taken_by_the_door(
    world: World, phone: Phone, file: Path
) -> None:
    told = json.loads(file.read_text())["message"]
    (answer,) = push_bytes(phone, [json.dumps(told).encode()])
    assert answer["outcome"] in {"accepted", "contested", "held"}
    assert answer.get("code") not in NOT_KNOWN
    assert Operation.objects.get().version == told["version"]


def test_all_of_them_in_one_batch_too(world: World, phone: Phone) -> None:
    told = [json.loads(f.read_text())["message"] for f in OPERATIONS]
    told.sort(key=lambda m: (m["incarnation"], m["sequence"]))
    answers = push_bytes(phone, [json.dumps(m).encode() for m in told])
    odd = [a for a in answers if a["outcome"] == "refused" or a.get("code") in NOT_KNOWN]
    assert odd == []
    assert Operation.objects.count() == len(OPERATIONS)
