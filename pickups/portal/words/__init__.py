"""Every word of the customer's pages, in English and Spanish. Pure.

Plain substitution by name; a test holds that both languages have the same keys and the same
names in them. Our own words for the trade's codes stay inside.
"""

from collections.abc import Mapping
from typing import Any

from pickups.casings.words import WORKED_ON
from pickups.casings.words import marks as marked
from pickups.portal.rules import Group
from pickups.portal.words import stop_use
from pickups.portal.words.en import EN
from pickups.portal.words.es import ES

_ALL: Mapping[str, Mapping[str, str]] = {
    "en": EN | stop_use.EN,
    "es": ES | stop_use.ES,
}


def of(language: str) -> Mapping[str, str]:
    """All words of a language, by key."""
    return _ALL[language]


def say(language: str, key: str, **values: object) -> str:
    """One sentence with its values put in."""
    return _ALL[language][key].format(**values)


def counted(language: str, key: str, n: int, **values: object) -> str:
    """One sentence about one or about several."""
    return say(language, f"{key}_one" if n == 1 else f"{key}_n", n=n, **values)


def summary(language: str, counts: Mapping[Group, int]) -> str:
    """How many of theirs are with us and where they stand; empty where there is none."""
    said = [counted(language, f"count_{g}", n) for g, n in counts.items() if n]
    parts = [part.replace(" ", "\N{NO-BREAK SPACE}", 1) for part in said]  # figure with its word
    total = sum(counts.values())
    return f"{counted(language, 'count', total)}: {', '.join(parts)}." if total else ""


def marks(language: str, told: Mapping[str, Any]) -> str:
    """What one finds on the casing itself: size, rating, brand, TIN, as far as they were told."""
    said = [on_it] if (on_it := marked(told)) else []
    said += [say(language, "tin", tin=told["tin"])] if told.get("tin") else []
    return " · ".join(said)


def tread(language: str, told: Mapping[str, Any]) -> str:
    """The tread depths that an earlier app told, a reading a groove, if any."""
    depths = told.get("tread_32nds")
    return say(language, "tread", depths="\N{EN SPACE}".join(map(str, depths))) if depths else ""


def wanted(language: str, told: Mapping[str, Any]) -> list[str]:
    """What is to be done with it, for which order and vehicle; nothing where nobody was asked.

    A kind of thing that was told says its work and vehicle itself, but for a wheel with its tire.
    """
    work, line = told.get("work"), told.get("line", "")
    said: list[str] = []
    if not work:
        return said
    if line in ("", "wheel_tire"):
        design = told.get("tread_design", "") if work == "retread" else ""
        said.append(say(language, f"work_{work}_as" if design else f"work_{work}", design=design))
    if line in WORKED_ON:
        if told.get("basis") not in (None, "own"):
            said.append(say(language, f"basis_{told['basis']}"))
        if told.get("back_to") == "store":
            said.append(say(language, "fetches"))
    if told.get("purchase_order"):
        said.append(say(language, "order", number=told["purchase_order"]))
    if told.get("unit") and not line:
        said.append(say(language, "unit", number=told["unit"]))
    return said


def signed(language: str, name: str, *, drawn: bool, unsigned: str) -> str:
    """Who signed, or why nobody did."""
    if name or drawn:
        return say(language, "signed_by" if name else "signed", name=name)
    return say(language, "unsigned", why=unsigned)
