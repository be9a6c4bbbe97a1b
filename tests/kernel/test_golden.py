"""The golden messages: what a phone and the server say, read by both sides' tests.

A published message never changes: its hash stands beside it. vitest reads the same files.
"""

import json
import re
from datetime import datetime
from pathlib import Path
from typing import Any

import msgspec
import pytest

from pickups.config.wiring import COMMANDS
from pickups.kernel import problems
from pickups.kernel.wire import Fault, Malformed, canonical, fingerprint, parse, read, storable
from pickups.people.wire import Enrolled, EnrolRequest
from pickups.sync.batch import open_batch, open_operation
from pickups.sync.wire import Answer, Outcome, PhotoAnswer, PullPage, PullRequest, PushAnswer, Row

FOLDER = Path(__file__).parents[2] / "fixtures/wire"
SHAPES: dict[str, type[msgspec.Struct]] = {
    "enrol.answer": Enrolled,
    "enrol.request": EnrolRequest,
    "photo.answer": PhotoAnswer,
    "pull.page": PullPage,
    "pull.request": PullRequest,
    "push.answer": PushAnswer,
}
MOMENT = re.compile(r"\d{4}-\d\d-\d\dT[\d:.]+Z")
OPERATIONS = sorted(FOLDER.glob("*.v[0-9]*.json"))


def message(name: str) -> Any:
    return json.loads((FOLDER / f"{name}.json").read_text())["message"]


@pytest.mark.parametrize("file", sorted(FOLDER.glob("*.json")), ids=lambda f: f.stem)
def test_a_message_can_be_stored_and_its_hash_is_the_one_beside_it(file: Path) -> None:
    held = json.loads(file.read_text())
    storable(held["message"])
    if file in OPERATIONS:
        assert fingerprint(held["message"]).hex() == held["rfc8785_sha256"]
    for written in (canonical(held["message"]), json.dumps(held["message"], indent=7).encode()):
        assert fingerprint(parse(written)) == fingerprint(held["message"])


@pytest.mark.parametrize("file", OPERATIONS, ids=lambda f: f.stem)
def test_an_operation_is_read_as_its_kind_and_version(file: Path) -> None:
    told = json.loads(file.read_text())["message"]
    envelope, _ = open_operation(json.dumps(told).encode())
    assert file.name.startswith(f"{envelope.kind}.v{envelope.version}.")
    payload = read(envelope.payload, COMMANDS[envelope.kind, envelope.version].payload)
    again = msgspec.json.decode(msgspec.json.encode(payload))
    assert kept(told["payload"], again) == kept(told["payload"], told["payload"])
    assert read(again, type(payload)) == payload


def kept(told: Any, read_: Any) -> Any:
    """Of what was read: what was told, at every level; a moment as a moment, however written."""
    if isinstance(told, dict):
        return {name: kept(value, read_[name]) for name, value in told.items()}
    if isinstance(told, list):
        assert len(told) == len(read_)
        return [kept(value, again) for value, again in zip(told, read_, strict=True)]
    if isinstance(told, str) and MOMENT.fullmatch(told):
        return datetime.fromisoformat(read_)
    return read_


def test_every_kind_and_version_that_is_taken_has_a_golden_message() -> None:
    assert {f"{kind}.v{version}" for kind, version in COMMANDS} == {
        ".".join(f.name.split(".")[:3]) for f in OPERATIONS
    }


@pytest.mark.parametrize("name", sorted(SHAPES))
def test_a_message_has_exactly_the_fields_of_its_struct(name: str) -> None:
    told = message(name)
    read_ = read(told, SHAPES[name])
    again = msgspec.json.decode(msgspec.json.encode(read_), type=SHAPES[name])
    assert again == read_
    assert fields(msgspec.to_builtins(read_)) == fields(told)


def fields(value: Any) -> Any:
    """The names in a message, at every level; an unknown or a missing one shows."""
    if isinstance(value, dict):
        return {k: fields(v) for k, v in value.items()}
    return [fields(v) for v in value] if isinstance(value, list) else None


def test_the_golden_batch_opens_and_holds_the_golden_operations() -> None:
    batch = open_batch(json.dumps(message("push.request")).encode())
    operations = [json.loads(f.read_text())["message"] for f in OPERATIONS]
    opened = [json.loads(bytes(raw)) for raw in batch.operations]
    assert sorted(opened, key=str) == sorted(operations, key=str)


def test_the_golden_problem_is_what_a_door_says() -> None:
    with pytest.raises(Malformed) as e:
        read({"limit": 501}, PullRequest)
    assert problems.body(problems.Code.MALFORMED, [e.value.fault]) == message("problem")


def test_every_code_of_a_problem_has_a_status_and_a_title() -> None:
    for code in problems.Code:
        made = problems.body(code, [Fault("f", "v", "a")])
        assert 400 <= made["status"] < 600
        assert made["title"]
        assert made["detail"] == "f: v; allowed: a"


def test_an_answer_leaves_out_what_does_not_apply() -> None:
    assert msgspec.to_builtins(Answer(Outcome.ACCEPTED)) == {"outcome": "accepted"}
    gone = Row("s", "e", "i", 1, gone=True)
    assert set(msgspec.to_builtins(gone)) == {"scope", "entity", "id", "version", "gone"}
