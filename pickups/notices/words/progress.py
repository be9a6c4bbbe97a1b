"""The words of what became of casings: rejected and why, ready, finished, or taken back. Pure.

Cautions defer to local codes and licensed practice. Sources of the safety sentences: 29 CFR
1910.177 (who may mount and inflate, with a restraining device), 49 CFR 393.75(d) to (f) and
570.62(d) (what may not run on front wheels, or faster than marked: casings.tread).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from string import Template

from pickups.casings import reasons
from pickups.kernel.languages import spoken
from pickups.notices.rules import FINISHED, NOT_YOURS, OPEN, READY, REJECTED, STANDS
from pickups.notices.words import LABEL_TAG, casing_line, page


@dataclass(frozen=True)
class Before:
    """What the contact was told of the casing last: its sort, when, by which label."""

    sort: str
    on: str
    label: str


@dataclass(frozen=True)
class Told:
    """A casing in the mail. sort: see notices.rules. place: who has it, and that one's name.

    counter: the store where it was dropped off. store, phone: where it lies if it is ready, else
    where it is fetched. promised, comes: days in words; late: what was promised is or will be
    broken. reason, zone, station and cause are codes, of a rejection only. rejects: what its owner
    wants done with it then ("ask", "return", "scrap", "buy"), by the specification that stands.
    """

    sort: str
    label: str
    size: str = ""
    tin: str = ""
    yard: str = ""
    picked_up_on: str = ""
    counter: str = ""
    place: tuple[str, str] = ("", "")
    back_to: str = "yard"
    store: str = ""
    phone: str = ""
    promised: str = ""
    late: bool = False
    comes: str = ""
    reason: str = ""
    zone: str = ""
    station: str = ""
    cause: str = ""
    photos: int = 0
    rejects: str = "ask"
    before: Before | None = None


@dataclass(frozen=True)
class Progress:
    """A whole mail: whom to, about whose casings, which ones, and the ways to ask."""

    name: str
    customer: str
    casings: Sequence[Told]
    link: str
    dealer: str
    phone: str


_Words = Mapping[str, str]
_EN: _Words = {
    "subject": "Your casings: $counts",
    "rejected_n": "$n rejected",
    "ready_n": "$n ready",
    "finished_n": "$n finished",
    "correction_n": "$n taken back",
    "dear": "Dear $name,\n\nNews of casings of $customer.",
    "head_rejected": "REJECTED: $n",
    "head_ready": "READY: $n",
    "head_finished": "FINISHED: $n",
    "head_correction": "TAKEN BACK: $n",
    "picked_up": "Picked up at $yard, $on.",
    "dropped_off": "Dropped off at $counter, $on.",
    "ready_store": "Ready to be fetched at $store, $phone.",
    "ready_yard": "Ready at $store; goes out to $yard with our next run there, no day fixed yet.",
    "ready_yard_on": "Ready at $store; goes out to $yard on $comes.",
    "finished_store_on": "Finished; comes to $store on $comes. We will write again when it can be"
    " fetched there.",
    "finished_store": "Finished; no day fixed yet on which it can be fetched at $store."
    " We will write again when it can.",
    "finished_yard_on": "Finished; comes to $yard on $comes.",
    "finished_yard": "Finished; no day fixed yet on which it comes to $yard.",
    "promised": "Promised for $promised.",
    "late": "Late: it was promised for $promised.",
    "why": "Why: $reason.",
    "zone": "Where on it: $zone.",
    "station": "Found at: $station.",
    "cause": "Cause: $cause.",
    "photo": "A photo of it is on your page.",
    "photos": "$photos photos of it are on your page.",
    "plant_owes": "What our plant has spoiled we owe you: we will call you about how to make it"
    " good. It does not count against your fleet.",
    "place": "It is $place now.",
    "at_plant": "at $name",
    "at_site": "at $name",
    "at_road": "on its way from $name",
    "at_person": "with our driver",
    "at_customer": "back with you",
    "at_": "with us",
    "was_finished": "finished",
    "was_ready": "ready",
    "was_rejected": "rejected",
    "replaces": "This replaces our mail of $on, which said that it was $was.",
    "other_label": "We knew it by the label $label then.",
    "open": "Our mail of $on said that it was $was. That no longer holds: the plant has not said"
    " yet what becomes of it.",
    "not_yours": "Our mail of $on said that a casing of yours with this label was $was. That was"
    " our mistake; please take it as not said.",
    "was_open": "not decided",
    "next_rejected_ask": "What happens next: we will ask you what to do with each rejected casing."
    " Until you have answered it stays yours and is neither sold nor scrapped.",
    "next_rejected_return": "What happens next: by your specification each comes back to you with"
    " the next run.",
    "next_rejected_scrap": "What happens next: by your specification we scrap it. Until then it is"
    " yours: call us if you want it back.",
    "next_rejected_buy": "What happens next: by your specification we make you an offer. Until you"
    " have accepted one it stays yours.",
    "next_rejected_of": "$labels: $next",
    "safe_rejected": "Safety: a rejected casing is marked on the casing and tagged"
    ' "$tag". Leave mark and tag where they are: a damaged casing can burst. One that ran flat or'
    " with too little air may have damaged cords that nobody sees; never add air to it. Only"
    " trained people with a restraining device may demount or inflate (29 CFR 1910.177). Local"
    " codes come first.",
    "next_ready_store": "What happens next: come and fetch what is ready at the store; the label's"
    " code finds it.",
    "next_ready_yard": "What happens next: our driver brings what goes out to your yard and asks"
    " for a signature.",
    "next_finished": "What happens next: finished casings come back to you with a delivery of"
    " ours, or to the store where you fetch them. A day that stands beside one is our next regular"
    " run; where none does, ask us, and we will say what we know.",
    "safe_finished": "Safety: only trained people with a restraining device may mount and inflate"
    " (29 CFR 1910.177). No retreads on the front wheels of a bus (49 CFR 393.75(d));"
    " no regrooved tire of 2,232 kg (4,920 lb) or more on those of a truck or tractor (393.75(e));"
    " no tire with a reinforcement repair on any front wheel (49 CFR 570.62(d)). A tire marked with"
    " a speed never runs faster (393.75(f)). Local codes come first.",
    "ask": "Questions: answer this mail, or call $dealer, $phone.",
}
_ES: _Words = {
    "subject": "Sus carcasas: $counts",
    "rejected_n": "$n rechazadas",
    "rejected_1": "1 rechazada",
    "ready_n": "$n listas",
    "ready_1": "1 lista",
    "finished_n": "$n terminadas",
    "finished_1": "1 terminada",
    "correction_n": "$n rectificadas",
    "correction_1": "1 rectificada",
    "dear": "Estimado/a $name:\n\nNoticias de carcasas de $customer.",
    "head_rejected": "RECHAZADAS: $n",
    "head_ready": "LISTAS: $n",
    "head_finished": "TERMINADAS: $n",
    "head_correction": "RECTIFICADAS: $n",
    "picked_up": "Recogida en $yard, $on.",
    "dropped_off": "Entregada en $counter, $on.",
    "ready_store": "Lista para recogerla en $store, $phone.",
    "ready_yard": "Lista en $store; sale hacia $yard en nuestro próximo viaje, aún sin día fijo.",
    "ready_yard_on": "Lista en $store; sale hacia $yard el $comes.",
    "finished_store_on": "Terminada; llega a $store el $comes. Le escribiremos otra"
    " vez cuando se pueda recoger allí.",
    "finished_store": "Terminada; aún no hay día fijo para recogerla en $store."
    " Le escribiremos otra vez cuando se pueda.",
    "finished_yard_on": "Terminada; llega a $yard el $comes.",
    "finished_yard": "Terminada; aún no hay día fijo en que llegue a $yard.",
    "promised": "Prometida para el $promised.",
    "late": "Con retraso: estaba prometida para el $promised.",
    "why": "Motivo: $reason.",
    "zone": "Dónde en la carcasa: $zone.",
    "station": "Hallado en: $station.",
    "cause": "Causa: $cause.",
    "photo": "En su página hay una foto de ello.",
    "photos": "En su página hay $photos fotos de ello.",
    "plant_owes": "Lo que nuestra planta estropea se lo debemos: le llamaremos para acordar cómo"
    " compensarlo. No cuenta en contra de su flota.",
    "place": "Ahora está $place.",
    "at_plant": "en $name",
    "at_site": "en $name",
    "at_road": "en camino desde $name",
    "at_person": "con nuestro conductor",
    "at_customer": "de vuelta con usted",
    "at_": "con nosotros",
    "was_finished": "terminada",
    "was_ready": "lista",
    "was_rejected": "rechazada",
    "replaces": "Esto sustituye nuestro correo del $on, que decía que estaba $was.",
    "other_label": "Entonces la conocíamos por la etiqueta $label.",
    "open": "Nuestro correo del $on decía que estaba $was. Eso ya no vale: la planta aún no ha"
    " dicho qué será de ella.",
    "not_yours": "Nuestro correo del $on decía que una carcasa suya con esta etiqueta estaba $was."
    " Fue un error nuestro; dé ese aviso por no recibido.",
    "was_open": "sin decidir",
    "next_rejected_ask": "Qué sigue: le preguntaremos qué hacer con cada carcasa rechazada. Hasta"
    " que responda sigue siendo suya y no se vende ni se desecha.",
    "next_rejected_return": "Qué sigue: según su especificación, cada una vuelve con usted en el"
    " próximo viaje.",
    "next_rejected_scrap": "Qué sigue: según su especificación, la desechamos. Hasta entonces es"
    " suya: llámenos si la quiere de vuelta.",
    "next_rejected_buy": "Qué sigue: según su especificación, le haremos una oferta. Hasta que"
    " acepte una sigue siendo suya.",
    "next_rejected_of": "$labels: $next",
    "safe_rejected": "Seguridad: una carcasa rechazada lleva una marca y una etiqueta que dice"
    ' "$tag" (no montar ni inflar). No las quite: una carcasa dañada puede reventar. La que rodó'
    " sin aire o con poco puede tener cuerdas dañadas que nadie ve; nunca le ponga aire. Solo"
    " personal capacitado y con dispositivo de contención puede desmontar o inflar (29 CFR"
    " 1910.177). Las normas locales van primero.",
    "next_ready_store": "Qué sigue: venga a recoger las que están listas en la tienda; con el"
    " código de la etiqueta se encuentran.",
    "next_ready_yard": "Qué sigue: nuestro conductor lleva las que salen hacia su patio y pide una"
    " firma.",
    "next_finished": "Qué sigue: las carcasas terminadas vuelven a usted en una entrega nuestra, o"
    " a la tienda donde las recoge. El día que figura junto a una es nuestro próximo viaje"
    " regular; donde no figura ninguno, pregúntenos y le diremos lo que sabemos.",
    "safe_finished": "Seguridad: solo personal capacitado y con dispositivo de contención puede"
    " montar e inflar (29 CFR 1910.177). Nada de reencauchadas en las ruedas delanteras de un"
    " autobús (49 CFR 393.75(d)), ni rearrayadas de 2232 kg (4920 lb) o más en las de un camión o"
    " tractor (393.75(e)), ni con una reparación de refuerzo en ninguna delantera (49 CFR"
    " 570.62(d)). La que lleva marcada una velocidad nunca va más rápido (393.75(f)). Las normas"
    " locales van primero.",
    "ask": "Preguntas: responda a este correo o llame a $dealer, $phone.",
}
WORDS: Mapping[str, _Words] = {"en": _EN, "es": _ES}
_SECTIONS = (
    ("rejected", {REJECTED}),
    ("ready", {READY}),
    ("finished", {FINISHED}),
    ("correction", {OPEN, NOT_YOURS}),
)


def progress(said: Progress, language: str) -> tuple[str, str]:
    """Subject and text of a mail about what became of casings: what is rejected comes first."""
    language = spoken(language)
    counts, parts = [], [_say(language, "dear", name=said.name, customer=said.customer)]
    for name, sorts in _SECTIONS:
        found = [casing for casing in said.casings if casing.sort in sorts]
        if not found:
            continue
        one = f"{name}_1" if len(found) == 1 and f"{name}_1" in WORDS[language] else f"{name}_n"
        counts.append(_say(language, one, n=str(len(found))))
        parts.append(_say(language, f"head_{name}", n=str(len(found))))
        parts += [_casing(i, casing, language) for i, casing in enumerate(found, 1)]
        parts += _next(name, found, language)
    if any(casing.sort in (READY, FINISHED) for casing in said.casings):
        parts.append(_say(language, "safe_finished"))
    parts.append(page(said.link, language))
    parts.append(_say(language, "ask", dealer=said.dealer, phone=said.phone))
    return _say(language, "subject", counts=", ".join(counts)), "\n\n".join(parts)


def _next(section: str, found: Sequence[Told], language: str) -> list[str]:
    """What happens next, and of what is rejected what has to be minded."""
    if section == "rejected":
        return [*_rejects(found, language), _say(language, "safe_rejected", tag=LABEL_TAG)]
    if section == "finished":
        return [_say(language, "next_finished")]
    if section == "ready":
        ways = sorted({told.back_to for told in found})
        return [_say(language, f"next_ready_{way}") for way in ways]
    return []


def _rejects(found: Sequence[Told], language: str) -> list[str]:
    """What is done with them: in one sentence where it is the same of all, else of which what."""
    by_way: dict[str, list[str]] = {}
    for told in found:
        by_way.setdefault(told.rejects, []).append(f"{told.label[:4]} {told.label[4:]}")
    said = {way: _say(language, f"next_rejected_{way}") for way in sorted(by_way)}
    if len(said) == 1:
        return list(said.values())
    return [
        _say(language, "next_rejected_of", labels=", ".join(by_way[way]), next=text)
        for way, text in said.items()
    ]


def _say(language: str, key: str, **names: str) -> str:
    return Template(WORDS[language][key]).substitute(names)


def _casing(number: int, told: Told, language: str) -> str:
    known = () if told.sort == NOT_YOURS else (told.size, told.tin)
    return "\n      ".join([casing_line(number, told.label, *known), *_about(told, language)])


def _about(told: Told, language: str) -> list[str]:
    """Sentences about one casing; of one that is not this customer's only that it was a mistake."""
    before = told.before
    was = _say(language, f"was_{before.sort}") if before and before.sort != NOT_YOURS else ""
    if told.sort == NOT_YOURS:
        return [_say(language, "not_yours", on=before.on, was=was)] if before else []
    taken = "dropped_off" if told.counter else "picked_up"
    said = [_say(language, taken, yard=told.yard, counter=told.counter, on=told.picked_up_on)]
    if told.sort == REJECTED:
        said += _why(told, language)
    if told.sort in (READY, FINISHED):
        said += _comes(told, language)
    if told.sort != READY:
        holder, name = told.place
        said.append(_say(language, "place", place=_say(language, f"at_{holder}", name=name)))
    if before and before.sort in STANDS and (before.sort, told.sort) != (FINISHED, READY):
        key = "open" if told.sort == OPEN else "replaces"
        said.append(_say(language, key, on=before.on, was=was))
        if before.label != told.label:
            label = f"{before.label[:4]} {before.label[4:]}"
            said.append(_say(language, "other_label", label=label))
    return said


def _comes(told: Told, language: str) -> list[str]:
    """Where it is ready, or when it comes; and what was promised, said plainly where it is late."""
    key = f"{told.sort}_{told.back_to}"
    key += "_on" if told.comes and f"{key}_on" in WORDS[language] else ""
    said = [_say(language, key, yard=told.yard, store=told.store, phone=told.phone,
                 comes=told.comes)]  # fmt: skip
    if told.promised:
        said.append(_say(language, "late" if told.late else "promised", promised=told.promised))
    return said


def _why(told: Told, language: str) -> list[str]:
    said = [_say(language, "why", reason=reasons.words(told.reason, language))]
    if told.zone:
        said.append(_say(language, "zone", zone=reasons.zone(told.zone, language)))
    if told.station:
        said.append(_say(language, "station", station=reasons.station(told.station, language)))
    if told.cause:
        said.append(_say(language, "cause", cause=reasons.cause(told.cause, language)))
    if told.photos:
        key = "photo" if told.photos == 1 else "photos"
        said.append(_say(language, key, photos=str(told.photos)))
    if told.cause == "plant":
        said.append(_say(language, "plant_owes"))
    return said
