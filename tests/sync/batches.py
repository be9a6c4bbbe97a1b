"""Bodies of pushes as bytes, also such as no app of ours would make."""

import json
from collections.abc import Sequence
from typing import Any

from pickups.kernel.clock import rfc3339
from pickups.sync.models import Operation
from tests.world import Phone
from tests.world.phone import COOKIE, Reply


def body(phone: Phone, operations: Sequence[bytes]) -> bytes:
    """A batch around operations that are bytes already."""
    return b'{"protocol":1,"sent_at":"%s","operations":[%s]}' % (
        rfc3339(phone.clock()).encode(),
        b",".join(operations),
    )


def push_raw(phone: Phone, data: bytes, **headers: str) -> Reply:
    """Send these bytes as the phone would; headers by name with _ for -."""
    sent = {"Content-Type": "application/json", "Cookie": f"{COOKIE}={phone.push_secret}"}
    sent |= {name.replace("_", "-"): value for name, value in headers.items()}
    return phone.door("POST", "/api/sync/push", data, sent)


def push_bytes(phone: Phone, operations: Sequence[bytes]) -> list[dict[str, Any]]:
    """Send operations that are bytes already; their answers."""
    reply = push_raw(phone, body(phone, operations))
    assert reply.status == 200, reply.body
    answers: list[dict[str, Any]] = reply.json["answers"]
    phone.take_answers(answers)
    return answers


def dumped(operation: dict[str, Any]) -> bytes:
    """As the app writes it."""
    return json.dumps(operation).encode()


def told(answer: dict[str, Any]) -> str:
    """An answer in one word, or two: its outcome and, where there is one, its code."""
    return " ".join(filter(None, (answer["outcome"], answer.get("code"))))


def push(phone: Phone, *operations: dict[str, Any]) -> list[str]:
    """Send these, or the whole outbox; each answer in a word or two."""
    reply = phone.push(list(operations) or None)
    assert reply.status == 200, reply.body
    return [told(answer) for answer in reply.json["answers"]]


def kept(operation: dict[str, Any]) -> Operation:
    """The row of an operation that was answered."""
    return Operation.objects.get(id=operation["id"])
