"""What a cell means in its column, and how a value is written into one. Pure."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from uuid import UUID

from pickups.casings import size
from pickups.exchange.rules.cells import ERRORS, folded, same_name, unfit
from pickups.exchange.rules.lists import Column, Value

_WHOLE = re.compile(r"([0-9]{1,6})(?:[.,]0{1,2})?")
"""7.0 and 7,00 are 7 as amounts are written; by three noughts somebody means thousands."""
_MAIL = re.compile(r"[^\s@,;<>()\"]{1,64}@[A-Za-z0-9](?:[A-Za-z0-9.-]{0,250}[A-Za-z0-9])?")
_PARTS = re.compile(r"[|;]")
_POINT_NOUGHT = re.compile(r"([0-9]+)\.0")
BETWEEN = " | "


class Faulty(Exception):
    """A cell that its column does not allow: why (a key of the words), and what that names."""

    def __init__(self, key: str, **facts: object) -> None:
        super().__init__(key)
        self.key, self.facts = key, facts


@dataclass(frozen=True, slots=True)
class Spoken:
    """How codes are written. codes: of a column, every way to write one (folded) to the code.
    write: a column's code to its word in the reader's language. none: every way to write that a
    list is empty; nothing: the reader's."""

    codes: Callable[[str], dict[str, str]]
    write: Callable[[str, str], str]
    none: frozenset[str]
    nothing: str


def value_of(column: Column, text: str, spoken: Spoken) -> Value:
    """What a cell means; Faulty where its column does not allow it. References stay text."""
    if not text:
        if column.required:
            raise Faulty("required")
        return None if column.reads in ("whole", "texts", "choices") else column.initial
    if text in ERRORS:
        raise Faulty("failed_formula")
    if symbol := unfit(text):
        raise Faulty("unfit_symbol", symbol=f"U+{ord(symbol):04X}")
    match column.reads:
        case "id":
            return _id(text)
        case "whole":
            return _whole(column, text)
        case "texts" | "choices":
            return _several(column, text, spoken)
        case "choice":
            return _choice(column, text, spoken)
        case _:
            return _text(column, text)


def cell_of(column: Column, value: Value, spoken: Spoken) -> str:
    """A value as it is written into a cell: what `value_of` reads back."""
    if value is None:
        return ""
    if isinstance(value, list):
        if not value:
            return spoken.nothing
        words = (spoken.write(column.key, v) if column.choices else v for v in value)
        return BETWEEN.join(words)
    return spoken.write(column.key, str(value)) if column.choices else str(value)


def point_nought(text: str) -> str:
    """An account's number as it was before a spreadsheet made an amount of it: 1001.0 is 1001."""
    found = _POINT_NOUGHT.fullmatch(text)
    return found[1] if found else text


def _id(text: str) -> str:
    try:
        return str(UUID(text))
    except ValueError:
        raise Faulty("no_id") from None


def _whole(column: Column, text: str) -> int:
    found = _WHOLE.fullmatch(text)
    if not found or not column.least <= int(found[1]) <= column.most:
        raise Faulty("no_whole", least=column.least, most=column.most)
    return int(found[1])


def _text(column: Column, text: str) -> str:
    if len(text) > column.most:
        raise Faulty("too_long", most=column.most, length=len(text))
    if column.reads == "mail" and not _MAIL.fullmatch(text):
        raise Faulty("no_mail")
    if column.key == "number" and text.startswith("#"):
        raise Faulty("number_sign")
    return point_nought(text) if column.key == "number" else text


def _several(column: Column, text: str, spoken: Spoken) -> list[str]:
    if folded(text) in spoken.none:
        if column.reads == "texts":
            raise Faulty("not_none")
        return []
    parts = [part.strip() for part in _PARTS.split(text) if part.strip()]
    if not parts or len(parts) > column.many:
        raise Faulty("too_many", most=column.many, n=len(parts))
    if column.reads == "choices":
        return list(dict.fromkeys(_choice(column, part, spoken) for part in parts))
    read = _size if column.key == "sizes" else _text
    told = [read(column, part) for part in parts]
    return list({same_name(part): part for part in told}.values())


def _size(column: Column, text: str) -> str:
    """A size as it stands on a sidewall, however it was typed."""
    reading = size.read(_text(column, text))
    if reading.size is None:
        meant = " / ".join(reading.offers)
        raise Faulty("no_size_meant" if meant else "no_size", part=text, meant=meant)
    return reading.size.shown


def _choice(column: Column, text: str, spoken: Spoken) -> str:
    code = spoken.codes(column.key).get(folded(text))
    if code is None:
        allowed = [spoken.write(column.key, c) for c in column.choices]
        raise Faulty("no_choice", allowed=allowed, part=text)
    return code
