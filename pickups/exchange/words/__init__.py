"""What lists in files are called and what is said of them, in English and Spanish. Pure.

A heading may be written in either language, and as many a dealer's spreadsheet has it (ALSO).
"""

from collections.abc import Iterable, Mapping
from functools import cache
from types import ModuleType
from typing import Any

from pickups.casings.condition import kind_in_words
from pickups.customers.rules import REPAIRS
from pickups.exchange.rules.cells import folded
from pickups.exchange.rules.lists import BY_NAME, LISTS, Column, Listing
from pickups.exchange.rules.planning import Fault
from pickups.exchange.rules.reading import Unreadable
from pickups.exchange.rules.values import Spoken
from pickups.exchange.words import en, es
from pickups.kernel.wire import shown

_IN: Mapping[str, ModuleType] = {"en": en, "es": es}
SAY_AT_MOST = 12
"""How many of many allowed values a sentence names."""


def of(language: str) -> Any:
    """The words of a language, as a module of tables."""
    return _IN[language]


@cache
def headings() -> dict[str, dict[str, str]]:
    """For each list, every way to write a heading (folded) to its column."""
    made: dict[str, dict[str, str]] = {}
    for listing in LISTS:
        names = made[listing.name] = {}
        keys = [c.key for c in listing.columns]
        for also in (False, True):  # what a column is called goes before what it may be called
            for spoken in _IN.values():
                for key in keys:
                    for text in spoken.ALSO[key] if also else (spoken.HEADINGS[key],):
                        names.setdefault(folded(text), key)
    return made


@cache
def spoken(language: str) -> Spoken:
    """How codes are read in both languages and written in one."""

    def codes(key: str) -> dict[str, str]:
        tables = [_choices(one, key) for one in _IN]
        ways = {folded(word): code for t in tables for code, word in t.items()}
        return {**ways, **{folded(code): code for code in tables[0]}}

    def write(key: str, code: str) -> str:
        return _choices(language, key)[code]

    none = frozenset(folded(w.NOTHING) for w in _IN.values())
    return Spoken(codes, write, none, str(_IN[language].NOTHING))


def _choices(language: str, key: str) -> dict[str, str]:
    """What each code of a column is called."""
    if key == "repairs":
        return {code: kind_in_words(code, language) for code in REPAIRS}
    return dict(_IN[language].CHOICES.get(key, {}))


def heading(language: str, key: str) -> str:
    """What a column is called."""
    return str(_IN[language].HEADINGS[key])


def allowed(language: str, column: Column, stores: Iterable[str]) -> str:
    """What may stand in a column, for a template."""
    w = _IN[language]
    choices = stores if column.reads == "store" else _choices(language, column.key).values()
    facts = {"most": column.most, "least": column.least, "nothing": w.NOTHING, "many": column.many}
    return str(w.ALLOWED[column.reads].format(**facts, choices=", ".join(map(str, choices))))


def unreadable(language: str, why: Unreadable) -> str:
    """Why a file cannot be read, and what to do."""
    w, facts = _IN[language], dict(why.facts)
    if "list" in facts:
        facts["list"] = w.LISTS[facts["list"]]
    if isinstance(columns := facts.get("columns"), list):
        facts["columns"] = ", ".join(w.CELL["quoted"].format(text=w.HEADINGS[k]) for k in columns)
    return str(w.UNREADABLE[why.key].format(**facts))


def where(language: str, fault: Fault, headings: Mapping[str, Mapping[str, str]]) -> str:
    """Where a fault is: the sheet if there are several, the row, the column as the file has it."""
    w = _IN[language]
    column = headings.get(fault.sheet, {}).get(fault.column, "")
    key = ("at" if column else "row") + ("_sheet" if len(headings) > 1 else "")
    return str(w.CELL[key].format(sheet=fault.sheet, row=fault.row, column=column))


def why(language: str, fault: Fault) -> str:
    """What is wrong with a cell and what is allowed there."""
    facts = dict(fault.facts)
    if isinstance(many := facts.get("allowed"), list):
        more = ["…"] if len(many) > SAY_AT_MOST else []
        facts["allowed"] = ", ".join([*many[:SAY_AT_MOST], *more])
    if "part" in facts:
        facts["part"] = shown(facts["part"], 40)
    return str(_IN[language].FAULTS[fault.key].format(**facts))


def said(language: str, key: str, **facts: object) -> str:
    """What a person should know of how a file was read."""
    return str(_IN[language].SAID[key].format(**facts))


def title(language: str, listing: Listing | str) -> str:
    """What a list is called."""
    name = listing if isinstance(listing, str) else listing.name
    assert name in BY_NAME
    return str(_IN[language].LISTS[name])
