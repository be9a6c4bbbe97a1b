"""Every word of the plant's pages, in English and Spanish, a module a page. Pure.

Each module has two tables, EN and ES, with the same keys and the same names in them; a test holds
that. Put a new module into `_PARTS`.
"""

from collections.abc import Mapping

from pickups.kernel.languages import LANGUAGES, day_and_time, day_in_words, grouped, spoken
from plant.floor.words import (
    adjustments,
    around,
    asked,
    day,
    faults,
    forecast,
    limits,
    loads,
    route,
    rush,
    stop_use,
    suppose,
    targets,
    trace,
    trucks,
    unlabelled,
)

__all__ = ["LANGUAGES", "day_and_time", "day_in_words", "grouped", "of", "say", "span", "spoken"]

_PARTS = (
    adjustments, around, asked, day, faults, forecast, limits, loads, route, rush, stop_use,
    suppose, targets, trace, trucks, unlabelled,
)  # fmt: skip
_ALL: Mapping[str, Mapping[str, str]] = {
    "en": {key: said for part in _PARTS for key, said in part.EN.items()},
    "es": {key: said for part in _PARTS for key, said in part.ES.items()},
}


def of(language: str) -> Mapping[str, str]:
    """All words of a language, by key."""
    return _ALL[language]


def say(language: str, key: str, **values: object) -> str:
    """One sentence with its values put in."""
    return _ALL[language][key].format(**values)


def span(language: str, seconds: float) -> str:
    """A length of time, in the largest unit of which two have passed."""
    minutes = round(seconds / 60)
    if minutes >= 2 * 24 * 60:
        return say(language, "span_days", n=minutes // (24 * 60))
    if minutes >= 120:
        return say(language, "span_hours", n=minutes // 60)
    if minutes >= 1:
        return say(language, "span_minutes", n=minutes)
    return say(language, "span_moments")
