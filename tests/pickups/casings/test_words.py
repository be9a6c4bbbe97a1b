"""What was told of a casing, in sentences: complete in both languages, never a template, silent
about what nobody told."""

from string import Template
from typing import Any, get_args

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pickups.casings import words
from pickups.casings.condition import Condition, Side, Zone
from pickups.casings.eligibility import Rule
from pickups.casings.words import Sayer
from pickups.casings.words.en import EN
from pickups.casings.words.es import ES
from pickups.custody.wire import Line
from pickups.custody.wire.picking_up import Position, PulledFor
from pickups.kernel.languages import amount

both = pytest.mark.parametrize("language", ["en", "es"])


def test_both_languages_say_the_same_things_with_the_same_names() -> None:
    assert ES.keys() == EN.keys()
    for key, english in EN.items():
        names = set(Template(english).get_identifiers())
        assert set(Template(ES[key]).get_identifiers()) == names, key


def test_every_code_of_the_wire_and_of_the_rules_has_words() -> None:
    wanted = {f"line_{line}" for line in get_args(Line)}
    wanted |= {f"position_{p}" for p in get_args(Position) if p}
    wanted |= {f"pulled_{p}" for p in get_args(PulledFor) if p}
    wanted |= {f"because_{rule}" for rule in Rule}
    assert wanted <= EN.keys()


text = st.text(max_size=12)
ZONES, KINDS, SIDES = (list(map(str, codes)) for codes in (Zone, Condition, Side))
RULES = [*map(str, Rule), "a_rule_to_come"]
findings = st.lists(
    st.fixed_dictionaries(
        {"zone": st.sampled_from(ZONES), "kind": st.sampled_from(KINDS)},
        optional={"side": st.sampled_from(["", *SIDES]), "mm": st.integers(1, 3000),
                  "count": st.integers(1, 99)},
    ),
    max_size=4,
)  # fmt: skip
checks = st.fixed_dictionaries(
    {"verdict": st.sampled_from(["take", "plant", "leave"])},
    optional={"number": st.one_of(st.none(), st.integers(1, 9)), "overruled": text,
              "because": st.lists(st.sampled_from(RULES), max_size=3)},
)  # fmt: skip
casings = st.fixed_dictionaries(
    {},
    optional={
        "line": st.sampled_from(get_args(Line)), "tin": text, "size": text, "rating": text,
        "brand": text, "tins": st.lists(st.fixed_dictionaries(
            {"tin": text}, optional={"made": st.sampled_from(["", "new", "retread"])}), max_size=3),
        "tread_32nds": st.lists(st.integers(0, 40), max_size=4),
        "treads_32nds": st.lists(st.lists(st.one_of(st.none(), st.integers(0, 40)), max_size=4),
                                 max_size=3),
        "position": st.sampled_from(get_args(Position)), "wheel": text, "unit": text,
        "odometer": st.integers(0, 9_999_999), "odometer_in": st.sampled_from(["mi", "km"]),
        "pulled_for": st.sampled_from(get_args(PulledFor)), "findings": findings, "check": checks,
        "tread_design": text, "fleet_brand": text, "complaint": text, "rim": st.sampled_from(
            ["", "steel", "aluminum"]), "valve_out": st.booleans(), "store": st.just("s"),
        "sale": st.fixed_dictionaries({"pays": st.sampled_from(["price", "credit"])}, optional={
            "grade": text, "cents": st.one_of(st.none(), st.integers(0, 10_000_000))}),
    },
)  # fmt: skip


@given(casings, st.sampled_from(["en", "es"]), st.booleans())
def test_whatever_was_told_is_said_and_an_empty_sentence_never(
    told: dict[str, Any], language: str, office: bool
) -> None:
    sayer = Sayer(language, "USD", office=office)
    said = [*sayer.casing(told), *sayer.why_left(told), *sayer.cautions(told)]
    assert "" not in said
    assert bool(sayer.kind(told)) == ("line" in told)
    if told.get("line") == "adjustment":
        assert told.get("complaint", "") in sayer.kind(told)[0]
    cents = told.get("sale", {}).get("cents")
    if told.get("line") == "sell" and cents is not None:
        assert any(amount(cents, "USD") in sentence for sentence in said)
    seen = {f["kind"] for f in told.get("findings", [])}
    assert words.is_stopped(told) >= bool(seen & words.WARNED)


def test_nothing_told_is_nothing_said() -> None:
    assert Sayer("en", "USD").casing({}) == []
    assert words.marks({}) == ""
    assert words.comes_back({})
    assert not words.is_stopped({})


TOLD: dict[str, Any] = {
    "line": "retread",
    "tread_design": "open shoulder drive",
    "tins": [{"tin": "DOT 4B08 4DHR 2910", "made": "new"}, {"tin": "7RT 1219", "made": "retread"}],
    "size": "295/75R22.5",
    "rating": "G 144/141L",
    "brand": "Corvane",
    "treads_32nds": [[6, 7, 6, 5], [6, None, 6, 5]],
    "position": "drive",
    "wheel": "left rear outer",
    "unit": "T-118",
    "odometer": 412800,
    "pulled_for": "worn",
    "findings": [
        {"zone": "crown", "kind": "nail_hole", "mm": 6, "count": 2},
        {"zone": "sidewall", "kind": "cut", "side": "serial", "mm": 40},
    ],
    "check": {"verdict": "leave", "number": 3, "because": ["too_old"], "overruled": "Asked for."},
}


def test_a_casing_reads_as_a_person_would_tell_it() -> None:
    assert words.marks(TOLD) == "295/75R22.5 G 144/141L, Corvane"
    assert Sayer("en", "USD").casing(TOLD) == [
        "Casing to retread, tread design open shoulder drive.",
        "TIN: DOT 4B08 4DHR 2910 (new), 7RT 1219 (retread).",
        "Tread by place, /32 in: 6 7 6 5 | 6 \N{EN DASH} 6 5; lowest 5, mean 5.9.",
        "Came off: unit T-118, drive axle, left rear outer, 412,800 mi. Pulled for: worn.",
        "Seen on it: nail hole, crown, 2 times, 6 mm; cut, sidewall, serial side, 40 mm.",
        "Spec check by your casing specification, number 3: it should stay, for its age.",
        "The driver took it all the same: Asked for.",
    ]


@both
def test_what_was_typed_is_never_read_as_a_template(language: str) -> None:
    told = TOLD | {"brand": "$brand", "wheel": "${unit}", "tread_design": "$design $$"}
    said = " ".join(Sayer(language, "USD").casing(told))
    assert "${unit}" in said
    assert "$design $$" in said


@both
@pytest.mark.parametrize("kind", ["cord", "separation", "run_flat"])
def test_what_must_be_warned_of_in_writing_is(language: str, kind: str) -> None:
    sayer = Sayer(language, "USD")
    told = {"findings": [{"zone": "sidewall", "kind": kind}]}
    assert sayer.why_left(told)[-1].startswith(sayer.say("warning"))
    harmless = {"findings": [{"zone": "crown", "kind": "cut"}]}
    assert sayer.say("warning") not in sayer.why_left(harmless)


FEE = "fee $3.50 each, $21.00 in total"


@pytest.mark.parametrize(
    ("told", "said"),
    [
        ({"count": 1}, "1 scrap tire, counted and not labelled."),
        ({"count": 6, "fee_cents": 350, "manifest": "SM-20418"},
         f"6 scrap tires, counted and not labelled, {FEE}, manifest SM-20418."),
        ({"count": 2, "fee_cents": 0}, "2 scrap tires, counted and not labelled, no fee."),
    ],
)  # fmt: skip
def test_scrap_says_how_many_what_it_costs_and_its_paper(told: dict[str, Any], said: str) -> None:
    assert Sayer("en", "USD").scrap(told) == said


def test_amounts_stand_in_the_dealers_currency() -> None:
    assert amount(1_234_567, "USD") == "$12,345.67"
    assert amount(5, "CAD") == "0.05 CAD"
    assert "4.00 CAD" in Sayer("en", "CAD").scrap({"count": 2, "fee_cents": 200})


def test_our_own_people_read_whose_it_is_and_a_customer_that_it_is_his() -> None:
    wheel = {"line": "wheel_tire"}
    assert "customer's" in Sayer("en", "USD", office=True).kind(wheel)[0]
    assert "yours" in Sayer("en", "USD").kind(wheel)[0]
    assert "valve cores" in Sayer("en", "USD", office=True).handling(wheel)
    for language, rims in (("en", "Multi-piece rims"), ("es", "rines de varias piezas")):
        assert rims in Sayer(language, "USD").handling(wheel)
    assert Sayer("en", "USD", office=True).handling({"line": "wheel"}) == ""


def test_what_the_wire_takes_is_what_is_said_here() -> None:
    """A field that is renamed on the wire would silently be said no more."""
    from pickups.custody.wire import Check1, Finding1, PickUp3, Sale1, Tin1

    told = {f.name for f in msgspec.structs.fields(PickUp3)}
    assert told >= TOLD.keys() | {"complaint", "rim", "valve_out", "fleet_brand", "sale"}
    assert {"tin", "made"} == {f.name for f in msgspec.structs.fields(Tin1)}
    for struct, used in (
        (Finding1, {"zone", "kind", "side", "mm", "count"}),
        (Check1, {"verdict", "number", "because", "overruled"}),
        (Sale1, {"grade", "cents", "pays"}),
    ):
        assert used <= {f.name for f in msgspec.structs.fields(struct)}
