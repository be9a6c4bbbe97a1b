"""The words to a customer about a dispute over a pickup: received, and how it ended. Pure."""

from collections.abc import Mapping
from dataclasses import dataclass
from string import Template

from pickups.kernel.languages import spoken
from pickups.notices.words import page


@dataclass(frozen=True)
class Disputed:
    """A case in words: whose it is, about which visit, what is counted, by when or how it ended.

    ours: casings that our list has, none while it is in doubt. outcome: empty while it is open;
    said: what we say at its end.
    """

    name: str
    place: str
    on: str
    ours: int | None
    theirs: int | None
    due_on: str
    outcome: str
    said: str
    dealer: str
    phone: str
    link: str


_WORDS: Mapping[str, Mapping[str, str]] = {
    "en": {
        "subject_open": "We look into the pickup at $place",
        "subject_settled": "Settled: the pickup at $place",
        "open": "Dear $name,\n\nYou told us that the pickup at $place on $on was otherwise than its"
        " receipt says. We look into it and answer by $due_on.",
        "settled": "Dear $name,\n\nWe looked into the pickup at $place on $on, which you told us"
        " was otherwise than its receipt says.",
        "counts": "Our list has $ours; your count is $theirs.",
        "count": "Your count is $theirs.",
        "stands": "What the receipt lists stands.",
        "corrected": "The list was corrected; your page and the receipt there show it.",
        "goodwill": "We settle it as agreed with you.",
        "said": "We add: $said",
        "ask": "Questions: answer this mail, or call $dealer, $phone.",
    },
    "es": {
        "subject_open": "Revisamos la recogida en $place",
        "subject_settled": "Aclarado: la recogida en $place",
        "open": "Estimado/a $name:\n\nNos dijo que la recogida en $place del $on fue de otra manera"
        " que lo que dice su recibo. La revisamos y le respondemos a más tardar el $due_on.",
        "settled": "Estimado/a $name:\n\nRevisamos la recogida en $place del $on, que según usted"
        " fue de otra manera que lo que dice su recibo.",
        "counts": "Nuestra lista tiene $ours; su cuenta es $theirs.",
        "count": "Su cuenta es $theirs.",
        "stands": "Vale lo que está en el recibo.",
        "corrected": "La lista se corrigió; su página y el recibo allí la muestran.",
        "goodwill": "Lo arreglamos como se acordó con usted.",
        "said": "Añadimos: $said",
        "ask": "Preguntas: responda a este correo o llame a $dealer, $phone.",
    },
}


def disputed(case: Disputed, language: str) -> tuple[str, str]:
    """Subject and text."""
    language, key = spoken(language), "settled" if case.outcome else "open"
    counted = "count" if case.ours is None else "counts"

    def say(key: str) -> str:
        return Template(_WORDS[language][key]).substitute(vars(case))

    text = [
        say(key),
        *([say(counted)] if case.theirs is not None else []),
        *([say(case.outcome)] if case.outcome else []),
        *([say("said")] if case.outcome and case.said else []),
        say("ask"),
        page(case.link, language),
    ]
    return " ".join(say(f"subject_{key}").split()), "\n\n".join(text)
