"""The two languages that people are spoken to in, and how they write a day or an amount. Pure.

The words themselves stand with the pages and notices that say them.
"""

from datetime import date, datetime

LANGUAGES = ("en", "es")
THIN = "\N{THIN SPACE}"
_MONTHS = {
    "en": ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"],
    "es": ["ene", "feb", "mar", "abr", "may", "jun", "jul", "ago", "sep", "oct", "nov", "dic"],
}
_DAYS = {
    "en": ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"],
    "es": ["lun", "mar", "mié", "jue", "vie", "sáb", "dom"],
}


def spoken(language: str | None) -> str:
    """The language of ours for a language tag; English for any other."""
    first = (language or "").split("-")[0]
    return first if first in LANGUAGES else "en"


def of_how_many(percent: int) -> dict[str, int]:
    """A percentage as people say it: so many (`n`) of ten where that is exact, else of a hundred
    (`of`)."""
    return {"n": percent // 10, "of": 10} if percent % 10 == 0 else {"n": percent, "of": 100}


def day_in_words(language: str, on: date) -> str:
    """A day as a person reads it."""
    return f"{_DAYS[language][on.weekday()]} {on.day} {_MONTHS[language][on.month - 1]} {on.year}"


def day_and_time(language: str, at: datetime) -> str:
    """An instant as a person reads it; `at` stands in the dealer's time zone."""
    return f"{day_in_words(language, at)}, {at:%H:%M}"


def amount(cents: int, currency: str) -> str:
    """An amount in hundredths of a currency (ISO 4217), as both languages write it here: the
    dollar by its sign, any other by its code."""
    said = f"{cents // 100:,}.{cents % 100:02}"
    return f"${said}" if currency == "USD" else f"{said} {currency}"


def grouped(code: str, size: int = 4) -> str:
    """A code with a thin space after every few symbols."""
    return THIN.join(code[i : i + size] for i in range(0, len(code), size))
