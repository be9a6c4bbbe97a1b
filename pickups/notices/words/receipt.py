"""The words of a receipt: what was picked up or dropped off, and on what terms. Pure."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from string import Template

from pickups.casings.words import WORKED_ON
from pickups.kernel.languages import of_how_many, spoken
from pickups.notices.words import LABEL_TAG, casing_line, page
from pickups.notices.words.receipt_en import EN
from pickups.notices.words.receipt_es import ES


@dataclass(frozen=True)
class ReceiptLine:
    """A casing on a receipt, as it was taken; days and places are already in words.

    work is empty where nobody was asked what is wanted: then nothing is said of that and of what
    follows it. fetched_at: the store, where it is not brought back to the yard. line: what kind of
    thing, empty where its app knew of none; then `said` holds what was told of it in sentences
    instead of tin and tread. rejected: why, in words; stopped: damage that stops a casing was seen.
    unread: nobody has looked at it yet: date code and tread are read at receiving.
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
    sure: int = 0
    line: str = ""
    said: Sequence[str] = ()
    rejected: str = ""
    stopped: bool = False
    unread: bool = False


@dataclass(frozen=True)
class LeftLine:
    """A casing that stays with its owner: size and brand, then sentences on what and why."""

    marks: str
    said: Sequence[str]


@dataclass(frozen=True)
class Opened:
    """A trailer that was taken closed, and when and where it was emptied, in words; where is empty
    where nobody told. seal: one sentence's key on how its seal was found, empty for no doubt."""

    number: str
    seal: str
    on: str
    where: str


@dataclass(frozen=True)
class Ticket:
    """What a drop-off's ticket says beside: its number, the day to come back for all that is
    fetched, the day by which the rest is brought home, and for how many no day is known."""

    number: str
    come: str
    bring: str
    open: int


@dataclass(frozen=True)
class Receipt:
    """What a receipt says; days are already in the dealer's time zone and in words.

    store: the counter, where they were dropped off there. all_by: the latest day promised;
    open_days: for how many none was. signed: somebody did, with or without a name; read_in: the
    language of the list that was; unsigned: why nobody did. put_right: the list differs from the
    one that was signed. mixed_up: a label that was taken for another casing, and the one that is
    theirs or "", each; again: they had a receipt before that was settled, or found to be none.
    scrap: a sentence a line, scrap_count: how many tires that is. left: what was looked at and
    stays. trailer: they came closed in one. nobody_there: nobody of the customer's was at hand;
    photos: of the pile then, on the customer's page; dealer, phone: whom to call about it. ticket:
    of a drop-off; deposit: how much was left and how, or empty.
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
    read_in: str = ""
    put_right: bool = False
    mixed_up: Sequence[tuple[str, str]] = ()
    again: bool = False
    scrap: Sequence[str] = ()
    scrap_count: int = 0
    left: Sequence[LeftLine] = ()
    trailer: Opened | None = None
    nobody_there: bool = False
    photos: int = 0
    dealer: str = ""
    phone: str = ""
    ticket: Ticket | None = None
    deposit: str = ""


WORDS: Mapping[str, Mapping[str, str]] = {"en": EN, "es": ES}
_NOT_THEIRS = frozenset({"exchange", "bought", "dealer"})
"""What comes back, or stays, is or was the dealer's: the terms do not hold for all lines."""


def receipt(said: Receipt, language: str) -> tuple[str, str]:
    """Subject and text of a receipt."""
    language = spoken(language)
    count = count_of(said, language)
    way, place = ("store", said.store) if said.store else ("yard", said.yard)
    taken = bool(said.lines or said.scrap)
    opening = say(language, f"opening_{way}" if taken else "opening_none", name=said.name,
                   finished_on=said.finished_on, count=count, customer=said.customer,
                   place=place)  # fmt: skip
    if said.trailer is not None:
        opening = _opened(said, said.trailer, count, language)
    text = [
        opening,
        *_nobody(said, language),
        *_lines(said, language),
        *_days(said, language),
        *_beside(said, language),
        *_counted(said, language),
        *_unread(said, language),
        *_terms(said, language),
        *_signed(said, language),
        say(language, f"answer_{way}" if taken else "answer_none"),
        page(said.link, language),
    ]
    subject = say(language, f"subject_{way}", count=count, place=place)
    if said.again:
        subject = say(language, "subject_again", subject=subject)
    return " ".join(subject.split()), "\n\n".join(text)


def _opened(said: Receipt, trailer: Opened, count: str, language: str) -> str:
    """What came out of a trailer, which its customer was told of before without a list."""
    key = "opening_trailer_at" if trailer.where else "opening_trailer"
    opening = say(language, key, name=said.name, finished_on=said.finished_on, count=count,
                   customer=said.customer, place=said.yard, number=trailer.number,
                   on=trailer.on, where=trailer.where)  # fmt: skip
    return f"{opening} {say(language, trailer.seal)}" if trailer.seal else opening


def _nobody(said: Receipt, language: str) -> list[str]:
    """That nobody was there, what shows how it was, and whom to call about it."""
    if not said.nobody_there:
        return []
    sentences = [say(language, "nobody_there")]
    if said.photos:
        sentences.append(say(language, "photos_there"))
    if said.phone:
        sentences.append(say(language, "call", dealer=said.dealer, phone=said.phone))
    return [" ".join(sentences)]


def _unread(said: Receipt, language: str) -> list[str]:
    """Those that were taken by label and size alone."""
    n = sum(line.unread for line in said.lines)
    if n == 0:
        return []
    return [say(language, "unread_all" if n == len(said.lines) else "unread_some", n=n)]


def count_of(said: Receipt, language: str) -> str:
    """How many of what was taken, in a phrase."""
    wheels = sum(1 for line in said.lines if line.line == "wheel")
    parts = [
        say(language, f"{key}_1" if n == 1 else f"{key}_n", n=n)
        for key, n in (
            ("count", len(said.lines) - wheels),
            ("wheel", wheels),
            ("scrap", said.scrap_count),
        )
        if n
    ]
    if not parts:
        return say(language, "nothing")
    *some, last = parts
    return say(language, "and", some=", ".join(some), last=last) if some else last


def apart(said: Receipt) -> list[tuple[str, list[tuple[int, ReceiptLine]]]]:
    """What was taken; apart from that, by the key of its heading, what is rejected or stopped, each
    with the number that it has in the signed list."""
    numbered = list(enumerate(said.lines, 1))
    rejected = [(i, line) for i, line in numbered if line.rejected]
    stopped = [(i, line) for i, line in numbered if line.stopped and not line.rejected]
    plain = [(i, line) for i, line in numbered if not (line.stopped or line.rejected)]
    found = (("", plain), ("apart_rejected", rejected), ("apart_stopped", stopped))
    return [(key, lines) for key, lines in found if lines]


def _lines(said: Receipt, language: str) -> list[str]:
    blocks = []
    for key, lines in apart(said):
        block = [heading(key, language)] if key else []
        block += [_casing(i, line, said, language) for i, line in lines]
        blocks.append("\n".join(block))
    return blocks


def heading(key: str, language: str) -> str:
    """What stands above lines that stand apart."""
    return say(language, key, tag=LABEL_TAG)


def _beside(said: Receipt, language: str) -> list[str]:
    """Scrap; what stays."""
    blocks = []
    if said.scrap:
        blocks.append("\n".join([say(language, "scrap"), *(f"      {one}" for one in said.scrap)]))
    if said.left:
        stays = [
            "\n      ".join([f"{i:3d}.  {line.marks}", *line.said])
            for i, line in enumerate(said.left, 1)
        ]
        blocks.append("\n".join([say(language, "left"), *stays]))
    return blocks


def _terms(said: Receipt, language: str) -> list[str]:
    if not said.lines:
        return []
    mixed = any(line.basis in _NOT_THEIRS for line in said.lines)
    return [say(language, "terms_mixed" if mixed else "terms", customer=said.customer)]


def say(language: str, key: str, **names: object) -> str:
    """A sentence of a receipt."""
    return Template(WORDS[language][key]).substitute(names)


def _casing(number: int, line: ReceiptLine, said: Receipt, language: str) -> str:
    marks, sentences = casing_said(line, said, language)
    return "\n      ".join([casing_line(number, line.label, *marks), *sentences])


def casing_said(line: ReceiptLine, said: Receipt, language: str) -> tuple[Sequence[str], list[str]]:
    """What stands beside its label, and sentences on what was seen, wanted and promised."""
    depths = " ".join(str(depth) for depth in line.tread_32nds)
    tread = say(language, "tread", depths=depths) if depths else ""
    more = (line.size,) if line.line else (line.size, line.tin, tread)
    whom = "counter" if said.store else "driver"
    why = [say(language, "rejected", reason=line.rejected)] if line.rejected else []
    wanted = _wanted(line, whom, language) if line.work else ()
    return [part for part in more if part], [*why, *line.said, *wanted]


def notes(said: Receipt, language: str) -> list[str]:
    """What holds for all of it: promised days, both counts, terms, who signed."""
    return [
        *_unread(said, language),
        *_days(said, language),
        *_counted(said, language),
        *([say(language, "deposit", said=said.deposit)] if said.deposit else []),
        *_terms(said, language),
        *_signed(said, language),
        *_nobody(said, language),
    ]


def _wanted(line: ReceiptLine, whom: str, language: str) -> list[str]:
    """What is to be done with it and what was promised, a sentence each."""
    worked = line.line in WORKED_ON
    said = _work(line, language)
    if worked and f"basis_{line.basis}" in WORDS[language]:
        said.append(say(language, f"basis_{line.basis}"))
    if line.purchase_order:
        said.append(say(language, "purchase_order", number=line.purchase_order))
    if line.unit and not line.line:
        said.append(say(language, "unit", number=line.unit))
    if line.fetched_at and worked:
        said.append(say(language, "fetched_at", store=line.fetched_at))
    if line.promised and not line.rejected:
        basis = "promised_by_hand" if line.by_hand else "promised_standard_time"
        basis = "promised_forecast" if line.sure else basis
        basis += "_if" if line.stopped else ""
        odds = say(language, "odds", **of_how_many(line.sure))
        names = {"on": line.promised, "whom": say(language, whom), "odds": odds}
        said.append(say(language, basis, **names))
    elif worked and not line.rejected:
        said.append(say(language, "no_day"))
    return said


def _work(line: ReceiptLine, language: str) -> list[str]:
    """The work wanted, where the kind of thing does not say it."""
    if line.line not in ("", "wheel_tire"):
        return []
    designed = line.work == "retread" and line.tread_design
    work = f"work_{line.work}_as" if designed else f"work_{line.work}"
    return [say(language, work, design=line.tread_design)]


def _days(said: Receipt, language: str) -> list[str]:
    """By when all of them are promised, where there is more than one."""
    if not said.all_by or len(said.lines) == 1:
        return []
    sure = all(line.line in WORKED_ON and not line.stopped for line in said.lines)
    every = sure and not said.open_days and not any(line.rejected for line in said.lines)
    return [say(language, "all_by" if every else "last_by", on=said.all_by)]


def _counted(said: Receipt, language: str) -> list[str]:
    ours = sum(line.line != "wheel" for line in said.lines)
    if said.customer_count is None or said.customer_count == ours:
        return []
    return [say(language, "counted", theirs=said.customer_count, ours=ours)]


def _signed(said: Receipt, language: str) -> list[str]:
    if not said.signed:
        why = [say(language, "unsigned", why=said.unsigned)] if said.unsigned else []
        return [*why, *_corrected(said, language)]
    signed = [say(language, "signed_by" if said.signer else "signed", signer=said.signer)]
    signed += [say(language, f"read_in_{said.read_in}")] if said.read_in else []
    signed += [say(language, "put_right")] if said.put_right and not said.mixed_up else []
    return [" ".join(signed), *_corrected(said, language)]


def _four(label: str) -> str:
    return f"{label[:4]} {label[4:]}"


def _corrected(said: Receipt, language: str) -> list[str]:
    """What a settled mix-up has changed since, or that it has changed nothing after all."""
    if not said.mixed_up:
        return [say(language, "as_before")] if said.again else []
    each = [
        say(
            language,
            "mixed_up" if instead else "mixed_up_gone",
            gone=_four(gone),
            instead=_four(instead),
        )
        for gone, instead in said.mixed_up
    ]
    when = say(language, "corrected_signed" if said.signed else "corrected_unsigned")
    return [" ".join([when, *each, say(language, "corrected_stands")])]
