"""How messages are read, bounded and fingerprinted. Pure: no Django, no table, no kind of message.

Everything that enters by a door is read here once: strict structs, text that can be stored,
bounds on size and depth. The fingerprint of a message is SHA-256 over its RFC 8785 form.
"""

import hashlib
import json
import math
import re
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any, TypeVar

import msgspec
import rfc8785

from pickups.kernel.clock import CALENDAR, on_calendar

DEPTH = 20
INTEGER = 2**53 - 1
"""The greatest whole number that every JSON reader keeps exactly (RFC 8259, section 6)."""

S = TypeVar("S", bound=msgspec.Struct)
_SURROGATE = re.compile("[\ud800-\udfff]")
_sorted = msgspec.json.Encoder(order="sorted")


@dataclass(frozen=True)
class Fault:
    """One thing wrong with an input: the field, what stood there, what is allowed."""

    field: str
    value: str
    allowed: str


class Malformed(ValueError):
    """An input that cannot be read; carries the fault that names the field.

    A struct raises it where it is made from something that its types cannot rule out: a
    ValueError, so that msgspec says where in the message it was and `read` puts that before it.
    """

    def __init__(self, fault: Fault) -> None:
        super().__init__(f"{fault.field}: {fault.value!r}; allowed: {fault.allowed}")
        self.fault = fault


def shown(value: object, limit: int = 80) -> str:
    """A value as an error message shows it: short, on one line, storable."""
    text = value if isinstance(value, str) else json.dumps(value, default=str)
    text = "".join(c if c.isprintable() else "\N{REPLACEMENT CHARACTER}" for c in text)
    return text if len(text) <= limit else text[: limit - 1] + "\N{HORIZONTAL ELLIPSIS}"


def parse(raw: bytes) -> Any:
    """JSON as plain values.

    Raises Malformed for anything that is not JSON, is nested too deep, or is not UTF-8.
    """
    try:
        return msgspec.json.decode(raw)
    except RecursionError:
        raise Malformed(Fault("body", "…", f"at most {DEPTH} levels of nesting")) from None
    except (msgspec.DecodeError, UnicodeDecodeError) as e:
        raise Malformed(Fault("body", shown(str(e)), "JSON in UTF-8 (RFC 8259)")) from None


def storable(value: Any, field: str = "", depth: int = 0) -> None:
    """Raise Malformed unless PostgreSQL can keep the value and every reader keeps it exactly.

    Text with U+0000 or a lone surrogate, numbers beyond 2**53 - 1 and nesting beyond 20 fail.
    """
    if isinstance(value, str):
        if "\x00" in value or _SURROGATE.search(value):
            allowed = "text without U+0000 or surrogates"
            raise Malformed(Fault(field or "body", shown(value), allowed))
    elif isinstance(value, bool) or value is None:
        return
    elif isinstance(value, int):
        if abs(value) > INTEGER:
            raise Malformed(Fault(field or "body", shown(value), f"whole numbers up to {INTEGER}"))
    elif isinstance(value, float):
        if math.isnan(value) or value in (float("inf"), float("-inf")):
            raise Malformed(Fault(field or "body", shown(value), "finite numbers"))
    elif depth >= DEPTH:
        raise Malformed(Fault(field or "body", "…", f"at most {DEPTH} levels of nesting"))
    elif isinstance(value, dict):
        for key, inner in value.items():
            storable(key, field, depth + 1)
            storable(inner, f"{field}.{key}" if field else key, depth + 1)
    elif isinstance(value, list):
        for i, inner in enumerate(value):
            storable(inner, f"{field}[{i}]", depth + 1)


def read(value: Any, shape: type[S], field: str = "") -> S:
    """A plain value as a strict struct; raises Malformed naming the field, value and allowed."""
    try:
        return msgspec.convert(value, shape)
    except msgspec.ValidationError as e:
        raise Malformed(_fault(e, value, field)) from None


def instant(at: datetime, field: str) -> datetime:
    """A moment in UTC, since tables take fewer offsets than messages do; raises Malformed."""
    if not on_calendar(at):
        raise Malformed(Fault(field, at.isoformat(), CALENDAR))
    return at.astimezone(UTC)


def _fault(error: msgspec.ValidationError, value: Any, prefix: str) -> Fault:
    """msgspec says "Expected `int`, got `str` - at `$.count`": split into our three parts."""
    said, _, path = str(error).rpartition(" - at `$")
    if not said:
        said, path = path, ""
    path = path.rstrip("`").lstrip(".")
    if isinstance(error.__cause__, Malformed):  # a struct's own word
        own = error.__cause__.fault
        return Fault(".".join(filter(None, (prefix, path, own.field))), own.value, own.allowed)
    for quote in ("missing required field `", "unknown field `"):
        _, found, name = said.partition(quote)
        if found:
            name = name.rstrip("`")
            path = f"{path}.{name}" if path else name
            said = "this field is required" if "missing" in quote else "no field of this name"
    said = _in_words(said)
    where = f"{prefix}.{path}" if prefix and path else prefix or path or "body"
    return Fault(where, shown(_at(value, path)), said)


PATTERNS: dict[str, str] = {}
"""What a pattern of a struct means to a person, told by whoever made the pattern."""


def whole(pattern: str, words: str) -> str:
    """A pattern that the whole of a text has to fit, and what it means to a person.

    `$` alone lets a newline stand behind it (Python, re); no other spelling of the end is read
    alike by Python and by the readers of a JSON schema (ECMA-262).
    """
    anchored = f"^{pattern}$(?!\\n)"
    PATTERNS[anchored] = words
    return anchored


_UUID = "a UUID (RFC 9562)"
_INSTANT = "a time with its zone (RFC 3339)"
_STARTS = {
    "Invalid UUID": _UUID,
    "Invalid RFC3339 encoded datetime": _INSTANT,
    "Expected `datetime`": _INSTANT,
}
_TYPES = {
    "str": "text",
    "int": "a whole number",
    "float": "a number",
    "bool": "true or false",
    "uuid": _UUID,
    "datetime": _INSTANT,
    "array": "a list",
    "object": "an object",
}


def _in_words(said: str) -> str:
    """A reader's complaint without the library's own words."""
    for pattern, words in PATTERNS.items():
        if repr(pattern) in said:
            return words
    for start, words in _STARTS.items():
        if said.startswith(start):
            return words
    expected = re.match("Expected `([^`]*)`", said)
    if expected is None:
        return said.replace("`", "")
    kinds = (_TYPES.get(kind, kind) for kind in expected[1].split(" | "))
    return " or ".join(kinds) + said[expected.end() :].partition(", got ")[0]


def _at(value: Any, path: str) -> object:
    for step in path.replace("[", ".[").split("."):
        if not step:
            continue
        if step.startswith("[") and isinstance(value, list):
            index = step.strip("[]")
            value = value[int(index)] if index.isdigit() and int(index) < len(value) else None
        elif isinstance(value, dict):
            value = value.get(step)
        else:
            return None
    return value


def canonical(value: Any) -> bytes:
    """The RFC 8785 (JCS) form of a plain JSON value.

    msgspec's sorted encoder writes the same bytes, far faster, while keys are ASCII and numbers
    are whole: code point order and UTF-16 order agree there and no float is written. A property
    test holds both against each other; anything else takes the reference library.
    """
    if _plain(value):
        return _sorted.encode(value)
    return rfc8785.dumps(value)


def _plain(value: Any) -> bool:
    kind = type(value)
    if kind is str:
        return str.isprintable(value)  # control characters: the two writers escape them differently
    if kind is dict:
        return all(k.isascii() and k.isprintable() and _plain(v) for k, v in value.items())
    if kind is list:
        return all(_plain(v) for v in value)
    return kind is not float


def fingerprint(value: Any) -> bytes:
    """SHA-256 over the RFC 8785 form: equal for equal messages, whoever wrote them."""
    return hashlib.sha256(canonical(value)).digest()


class _Fraction(Exception):
    """A number with a fraction or exponent stands in the message."""


def _no_fraction(text: str) -> float:
    raise _Fraction(text)


_whole = msgspec.json.Decoder(float_hook=_no_fraction)
_LONG_NUMBER = re.compile(rb"\d{16}")


def take(raw: bytes) -> tuple[Any, bytes]:
    """A message as plain, storable values, and its fingerprint; raises Malformed.

    The quick way is for nearly every message: in ASCII without a backslash, with too few brackets
    to be deep and no long number, there is nothing for `storable` to find and the sorted encoder
    writes the RFC 8785 form. A property test holds both ways against each other.
    """
    if (
        raw.isascii()
        and b"\\" not in raw
        and raw.count(b"{") + raw.count(b"[") <= DEPTH
        and not _LONG_NUMBER.search(raw)
    ):
        try:
            value = _whole.decode(raw)
        except (_Fraction, msgspec.DecodeError):
            pass
        else:
            return value, hashlib.sha256(_sorted.encode(value)).digest()
    value = parse(raw)
    storable(value)
    return value, fingerprint(value)
