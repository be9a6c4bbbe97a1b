"""Taking a pushed body apart, so that one bad operation never spoils those beside it. Pure."""

import re

import msgspec

from pickups.kernel.wire import Fault, Malformed, parse, read, take
from pickups.sync.wire import BATCH, OPERATION_BYTES, Envelope, PushRequest

# Possessive, and an open string runs to the end: no body makes this look at a byte twice.
_TOKEN = re.compile(rb'"(?:[^"\\]|\\.)*+"?|[\[\]{},:]', re.DOTALL)
_PUSH = msgspec.json.Decoder(PushRequest)


class TooMany(Exception):
    """More operations than a batch may carry; `count` is how many came."""

    def __init__(self, count: int) -> None:
        super().__init__(str(count))
        self.count = count


def open_batch(body: bytes) -> PushRequest:
    """The batch with its operations still raw.

    Raises Malformed where the batch itself cannot be read, TooMany past 500 operations. Where one
    operation is broken inside (a lone surrogate, a thousand brackets) the others are still found.
    """
    try:
        request = _PUSH.decode(body)
    except msgspec.ValidationError as e:
        value = parse(body)
        if isinstance(value, dict) and isinstance(value.get("operations"), list):
            value["operations"] = []  # they are not looked into here
        read(value, PushRequest)  # names the field
        raise Malformed(Fault("body", "…", str(e))) from None
    except (msgspec.DecodeError, RecursionError):
        head, pieces = _split(body)
        request = read(parse(head), PushRequest)
        request.operations = [msgspec.Raw(piece) for piece in pieces]
    if len(request.operations) > BATCH:
        raise TooMany(len(request.operations))
    return request


def open_operation(raw: bytes) -> tuple[Envelope, bytes]:
    """One operation and the fingerprint of its RFC 8785 form; raises Malformed with the fault."""
    if len(raw) > OPERATION_BYTES:
        raise Malformed(Fault("operation", f"{len(raw)} bytes", f"at most {OPERATION_BYTES} bytes"))
    value, fingerprint = take(raw)
    return read(value, Envelope), fingerprint


def readable_id(raw: bytes) -> str | None:
    """The id of an operation that cannot be read, if that much of it can."""
    found = re.search(rb'"id"\s*:\s*"([0-9a-fA-F-]{36})"', raw)
    return found.group(1).decode() if found else None


def _split(body: bytes) -> tuple[bytes, list[bytes]]:
    """Cut the elements out of the top object's array `operations` without recursion."""
    depth, start, pieces = 0, None, []
    opened = closed = None
    key, expecting = b"", False
    for token in _TOKEN.finditer(body):
        text = token.group()
        if text[:1] == b'"':
            if depth == 1:
                key = text
            continue
        if text in b"[{":
            depth += 1
            ours = depth == 2 and text == b"[" and key == b'"operations"' and expecting
            if opened is None and ours:
                opened = start = token.end()
        elif text in b"]}":
            depth -= 1
            if opened is not None and closed is None and depth == 1:
                closed = token.start()
                pieces.append(body[start:closed])
        elif text == b"," and opened is not None and closed is None and depth == 2:
            pieces.append(body[start : token.start()])
            start = token.end()
        expecting = text == b":" and depth == 1
    if opened is None or closed is None:
        raise Malformed(Fault("body", "…", "JSON in UTF-8 (RFC 8259)"))
    kept = [piece for piece in pieces if piece.strip()] if len(pieces) == 1 else pieces
    return body[:opened] + body[closed:], kept
