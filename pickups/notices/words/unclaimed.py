"""The words of the notice about casings that wait for their owner at a counter. Plain: what waits,
since when, until when it is held, what is asked. No threats, and silence decides nothing. Pure."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from string import Template

from pickups.kernel.languages import spoken


@dataclass(frozen=True)
class Waits:
    """One of them: its label, size and brand, since when it waits and until when it is held, each
    empty where nobody told; tag: what is written on it where it was rejected."""

    label: str
    marks: str
    since: str
    until: str
    tag: str


@dataclass(frozen=True)
class Store:
    """What waits at one store."""

    name: str
    casings: Sequence[Waits]


@dataclass(frozen=True)
class Unclaimed:
    """A whole mail: whom to, whose casings, where they wait, and the ways to answer."""

    name: str
    customer: str
    stores: Sequence[Store]
    dealer: str
    phone: str


_WORDS: Mapping[str, Mapping[str, str]] = {
    "en": {
        "subject_1": "1 casing waits for you at $store",
        "subject_n": "$n casings wait for you at $store",
        "opening": "Dear $name,",
        "there": "This property of $customer waits for you at $store:",
        "line": "$label  $marks",
        "since": "Waiting since $since.",
        "until": "Held for you until $until.",
        "tag": "Rejected by the plant; its tag says: $tag.",
        "ask": "Please fetch it, or tell us what you want done: that we hold it longer, bring it to"
        " a yard of yours, or something else.",
        "silence": "It stays yours. If we hear nothing, one of us looks at it again and gets in"
        " touch; no reply makes it neither ours nor scrap.",
        "answer": "Answer this mail, or call $dealer, $phone.",
    },
    "es": {
        "subject_1": "1 carcasa le espera en $store",
        "subject_n": "$n carcasas le esperan en $store",
        "opening": "Estimado/a $name:",
        "there": "Esto, propiedad de $customer, le espera en $store:",
        "line": "$label  $marks",
        "since": "Espera desde el $since.",
        "until": "Se la guardamos hasta el $until.",
        "tag": "Rechazada por la planta; en su etiqueta dice: $tag.",
        "ask": "Retírela, por favor, o díganos qué quiere que hagamos: guardarla más tiempo,"
        " llevarla a un patio suyo u otra cosa.",
        "silence": "Sigue siendo suya. Si no sabemos nada, alguien de nosotros la revisa otra vez y"
        " se comunica con usted; la falta de respuesta no la hace nuestra ni desecho.",
        "answer": "Responda a este correo o llame a $dealer, $phone.",
    },
}


def unclaimed(said: Unclaimed, language: str) -> tuple[str, str]:
    """Subject and text of a notice."""
    language = spoken(language)
    text = [_say(language, "opening", name=said.name)]
    for store in said.stores:
        there = _say(language, "there", customer=said.customer, store=store.name)
        text += [there, _listed(store.casings, language)]
    text += [
        _say(language, "ask"),
        _say(language, "silence"),
        _say(language, "answer", dealer=said.dealer, phone=said.phone),
    ]
    n, stores = sum(len(one.casings) for one in said.stores), ", ".join(s.name for s in said.stores)
    subject = _say(language, "subject_1" if n == 1 else "subject_n", n=n, store=stores)
    return subject, "\n\n".join(text)


def _listed(casings: Sequence[Waits], language: str) -> str:
    listed = []
    for i, one in enumerate(casings, 1):
        more = [_say(language, "since", since=one.since)] if one.since else []
        more += [_say(language, "until", until=one.until)] if one.until else []
        more += [_say(language, "tag", tag=one.tag)] if one.tag else []
        first = _say(language, "line", label=one.label, marks=one.marks).rstrip()
        listed.append("\n      ".join([f"{i:3d}.  {first}", *more]))
    return "\n".join(listed)


def _say(language: str, key: str, **names: object) -> str:
    return Template(_WORDS[language][key]).substitute(names)
