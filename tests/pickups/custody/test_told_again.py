"""A pick_up told again by apps of other versions: nothing that they could not know of is lost, and
what two versions tell in two ways never disagrees with itself."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any
from uuid import UUID, uuid4

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pickups.custody import fold
from pickups.custody.fold import Fact
from tests.pickups.custody.histories import BEGAN_MS, corrected, picked_up, stamps
from tests.pickups.custody.test_record import order, push
from tests.world import Phone, World

depths = st.integers(0, 3)
tins = st.sampled_from(["A 2910", "B 1219", "C 3320"])

first_version = st.fixed_dictionaries(
    {},
    optional={
        "tin": tins,
        "tread_32nds": st.lists(depths, min_size=1, max_size=3),
        "size": st.sampled_from(["11R22.5", "295/75R22.5"]),
    },
)
wanted = st.fixed_dictionaries(
    {"work": st.sampled_from(["retread", "repair"])}, optional={"unit": st.just("T-118")}
)
second_version = st.builds(lambda told, more: told | more, first_version, wanted)


@st.composite
def third_version(draw: st.DrawFn) -> dict[str, Any]:
    """As commands keep it: the first TIN and all depths in a row beside the finer ones."""
    told: dict[str, Any] = {
        **draw(wanted),
        "line": draw(st.sampled_from(["retread", "adjustment", "wheel_tire"])),
    }
    if read := draw(st.lists(tins, max_size=2)):
        told |= {"tins": [{"tin": tin, "made": ""} for tin in read], "tin": read[0]}
    places = draw(st.lists(st.lists(st.one_of(st.none(), depths), max_size=3), max_size=2))
    if any(places):
        told["treads_32nds"] = places
    if flat := [d for place in places for d in place if d is not None]:
        told["tread_32nds"] = flat
    for name in ("brand", "complaint", "rim"):
        if draw(st.booleans()):
            told[name] = draw(st.sampled_from(["one", "two"]))
    return told


any_version = st.one_of(first_version, second_version, third_version())
BARE = {"at", "pickup", "yard", "original_label"}


def history(versions: Sequence[tuple[dict[str, Any], int]]) -> list[Fact]:
    """The first is told at the pickup, the others tell it again."""
    original = picked_up(UUID(int=1), **versions[0][0])
    facts = [original]
    for n, (told, stamp) in enumerate(versions[1:], start=2):
        again = corrected(UUID(int=n), original, original.label, stamp)
        bare = {k: v for k, v in again.told.items() if k in BARE}
        facts.append(replace(again, told=bare | told))
    return facts


histories = st.lists(st.tuples(any_version, stamps), min_size=1, max_size=5).map(history)


def standing(facts: Sequence[Fact]) -> dict[str, Any]:
    (claim,) = fold.claims(facts)
    return dict(claim.fact.told)


@given(histories, st.randoms())
def test_any_order_of_versions_ends_in_the_same(facts: list[Fact], dice: Any) -> None:
    other = [*facts, *facts[:2]]
    dice.shuffle(other)
    assert standing(other) == standing(facts)


@given(histories)
def test_the_finer_and_the_coarser_telling_never_disagree(facts: list[Fact]) -> None:
    told = standing(facts)
    if "tins" in told:
        assert told["tins"][0]["tin"] == told.get("tin")
    if "treads_32nds" in told:
        flat = [d for place in told["treads_32nds"] for d in place if d is not None]
        assert flat == told.get("tread_32nds", [])


@given(histories)
def test_who_told_last_is_believed_in_what_he_knew_of_and_nothing_else_is_lost(
    facts: list[Fact],
) -> None:
    told = standing(facts)
    again = facts[1:]
    last = max(again, key=lambda f: f.order, default=facts[0])
    for name in ("tin", "tread_32nds", "size"):
        assert told.get(name) == last.told.get(name)
    knew = [f for f in again if "line" in f.told]
    seen = max(knew, key=lambda f: f.order, default=facts[0])
    for name in ("line", "brand", "complaint", "rim"):
        assert told.get(name) == seen.told.get(name)
    knew = [f for f in again if "work" in f.told]
    wants = max(knew, key=lambda f: f.order, default=facts[0])
    for name in ("work", "unit"):
        assert told.get(name) == wants.told.get(name)


@given(third_version(), st.sampled_from([1, 2]))
def test_an_older_app_that_changes_nothing_it_shows_changes_nothing(
    told: dict[str, Any], version: int
) -> None:
    shows = ("tin", "tread_32nds", "work", "unit") if version == 2 else ("tin", "tread_32nds")
    again = {k: told[k] for k in shows if k in told}
    facts = history([(told, BEGAN_MS), (again, BEGAN_MS + 1)])
    found = standing(facts)
    assert {k: v for k, v in found.items() if k not in BARE} == told


SEEN: dict[str, Any] = {
    "line": "adjustment",
    "tins": [{"tin": "4B08 4DHR 2910", "made": "new"}, {"tin": "7RT 1219", "made": "retread"}],
    "treads_32nds": [[6, 7], [6, None]],
    "findings": [{"zone": "crown", "kind": "nail_hole", "count": 2}],
    "check": {"verdict": "plant", "because": ["cut_to_judge"]},
    "complaint": "tread came off",
}


def enter(phone: Phone, world: World, version: int, label: str, **more: Any) -> dict[str, Any]:
    payload = {"pickup": str(uuid4()), "yard": str(world.yard.uid), "label": label, **more}
    made = phone.enter("custody.pick_up", payload, version=version)
    push(phone)
    return made


@pytest.mark.django_db
@pytest.mark.parametrize("version", [1, 2])
def test_an_older_phone_that_puts_a_size_right_takes_nothing_from_what_a_newer_one_saw(
    world: World, phone: Phone, version: int
) -> None:
    label = world.a_label()
    op = enter(phone, world, 3, label, **SEEN)
    before = order(op).told
    known = {"tin": "4B08 4DHR 2910", "tread_32nds": [6, 7, 6]}
    named = {"fact": op["id"], "label": label}
    enter(phone, world, version, label, **known, size="11R22.5", corrects=named)
    assert order(op).told == before | {"size": "11R22.5"}


@pytest.mark.django_db
@pytest.mark.parametrize("version", [1, 2])
def test_an_older_phone_that_read_another_tin_is_believed_and_no_list_says_otherwise(
    world: World, phone: Phone, version: int
) -> None:
    label = world.a_label()
    op = enter(phone, world, 3, label, **SEEN)
    named = {"fact": op["id"], "label": label}
    enter(phone, world, version, label, tin="4B08 4DHR 2911", tread_32nds=[5], corrects=named)
    told = order(op).told
    assert (told["tin"], told["tread_32nds"]) == ("4B08 4DHR 2911", [5])
    assert "tins" not in told
    assert "treads_32nds" not in told
    assert told["complaint"] == "tread came off"
    assert len(told["findings"]) == 1


@pytest.mark.django_db
@pytest.mark.parametrize("version", [1, 2])
def test_a_newer_phone_tells_an_older_ones_casing_again_whole(
    world: World, phone: Phone, version: int
) -> None:
    label = world.a_label()
    op = enter(phone, world, version, label, tin="OLD 2910", tread_32nds=[9])
    named = {"fact": op["id"], "label": label}
    enter(phone, world, 3, label, **SEEN, corrects=named)
    told = order(op).told
    assert told["tins"][1]["tin"] == "7RT 1219"
    assert (told["tin"], told["tread_32nds"]) == ("4B08 4DHR 2910", [6, 7, 6])
