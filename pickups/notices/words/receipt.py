"""The words of a receipt: what was picked up or dropped off, and on what terms. Pure."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from string import Template

from pickups.casings.words import WORKED_ON
from pickups.kernel.languages import spoken
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
    line: str = ""
    said: Sequence[str] = ()
    rejected: str = ""
    stopped: bool = False


@dataclass(frozen=True)
class LeftLine:
    """A casing that stays with its owner: size and brand, then sentences on what and why."""

    marks: str
    said: Sequence[str]


@dataclass(frozen=True)
class Receipt:
    """What a receipt says; days are already in the dealer's time zone and in words.

    store: the counter, where they were dropped off there. all_by: the latest day promised;
    open_days: for how many none was. signed: somebody did, with or without a name; unsigned: why
    nobody did. put_right: the list differs from the one that was signed. scrap: a sentence a line,
    scrap_count: how many tires that is. left: what was looked at and stays.
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
    scrap: Sequence[str] = ()
    scrap_count: int = 0
    left: Sequence[LeftLine] = ()


WORDS: Mapping[str, Mapping[str, str]] = {"en": EN, "es": ES}
_NOT_THEIRS = frozenset({"exchange", "bought", "dealer"})
"""What comes back, or stays, is or was the dealer's: the terms do not hold for all lines."""


def receipt(said: Receipt, language: str) -> tuple[str, str]:
    """Subject and text of a receipt."""
    language = spoken(language)
    count = _count(said, language)
    way, place = ("store", said.store) if said.store else ("yard", said.yard)
    taken = bool(said.lines or said.scrap)
    opening = _say(language, f"opening_{way}" if taken else "opening_none", name=said.name,
                   finished_on=said.finished_on, count=count, customer=said.customer,
                   place=place)  # fmt: skip
    text = [
        opening,
        *_lines(said, "counter" if said.store else "driver", language),
        *_days(said, language),
        *_beside(said, language),
        *_counted(said, language),
        *_terms(said, language),
        *_signed(said, language),
        _say(language, f"answer_{way}" if taken else "answer_none"),
        page(said.link, language),
    ]
    subject = _say(language, f"subject_{way}", count=count, place=place)
    return " ".join(subject.split()), "\n\n".join(text)


def _count(said: Receipt, language: str) -> str:
    """How many of what was taken, in a phrase."""
    wheels = sum(1 for line in said.lines if line.line == "wheel")
    parts = [
        _say(language, f"{key}_1" if n == 1 else f"{key}_n", n=n)
        for key, n in (
            ("count", len(said.lines) - wheels),
            ("wheel", wheels),
            ("scrap", said.scrap_count),
        )
        if n
    ]
    if not parts:
        return _say(language, "nothing")
    *some, last = parts
    return _say(language, "and", some=", ".join(some), last=last) if some else last


def _lines(said: Receipt, whom: str, language: str) -> list[str]:
    """What was taken; apart from that what is rejected or stopped, each with the number that it
    has in the signed list."""
    numbered = list(enumerate(said.lines, 1))
    rejected = [(i, line) for i, line in numbered if line.rejected]
    stopped = [(i, line) for i, line in numbered if line.stopped and not line.rejected]
    plain = [(i, line) for i, line in numbered if not (line.stopped or line.rejected)]
    blocks = []
    for lines, key in ((plain, ""), (rejected, "apart_rejected"), (stopped, "apart_stopped")):
        if not lines:
            continue
        block = [_say(language, key, tag=LABEL_TAG)] if key else []
        block += [_casing(i, line, whom, language) for i, line in lines]
        blocks.append("\n".join(block))
    return blocks


def _beside(said: Receipt, language: str) -> list[str]:
    """Scrap; what stays."""
    blocks = []
    if said.scrap:
        blocks.append("\n".join([_say(language, "scrap"), *(f"      {one}" for one in said.scrap)]))
    if said.left:
        stays = [
            "\n      ".join([f"{i:3d}.  {line.marks}", *line.said])
            for i, line in enumerate(said.left, 1)
        ]
        blocks.append("\n".join([_say(language, "left"), *stays]))
    return blocks


def _terms(said: Receipt, language: str) -> list[str]:
    if not said.lines:
        return []
    mixed = any(line.basis in _NOT_THEIRS for line in said.lines)
    return [_say(language, "terms_mixed" if mixed else "terms", customer=said.customer)]


def _say(language: str, key: str, **names: object) -> str:
    return Template(WORDS[language][key]).substitute(names)


def _casing(number: int, line: ReceiptLine, whom: str, language: str) -> str:
    depths = " ".join(str(depth) for depth in line.tread_32nds)
    tread = _say(language, "tread", depths=depths) if depths else ""
    more = (line.size,) if line.line else (line.size, line.tin, tread)
    first = casing_line(number, line.label, *more)
    why = [_say(language, "rejected", reason=line.rejected)] if line.rejected else []
    wanted = _wanted(line, whom, language) if line.work else ()
    return "\n      ".join([first, *why, *line.said, *wanted])


def _wanted(line: ReceiptLine, whom: str, language: str) -> list[str]:
    """What is to be done with it and what was promised, a sentence each."""
    worked = line.line in WORKED_ON
    said = _work(line, language)
    if worked and f"basis_{line.basis}" in WORDS[language]:
        said.append(_say(language, f"basis_{line.basis}"))
    if line.purchase_order:
        said.append(_say(language, "purchase_order", number=line.purchase_order))
    if line.unit and not line.line:
        said.append(_say(language, "unit", number=line.unit))
    if line.fetched_at and worked:
        said.append(_say(language, "fetched_at", store=line.fetched_at))
    if line.promised and not line.rejected:
        basis = "promised_by_hand" if line.by_hand else "promised_standard_time"
        basis += "_if" if line.stopped else ""
        said.append(_say(language, basis, on=line.promised, whom=_say(language, whom)))
    elif worked and not line.rejected:
        said.append(_say(language, "no_day"))
    return said


def _work(line: ReceiptLine, language: str) -> list[str]:
    """The work wanted, where the kind of thing does not say it."""
    if line.line not in ("", "wheel_tire"):
        return []
    designed = line.work == "retread" and line.tread_design
    work = f"work_{line.work}_as" if designed else f"work_{line.work}"
    return [_say(language, work, design=line.tread_design)]


def _days(said: Receipt, language: str) -> list[str]:
    """By when all of them are promised, where there is more than one."""
    if not said.all_by or len(said.lines) == 1:
        return []
    sure = all(line.line in WORKED_ON and not line.stopped for line in said.lines)
    every = sure and not said.open_days and not any(line.rejected for line in said.lines)
    return [_say(language, "all_by" if every else "last_by", on=said.all_by)]


def _counted(said: Receipt, language: str) -> list[str]:
    ours = sum(line.line != "wheel" for line in said.lines)
    if said.customer_count is None or said.customer_count == ours:
        return []
    return [_say(language, "counted", theirs=said.customer_count, ours=ours)]


def _signed(said: Receipt, language: str) -> list[str]:
    if not said.signed:
        return [_say(language, "unsigned", why=said.unsigned)] if said.unsigned else []
    signed = _say(language, "signed_by" if said.signer else "signed", signer=said.signer)
    return [f"{signed} {_say(language, 'put_right')}" if said.put_right else signed]
