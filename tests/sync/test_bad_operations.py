"""One operation that cannot be read spoils none beside it; its answer names what is wrong."""

import json
from typing import Any
from uuid import uuid4

import pytest

from pickups.custody.models import Fact
from pickups.kernel.clock import rfc3339
from pickups.sync.models import Operation
from pickups.sync.wire import OPERATION_BYTES
from tests.sync.batches import dumped, push_bytes, told
from tests.world import Phone, World
from tests.world.tables import nothing_written

KIB_64 = OPERATION_BYTES


def spoilt(operation: dict[str, Any], **changed: Any) -> bytes:
    return dumped({**operation, **changed})


def noted(operation: dict[str, Any], note: bytes) -> bytes:
    """The operation with these bytes as its note."""
    payload = {**operation["payload"], "note": "HERE"}
    return dumped({**operation, "payload": payload}).replace(b'"HERE"', note)


def padded(operation: dict[str, Any], size: int) -> bytes:
    raw = dumped({**operation, "payload": {**operation["payload"], "note": ""}})
    return raw.replace(b'"note": ""', b'"note": "' + b"x" * (size - len(raw)) + b'"')


def among_good(world: World, phone: Phone, bad: bytes, op: dict[str, Any]) -> dict[str, Any]:
    """Push the bad one between two good ones; the good are recorded. Its answer."""
    before, after = (phone.pick_up(world.a_label(), world.yard.uid, uuid4()) for _ in range(2))
    answers = push_bytes(phone, [dumped(before), bad, dumped(after)])
    assert [told(answers[0]), told(answers[2])] == ["accepted", "accepted"]
    recorded = {str(uid) for uid in Fact.objects.values_list("uid", flat=True)}
    assert recorded == {before["id"], after["id"]}
    if answers[1]["outcome"] == "refused":
        assert Operation.objects.count() == 2
        with nothing_written():
            assert push_bytes(phone, [bad]) == [answers[1]]
        # Corrected, the same id is free.
        assert [told(a) for a in push_bytes(phone, [dumped(op)])] == ["accepted"]
    return answers[1]


@pytest.fixture
def op(world: World, phone: Phone) -> dict[str, Any]:
    """A good operation, to be spoilt."""
    return phone.pick_up(world.a_label(), world.yard.uid, uuid4())


@pytest.mark.parametrize(
    ("field", "value", "shown", "allowed"),
    [
        ("sequence", 0, "0", ">= 1"),
        ("sequence", "1", "1", "a whole number"),
        ("sequence", 1.5, "1.5", "a whole number"),
        ("sequence", True, "true", "a whole number"),
        ("stamp", -1, "-1", ">= 1"),
        ("kind", "Custody.PickUp", "Custody.PickUp", "small letters"),
        ("kind", "custody.pick_up\n", "custody.pick_up\N{REPLACEMENT CHARACTER}", "small letters"),
        ("kind", 7, "7", "text"),
        ("kind", "a." + "b" * 60, "a.b", "<= 60"),
        ("version", 0, "0", ">= 1"),
        ("version", 10_000, "10000", "<= 9999"),
        ("by", "dale", "dale", "UUID"),
        ("happened_at", "2026-04-14T13:40:07", "2026-04-14T13:40:07", "with its zone"),
        ("happened_at", "yesterday", "yesterday", "a time with its zone"),
        ("payload", [], "[]", "an object"),
        ("payload", None, "null", "an object"),
        ("incarnation", "1", "1", "UUID"),
        ("id", 5, "5", "a UUID"),
    ],
    ids=lambda v: str(v)[:24],
)
def test_a_field_of_the_envelope_that_is_wrong_is_named_with_value_and_allowed(
    world: World, phone: Phone, op: dict[str, Any], field: str, value: Any, shown: str, allowed: str
) -> None:
    answer = among_good(world, phone, spoilt(op, **{field: value}), op)
    assert told(answer) == "refused malformed"
    assert answer["field"] == field
    assert answer["value"].startswith(shown)
    assert allowed in answer["allowed"]
    assert answer.get("id") == (None if field == "id" else op["id"])


@pytest.mark.parametrize("field", ["id", "incarnation", "sequence", "kind", "by", "payload"])
def test_a_missing_field_of_the_envelope_is_named(
    world: World, phone: Phone, op: dict[str, Any], field: str
) -> None:
    less = {k: v for k, v in op.items() if k != field}
    answer = among_good(world, phone, dumped(less), op)
    assert (answer["field"], answer["value"]) == (field, "null")
    assert answer["allowed"] == "this field is required"


def test_an_unknown_field_of_the_envelope_is_named(
    world: World, phone: Phone, op: dict[str, Any]
) -> None:
    answer = among_good(world, phone, spoilt(op, colour="red"), op)
    assert (answer["field"], answer["value"]) == ("colour", "red")
    assert answer["allowed"] == "no field of this name"


@pytest.mark.parametrize(
    ("note", "allowed"),
    [
        (rb'"a\u0000b"', "U+0000"),
        (rb'"\ud800"', "RFC 8259"),
        (rb'"\udc00\ud800"', "surrogate"),
        (rb'"\ud83d and no more"', "surrogate"),
        (b'"\xed\xa0\x80"', "UTF-8"),
        (b'"\xff"', "UTF-8"),
        (b'"\n"', "RFC 8259"),
        (b"NaN", "RFC 8259"),
        (b"Infinity", "RFC 8259"),
        (b"1e999", "RFC 8259"),
        (b"9007199254740992", "9007199254740991"),
        (b"-9007199254740992", "9007199254740991"),
        (b"18446744073709551616", "9007199254740991"),
        (b"1" + b"0" * 400, "9007199254740991"),
        (b'{"a\\u0000b": 1}', "U+0000"),
        (b"[" * 21 + b"]" * 21, "20 levels"),
        (b"[" * 30_000 + b"]" * 30_000, "20 levels"),
        (b'{"a":' * 10_000 + b"1" + b"}" * 10_000, "20 levels"),
        (b"nothing", "RFC 8259"),
        (b"01", "RFC 8259"),
    ],
    ids=lambda v: v[:24].decode("latin-1") if isinstance(v, bytes) else None,
)
def test_what_cannot_be_stored_or_read_exactly_is_refused_and_named(
    world: World, phone: Phone, op: dict[str, Any], note: bytes, allowed: str
) -> None:
    answer = among_good(world, phone, noted(op, note), op)
    assert told(answer) == "refused malformed"
    assert answer["id"] == op["id"]
    assert answer["field"].startswith(("payload.note", "body")), answer
    assert allowed in answer["allowed"] or "surrogate" in answer["value"], answer


def test_a_hundred_thousand_brackets_are_refused_alone(
    world: World, phone: Phone, op: dict[str, Any]
) -> None:
    answer = among_good(world, phone, noted(op, b"[" * 100_000 + b"]" * 100_000), op)
    assert told(answer) == "refused malformed"
    assert (answer["field"], answer["allowed"]) == ("operation", f"at most {KIB_64} bytes")


@pytest.mark.parametrize("piece", [b"null", b"7", b'"text"', b"[]", b"{}", b"true"])
def test_a_piece_that_is_no_operation_at_all_is_refused(
    world: World, phone: Phone, op: dict[str, Any], piece: bytes
) -> None:
    answer = among_good(world, phone, piece, op)
    assert told(answer) == "refused malformed"
    assert "id" not in answer


def test_64_kib_are_taken_and_one_byte_more_is_not(
    world: World, phone: Phone, op: dict[str, Any]
) -> None:
    assert len(padded(op, KIB_64)) == KIB_64
    answer = among_good(world, phone, padded(op, KIB_64 + 1), op)
    assert (answer["field"], answer["value"]) == ("operation", f"{KIB_64 + 1} bytes")
    other = phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    (answer,) = push_bytes(phone, [padded(other, KIB_64)])
    assert told(answer) == "held payload_not_understood"
    assert len(bytes(Operation.objects.get(id=other["id"]).raw or b"")) == KIB_64


@pytest.mark.parametrize(
    "text",
    ["ñandú 😀", "\u2028\u2029", "\x7f", "\t\r\n", "\\u0000", "\ufffd\uffff", '"}],{[', "x" * 500],
    ids=ascii,
)
def test_odd_text_that_can_be_stored_is_stored_as_it_came(
    world: World, phone: Phone, op: dict[str, Any], text: str
) -> None:
    op["payload"]["note"] = text
    for raw in (dumped(op), json.dumps(op, ensure_ascii=False).encode()):
        (answer,) = push_bytes(phone, [raw])
        assert told(answer) == "accepted"
    assert Fact.objects.get().told["note"] == text


@pytest.mark.parametrize(
    "happened_at",
    [
        "0001-01-01T00:00:00+14:00",
        "0700-02-03T04:05:06Z",
        "1969-12-31T23:59:59.999Z",
        "1970-01-01T00:30:00+01:00",
        "9999-12-31T00:00:00Z",
        "9999-12-31T23:59:59-12:00",
    ],
)
def test_a_time_that_no_clock_has_said_is_named(
    world: World, phone: Phone, op: dict[str, Any], happened_at: str
) -> None:
    answer = among_good(world, phone, spoilt(op, happened_at=happened_at), op)
    assert told(answer) == "refused malformed"
    assert answer["field"] == "happened_at"
    assert answer["value"].startswith(happened_at[:19])
    assert answer["allowed"] == "a moment from 1970-01-01 to 9999-12-30"


@pytest.mark.parametrize(
    ("happened_at", "kept"),
    [
        ("1970-01-01T00:00:00Z", "1970-01-01T00:00:00.000Z"),
        ("9999-12-30T23:59:59.999Z", "9999-12-30T23:59:59.999Z"),
        # PostgreSQL takes no offset of 16 hours and more; a clock may be set to any.
        ("2026-04-14T13:40:07+23:59", "2026-04-13T13:41:07.000Z"),
        ("2026-04-14T13:40:07-16:00", "2026-04-15T05:40:07.000Z"),
    ],
)
def test_a_time_is_kept_whatever_its_offset(
    world: World, phone: Phone, op: dict[str, Any], happened_at: str, kept: str
) -> None:
    (answer,) = push_bytes(phone, [spoilt(op, happened_at=happened_at)])
    assert answer["outcome"] in ("accepted", "contested")
    fact = Fact.objects.get(uid=op["id"])
    assert rfc3339(fact.happened_at) == fact.told["at"] == kept


@pytest.mark.parametrize("field", ["label", "photos"])
def test_a_newline_behind_a_label_or_a_hash_is_not_overlooked(
    world: World, phone: Phone, op: dict[str, Any], field: str
) -> None:
    label = op["payload"]["label"]
    changed = {"label": f"{label}\n"} if field == "label" else {"photos": ["a" * 64 + "\n"]}
    answer = among_good(world, phone, spoilt(op, payload=op["payload"] | changed), op)
    assert told(answer) == "held payload_not_understood"
