"""Both languages say everything, and everything that can be said has words."""

import re
import string
from datetime import UTC, datetime
from typing import get_args

import pytest

from pickups.casings.rules import Progress
from pickups.custody.fold import Conflict, Kind
from pickups.desk import words
from pickups.labels.rules import LabelFault
from pickups.notices.models import Notice
from pickups.people.models import Device, User
from pickups.questions.rules import Kind as Question
from plant.inspection.wire import Cause, Zone


def names_in(text: str) -> set[str]:
    return {name for _, name, _, _ in string.Formatter().parse(text) if name}


def test_both_languages_have_the_same_keys_and_names_in_them() -> None:
    en, es = words.of("en"), words.of("es")
    assert en.keys() == es.keys()
    assert {k for k in en if names_in(en[k]) != names_in(es[k])} == set()
    assert all(text.strip() for text in [*en.values(), *es.values()])


def test_spanish_has_one_word_for_a_casing_and_one_kind_of_quotation_mark() -> None:
    said = [*words.of("es").values(), *(words.meaning("es", k) for k in Question)]
    assert [text for text in said if re.search(r"\bcascos?\b|[“”\"]", text)] == []
    assert any("carcasa" in text for text in said)


def test_no_inside_word_and_no_exclamation_reaches_a_page() -> None:
    inside = re.compile(
        r"\b(outbox|replica|fold|journal|feed|cursor|incarnation|payload)\b|!", re.IGNORECASE
    )
    found = [t for lang in words.LANGUAGES for t in words.of(lang).values() if inside.search(t)]
    found += [words.meaning(lang, k) for k in Question for lang in words.LANGUAGES]
    assert [text for text in found if inside.search(text)] == []


def test_no_setting_of_the_server_is_named_to_who_cannot_set_it() -> None:
    said = [text for lang in words.LANGUAGES for text in words.of(lang).values()]
    assert [text for text in said if re.search(r"[A-Z]{2,}_[A-Z]{2,}", text)] == []


@pytest.mark.parametrize("language", words.LANGUAGES)
def test_everything_that_a_page_can_show_has_words(language: str) -> None:
    told = [k for k in Kind if k is not Kind.PICKED_UP]
    wanted = [
        *(f"fact_{k}" for k in told),
        *(f"progress_{p}" for p in Progress),
        *(str(c) for c in Conflict),
        *(f"fault_{f}" for f in LabelFault),
        *(f"role_{r}" for r in User.Role.values),
        *(f"status_{s}" for s in Device.Status.values),
        *(f"notice_{k}" for k in Notice.Kind.values),
        *(f"zone_{z}" for z in get_args(Zone)),
        *(f"cause_{c}" for c in get_args(Cause)),
    ]
    assert [key for key in wanted if key not in words.of(language)] == []
    assert all(words.meaning(language, kind) for kind in Question)


@pytest.mark.parametrize(
    ("seconds", "said"),
    [(20, "moments"), (60, "1 min"), (119 * 60, "119 min"), (7200, "2 h"), (172800, "2 days")],
)
def test_a_length_of_time_is_said_in_the_largest_unit_that_passed_twice(
    seconds: float, said: str
) -> None:
    assert words.span("en", seconds) == said


def test_an_instant_is_said_in_the_readers_language() -> None:
    at = datetime(2026, 1, 3, 9, 5, tzinfo=UTC)
    assert words.day_and_time("en", at) == "Sat 3 Jan 2026, 09:05"
    assert words.day_and_time("es", at) == "sáb 3 ene 2026, 09:05"
