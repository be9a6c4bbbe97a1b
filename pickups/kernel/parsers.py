"""How request bodies enter: bounded in bytes, refused in other encodings, then read once.

Knows HTTP and limits, no message. gzip is not taken: a batch is small, a bomb is not.
"""

from collections.abc import Mapping
from typing import IO, Any

from django.http import HttpRequest
from rest_framework.parsers import BaseParser

from pickups.kernel.problems import Code, Problem
from pickups.kernel.wire import Fault, parse, storable

JSON_BYTES = 1024 * 1024


def bounded(request: HttpRequest, limit: int, kinds: tuple[str, ...]) -> bytes:
    """The request's body, at most `limit` bytes, in one of the media types named.

    Raises Problem: media_type for another type or any Content-Encoding, too_large past the limit.
    """
    kind = request.headers.get("Content-Type", "").split(";")[0].strip().lower()
    if kind not in kinds:
        raise Problem(Code.MEDIA_TYPE, Fault("Content-Type", kind[:80], ", ".join(kinds)))
    encoding = request.headers.get("Content-Encoding", "identity").lower()
    if encoding != "identity":
        raise Problem(Code.MEDIA_TYPE, Fault("Content-Encoding", encoding[:80], "identity"))
    length = request.headers.get("Content-Length", "")
    if length.isdigit() and int(length) > limit:
        raise Problem(Code.TOO_LARGE, Fault("body", f"{length} bytes", f"at most {limit} bytes"))
    data = request.read(limit + 1)
    if len(data) > limit:
        raise Problem(Code.TOO_LARGE, Fault("body", "more bytes", f"at most {limit} bytes"))
    return bytes(data)


class SafeJSONParser(BaseParser):
    """DRF's door for JSON: one mebibyte, storable text, bounded depth; else a named fault."""

    media_type = "application/json"

    def parse(
        self,
        stream: IO[Any],
        media_type: str | None = None,
        parser_context: Mapping[str, Any] | None = None,
    ) -> Any:
        """Plain values; raises Malformed or Problem(too_large)."""
        data = stream.read(JSON_BYTES + 1)
        if len(data) > JSON_BYTES:
            raise Problem(
                Code.TOO_LARGE, Fault("body", "more bytes", f"at most {JSON_BYTES} bytes")
            )
        value = parse(data)
        storable(value)
        return value
