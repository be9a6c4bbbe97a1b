"""Both languages say everything about lists, with the same names in each sentence."""

import re
import string
from typing import Any

import pytest

from pickups.exchange import words
from pickups.exchange.rules.cells import folded
from pickups.exchange.rules.lists import LISTS
from pickups.exchange.words.work import WORK

TABLES = ("LISTS", "HEADINGS", "ALSO", "MEANS", "ALLOWED", "EXAMPLE", "TEMPLATE", "FAULTS",
          "UNREADABLE", "SAID", "CELL")  # fmt: skip


def names_in(text: str) -> set[str]:
    return {name for _, name, _, _ in string.Formatter().parse(text) if name}


@pytest.mark.parametrize("table", TABLES)
def test_both_languages_have_the_same_keys_and_names_in_them(table: str) -> None:
    en, es = (getattr(words.of(language), table) for language in ("en", "es"))
    assert en.keys() == es.keys()
    told = {k: v for k, v in en.items() if isinstance(v, str)}
    assert {k for k, v in told.items() if names_in(v) != names_in(es[k])} == set()


def test_codes_have_words_in_both_languages() -> None:
    assert WORK["en"].keys() == WORK["es"].keys()
    for language in ("en", "es"):
        spoken = words.spoken(language)
        for column in (c for one in LISTS for c in one.columns if c.choices):
            written = [spoken.write(column.key, code) for code in column.choices]
            assert len(set(written)) == len(column.choices)
            ways = spoken.codes(column.key)
            assert {ways[folded(w)] for w in written} == set(column.choices)


def test_every_column_of_every_list_has_its_words() -> None:
    keys = {c.key for one in LISTS for c in one.columns}
    for language in ("en", "es"):
        w: Any = words.of(language)
        assert keys == set(w.HEADINGS) == set(w.MEANS) == set(w.ALSO)
        assert keys - {"id"} == set(w.EXAMPLE)


def test_no_heading_means_two_columns_of_one_list() -> None:
    for language in ("en", "es"):
        for one in LISTS:
            called = [folded(words.heading(language, c.key)) for c in one.columns]
            assert len(set(called)) == len(called)


def test_spanish_has_one_kind_of_quotation_mark_and_no_exclamation() -> None:
    w = words.of("es")
    said = [t for table in TABLES for t in getattr(w, table).values() if isinstance(t, str)]
    assert [t for t in said if re.search(r"[“”\"!¡]|\bcascos?\b", t)] == []
