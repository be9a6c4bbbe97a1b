"""The words of the written warning of casings that stay with their owner and may burst. Pure."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from string import Template

from pickups.kernel.languages import spoken


@dataclass(frozen=True)
class Warned:
    """One of them: size and brand, where and on what day it was looked at, what was seen of it."""

    marks: str
    place: str
    on: str
    said: Sequence[str]


@dataclass(frozen=True)
class Left:
    """A whole mail: whom to, which casings, and the ways to ask."""

    name: str
    casings: Sequence[Warned]
    dealer: str
    phone: str


_WORDS: Mapping[str, Mapping[str, str]] = {
    "en": {
        "subject_1": "WARNING: do not run or inflate 1 casing that stays with you",
        "subject_n": "WARNING: do not run or inflate $n casings that stay with you",
        "opening": "Dear $name,\n\nWe looked at these casings and did not take them. The damage"
        " seen on them is dangerous:",
        "where": "At $place, looked at on $on.",
        "tell": "Tell everybody who works with tires there.",
        "ask": "Questions: answer this mail, or call $dealer, $phone.",
    },
    "es": {
        "subject_1": "ADVERTENCIA: no ruede ni infle 1 carcasa que se queda con usted",
        "subject_n": "ADVERTENCIA: no ruede ni infle $n carcasas que se quedan con usted",
        "opening": "Estimado/a $name:\n\nMiramos estas carcasas y no las llevamos. El daño visto"
        " en ellas es peligroso:",
        "where": "En $place, mirada el $on.",
        "tell": "Avise a todos los que trabajan allí con llantas.",
        "ask": "Preguntas: responda a este correo o llame a $dealer, $phone.",
    },
}


def warning(said: Left, language: str) -> tuple[str, str]:
    """Subject and text of a warning."""
    language, n = spoken(language), len(said.casings)
    listed = [
        "\n      ".join(
            [
                f"{i:3d}.  {one.marks}",
                _say(language, "where", place=one.place, on=one.on),
                *one.said,
            ]
        )
        for i, one in enumerate(said.casings, 1)
    ]
    text = [
        _say(language, "opening", name=said.name),
        "\n".join(listed),
        _say(language, "tell"),
        _say(language, "ask", dealer=said.dealer, phone=said.phone),
    ]
    return _say(language, "subject_1" if n == 1 else "subject_n", n=n), "\n\n".join(text)


def _say(language: str, key: str, **names: object) -> str:
    return Template(_WORDS[language][key]).substitute(names)
