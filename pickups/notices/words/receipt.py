"""The words of a receipt: what was picked up or dropped off, and on what terms. Pure."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from string import Template

from pickups.kernel.languages import spoken
from pickups.notices.words import casing_line, page


@dataclass(frozen=True)
class ReceiptLine:
    """A casing on a receipt, as it was taken; days and places are already in words.

    work is empty where nobody was asked what is wanted: then nothing is said of that and of what
    follows it. fetched_at: the store, where it is not brought back to the yard.
    """

    label: str
    size: str
    tin: str
    tread_32nds: Sequence[int]
    work: str = ""
    basis: str = ""
    tread_design: str = ""
    purchase_order: str = ""
    unit: str = ""
    fetched_at: str = ""
    promised: str = ""
    by_hand: bool = False


@dataclass(frozen=True)
class Receipt:
    """What a receipt says; days are already in the dealer's time zone and in words.

    store: the counter, where they were dropped off there. all_by: the latest day promised;
    open_days: for how many none was. signed: somebody did, with or without a name; unsigned: why
    nobody did. put_right: the list differs from the one that was signed.
    """

    name: str
    customer: str
    yard: str
    finished_on: str
    lines: Sequence[ReceiptLine]
    customer_count: int | None
    link: str
    store: str = ""
    all_by: str = ""
    open_days: int = 0
    signer: str = ""
    signed: bool = False
    unsigned: str = ""
    put_right: bool = False


_Words = Mapping[str, str]
_EN: _Words = {
    "count_1": "1 casing",
    "count_n": "$n casings",
    "subject_yard": "Receipt: $count picked up at $place",
    "subject_store": "Receipt: $count dropped off at $place",
    "opening_yard": "Dear $name,\n\nOn $finished_on we picked up $count of $customer at $place:",
    "opening_store": "Dear $name,\n\nOn $finished_on we took in $count of $customer, dropped off"
    " at $place:",
    "tread": "tread $depths /32",
    "work_retread": "Work wanted: retread.",
    "work_retread_as": "Work wanted: retread, tread design $design.",
    "work_repair": "Work wanted: repair only.",
    "basis_pool": "What comes back for it: any casing of yours.",
    "basis_exchange": "What comes back for it: a casing from our stock, in exchange.",
    "basis_bought": "What comes back for it: a casing with its tread that you buy from us.",
    "basis_dealer": "This casing is ours.",
    "purchase_order": "Your purchase order: $number.",
    "unit": "Off your unit: $number.",
    "fetched_at": "To be fetched at $store.",
    "promised_standard_time": "Promised for $on, standard time.",
    "promised_by_hand": "Promised for $on, as agreed with $whom.",
    "driver": "the driver",
    "counter": "the counter",
    "no_day": "No day was promised for it.",
    "all_by": "All of them are promised by $on.",
    "last_by": "The last of those with a promised day is promised for $on.",
    "counted": "Your count was $theirs, ours is $ours. We will call you about it.",
    "terms": "Counted; condition subject to plant inspection. The casings stay the property of"
    " $customer.",
    "terms_mixed": "Counted; condition subject to plant inspection. The casings stay the property"
    " of $customer, but for those of which the list says otherwise.",
    "signed_by": "Signed by $signer.",
    "signed": "Signed; no name was given.",
    "unsigned": "Not signed: $why",
    "put_right": "The list was put right after it was signed; this is what stands.",
    "answer_yard": "If this is not what left your yard, answer this mail.",
    "answer_store": "If this is not what you left with us, answer this mail.",
}
_ES: _Words = {
    "count_1": "1 carcasa",
    "count_n": "$n carcasas",
    "subject_yard": "Recibo: recogimos $count en $place",
    "subject_store": "Recibo: recibimos $count en $place",
    "opening_yard": "Estimado/a $name:\n\nEl $finished_on recogimos $count de $customer en $place:",
    "opening_store": "Estimado/a $name:\n\nEl $finished_on recibimos $count de $customer en"
    " $place:",
    "tread": "banda $depths /32",
    "work_retread": "Trabajo pedido: reencauche.",
    "work_retread_as": "Trabajo pedido: reencauche, diseño de banda $design.",
    "work_repair": "Trabajo pedido: solo reparación.",
    "basis_pool": "Vuelve por ella: cualquier carcasa suya.",
    "basis_exchange": "Vuelve por ella: una carcasa de nuestras existencias, a cambio.",
    "basis_bought": "Vuelve por ella: una carcasa con su banda que nos compra.",
    "basis_dealer": "Esta carcasa es nuestra.",
    "purchase_order": "Su orden de compra: $number.",
    "unit": "De su unidad: $number.",
    "fetched_at": "Se recoge en $store.",
    "promised_standard_time": "Prometida para el $on, plazo normal.",
    "promised_by_hand": "Prometida para el $on, según lo acordado con $whom.",
    "driver": "el conductor",
    "counter": "el mostrador",
    "no_day": "No se prometió ningún día para ella.",
    "all_by": "Todas están prometidas a más tardar para el $on.",
    "last_by": "La última de las que tienen día está prometida para el $on.",
    "counted": "Su cuenta fue $theirs, la nuestra es $ours. Le llamaremos.",
    "terms": "Contadas; estado sujeto a inspección en planta. Las carcasas siguen siendo propiedad"
    " de $customer.",
    "terms_mixed": "Contadas; estado sujeto a inspección en planta. Las carcasas siguen siendo"
    " propiedad de $customer, salvo las que la lista indica.",
    "signed_by": "Firmado por $signer.",
    "signed": "Firmado; no se dio ningún nombre.",
    "unsigned": "Sin firma: $why",
    "put_right": "La lista se corrigió después de la firma; esto es lo que vale.",
    "answer_yard": "Si esto no es lo que salió de su patio, responda a este correo.",
    "answer_store": "Si esto no es lo que nos dejó, responda a este correo.",
}
WORDS: Mapping[str, _Words] = {"en": _EN, "es": _ES}
_NOT_THEIRS = frozenset({"exchange", "bought", "dealer"})
"""What comes back, or stays, is or was the dealer's: the terms do not hold for all lines."""


def receipt(said: Receipt, language: str) -> tuple[str, str]:
    """Subject and text of a receipt."""
    language = spoken(language)
    ours = len(said.lines)
    count = _say(language, "count_1" if ours == 1 else "count_n", n=ours)
    way, place = ("store", said.store) if said.store else ("yard", said.yard)
    whom = "counter" if said.store else "driver"
    opening = _say(language, f"opening_{way}", name=said.name, finished_on=said.finished_on,
                   count=count, customer=said.customer, place=place)  # fmt: skip
    lines = [_casing(i, line, whom, language) for i, line in enumerate(said.lines, 1)]
    mixed = any(line.basis in _NOT_THEIRS for line in said.lines)
    terms = _say(language, "terms_mixed" if mixed else "terms", customer=said.customer)
    text = [
        opening,
        "\n".join(lines),
        *_days(said, language),
        *_counted(said, language),
        terms,
        *_signed(said, language),
        _say(language, f"answer_{way}"),
        page(said.link, language),
    ]
    subject = _say(language, f"subject_{way}", count=count, place=place)
    return " ".join(subject.split()), "\n\n".join(text)


def _say(language: str, key: str, **names: object) -> str:
    return Template(WORDS[language][key]).substitute(names)


def _casing(number: int, line: ReceiptLine, whom: str, language: str) -> str:
    depths = " ".join(str(depth) for depth in line.tread_32nds)
    tread = _say(language, "tread", depths=depths) if depths else ""
    first = casing_line(number, line.label, line.size, line.tin, tread)
    return "\n      ".join([first, *(_wanted(line, whom, language) if line.work else ())])


def _wanted(line: ReceiptLine, whom: str, language: str) -> list[str]:
    """What is to be done with it and what was promised, a sentence each."""
    designed = line.work == "retread" and line.tread_design
    work = f"work_{line.work}_as" if designed else f"work_{line.work}"
    said = [_say(language, work, design=line.tread_design)]
    if f"basis_{line.basis}" in WORDS[language]:
        said.append(_say(language, f"basis_{line.basis}"))
    if line.purchase_order:
        said.append(_say(language, "purchase_order", number=line.purchase_order))
    if line.unit:
        said.append(_say(language, "unit", number=line.unit))
    if line.fetched_at:
        said.append(_say(language, "fetched_at", store=line.fetched_at))
    if line.promised:
        basis = "promised_by_hand" if line.by_hand else "promised_standard_time"
        said.append(_say(language, basis, on=line.promised, whom=_say(language, whom)))
    else:
        said.append(_say(language, "no_day"))
    return said


def _days(said: Receipt, language: str) -> list[str]:
    """By when all of them are promised, where there is more than one."""
    if not said.all_by or len(said.lines) == 1:
        return []
    return [_say(language, "last_by" if said.open_days else "all_by", on=said.all_by)]


def _counted(said: Receipt, language: str) -> list[str]:
    ours = len(said.lines)
    if said.customer_count is None or said.customer_count == ours:
        return []
    return [_say(language, "counted", theirs=said.customer_count, ours=ours)]


def _signed(said: Receipt, language: str) -> list[str]:
    if not said.signed:
        return [_say(language, "unsigned", why=said.unsigned)] if said.unsigned else []
    signed = _say(language, "signed_by" if said.signer else "signed", signer=said.signer)
    return [f"{signed} {_say(language, 'put_right')}" if said.put_right else signed]
