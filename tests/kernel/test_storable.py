"""What passes the door is kept by PostgreSQL exactly; what does not is named."""

import os
from collections.abc import Iterator
from typing import Any

import psycopg
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from psycopg.types.json import Jsonb

from pickups.config.places import DATABASE_USER
from pickups.kernel.wire import DEPTH, INTEGER, Malformed, shown, storable

Connection = psycopg.Connection[Any]


@pytest.fixture(scope="module")
def postgres() -> Iterator[Connection]:
    with psycopg.connect(
        host=os.environ["YARDLOOP_TEST_POSTGRES"],
        user=DATABASE_USER,
        dbname="postgres",
        autocommit=True,
    ) as connection:
        yield connection


ANY_TEXT = st.text(st.characters(exclude_categories=()), max_size=20)
VALUES = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**70), 2**70) | ANY_TEXT,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(ANY_TEXT, inner, max_size=4),
    max_leaves=12,
)


@settings(max_examples=150)
@given(value=VALUES)
def test_whatever_passes_comes_back_from_the_database_as_it_was(
    postgres: Connection, value: Any
) -> None:
    try:
        storable(value)
    except Malformed:
        return
    row = postgres.execute("SELECT %s::jsonb", [Jsonb(value)]).fetchone()
    assert row == (value,)


@pytest.mark.parametrize(
    ("value", "field", "allowed"),
    [
        ({"payload": {"note": "a\0b"}}, "payload.note", "text without U+0000 or surrogates"),
        ({"a": ["x", "\ud800"]}, "a[1]", "text without U+0000 or surrogates"),
        ({"a": {"b\0": 1}}, "a", "text without U+0000 or surrogates"),
        ({"n": INTEGER + 1}, "n", f"whole numbers up to {INTEGER}"),
        ({"n": -INTEGER - 1}, "n", f"whole numbers up to {INTEGER}"),
        ({"n": float("nan")}, "n", "finite numbers"),
        ({"n": float("-inf")}, "n", "finite numbers"),
        ("\0", "body", "text without U+0000 or surrogates"),
    ],
)
def test_what_does_not_pass_is_named(value: Any, field: str, allowed: str) -> None:
    with pytest.raises(Malformed) as e:
        storable(value)
    assert (e.value.fault.field, e.value.fault.allowed) == (field, allowed)
    assert e.value.fault.value.isprintable()


def nested(levels: int) -> Any:
    value: Any = 1
    for _ in range(levels):
        value = [value]
    return value


def test_nesting_is_bounded() -> None:
    storable(nested(DEPTH))
    with pytest.raises(Malformed):
        storable(nested(DEPTH + 1))


@given(ANY_TEXT | VALUES, st.integers(2, 90))
def test_a_shown_value_is_one_short_line_that_can_be_stored(value: Any, limit: int) -> None:
    text = shown(value, limit)
    assert len(text) <= limit
    assert text.isprintable()
    storable(text)
