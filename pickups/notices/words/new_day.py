"""The words of the notice that a promised day has changed. Plain: what it was, what it is, on what
that stands, and the ways to answer. Pure."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from string import Template

from pickups.kernel.languages import of_how_many, spoken
from pickups.notices.words import casing_line, page


@dataclass(frozen=True)
class Moved:
    """A casing whose day has changed; days are in words.

    store: where it is fetched, empty where it is brought to its yard. sooner: than what was told
    before; over: that day is past. basis: "forecast" with its percent, "standard_time" or
    "by_hand".
    """

    label: str
    size: str
    tin: str
    yard: str
    store: str
    before: str
    now: str
    sooner: bool
    over: bool
    basis: str
    percent: int | None = None


@dataclass(frozen=True)
class NewDays:
    """A whole mail: whom to, whose casings, which ones, and the ways to answer."""

    name: str
    customer: str
    casings: Sequence[Moved]
    link: str
    dealer: str
    phone: str


WORDS: Mapping[str, Mapping[str, str]] = {
    "en": {
        "subject_1": "New day for 1 casing: $now",
        "subject_n": "New days for $n casings",
        "opening": "Dear $name,\n\nThe day on which casings of $customer are back has changed.",
        "yard": "Back at $yard on $now.",
        "store": "Ready to be fetched at $store on $now.",
        "later": "It was promised for $before: we will not keep that day.",
        "late": "It was promised for $before: we did not keep that day.",
        "sooner": "We wrote $before before: it comes sooner after all.",
        "forecast": "By the plant's forecast: $n of $of such casings are back by then.",
        "standard_time": "By the plant's standard time, counted anew.",
        "by_hand": "Named by us by hand.",
        "sorry": "We write as soon as we know, so that you can plan with the new day.",
        "ask": "If the new day does not suit you, answer this mail, or call $dealer, $phone.",
        "answer": "If the new day does not suit you, answer this mail.",
    },
    "es": {
        "subject_1": "Día nuevo para 1 carcasa: $now",
        "subject_n": "Días nuevos para $n carcasas",
        "opening": "Estimado/a $name:\n\nHa cambiado el día en que vuelven carcasas de $customer.",
        "yard": "De vuelta en $yard el $now.",
        "store": "Lista para recogerla en $store el $now.",
        "later": "Estaba prometida para el $before: no cumpliremos ese día.",
        "late": "Estaba prometida para el $before: no hemos cumplido ese día.",
        "sooner": "Antes le escribimos $before: al final llega antes.",
        "forecast": "Según el pronóstico de la planta: $n de $of carcasas así están de vuelta para"
        " entonces.",
        "standard_time": "Según el plazo normal de la planta, contado de nuevo.",
        "by_hand": "Lo fijamos a mano.",
        "sorry": "Escribimos en cuanto lo sabemos, para que pueda contar con el día nuevo.",
        "ask": "Si el día nuevo no le conviene, responda a este correo o llame a $dealer, $phone.",
        "answer": "Si el día nuevo no le conviene, responda a este correo.",
    },
}


def new_days(said: NewDays, language: str) -> tuple[str, str]:
    """Subject and text."""
    language = spoken(language)
    n, first = len(said.casings), said.casings[0]
    key = "subject_1" if n == 1 else "subject_n"
    text = [_say(language, "opening", name=said.name, customer=said.customer)]
    text += [_casing(i, one, language) for i, one in enumerate(said.casings, 1)]
    if not all(one.sooner for one in said.casings):
        text.append(_say(language, "sorry"))
    text.append(page(said.link, language))
    ask = "ask" if said.phone else "answer"
    text.append(_say(language, ask, dealer=said.dealer, phone=said.phone))
    return _say(language, key, n=n, now=first.now), "\n\n".join(text)


def _casing(number: int, one: Moved, language: str) -> str:
    place = "store" if one.store else "yard"
    why = "sooner" if one.sooner else "late" if one.over else "later"
    lines = [
        casing_line(number, one.label, one.size, one.tin),
        _say(language, place, yard=one.yard, store=one.store, now=one.now),
        _say(language, why, before=one.before),
        _say(language, one.basis, **of_how_many(one.percent or 0)),
    ]
    return "\n      ".join(lines)


def _say(language: str, key: str, **names: object) -> str:
    return Template(WORDS[language][key]).substitute(names)
