"""The words of a receipt: what was picked up, and on what terms. Pure."""

from collections.abc import Sequence
from dataclasses import dataclass
from string import Template

from pickups.kernel.languages import spoken
from pickups.notices.words import casing_line, page


@dataclass(frozen=True)
class ReceiptLine:
    """A casing on a receipt, as it was taken."""

    label: str
    size: str
    tin: str
    tread_32nds: Sequence[int]


@dataclass(frozen=True)
class Receipt:
    """What a receipt says; `finished_on` is already in the dealer's time zone and words."""

    name: str
    customer: str
    yard: str
    finished_on: str
    lines: Sequence[ReceiptLine]
    customer_count: int | None
    link: str


_SUBJECT = {
    "en": Template("Receipt: $count picked up at $yard"),
    "es": Template("Recibo: recogimos $count en $yard"),
}
_COUNT = {"en": ("1 casing", "$n casings"), "es": ("1 carcasa", "$n carcasas")}
_BODY = {
    "en": Template(
        "Dear $name,\n\nOn $finished_on we picked up $count of $customer at $yard:\n\n$lines\n\n"
        "${counted}"
        "Counted; condition subject to plant inspection. The casings stay the property of"
        " $customer.\n\nIf this is not what left your yard, answer this mail.\n\n$page"
    ),
    "es": Template(
        "Estimado/a $name:\n\nEl $finished_on recogimos $count de $customer en $yard:\n\n$lines\n\n"
        "${counted}"
        "Contadas; estado sujeto a inspección en planta. Las carcasas siguen siendo propiedad de"
        " $customer.\n\nSi esto no es lo que salió de su patio, responda a este correo.\n\n$page"
    ),
}
_COUNTED = {
    "en": Template("Your count was $theirs, ours is $ours. We will call you about it.\n\n"),
    "es": Template("Su cuenta fue $theirs, la nuestra es $ours. Le llamaremos.\n\n"),
}
_TREAD = {"en": "tread", "es": "banda"}


def receipt(said: Receipt, language: str) -> tuple[str, str]:
    """Subject and text of a receipt."""
    language = spoken(language)
    one, many = _COUNT[language]
    ours = len(said.lines)
    count = one if ours == 1 else Template(many).substitute(n=ours)
    differs = said.customer_count is not None and said.customer_count != ours
    counted = (
        _COUNTED[language].substitute(theirs=said.customer_count, ours=ours) if differs else ""
    )
    lines = "\n".join(_line(i, line, language) for i, line in enumerate(said.lines, 1))
    subject = _SUBJECT[language].substitute(count=count, yard=said.yard)
    text = _BODY[language].substitute(
        name=said.name,
        finished_on=said.finished_on,
        count=count,
        customer=said.customer,
        yard=said.yard,
        lines=lines,
        counted=counted,
        page=page(said.link, language),
    )
    return " ".join(subject.split()), text


def _line(number: int, line: ReceiptLine, language: str) -> str:
    depths = " ".join(str(depth) for depth in line.tread_32nds)
    tread = f"{_TREAD[language]} {depths} /32" if depths else ""
    return casing_line(number, line.label, line.size, line.tin, tread)
