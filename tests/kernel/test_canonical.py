"""The RFC 8785 form is that of the reference library, for every JSON value there is."""

import hashlib
import json
import math
from typing import Any

import pytest
import rfc8785
from hypothesis import given, settings
from hypothesis import strategies as st

from pickups.kernel.wire import INTEGER, _plain, canonical, fingerprint, parse

SCALARS = (
    st.none()
    | st.booleans()
    | st.integers(-INTEGER, INTEGER)
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text()
)
KEYS = st.text() | st.text("abcXYZ_09", max_size=8)
VALUES = st.recursive(
    SCALARS,
    lambda inner: st.lists(inner, max_size=5) | st.dictionaries(KEYS, inner, max_size=5),
    max_leaves=25,
)
# What operations are made of: the case for which there is a faster way. A lone surrogate never
# gets this far: `storable` refuses it.
PLAIN = st.recursive(
    st.none() | st.booleans() | st.integers(-INTEGER, INTEGER) | st.text(),
    lambda inner: (
        st.lists(inner, max_size=5)
        | st.dictionaries(st.text(st.characters(max_codepoint=126), max_size=8), inner, max_size=6)
    ),
    max_leaves=25,
)


@settings(max_examples=400)
@given(VALUES | PLAIN)
def test_it_is_what_the_reference_library_writes(value: Any) -> None:
    assert canonical(value) == rfc8785.dumps(value)


@pytest.mark.parametrize(
    ("value", "written"),
    [
        # RFC 8785, section 3.2.2 and appendix B.
        (333333333.33333329, b"333333333.3333333"),
        (1e30, b"1e+30"),
        (4.50, b"4.5"),
        (2e-3, b"0.002"),
        (1e-27, b"1e-27"),
        (-0.0, b"0"),
        (5e-324, b"5e-324"),
        (1.0, b"1"),
        ('\u20ac$\u000f\nA\'B"\\\\"/', '"\u20ac$\\u000f\\nA\'B\\"\\\\\\\\\\"/"'.encode()),
        # Section 3.2.3: keys are sorted by UTF-16 code units.
        ({"\ufb33": 1, "\U0001f600": 2}, '{"\U0001f600":2,"\ufb33":1}'.encode()),
        ({"b": 1, "a": [True, None]}, b'{"a":[true,null],"b":1}'),
        ("\x7f\x80", b'"\x7f\xc2\x80"'),
        ("\u2028", b'"\xe2\x80\xa8"'),
    ],
)
def test_it_is_what_the_standard_says(value: Any, written: bytes) -> None:
    assert canonical(value) == written


def test_an_ordinary_operation_takes_the_faster_way_and_a_fraction_does_not() -> None:
    operation = {"id": "x", "stamp": 5, "payload": {"tread_32nds": [6, 7], "note": "ü", "no": None}}
    assert _plain(operation)
    assert not _plain({**operation, "depth": 6.5})
    assert not _plain({**operation, "ü": 1})


@given(VALUES)
def test_the_hash_does_not_depend_on_how_a_value_was_written(value: Any) -> None:
    for written in (
        json.dumps(value),
        json.dumps(value, indent=1, ensure_ascii=False),
        json.dumps(value, sort_keys=True, separators=(" ,\n", " : ")),
    ):
        try:
            raw = written.encode()
        except UnicodeEncodeError:
            continue
        assert fingerprint(parse(raw)) == hashlib.sha256(rfc8785.dumps(value)).digest()


def test_equal_numbers_written_otherwise_are_the_same_message() -> None:
    assert fingerprint(parse(b'{"a":1.0}')) == fingerprint(parse(b'{"a":1}'))
    assert fingerprint(parse(b"[1e2,10E-1]")) == fingerprint([100, 1])
    assert math.isfinite(parse(b"1e308"))
