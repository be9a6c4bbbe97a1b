"""Every word of the office's pages, in English and Spanish. Pure.

Plain substitution by name; a test holds that both languages have the same keys and the same
names in them. Times are told in the dealer's time zone, which the caller has applied already.
"""

from collections.abc import Mapping, Sequence

from pickups.desk.words import (
    disputes,
    labels,
    life,
    lists,
    owners,
    promises,
    rolls,
    sheets_en,
    sheets_es,
    specifications,
    sureness,
    unclaimed,
    unsent,
    way,
    yields,
)
from pickups.desk.words.en import EN
from pickups.desk.words.es import ES
from pickups.desk.words.questions_es import MEANING_ES
from pickups.kernel.languages import LANGUAGES, THIN, day_and_time, grouped, spoken
from pickups.questions.rules import MEANING, Kind

__all__ = ["LANGUAGES", "THIN", "day_and_time", "depths", "entry_kind", "grouped", "meaning", "of",
           "say", "span", "spoken"]  # fmt: skip
_ALL: Mapping[str, Mapping[str, str]] = {
    "en": {
        **EN,
        **disputes.EN,
        **labels.EN,
        **life.EN,
        **lists.EN,
        **owners.EN,
        **promises.EN,
        **rolls.EN,
        **sheets_en.EN,
        **specifications.EN,
        **sureness.EN,
        **way.EN,
        **yields.EN,
        **unsent.EN,
        **unclaimed.EN,
    },
    "es": {
        **ES,
        **disputes.ES,
        **labels.ES,
        **life.ES,
        **lists.ES,
        **owners.ES,
        **promises.ES,
        **rolls.ES,
        **sheets_es.ES,
        **specifications.ES,
        **sureness.ES,
        **way.ES,
        **yields.ES,
        **unsent.ES,
        **unclaimed.ES,
    },
}


def of(language: str) -> Mapping[str, str]:
    """All words of a language, by key."""
    return _ALL[language]


def say(language: str, key: str, **values: object) -> str:
    """One sentence with its values put in."""
    return _ALL[language][key].format(**values)


def meaning(language: str, kind: str) -> str:
    """What a kind of question asks."""
    return (MEANING_ES if language == "es" else MEANING)[Kind(kind)]


def entry_kind(language: str, kind: str) -> str:
    """What an entry from a phone is, in the trade's words."""
    known = _ALL[language]
    return known.get(f"kind_{kind}", known["kind_other"])


def span(language: str, seconds: float) -> str:
    """A length of time, in the largest unit of which two have passed."""
    minutes = round(seconds / 60)
    if minutes >= 2 * 24 * 60:
        return say(language, "days", n=minutes // (24 * 60))
    if minutes >= 120:
        return say(language, "hours", n=minutes // 60)
    if minutes >= 1:
        return say(language, "minutes", n=minutes)
    return say(language, "moments")


def depths(language: str, tread_32nds: Sequence[object]) -> str:
    """Tread depths, a reading a groove, or that nobody told any."""
    if not tread_32nds:
        return say(language, "not_told")
    return say(language, "thirtyseconds", depths="\N{EN SPACE}".join(map(str, tread_32nds)))
