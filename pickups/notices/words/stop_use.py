"""The words of a stop-use notice, and of its being taken back. Plain and short: what to do now,
with which tires, why, and whom to call. What a defect obliges whom to is not the mail's. Pure."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from string import Template

from pickups.kernel.languages import spoken


@dataclass(frozen=True)
class Stopped:
    """One casing: its label in groups of four, size, TIN and retread TIN, each as far as known."""

    label: str
    size: str
    tin: str
    retread_tin: str


@dataclass(frozen=True)
class StopUseMail:
    """A whole mail; withdrawn: it takes back the one of `on`. why: in the dealer's own words."""

    name: str
    customer: str
    on: str
    why: str
    casings: Sequence[Stopped]
    link: str
    dealer: str
    phone: str
    withdrawn: bool


_WORDS: Mapping[str, Mapping[str, str]] = {
    "en": {
        "subject_1": "STOP USE: take 1 tire out of service now",
        "subject_n": "STOP USE: take $n tires out of service now",
        "opening": "Dear $name,\n\nTake these tires of $customer out of service now. Do not drive"
        " on them, do not mount them, do not inflate them, and add no air to one that is on a"
        " vehicle. Only trained people take them off. Mark them and set them apart. Then call us:"
        " $phone.",
        "why": "Why: $why",
        "size": "size $size",
        "tin": "TIN $tin",
        "retread_tin": "retread TIN $tin",
        "tell": "Tell everybody who works with these tires or drives on them.",
        "confirm": "Tell us that you have read this. Open this page and press the button there:"
        "\n$link\nThe link works for 30 days and opens your page for whoever has it.",
        "ask": "Questions: call $dealer, $phone, or answer this mail.",
        "subject_back_1": "Withdrawn: the stop-use notice about 1 tire",
        "subject_back_n": "Withdrawn: the stop-use notice about $n tires",
        "back": "Dear $name,\n\nOn $on we wrote to you to take these tires of $customer out of"
        " service. That was a mistake, and we withdraw it:",
        "again": "A tire that was taken off or deflated meanwhile is inspected before it is mounted"
        " and inflated again, as any tire is.",
        "page": "Your page shows what stands:\n$link\n"
        "The link works for 30 days and opens your page for whoever has it.",
    },
    "es": {
        "subject_1": "DEJE DE USAR: saque de servicio 1 llanta ahora",
        "subject_n": "DEJE DE USAR: saque de servicio $n llantas ahora",
        "opening": "Estimado/a $name:\n\nSaque de servicio ahora estas llantas de $customer. No"
        " ruede con ellas, no las monte, no las infle, y no agregue aire a una que esté en un"
        " vehículo. Solo personal capacitado las quita. Márquelas y póngalas aparte. Después"
        " llámenos: $phone.",
        "why": "Por qué: $why",
        "size": "medida $size",
        "tin": "TIN $tin",
        "retread_tin": "TIN de reencauche $tin",
        "tell": "Avise a todos los que trabajan con estas llantas o ruedan con ellas.",
        "confirm": "Díganos que leyó esto. Abra esta página y oprima allí el botón:\n$link\n"
        "El enlace sirve 30 días y abre su página a quien lo tenga.",
        "ask": "Preguntas: llame a $dealer, $phone, o responda a este correo.",
        "subject_back_1": "Retirado: el aviso de dejar de usar 1 llanta",
        "subject_back_n": "Retirado: el aviso de dejar de usar $n llantas",
        "back": "Estimado/a $name:\n\nEl $on le escribimos que sacara de servicio estas llantas de"
        " $customer. Fue un error, y lo retiramos:",
        "again": "La llanta que entretanto se quitó o desinfló se revisa antes de montarla e"
        " inflarla otra vez, como cualquiera.",
        "page": "Su página muestra lo que vale:\n$link\n"
        "El enlace sirve 30 días y abre su página a quien lo tenga.",
    },
}


def stop_use(said: StopUseMail, language: str) -> tuple[str, str]:
    """Subject and text."""
    language, n = spoken(language), len(said.casings)
    facts = {"name": said.name, "customer": said.customer, "on": said.on, "why": said.why,
             "link": said.link, "dealer": said.dealer, "phone": said.phone}  # fmt: skip
    parts = (
        ("back", "", "why", "again", "page", "ask")
        if said.withdrawn
        else ("opening", "", "why", "tell", "confirm", "ask")
    )
    listed = "\n".join(f"{i:3d}.  {named(one, language)}" for i, one in enumerate(said.casings, 1))
    text = [_say(language, part, **facts) if part else listed for part in parts]
    key = f"subject_{'back_' if said.withdrawn else ''}{'1' if n == 1 else 'n'}"
    return _say(language, key, n=n), "\n\n".join(text)


def named(one: Stopped, language: str) -> str:
    """One casing by all that can be read on it."""
    known = [
        _say(language, "size", size=one.size) if one.size else "",
        _say(language, "tin", tin=one.tin) if one.tin else "",
        _say(language, "retread_tin", tin=one.retread_tin) if one.retread_tin else "",
    ]
    return "   ".join([one.label, *filter(None, known)])


def _say(language: str, key: str, **names: object) -> str:
    return Template(_WORDS[spoken(language)][key]).substitute(names)
