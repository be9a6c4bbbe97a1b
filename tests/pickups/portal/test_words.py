"""Both languages say everything, and everything that can be shown has words."""

import re
import string
from datetime import date
from typing import get_args

import pytest

from pickups.casings.rules import Progress
from pickups.custody.fold import LEG, Kind
from pickups.custody.wire import BackTo, Basis, Work
from pickups.kernel.languages import LANGUAGES
from pickups.portal import rules, words
from plant.inspection.wire import Cause


def names_in(text: str) -> set[str]:
    return {name for _, name, _, _ in string.Formatter().parse(text) if name}


def test_both_languages_have_the_same_keys_and_names_in_them() -> None:
    en, es = words.of("en"), words.of("es")
    assert en.keys() == es.keys()
    assert {k for k in en if names_in(en[k]) != names_in(es[k])} == set()
    assert all(text.strip() for text in [*en.values(), *es.values()])


def test_no_inside_word_and_no_exclamation_reaches_a_page() -> None:
    inside = re.compile(
        r"\b(outbox|replica|fold|journal|feed|cursor|portal|token|session)\b|!", re.IGNORECASE
    )
    shown = [text for language in LANGUAGES for text in words.of(language).values()]
    assert [text for text in shown if inside.search(text)] == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_everything_that_a_page_can_show_has_words(language: str) -> None:
    states = {
        rules.state(progress, reason=reason, on_hold=hold, at=at)
        for progress in Progress
        for reason in ("", "ZIPPER")
        for hold in (False, True)
        for at in ("", "yard", "store 1")
    }
    said_otherwise = {Kind.HANDED_IN, Kind.HANDED_OUT}
    wanted = [
        *(f"fact_{k}" for k in LEG if k not in said_otherwise),
        *("fact_loaded", "fact_unloaded", "fact_put_right", "fact_rejection_released"),
        *("fact_dropped_off", "fact_out", "fact_fetched", "fact_returned_to_you"),
        *(
            "fact_returned_elsewhere",
            "state_astray",
            "where_astray",
            "where_out",
            "where_shipped_store",
            "fetch_at",
            "goes_out",
        ),
        *(f"state_{s}" for s in states),
        *(f"where_{s}" for s in states - {"ready", "finished"}),
        *(f"where_{s}_{way}" for s in ("ready", "finished") for way in get_args(BackTo)),
        *(f"where_{s}_yard_on" for s in ("ready", "finished")),
        *(f"comes_{way}" for way in get_args(BackTo)),
        *(str(kept) for kept in rules.Kept),
        *(f"work_{w}" for w in get_args(Work)),
        *(f"basis_{b}" for b in get_args(Basis) if b != "own"),
        *(f"cause_{c}" for c in get_args(Cause)),
        *(f"heading_{g}" for g in rules.Group),
        *(f"count_{g}_{n}" for g in rules.Group for n in ("one", "n")),
    ]
    assert [key for key in wanted if key not in words.of(language)] == []


def test_a_rejected_casing_counts_as_rejected_however_far_it_has_come() -> None:
    for progress in (Progress.REJECTED, Progress.SHIPPED):
        assert rules.group(progress, reason="ZIPPER") is rules.Group.REJECTED
        assert "rejected" in words.say("en", f"state_{rules.state(progress, reason='ZIPPER')}")
    # Released and finished afterwards, it has no reason any more.
    assert rules.group(Progress.FINISHED) is rules.Group.FINISHED


def test_what_is_on_hold_is_not_finished() -> None:
    assert rules.group(Progress.FINISHED, on_hold=True) is rules.Group.WORKING
    assert rules.state(Progress.FINISHED, on_hold=True) == "on_hold"


def test_ready_is_what_is_finished_and_lies_where_its_last_way_starts() -> None:
    for progress in Progress:
        for at in ("", "yard", "store 1"):
            done = progress in (Progress.FINISHED, Progress.SHIPPED)
            ready = rules.group(progress, at=at) is rules.Group.READY
            assert ready == (rules.state(progress, at=at) == "ready") == (done and bool(at))
    assert rules.group(Progress.SHIPPED, at="yard", on_hold=True) is not rules.Group.READY
    assert rules.group(Progress.SHIPPED, at="yard", reason="ZIPPER") is rules.Group.REJECTED
    assert rules.state(Progress.SHIPPED, reason="ZIPPER", at="yard") == "rejected_shipped"


MONDAY, TUESDAY, WEDNESDAY = (date(2026, 5, day) for day in (4, 5, 6))


@pytest.mark.parametrize(
    ("today", "comes", "at", "kept"),
    [
        (MONDAY, None, "", "promised"),
        (TUESDAY, None, "", "promised"),
        (WEDNESDAY, None, "", "was_promised"),
        (MONDAY, TUESDAY, "yard", "promised"),
        (MONDAY, WEDNESDAY, "yard", "will_be_late"),
        (WEDNESDAY, WEDNESDAY, "yard", "was_promised"),
        (WEDNESDAY, None, "store 1", "promised"),
    ],
)
def test_a_promise_for_tuesday_is_open_at_risk_or_late(
    today: date, comes: date | None, at: str, kept: str
) -> None:
    assert rules.kept(TUESDAY, today=today, comes=comes, at=at) == kept
