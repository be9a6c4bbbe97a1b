"""Both languages say everything, and everything that can be shown has words."""

import re
import string
from typing import get_args

import pytest

from pickups.casings.rules import Progress
from pickups.custody.fold import LEG, Kind
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
        rules.state(progress, reason=reason, on_hold=hold)
        for progress in Progress
        for reason in ("", "ZIPPER")
        for hold in (False, True)
    }
    said_otherwise = {Kind.HANDED_IN, Kind.HANDED_OUT}
    wanted = [
        *(f"fact_{k}" for k in LEG if k not in said_otherwise),
        *("fact_loaded", "fact_unloaded", "fact_put_right", "fact_rejection_released"),
        *(f"state_{s}" for s in states),
        *(f"where_{s}" for s in states),
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
