"""The words of a delivery's receipt: what was handed back, and who signed. Pure."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from string import Template

from pickups.kernel.languages import grouped, spoken
from pickups.notices.words import LABEL_TAG, casing_line, page
from pickups.notices.words.sheet import Block, Line, Sheet


@dataclass(frozen=True)
class HandedLine:
    """A casing that was handed back; marks: size, brand, TIN. rejected: why, in words, or empty.
    unit, purchase_order: the customer's own numbers."""

    label: str
    marks: Sequence[str]
    design: str = ""
    unit: str = ""
    purchase_order: str = ""
    rejected: str = ""


@dataclass(frozen=True)
class Delivered:
    """A delivery that is over; days are in words. store: the counter where it was fetched, empty in
    a yard. signed: somebody did, with or without a name; unsigned: why nobody did. note: where
    nobody was there, what the driver wrote of where they stand. photos: how many were taken.
    corrected: what changed after signing, a sentence each."""

    name: str
    customer: str
    yard: str
    store: str
    finished_on: str
    lines: Sequence[HandedLine]
    signer: str
    signed: bool
    unsigned: str
    read_in: str
    nobody_there: bool
    corrected: Sequence[str]
    photos: int
    note: str
    dealer: str
    phone: str
    link: str


EN: dict[str, str] = {
    "count_1": "1 casing",
    "count_n": "$n casings",
    "subject_yard": "Receipt: $count delivered at $place",
    "subject_store": "Receipt: $count fetched at $place",
    "opening_yard": "Dear $name,\n\nOn $finished_on we handed back $count of $customer at $place:",
    "opening_store": "Dear $name,\n\nOn $finished_on $count of $customer were fetched at $place:",
    "title": "Receipt of a delivery",
    "sheet_yard": "Handed back: $count, of $customer, at $place.",
    "sheet_store": "Fetched: $count, of $customer, at $place.",
    "sheet_on": "Visit ended on $finished_on.",
    "rejected_all": "Rejected; the tag on each says $tag:",
    "design": "Retread, tread design $design.",
    "unit": "Off your unit: $number.",
    "purchase_order": "Your purchase order: $number.",
    "tag": "$tag. Why: $reason.",
    "signed_by": "Signed by $signer.",
    "signed": "Signed; no name was given.",
    "unsigned": "Not signed: $why",
    "read_in_en": "The list was read in English.",
    "read_in_es": "The list was read in Spanish.",
    "nobody_there": "Nobody of yours was there, so nobody counted with us or signed.",
    "note": "The driver noted: $note",
    "photos_1": "1 photo was taken; it is on your page.",
    "photos_n": "$n photos were taken; they are on your page.",
    "call": "If this is not what came back to you, call $dealer, $phone, or answer this mail.",
    "answer": "If this is not what came back to you, answer this mail.",
}
ES: dict[str, str] = {
    "count_1": "1 carcasa",
    "count_n": "$n carcasas",
    "subject_yard": "Recibo: $count, entrega en $place",
    "subject_store": "Recibo: $count, entrega en mostrador de $place",
    "opening_yard": "Estimado/a $name:\n\nEl $finished_on devolvimos $count de $customer en"
    " $place:",
    "opening_store": "Estimado/a $name:\n\nEl $finished_on entregamos en mostrador $count de"
    " $customer, en $place:",
    "title": "Recibo de una entrega",
    "sheet_yard": "Devuelto: $count, de $customer, en $place.",
    "sheet_store": "Entregado en mostrador: $count, de $customer, en $place.",
    "sheet_on": "La visita terminó el $finished_on.",
    "rejected_all": "Rechazadas; la etiqueta de cada una dice $tag:",
    "design": "Recauchutada, diseño de banda $design.",
    "unit": "De su unidad: $number.",
    "purchase_order": "Su orden de compra: $number.",
    "tag": "$tag (rechazada: no montar ni inflar). Motivo: $reason.",
    "signed_by": "Firmado por $signer.",
    "signed": "Firmado; no se dio ningún nombre.",
    "unsigned": "Sin firma: $why",
    "read_in_en": "La lista se leyó en inglés.",
    "read_in_es": "La lista se leyó en español.",
    "nobody_there": "No había nadie de los suyos, así que nadie contó con nosotros ni firmó.",
    "note": "El conductor anotó: $note",
    "photos_1": "Se tomó 1 foto; está en su página.",
    "photos_n": "Se tomaron $n fotos; están en su página.",
    "call": "Si esto no es lo que le devolvimos, llame a $dealer, $phone, o responda a este"
    " correo.",
    "answer": "Si esto no es lo que le devolvimos, responda a este correo.",
}
WORDS: Mapping[str, Mapping[str, str]] = {"en": EN, "es": ES}


def sheet(said: Delivered, language: str) -> Sheet:
    """The receipt as a page or on paper."""
    way, place = _where(said)
    handed = _say(language, f"sheet_{way}", count=_count(said, language), customer=said.customer,
                  place=place)  # fmt: skip
    blocks = []
    for heading, lines in _apart(said, language):
        made = [
            Line(n, grouped(line.label), ", ".join(line.marks), _sentences(line, language))
            for n, line in lines
        ]
        blocks.append(Block(heading, made))
    return Sheet(
        language=language,
        title=_say(language, "title"),
        visit=[handed, _say(language, "sheet_on", finished_on=said.finished_on)],
        blocks=blocks,
        notes=_notes(said, language),
    )


def delivery(said: Delivered, language: str) -> tuple[str, str]:
    """Subject and text of the mail."""
    language = spoken(language)
    way, place = _where(said)
    count = _count(said, language)
    blocks = []
    for heading, lines in _apart(said, language):
        block = [heading] if heading else []
        for n, line in lines:
            shown = casing_line(n, line.label, *line.marks)
            block.append("\n      ".join([shown, *_sentences(line, language)]))
        blocks.append("\n".join(block))
    opening = _say(language, f"opening_{way}", name=said.name, finished_on=said.finished_on,
                   count=count, customer=said.customer, place=place)  # fmt: skip
    call = _say(language, "call" if said.phone else "answer", dealer=said.dealer, phone=said.phone)
    text = [opening, *blocks, *_notes(said, language), call, page(said.link, language)]
    subject = _say(language, f"subject_{way}", count=count, place=place)
    return " ".join(subject.split()), "\n\n".join(text)


def _where(said: Delivered) -> tuple[str, str]:
    return ("store", said.store) if said.store else ("yard", said.yard)


def _count(said: Delivered, language: str) -> str:
    n = len(said.lines)
    return _say(language, "count_1" if n == 1 else "count_n", n=n)


def _apart(said: Delivered, language: str) -> list[tuple[str, list[tuple[int, HandedLine]]]]:
    """What was handed back; apart from that, under its heading, what was rejected, each with the
    number that it has in the signed list."""
    numbered = list(enumerate(said.lines, 1))
    good = [(n, line) for n, line in numbered if not line.rejected]
    bad = [(n, line) for n, line in numbered if line.rejected]
    found = (("", good), (_say(language, "rejected_all", tag=LABEL_TAG), bad))
    return [(heading, lines) for heading, lines in found if lines]


def _sentences(line: HandedLine, language: str) -> list[str]:
    said = []
    if line.rejected:
        said.append(_say(language, "tag", tag=LABEL_TAG, reason=line.rejected))
    elif line.design:
        said.append(_say(language, "design", design=line.design))
    numbers = {"unit": line.unit, "purchase_order": line.purchase_order}
    return said + [_say(language, key, number=n) for key, n in numbers.items() if n]


def _notes(said: Delivered, language: str) -> list[str]:
    """What holds for all of it: who signed, who was not there, what was noted and photographed."""
    notes = []
    if said.signed:
        signed = [_say(language, "signed_by" if said.signer else "signed", signer=said.signer)]
        signed += [_say(language, f"read_in_{said.read_in}")] if said.read_in else []
        notes.append(" ".join(signed))
    elif said.unsigned:
        notes.append(_say(language, "unsigned", why=said.unsigned))
    notes += said.corrected
    notes += [_say(language, "nobody_there")] if said.nobody_there else []
    notes += [_say(language, "note", note=said.note)] if said.note else []
    if said.photos:
        key = "photos_1" if said.photos == 1 else "photos_n"
        notes.append(_say(language, key, n=said.photos))
    return notes


def _say(language: str, key: str, **names: object) -> str:
    return Template(WORDS[language][key]).substitute(names)
