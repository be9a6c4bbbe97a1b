"""The first receipt of a trailer that was taken closed: nobody has counted what is in it. Pure."""

from dataclasses import dataclass
from string import Template

from pickups.kernel.languages import spoken
from pickups.notices.words import page
from pickups.notices.words.sheet import Sheet


@dataclass(frozen=True)
class ShutTrailer:
    """What is told when a closed trailer leaves a yard; days are already in words.

    customer_count: what the customer says is in it, if somebody did. signer, unsigned: as of any
    receipt. nobody_there: nobody of the customer's was at hand. phone: whom to call about it.
    """

    name: str
    customer: str
    yard: str
    taken_on: str
    number: str
    seal: str
    left: str
    customer_count: int | None
    signer: str
    signed: bool
    unsigned: str
    nobody_there: bool
    dealer: str
    phone: str
    link: str


EN: dict[str, str] = {
    "subject": "Receipt: trailer $number taken closed from $place",
    "opening": "Dear $name,\n\nOn $taken_on we took trailer $number of $customer from $place,"
    " closed.",
    "sheet_title": "Receipt",
    "sheet": "Trailer $number of $customer taken closed from $place, $taken_on",
    "seal": "Its seal: $seal.",
    "seal_none": "It had no seal.",
    "left": "Left in its place: trailer $left.",
    "count": "Your count: $count casings.",
    "count_1": "Your count: 1 casing.",
    "count_none": "No count was told.",
    "then": "The casings are counted and labelled when it is opened at the store or the plant. You"
    " get the list then.",
    "signed_by": "Signed by $signer.",
    "signed": "Signed; no name was given.",
    "unsigned": "Not signed: $why",
    "nobody_there": "Nobody of yours was there, so nobody counted it with us or signed.",
    "call": "If this is not right, call $dealer, $phone, or answer this mail.",
    "answer": "If this is not right, answer this mail.",
}
ES: dict[str, str] = {
    "subject": "Recibo: remolque $number retirado cerrado de $place",
    "opening": "Estimado/a $name:\n\nEl $taken_on retiramos el remolque $number de $customer de"
    " $place, cerrado.",
    "sheet_title": "Recibo",
    "sheet": "Remolque $number de $customer retirado cerrado de $place, $taken_on",
    "seal": "Su sello: $seal.",
    "seal_none": "No llevaba sello.",
    "left": "En su lugar queda el remolque $left.",
    "count": "Su cuenta: $count carcasas.",
    "count_1": "Su cuenta: 1 carcasa.",
    "count_none": "No se dijo ninguna cuenta.",
    "then": "Las carcasas se cuentan y se etiquetan cuando se abra en la tienda o en la planta."
    " Entonces recibirá la lista.",
    "signed_by": "Firmado por $signer.",
    "signed": "Firmado; no se dio ningún nombre.",
    "unsigned": "Sin firma: $why",
    "nobody_there": "No había nadie de los suyos, así que nadie contó con nosotros ni firmó.",
    "call": "Si algo no es correcto, llame a $dealer, $phone, o responda a este correo.",
    "answer": "Si algo no es correcto, responda a este correo.",
}
WORDS = {"en": EN, "es": ES}


def sheet(said: ShutTrailer, language: str) -> Sheet:
    """The same as a page or on paper, until the list is there."""
    seal = _say(language, "seal", seal=said.seal) if said.seal else _say(language, "seal_none")
    left = [_say(language, "left", left=said.left)] if said.left else []
    taken = _say(language, "sheet", number=said.number, place=said.yard, taken_on=said.taken_on,
                 customer=said.customer)  # fmt: skip
    return Sheet(
        language=language,
        title=_say(language, "sheet_title"),
        visit=[taken, seal, *left, _count(said.customer_count, language)],
        blocks=[],
        notes=[_say(language, "then"), *_signed(said, language)],
    )


def shut_trailer(said: ShutTrailer, language: str) -> tuple[str, str]:
    """Subject and text of it."""
    language = spoken(language)
    opening = _say(language, "opening", name=said.name, taken_on=said.taken_on,
                   number=said.number, customer=said.customer, place=said.yard)  # fmt: skip
    facts = [
        _say(language, "seal", seal=said.seal) if said.seal else _say(language, "seal_none"),
        *([_say(language, "left", left=said.left)] if said.left else []),
        _count(said.customer_count, language),
    ]
    call = _say(language, "call" if said.phone else "answer", dealer=said.dealer, phone=said.phone)
    text = [opening, "\n".join(facts), _say(language, "then"), *_signed(said, language), call,
            page(said.link, language)]  # fmt: skip
    subject = _say(language, "subject", number=said.number, place=said.yard)
    return " ".join(subject.split()), "\n\n".join(text)


def _count(count: int | None, language: str) -> str:
    if count is None:
        return _say(language, "count_none")
    return _say(language, "count_1" if count == 1 else "count", count=count)


def _signed(said: ShutTrailer, language: str) -> list[str]:
    if said.nobody_there:
        return [_say(language, "nobody_there")]
    if said.signed:
        return [_say(language, "signed_by" if said.signer else "signed", signer=said.signer)]
    return [_say(language, "unsigned", why=said.unsigned)] if said.unsigned else []


def _say(language: str, key: str, **names: object) -> str:
    return Template(WORDS[language][key]).substitute(names)
