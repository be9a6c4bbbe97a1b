"""Rules that exist in both languages answer alike on whatever is typed, told and read.

A rule is added as one Pair: the two functions and a strategy of arguments. Hypothesis draws them,
Node answers for the phone, and the first that differ fail, made as small as they get.
"""

from collections.abc import Callable, Iterator
from dataclasses import asdict, dataclass
from datetime import date
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import to_builtins

from pickups.casings import condition, eligibility, load_index, size, tin, tread
from pickups.customers.rules import REPAIRS, Terms

from .twins import PROJECT, Twin, plain, twin_of

MODULES = ["tin", "tread", "size", "load_index", "condition", "eligibility"]

Arguments = st.SearchStrategy[tuple[Any, ...]]


@dataclass(frozen=True)
class Pair:
    """One rule in both languages. phone: how it is asked there, where that differs."""

    module: str
    name: str
    rule: Callable[..., Any]
    arguments: Arguments
    examples: int = 300
    phone: Callable[..., tuple[Any, ...]] = lambda *given: given


# --- What is typed, told and read -----------------------------------------------------------------

ODD = st.sampled_from(
    ["\u00c4", "\U0001f600", "\u2009", "\u00a0", "\u2013", "\u00d7", "?", "\u0665"]
)
DAYS = st.dates(date(1971, 1, 1), date(2098, 12, 31))

DATE_DIGITS = st.builds("{:02}{:02}".format, st.integers(0, 60), st.integers(0, 99))
TIN_PIECES = ODD | st.sampled_from(
    [
        *("DOT", "dot", "D0T", "TIN", "R", "r", " ", " ", "-", "O", "i", "l", "Z"),
        *("mileage contract", "4B", "1B3", "ABC", "08", "4DHR", "ABCDEF", "X", "5"),
    ]
)
TINS = (
    st.text(max_size=24)
    | st.text(st.sampled_from(tin.SYMBOLS + "GIOQSZ?. "), max_size=18)
    | st.builds(
        "{}{}{}{}".format,
        st.lists(TIN_PIECES, max_size=6).map("".join),
        st.sampled_from(["", " "]),
        DATE_DIGITS
        | DATE_DIGITS.map(lambda d: d[1:])
        | DATE_DIGITS.map(lambda d: d.replace("1", "l")),
        st.sampled_from(["", "", " R", "R", "O"]),
    )
)

SIZE_PIECES = ODD | st.sampled_from(
    [
        *("295", "11", "1000", "10.00", "385", "75", "/", "/", "-", " ", "x", "R", "r", "D"),
        *("22.5", "225", "22,5", "20", "24.5", "O", "l", "S", "LT", "LRG", "G", "144/141L", "("),
    ]
)
RATINGS = st.lists(
    st.sampled_from(
        [
            *(
                "G",
                "LR",
                "load range",
                "H",
                "144",
                "/",
                "141",
                "L",
                "(",
                ")",
                " ",
                "14",
                "PR",
                "ply",
            ),
            *("TL", "160", "K", "99", "O"),
        ]
    ),
    max_size=8,
).map("".join)
SIZES = (
    st.text(max_size=16)
    | st.lists(SIZE_PIECES, max_size=7).map("".join)
    | st.builds("{}{}".format, st.sampled_from(size.USUAL), RATINGS)
    | st.text(st.sampled_from("0123456789"), min_size=3, max_size=9)
)
SIZES_THAT_READ = SIZES.filter(lambda text: size.read(text).size is not None)

PLACES = st.lists(st.lists(st.integers(-2, 45) | st.none(), max_size=7), max_size=4)
POSITIONS = st.sampled_from([None, *tread.Position])

FINDINGS = st.lists(
    st.builds(
        eligibility.Finding,
        zone=st.sampled_from(list(condition.Zone)),
        kind=st.sampled_from(list(condition.Condition)),
        count=st.integers(1, 9),
        mm=st.none() | st.integers(1, 400),
    ),
    max_size=4,
)
LOOKED = st.builds(
    eligibility.Looked,
    line=st.sampled_from(["retread", "repair", "sell", "adjustment", "wheel_tire", "wheel"]),
    tins=st.lists(
        st.builds(eligibility.Tin, tin=TINS, made=st.sampled_from(["", "new", "retread"])),
        max_size=4,
    ),
    size=SIZES,
    brand=st.sampled_from(["", " ", "northroad", "Ironbark", "Tall pine"]),
    findings=FINDINGS,
    position=st.sampled_from(["", "steer", "drive", "trailer", "bus_front"]),
    work=st.sampled_from(["retread", "repair"]),
)
TERMS = st.builds(
    Terms,
    oldest_years=st.none() | st.integers(1, 30),
    most_caps=st.none() | st.integers(0, 3),
    most_nail_holes=st.none() | st.integers(0, 6),
    repairs=st.none() | st.lists(st.sampled_from(REPAIRS), unique=True),
    brands=st.none() | st.just(["Northroad", "Tall Pine"]),
    sizes=st.none() | st.lists(st.sampled_from(size.USUAL), min_size=1, max_size=3),
)


def on_the_phone(
    terms: Terms | None, looked: eligibility.Looked, today: date
) -> tuple[dict[str, Any] | None, dict[str, Any], date]:
    """A spec check as a screen asks for it."""
    names = {"id": "s", "customer": "c", "yard": None, "number": 1}
    seen = asdict(looked)
    seen["findings"] = [{**one, "side": "", "photos": []} for one in seen["findings"]]
    return None if terms is None else names | to_builtins(terms), seen, today


def sized(rule: Callable[[size.Size], Any]) -> Callable[[dict[str, Any]], Any]:
    """A rule about a size, asked with the size as JSON has it."""
    return lambda told: rule(size.Size(**told))


READ_SIZES = SIZES_THAT_READ.map(lambda text: (plain(size.read(text).size),))
MADE = st.tuples(DAYS.map(tin.code_of), DAYS)

PAIRS = [
    Pair("tin", "read", tin.read, st.tuples(TINS, DAYS, st.none() | st.integers(0, 60)), 1500),
    Pair("tin", "codeOf", tin.code_of, st.tuples(DAYS)),
    Pair("tin", "weeksIn", tin.weeks_in, st.tuples(st.integers(1971, 2098))),
    Pair("tin", "firstDay", tin.first_day, st.tuples(st.integers(1971, 2098))),
    Pair("tin", "ageWeeks", tin.age_weeks, MADE),
    Pair("tin", "ageYears", tin.age_years, MADE),
    Pair(
        "tin",
        "olderThan",
        tin.older_than,
        st.tuples(DAYS.map(tin.code_of), st.integers(0, 40), DAYS),
    ),
    Pair("tin", "digitsOf", lambda code: code.digits, st.tuples(DAYS.map(tin.code_of))),
    Pair("size", "readSize", size.read, st.tuples(SIZES), 1500),
    Pair("size", "rimMm", sized(size.rim_mm), READ_SIZES, 100),
    Pair("size", "overallDiameterMm", sized(size.overall_diameter_mm), READ_SIZES),
    Pair("size", "diameterSureness", sized(size.diameter_sureness), READ_SIZES, 100),
    Pair("size", "freight", sized(size.freight), READ_SIZES),
    Pair("size", "picks", size.picks, st.tuples(st.lists(SIZES, max_size=9), SIZES)),
    Pair("load_index", "readRating", load_index.read_rating, st.tuples(RATINGS | SIZES), 500),
    Pair("load_index", "loadKg", load_index.kg, st.tuples(st.integers(-5, 300)), 100),
    Pair(
        "tread",
        "measure",
        tread.measure,
        st.tuples(PLACES, POSITIONS, st.none() | st.integers(0, 20), st.integers(1, 6)),
        500,
    ),
    Pair("tread", "fromMm", tread.from_mm, st.tuples(st.floats(0, 60), st.integers(1, 2))),
    Pair("tread", "toMm", tread.to_mm, st.tuples(st.integers(0, tread.MOST_32NDS)), 50),
    Pair("tread", "bans", tread.bans, st.tuples(POSITIONS), 20),
    Pair("condition", "cautionsOf", condition.cautions_of, st.tuples(FINDINGS)),
    Pair(
        "eligibility",
        "check",
        eligibility.check,
        st.tuples(st.none() | TERMS, LOOKED, DAYS),
        1000,
        on_the_phone,
    ),
]


@pytest.fixture(scope="module")
def twin(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Twin]:
    with twin_of(MODULES, tmp_path_factory.mktemp("twins")) as answering:
        yield answering


@pytest.mark.parametrize("pair", PAIRS, ids=lambda pair: f"{pair.module}.{pair.name}")
def test_node_answers_as_python_does(twin: Twin, pair: Pair) -> None:
    @settings(max_examples=pair.examples, deadline=None)
    @given(pair.arguments)
    def answers_are_alike(arguments: tuple[Any, ...]) -> None:
        told = twin.ask(pair.module, pair.name, *pair.phone(*arguments))
        assert told == plain(pair.rule(*arguments))

    answers_are_alike()


@settings(max_examples=300, deadline=None)
@given(TINS, DAYS)
def test_node_leaves_the_same_kinds_open(twin: Twin, text: str, today: date) -> None:
    reading = tin.read(text, today)
    assert twin.ask("tin", "kinds", plain(reading)) == list(reading.kinds)


def test_names_of_the_rules_are_the_same_in_both_languages() -> None:
    enums = {
        "tin": (tin.Found, tin.Layout),
        "tread": (tread.Cause, tread.Position),
        "size": (size.Found,),
        "load_index": (load_index.Wrong,),
        "condition": (condition.Caution, condition.Condition, condition.Zone),
        "eligibility": (eligibility.Rule, eligibility.Verdict),
    }
    for module, words in enums.items():
        source = (PROJECT / f"frontend/src/domain/{module}.ts").read_text()
        for word in (w for enum in words for w in enum):
            assert f'"{word}"' in source, (module, word)
