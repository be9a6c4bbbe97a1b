"""TIN and tread rules: the vectors that both languages share, and both on the same random input.

fixtures/vectors/tin.json and tread.json are read here and by frontend/tests/domain. Then Node runs
frontend/src/domain/tin.ts and tread.ts themselves, and has to answer as Python does.
"""

import json
import subprocess
from collections.abc import Iterator
from dataclasses import asdict
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from pickups.casings import tin, tread

PROJECT = Path(__file__).parents[3]
TIN: dict[str, Any] = json.loads((PROJECT / "fixtures/vectors/tin.json").read_text())
TREAD: dict[str, Any] = json.loads((PROJECT / "fixtures/vectors/tread.json").read_text())


def plain(told: Any) -> Any:
    """A dataclass as JSON has it."""
    return json.loads(json.dumps(asdict(told), default=date.isoformat))


def position(name: str | None) -> tread.Position | None:
    return None if name is None else tread.Position(name)


# --- The vectors ----------------------------------------------------------------------------------


@pytest.mark.parametrize("case", TIN["cases"], ids=lambda c: f"{c['about']}: {c['text']!r}")
def test_text_is_read_as_the_vector_says(case: dict[str, Any]) -> None:
    today = date.fromisoformat(case["today"])
    assert plain(tin.read(case["text"], today, case["age_limit_years"])) == case["reading"]


@pytest.mark.parametrize("case", TIN["days"], ids=lambda c: c["day"])
def test_day_lies_in_the_week_of_the_vector(case: dict[str, Any]) -> None:
    code = tin.code_of(date.fromisoformat(case["day"]))
    assert (plain(code), code.digits) == (case["code"], case["digits"])


@pytest.mark.parametrize("case", TIN["ages"], ids=lambda c: f"{c['week']}-{c['year']}-{c['on']}")
def test_age_is_that_of_the_vector(case: dict[str, Any]) -> None:
    code, on = tin.date_code(case["week"], case["year"]), date.fromisoformat(case["on"])
    assert code is not None
    assert tin.age_weeks(code, on) == case["weeks"]
    assert tin.age_years(code, on) == case["years"]


@pytest.mark.parametrize("case", TREAD["cases"], ids=lambda c: f"{c['about']}: {c['places']}")
def test_readings_come_to_what_the_vector_says(case: dict[str, Any]) -> None:
    measured = tread.measure(
        case["places"],
        position(case["position"]),
        case["pull_depth_32nds"],
        case["uneven_from_32nds"],
    )
    assert plain(measured) == case["measurement"]


def test_millimetres_are_those_of_the_vectors() -> None:
    for case in TREAD["to_mm"]:
        assert tread.to_mm(case["depth_32nds"]) == case["mm"]
    for case in TREAD["from_mm"]:
        assert tread.from_mm(case["mm"], case["decimals"]) == case["depth_32nds"]


def test_vectors_hold_every_layout_finding_correction_position_and_cause() -> None:
    readings = [case["reading"] for case in TIN["cases"]]
    assert {f["key"] for r in readings for f in r["findings"]} == set(tin.Found)
    assert {c["layout"] for r in readings for c in r["candidates"]} == set(tin.Layout)
    assert {c["typed"] for r in readings for c in r["corrections"]} == set(tin.SLIPS)
    assert {case["position"] for case in TREAD["cases"]} == {None, *tread.Position}
    measured = [case["measurement"] for case in TREAD["cases"]]
    assert {cause for m in measured for cause in m["causes"]} == set(tread.Cause)
    assert len(TIN["cases"]) >= 120
    assert len(TREAD["cases"]) >= 40


# --- The phone's own code, run by Node ------------------------------------------------------------

ANSWERS = """
import { readFileSync } from "node:fs";
import { createInterface } from "node:readline";
import ts from "typescript";

const load = (name) => {
  const source = readFileSync(`src/domain/${name}.ts`, "utf8");
  const compilerOptions = { target: "es2022", module: "esnext" };
  const code = ts.transpileModule(source, { compilerOptions }).outputText;
  return import(`data:text/javascript;base64,${Buffer.from(code).toString("base64")}`);
};
const rules = { tin: await load("tin"), tread: await load("tread") };
for await (const line of createInterface({ input: process.stdin })) {
  const [module, name, given] = JSON.parse(line);
  console.log(JSON.stringify(rules[module][name](...given)));
}
"""


class Twin:
    """The TypeScript modules, asked a function at a time."""

    def __init__(self, node: "subprocess.Popen[str]") -> None:
        self.node = node

    def ask(self, module: str, name: str, *given_to_it: Any) -> Any:
        assert self.node.stdin is not None
        assert self.node.stdout is not None
        self.node.stdin.write(json.dumps([module, name, given_to_it]) + "\n")
        self.node.stdin.flush()
        return json.loads(self.node.stdout.readline())


@pytest.fixture(scope="module")
def twin() -> Iterator[Twin]:
    with subprocess.Popen(
        ["node", "--input-type=module", "-e", ANSWERS],
        cwd=PROJECT / "frontend",
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        encoding="utf-8",
    ) as node:
        yield Twin(node)
        assert node.stdin is not None
        node.stdin.close()


PIECES = st.sampled_from(
    [
        *("DOT", "dot", "D0T", "TIN", "R", "r", " ", " ", "-", "\u2009", "?", "O", "i", "Z"),
        *("mileage contract", "4B", "1B3", "ABC", "08", "4DHR", "ABCDEF", "X", "5"),
        *("\u00c4", "\U0001f600"),
    ]
)
DIGITS = st.builds("{:02}{:02}".format, st.integers(0, 60), st.integers(0, 99))
TYPED = (
    st.text(max_size=24)
    | st.text(st.sampled_from(tin.SYMBOLS + "GIOQSZ?. "), max_size=18)
    | st.builds(
        "{}{}{}{}".format,
        st.lists(PIECES, max_size=6).map("".join),
        st.sampled_from(["", " "]),
        DIGITS | DIGITS.map(lambda d: d[1:]),
        st.sampled_from(["", "", " R", "R", "O"]),
    )
)
DAYS = st.dates(date(1971, 1, 1), date(2098, 12, 31))


@settings(max_examples=1500, deadline=None)
@given(TYPED, DAYS, st.none() | st.integers(0, 60))
@example("dot 4bO8 4dhr 291O", date(2026, 4, 15), 7)
def test_node_reads_any_text_as_python_does(
    twin: Twin, text: str, today: date, limit: int | None
) -> None:
    reading = tin.read(text, today, limit)
    told = twin.ask("tin", "read", text, today.isoformat(), limit)
    assert told == plain(reading)
    assert twin.ask("tin", "kinds", told) == list(reading.kinds)


@settings(max_examples=500, deadline=None)
@given(DAYS, DAYS, st.integers(0, 40))
def test_node_counts_weeks_and_ages_as_python_does(
    twin: Twin, made: date, on: date, years: int
) -> None:
    code = tin.code_of(made)
    told = twin.ask("tin", "codeOf", made.isoformat())
    assert told == plain(code)
    assert twin.ask("tin", "digitsOf", told) == code.digits
    assert twin.ask("tin", "weeksIn", made.year) == tin.weeks_in(made.year)
    assert twin.ask("tin", "firstDay", made.year) == tin.first_day(made.year).isoformat()
    assert twin.ask("tin", "ageWeeks", told, on.isoformat()) == tin.age_weeks(code, on)
    assert twin.ask("tin", "ageYears", told, on.isoformat()) == tin.age_years(code, on)
    older = tin.older_than(code, years, on)
    assert twin.ask("tin", "olderThan", told, years, on.isoformat()) == older


@settings(max_examples=500, deadline=None)
@given(
    st.lists(st.lists(st.integers(-2, 45) | st.none(), max_size=7), max_size=4),
    st.sampled_from([None, *tread.Position]),
    st.none() | st.integers(0, 20),
    st.integers(1, 6),
)
def test_node_measures_as_python_does(
    twin: Twin,
    places: list[list[int | None]],
    at: tread.Position | None,
    pull: int | None,
    uneven: int,
) -> None:
    measured = tread.measure(places, at, pull, uneven)
    assert twin.ask("tread", "measure", places, at, pull, uneven) == plain(measured)


@settings(max_examples=300, deadline=None)
@given(st.floats(0, 60), st.integers(1, 2), st.integers(0, tread.MOST_32NDS))
def test_node_turns_millimetres_as_python_does(
    twin: Twin, mm: float, decimals: int, depth: int
) -> None:
    assert twin.ask("tread", "fromMm", mm, decimals) == tread.from_mm(mm, decimals)
    assert twin.ask("tread", "toMm", depth) == tread.to_mm(depth)


def test_names_of_the_rules_are_the_same_in_both_languages() -> None:
    for module, words in (("tin", (tin.Found, tin.Layout)), ("tread", (tread.Cause,))):
        source = (PROJECT / f"frontend/src/domain/{module}.ts").read_text()
        for word in (w for enum in words for w in enum):
            assert f'"{word}"' in source
