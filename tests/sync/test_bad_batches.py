"""A batch that cannot be read, or comes from somebody who may not send, writes nothing."""

import base64
import gzip
import json
import time
from collections.abc import Callable
from typing import Any
from uuid import uuid4

import pytest

from pickups.people import services as people
from pickups.sync.queries import state
from pickups.sync.wire import BATCH, BODY_BYTES
from tests.conftest import Enrol
from tests.sync.batches import body, dumped, push, push_raw
from tests.world import Phone, World
from tests.world.phone import COOKIE, Reply
from tests.world.tables import nothing_written


def problem(reply: Reply, status: int, code: str) -> dict[str, Any]:
    """The one fault of a problem document (RFC 9457), or an empty one."""
    assert (reply.status, reply.json["code"]) == (status, code), reply.body
    kind = next(v for k, v in reply.headers.items() if k.lower() == "content-type")
    assert kind == "application/problem+json"
    assert reply.json["status"] == status
    assert reply.json["title"]
    faults: list[dict[str, Any]] = reply.json["faults"]
    return faults[0] if faults else {}


def whole(world: World, phone: Phone, **changed: Any) -> bytes:
    op = phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    return json.dumps({**json.loads(body(phone, [dumped(op)])), **changed}).encode()


@pytest.mark.parametrize(
    ("changed", "field", "value", "allowed"),
    [
        ({"protocol": 2}, "protocol", "2", "<= 1"),
        ({"protocol": "1"}, "protocol", "1", "a whole number"),
        ({"sent_at": "2026-04-14T13:40:07"}, "sent_at", "2026-04-14T13:40:07", "with its zone"),
        ({"sent_at": 5}, "sent_at", "5", "a time with its zone"),
        ({"operations": {}}, "operations", "{}", "a list"),
        ({"operations": None}, "operations", "null", "a list"),
        ({"colour": "red"}, "colour", "red", "no field of this name"),
    ],
    ids=lambda v: str(v)[:30],
)
def test_a_wrong_field_of_the_batch_is_named_and_nothing_is_written(
    world: World, phone: Phone, changed: dict[str, Any], field: str, value: str, allowed: str
) -> None:
    data = whole(world, phone, **changed)
    with nothing_written():
        fault = problem(push_raw(phone, data), 400, "malformed")
    assert (fault["field"], fault["value"]) == (field, value)
    assert allowed in fault["allowed"]


@pytest.mark.parametrize("field", ["protocol", "sent_at", "operations"])
def test_a_missing_field_of_the_batch_is_named(world: World, phone: Phone, field: str) -> None:
    less = {k: v for k, v in json.loads(whole(world, phone)).items() if k != field}
    with nothing_written():
        fault = problem(push_raw(phone, json.dumps(less).encode()), 400, "malformed")
    assert (fault["field"], fault["allowed"]) == (field, "this field is required")


@pytest.mark.parametrize(
    "data",
    [
        b" ",
        b"[]",
        b"null",
        b"{",
        b"\xff\xfe{\x00}\x00",
        b"[" * 500_000,
        b'{"operations":' * 30_000,
        b"[" * 100_000 + b"]" * 100_000,
        b'{"protocol":1,"sent_at":"2026-04-14T13:40:07Z","operations":[}',
        b'{"protocol":1,"sent_at":"2026-04-14T13:40:07Z","operations":[{}',
        b'{"protocol":1,"deep":' + b"[" * 5_000 + b"]" * 5_000 + b',"operations":[]}',
        b'{"a":"\\u0000","operations":[]}',
    ],
    ids=lambda d: d[:20].decode("latin-1"),
)
def test_bytes_that_are_no_batch_are_refused(phone: Phone, data: bytes) -> None:
    with nothing_written():
        fault = problem(push_raw(phone, data), 400, "malformed")
    assert fault["field"]


@pytest.mark.parametrize(
    "filling",
    [
        b'"' + b'\\"' * 500_000,
        b'"' * 999_999,
        b"{" * 999_999,
        b'"id"' + b" " * 900_000,
        b"," * 9**6,
    ],
    ids=["open string", "quotes", "braces", "gap", "commas"],
)
def test_a_body_made_to_be_slow_is_answered_soon(phone: Phone, filling: bytes) -> None:
    data = b'{"protocol":1,"sent_at":"2026-04-14T13:40:07Z","operations":[' + filling
    began = time.monotonic()
    with nothing_written():
        problem(push_raw(phone, data), 400, "malformed")
    assert time.monotonic() - began < 5


def test_500_operations_are_taken_and_501_are_not(world: World, phone: Phone) -> None:
    ops = [dumped(phone.enter("custody.sing", {})) for _ in range(BATCH + 1)]
    with nothing_written():
        fault = problem(push_raw(phone, body(phone, ops)), 413, "too_large")
    assert fault == {"field": "operations", "value": "501", "allowed": "at most 500"}
    reply = push_raw(phone, body(phone, ops[:BATCH]))
    assert (reply.status, len(reply.json["answers"])) == (200, BATCH)


def test_a_mebibyte_is_taken_and_one_byte_more_is_not(world: World, phone: Phone) -> None:
    data = whole(world, phone)
    exact = data + b" " * (BODY_BYTES - len(data))
    with nothing_written():
        fault = problem(push_raw(phone, exact + b" "), 413, "too_large")
    assert (fault["field"], fault["allowed"]) == ("body", f"at most {BODY_BYTES} bytes")
    assert push_raw(phone, exact).status == 200


def test_a_gzip_bomb_is_not_unpacked(phone: Phone) -> None:
    bomb = gzip.compress(b" " * 50_000_000)
    with nothing_written():
        fault = problem(push_raw(phone, bomb, Content_Encoding="gzip"), 415, "media_type")
    assert fault == {"field": "Content-Encoding", "value": "gzip", "allowed": "identity"}


@pytest.mark.parametrize("kind", ["text/plain", "application/x-www-form-urlencoded", ""])
def test_another_content_type_is_refused(world: World, phone: Phone, kind: str) -> None:
    """Also those that a page of another site could send without asking first (Fetch, CORS)."""
    data = whole(world, phone)
    with nothing_written():
        fault = problem(push_raw(phone, data, Content_Type=kind), 415, "media_type")
    assert fault == {"field": "Content-Type", "value": kind, "allowed": "application/json"}


@pytest.mark.parametrize("method", ["GET", "PUT", "DELETE", "PATCH"])
def test_another_method_is_refused_and_the_right_one_named(phone: Phone, method: str) -> None:
    reply = phone.send(method, "/api/sync/push", {}, cookie=True)
    problem(reply, 405, "method_not_allowed")
    assert "POST" in next(v for k, v in reply.headers.items() if k.lower() == "allow")


def pushes(phone: Phone) -> Reply:
    return phone.push()


def pulls(phone: Phone) -> Reply:
    return phone.pull()


def sends_a_photo(phone: Phone) -> Reply:
    headers = {"Content-Type": "image/jpeg", "Cookie": f"{COOKIE}={phone.push_secret}"}
    return phone.door("PUT", f"/api/photos/{'0' * 64}", b"", headers)


@pytest.mark.parametrize("door", [pushes, pulls, sends_a_photo])
def test_a_revoked_device_passes_no_door_and_writes_nothing(
    world: World, phone: Phone, door: Callable[[Phone], Reply]
) -> None:
    phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    people.revoke_device(uid=phone.uid)
    with nothing_written():
        problem(door(phone), 401, "device_revoked")


@pytest.mark.parametrize("door", [pushes, pulls, sends_a_photo])
@pytest.mark.parametrize("secret", ["", "guessed", "ü", "x" * 5000])
def test_an_unknown_secret_opens_no_door(
    world: World, phone: Phone, door: Callable[[Phone], Reply], secret: str
) -> None:
    phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    phone.push_secret = phone.read_token = secret
    with nothing_written():
        problem(door(phone), 401, "device_unknown")


@pytest.mark.parametrize("door", [pushes, pulls])
def test_each_credential_opens_its_own_door_only(
    phone: Phone, door: Callable[[Phone], Reply]
) -> None:
    phone.push_secret, phone.read_token = phone.read_token, phone.push_secret
    with nothing_written():
        problem(door(phone), 401, "device_unknown")


def test_a_closing_device_sends_what_it_holds_and_fetches_nothing(
    world: World, phone: Phone
) -> None:
    phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    people.close_device(uid=phone.uid)
    with nothing_written():
        problem(phone.pull(), 403, "device_closing")
    assert push(phone) == ["accepted"]


def test_a_device_enrolled_again_has_new_secrets_and_the_old_ones_open_nothing(
    world: World, phone: Phone, enrol: Enrol
) -> None:
    old = (phone.push_secret, phone.read_token)
    code = people.show_code(site=world.store, made_by=world.dispatcher)
    assert phone.enrol(code).status == 200
    phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    assert push(phone) == ["accepted"]
    phone.push_secret, phone.read_token = old
    problem(phone.push(), 401, "device_unknown")
    problem(phone.pull(), 401, "device_unknown")


@pytest.mark.parametrize(
    "cursor",
    [
        "x",
        "eyJ9",
        "AAAA",
        "ü",
        "e30=",
        "W10=",
        "eyJlIjogMSwgImsiOiBbXX0=",
        "eyJlIjoiMDE5NjAwMDAtMDAwMC03MDAwLTgwMDAtMDAwMDAwMDAwMGYxIiwiayI6eyJhIjpbLTEsMCwwXX19",
        "W" * 16384,
        # Keys that could not be said again: a lone surrogate, U+0000.
        "eyJlIjoiMDE5NjAwMDAtMDAwMC03MDAwLTgwMDAtMDAwMDAwMDAwMGYxIiwiayI6eyJcdWQ4MDAiOlswLDAsMF19fQ==",
        "eyJlIjoiMDE5NjAwMDAtMDAwMC03MDAwLTgwMDAtMDAwMDAwMDAwMGYxIiwiayI6eyJcdTAwMDAiOlswLDAsMF19fQ==",
    ],
)
def test_a_cursor_that_we_did_not_give_is_named(phone: Phone, cursor: str) -> None:
    body = {"cursor": cursor}
    with nothing_written():
        fault = problem(phone.send("POST", "/api/sync/pull", body, bearer=True), 400, "malformed")
    assert fault["field"] == "cursor"
    assert fault["value"] == (cursor if len(cursor) <= 80 else cursor[:79] + "…")


@pytest.mark.parametrize(
    ("body", "field"),
    [
        ({"limit": 0}, "limit"),
        ({"limit": 501}, "limit"),
        ({"limit": "5"}, "limit"),
        ({"cursor": 5}, "cursor"),
        ({"cursor": "x" * 16385}, "cursor"),
        ({"scopes": ["site:other"]}, "scopes"),
        ([], "body"),
    ],
    ids=lambda v: str(v)[:30],
)
def test_a_wrong_field_of_a_pull_is_named(phone: Phone, body: Any, field: str) -> None:
    reply = phone.send("POST", "/api/sync/pull", body, bearer=True)
    assert problem(reply, 400, "malformed")["field"] == field


def test_a_scope_that_cannot_be_said_again_is_refused_also_with_the_epoch_in_force(
    phone: Phone,
) -> None:
    plain = {"e": str(state().epoch), "k": {"\ud800": ["0", "0", "0"]}}
    cursor = base64.urlsafe_b64encode(json.dumps(plain).encode()).decode()
    with nothing_written():
        reply = phone.send("POST", "/api/sync/pull", {"cursor": cursor}, bearer=True)
        assert problem(reply, 400, "malformed")["field"] == "cursor"


def test_a_cursor_of_another_epoch_is_told_to_start_afresh(phone: Phone) -> None:
    cursor = "eyJlIjoiMDE5NjAwMDAtMDAwMC03MDAwLTgwMDAtMDAwMDAwMDAwMGYxIiwiayI6e319"
    with nothing_written():
        reply = phone.send("POST", "/api/sync/pull", {"cursor": cursor}, bearer=True)
    problem(reply, 410, "epoch_changed")
