"""The spec check: the vectors that the phone reads too, and what holds of any casing."""

import json
from dataclasses import asdict, replace
from datetime import date
from pathlib import Path
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from pickups.casings import condition
from pickups.casings.condition import Condition, Zone
from pickups.casings.eligibility import (
    Finding,
    Looked,
    Result,
    Rule,
    Tin,
    Verdict,
    check,
)
from pickups.customers.rules import REPAIRS, Terms, terms

PROJECT = Path(__file__).parents[3]
VECTORS: dict[str, Any] = json.loads((PROJECT / "fixtures/vectors/eligibility.json").read_text())
TODAY = date(2026, 4, 15)
GRAVITY = list(Verdict)


def looked_at(told: dict[str, Any]) -> Looked:
    tins = [Tin(**one) for one in told["tins"]]
    findings = [Finding(**one) for one in told["findings"]]
    return Looked(**{**told, "tins": tins, "findings": findings})


def specification(name: str | None) -> Terms | None:
    return None if name is None else terms(VECTORS["specifications"][name])


# --- The vectors ----------------------------------------------------------------------------------


def judged(case: dict[str, Any]) -> Any:
    day = date.fromisoformat(case["today"])
    result = check(specification(case["specification"]), looked_at(case["looked"]), day)
    return json.loads(json.dumps(asdict(result)))


def test_casings_are_judged_as_the_vectors_say() -> None:
    wrong = [(c["about"], judged(c)) for c in VECTORS["cases"] if judged(c) != c["result"]]
    assert wrong == []


def test_vectors_hold_every_rule_alone_and_beside_others() -> None:
    told = [[g["rule"] for g in case["result"]["grounds"]] for case in VECTORS["cases"]]
    assert {rules[0] for rules in told if len(set(rules)) == 1} == set(Rule)
    assert {rule for rules in told if len(set(rules)) > 1 for rule in rules} == set(Rule)
    assert len(told) >= 500


# --- What holds of any casing ---------------------------------------------------------------------

FINDINGS = st.builds(
    Finding,
    zone=st.sampled_from(list(Zone)),
    kind=st.sampled_from(list(Condition)),
    count=st.integers(1, 9),
    mm=st.none() | st.integers(1, 400),
)
TYPED = st.sampled_from(
    [
        *("1B3 ABCDEF 2923", "4B08 4DHR 1214", "4B08 4DHR 236", "4B08 4DHR 12??", "2923", "1214"),
        *("ABC 2325 R", "ABC 2323", "ABC4X 2922", "1B3 ABCDEF 1027", "FOR MILEAGE CONTRACT", " "),
    ]
)
TINS = st.builds(Tin, tin=TYPED, made=st.sampled_from(["", "new", "retread"]))
LINES = ["retread", "repair", "sell", "adjustment", "wheel_tire", "wheel"]
LOOKED = st.builds(
    Looked,
    line=st.sampled_from(LINES),
    tins=st.lists(TINS, max_size=4),
    size=st.sampled_from(["", "295/75R22.5", "11 R 22.5", "285/75R24.5", "big one"]),
    brand=st.sampled_from(["", "northroad", "Ironbark"]),
    findings=st.lists(FINDINGS, max_size=4),
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
    sizes=st.none() | st.just(["295/75R22.5", "11R22.5"]),
)
DAYS = st.dates(date(1999, 1, 1), date(2040, 12, 31))


def gravest(result: Result) -> Verdict:
    return max((g.verdict for g in result.grounds), key=GRAVITY.index, default=Verdict.TAKE)


@given(TERMS, LOOKED, DAYS)
def test_verdict_is_that_of_the_gravest_ground(spec: Terms, looked: Looked, today: date) -> None:
    result = check(spec, looked, today)
    assert result.verdict is gravest(result)
    assert Verdict.TAKE not in [g.verdict for g in result.grounds]
    order = [GRAVITY.index(g.verdict) for g in result.grounds]
    assert order == sorted(order, reverse=True)


@given(LOOKED, DAYS)
def test_without_a_specification_only_the_stops_and_general_rules_speak(
    looked: Looked, today: date
) -> None:
    general = {
        *(Rule.STOP_CONDITION, Rule.DOT_REMOVED, Rule.NO_TIN, Rule.MILEAGE_CONTRACT),
        *(Rule.PLANT_JUDGES, Rule.BUS_FRONT_WHEEL),
    }
    result = check(None, looked, today)
    assert {g.rule for g in result.grounds} <= general
    assert result == check(Terms(), looked, today)


@given(st.none() | TERMS, LOOKED, FINDINGS, DAYS)
def test_one_thing_more_that_is_seen_never_makes_it_milder(
    spec: Terms | None, looked: Looked, more: Finding, today: date
) -> None:
    before = check(spec, looked, today).verdict
    after = check(spec, replace(looked, findings=[*looked.findings, more]), today).verdict
    assert GRAVITY.index(after) >= GRAVITY.index(before)


@given(st.none() | TERMS, LOOKED, DAYS, st.randoms(use_true_random=False))
def test_order_of_findings_and_tins_does_not_matter(
    spec: Terms | None, looked: Looked, today: date, random: Any
) -> None:
    findings, tins = list(looked.findings), list(looked.tins)
    random.shuffle(findings)
    random.shuffle(tins)
    shuffled = replace(looked, findings=findings, tins=tins)
    assert check(spec, shuffled, today) == check(spec, looked, today)


@given(TERMS, TERMS, LOOKED, DAYS)
def test_a_claim_is_never_left_and_a_loose_wheel_is_not_looked_at(
    spec: Terms, other: Terms, looked: Looked, today: date
) -> None:
    claim = replace(looked, line="adjustment")
    assert check(spec, claim, today).verdict is not Verdict.LEAVE
    assert check(spec, claim, today) == check(other, claim, today)
    assert check(spec, replace(looked, line="wheel"), today) == Result(Verdict.TAKE, ())


@given(st.none() | TERMS, LOOKED, DAYS)
def test_a_stop_leaves_it_whatever_else_is_told(
    spec: Terms | None, looked: Looked, today: date
) -> None:
    stopped = any(condition.is_stop(f.kind) for f in looked.findings)
    result = check(spec, looked, today)
    if stopped and looked.line not in ("adjustment", "wheel"):
        assert result.verdict is Verdict.LEAVE
        assert result.grounds[0].rule is Rule.STOP_CONDITION


@settings(max_examples=300)
@given(TERMS, LOOKED, DAYS)
def test_an_asked_rule_speaks_only_where_the_field_is_filled(
    spec: Terms, looked: Looked, today: date
) -> None:
    of_field = {
        "oldest_years": {Rule.TOO_OLD, Rule.DATE_UNREAD, Rule.DECADE_OPEN, Rule.BIRTH_OPEN},
        "most_caps": {Rule.TOO_MANY_CAPS, Rule.CAPS_OPEN},
        "most_nail_holes": {Rule.TOO_MANY_NAIL_HOLES},
        "repairs": {Rule.REPAIR_NOT_ACCEPTED},
        "brands": {Rule.BRAND_NOT_ACCEPTED, Rule.BRAND_OPEN},
        "sizes": {Rule.SIZE_NOT_ACCEPTED, Rule.SIZE_OPEN},
    }
    spoke = {g.rule for g in check(spec, looked, today).grounds}
    for field, rules in of_field.items():
        if getattr(spec, field) is None:
            assert not spoke & rules


@given(LOOKED, DAYS, st.integers(1, 29))
def test_a_stricter_age_never_makes_it_milder(looked: Looked, today: date, years: int) -> None:
    strict = check(Terms(oldest_years=years), looked, today).verdict
    mild = check(Terms(oldest_years=years + 1), looked, today).verdict
    assert GRAVITY.index(strict) >= GRAVITY.index(mild)


def test_the_rules_are_told_each_once() -> None:
    findings = [Finding("crown", "cut"), Finding("bead", "cut"), Finding("bead", "cord")]
    result = check(None, Looked("retread", [Tin("2923")], findings=findings), TODAY)
    assert [g.rule for g in result.grounds] == [
        Rule.STOP_CONDITION,
        Rule.PLANT_JUDGES,
        Rule.PLANT_JUDGES,
    ]
    assert result.because == ["stop_condition", "plant_judges"]
