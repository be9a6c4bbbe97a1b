"""What somebody typed into the form of a specification, read into terms or into faults by field.

Every fault is found at once; what was typed is kept as it was. Knows no request and no table.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from django.http import QueryDict

from pickups.casings import size
from pickups.customers.rules import (
    LONGEST,
    MOST_LINES,
    PLACES,
    REJECTS,
    REPAIRS,
    WHOLE,
    Terms,
    terms,
)
from pickups.kernel.wire import Malformed, shown, storable

TEXTS = (*PLACES, "fleet_brand")
LISTS = ("brands", "sizes")


@dataclass(frozen=True)
class Fault:
    """What is wrong with a field: a key of the words, and their values."""

    key: str
    values: Mapping[str, Any]


@dataclass
class Typed:
    """The form as it was filled in, and what it says."""

    fields: dict[str, str] = field(default_factory=dict)
    any_repair: bool = True
    repairs: Sequence[str] = ()
    faults: dict[str, Fault] = field(default_factory=dict)
    terms: Terms | None = None


def of_terms(told: Terms | None) -> Typed:
    """The form as it stands before anybody types."""
    stands = told or Terms()
    fields = {name: _text(getattr(stands, name)) for name in WHOLE}
    fields |= {name: "\n".join(getattr(stands, name) or ()) for name in LISTS}
    fields |= {name: getattr(stands.designs, name) for name in PLACES}
    fields |= {"fleet_brand": stands.fleet_brand, "rejects": stands.rejects}
    return Typed(fields, stands.repairs is None, list(stands.repairs or ()), terms=told)


def _text(number: int | None) -> str:
    return "" if number is None else str(number)


def read(form: QueryDict) -> Typed:
    """The form as it was sent: `terms` where nothing is wrong with it, else `faults`."""
    fields = {name: form.get(name, "") for name in (*WHOLE, *LISTS, *TEXTS, "rejects")}
    # Browsers end lines of a text in two signs.
    fields |= {name: fields[name].replace("\r\n", "\n") for name in LISTS}
    repairs = [kind for kind in REPAIRS if kind in form.getlist("repairs")]
    typed = Typed(fields, form.get("any_repair", "yes") == "yes", repairs)
    if typed.any_repair and repairs:
        typed.faults["repairs"] = Fault("spec_bad_repairs", {"value": repairs})
    told: dict[str, Any] = {"repairs": None if typed.any_repair else repairs}
    told |= {name: _whole(typed, name) for name in WHOLE}
    told |= {name: _listed(typed, name) for name in LISTS}
    designs = {name: _line(typed, name) for name in PLACES}
    told |= {"designs": designs, "fleet_brand": _line(typed, "fleet_brand")}
    told["rejects"] = fields["rejects"] or "ask"
    if told["rejects"] not in REJECTS:
        typed.faults["rejects"] = Fault("spec_bad_choice", {"value": shown(fields["rejects"], 40)})
    if not typed.faults:
        typed.terms = terms(told)
    return typed


def _whole(typed: Typed, name: str) -> int | None:
    text, (least, most) = typed.fields[name].strip(), WHOLE[name]
    if not text:
        return None
    number = int(text) if re.fullmatch("[0-9]{1,4}", text) else -1
    if not least <= number <= most:
        told = {"value": shown(text, 20), "least": least, "most": most}
        typed.faults[name] = Fault("spec_bad_number", told)
    return number


def _line(typed: Typed, name: str) -> str:
    text = " ".join(typed.fields[name].split())
    _within(typed, name, text, LONGEST["name"])
    return text


def _within(typed: Typed, name: str, text: str, most: int) -> bool:
    try:
        storable(text)
    except Malformed as unstorable:
        typed.faults[name] = Fault("spec_bad_text", {"value": unstorable.fault.value})
        return False
    if len(text) > most:
        typed.faults[name] = Fault("spec_bad_long", {"value": shown(text, 60), "most": most})
        return False
    return True


def _listed(typed: Typed, name: str) -> list[str] | None:
    """Lines, or parts between commas, each once; sizes as they stand on a sidewall."""
    parts = [" ".join(part.split()) for part in re.split("[\n,;]", typed.fields[name])]
    found: dict[str, str] = {}
    longest = LONGEST["size" if name == "sizes" else "name"]
    for part in filter(None, parts):
        if not _within(typed, name, part, longest):
            return None
        read = _sized(typed, part) if name == "sizes" else part
        if read is None:
            return None
        if read.upper() in found:
            typed.faults[name] = Fault("spec_bad_twice", {"value": part})
            return None
        if len(found) == MOST_LINES:
            typed.faults[name] = Fault("spec_bad_many", {"value": part, "most": MOST_LINES})
            return None
        found[read.upper()] = read
    return list(found.values()) or None


def _sized(typed: Typed, text: str) -> str | None:
    reading = size.read(text)
    if reading.size is not None:
        return reading.size.shown
    meant = " / ".join(reading.offers)
    key = "spec_bad_size_meant" if meant else "spec_bad_size"
    typed.faults["sizes"] = Fault(key, {"value": text, "meant": meant})
    return None
