"""What cannot be read is named with its place, what stood there and what is allowed, in words."""

import re
from typing import Annotated, Any

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pickups.kernel.wire import Fault, Malformed, read, whole

CODE = whole("[a-z]{3}", "three small letters")


class Even(msgspec.Struct, frozen=True):
    """A struct with a word of its own."""

    n: int

    def __post_init__(self) -> None:
        """Types cannot say it."""
        if self.n % 2:
            raise Malformed(Fault("n", str(self.n), "an even number"))


class Shaped(msgspec.Struct):
    """Every kind of member that our messages have."""

    code: Annotated[str, msgspec.Meta(pattern=CODE)] = "abc"
    word: Annotated[str, msgspec.Meta(max_length=5)] = ""
    count: Annotated[int, msgspec.Meta(ge=1, le=9)] | None = None
    size: float = 0.5
    sure: bool = True
    many: Annotated[list[int], msgspec.Meta(max_length=2)] = []
    even: Even = Even(2)
    evens: list[Even] = []
    own: dict[str, int] = {}


def fault(value: Any, field: str = "") -> Fault:
    with pytest.raises(Malformed) as e:
        read(value, Shaped, field)
    return e.value.fault


@pytest.mark.parametrize(
    ("value", "field", "shown", "allowed"),
    [
        ({"code": "ABC"}, "code", "ABC", "three small letters"),
        ({"code": 5}, "code", "5", "text"),
        ({"word": "longer"}, "word", "longer", "text of length <= 5"),
        ({"count": 10}, "count", "10", "a whole number <= 9"),
        ({"count": "x"}, "count", "x", "a whole number or null"),
        ({"size": "x"}, "size", "x", "a number"),
        ({"sure": 1}, "sure", "1", "true or false"),
        ({"many": {}}, "many", "{}", "a list"),
        ({"many": [1, 2, 3]}, "many", "[1, 2, 3]", "a list of length <= 2"),
        ({"many": [1, "x"]}, "many[1]", "x", "a whole number"),
        ({"own": []}, "own", "[]", "an object"),
        ({"even": {"n": 3}}, "even.n", "3", "an even number"),
        ({"evens": [{"n": 2}, {"n": 5}]}, "evens[1].n", "5", "an even number"),
        ({"evens": [{}]}, "evens[0].n", "null", "this field is required"),
        ([], "body", "[]", "an object"),
    ],
)
def test_a_fault_says_where_what_and_what_is_allowed(
    value: Any, field: str, shown: str, allowed: str
) -> None:
    assert fault(value) == Fault(field, shown, allowed)
    assert fault(value, "payload").field == ("payload" if field == "body" else f"payload.{field}")


def test_a_structs_own_word_is_given_also_where_it_is_the_whole_message() -> None:
    with pytest.raises(Malformed) as e:
        read({"n": 7}, Even)
    assert e.value.fault == Fault("n", "7", "an even number")


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r", "\u2028", "\x85", " ", "\0"])
def test_nothing_may_stand_behind_what_fits_a_pattern(end: str) -> None:
    assert read({"code": "abc"}, Shaped).code == "abc"
    assert fault({"code": f"abc{end}"}).allowed == "three small letters"
    assert fault({"code": f"{end}abc"}).allowed == "three small letters"


@given(st.text("abc\n", max_size=5))
def test_a_pattern_fits_the_whole_of_a_text_or_does_not_fit(text: str) -> None:
    assert bool(re.search(CODE, text)) == bool(re.fullmatch("[a-z]{3}", text))
