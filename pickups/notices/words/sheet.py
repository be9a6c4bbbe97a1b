"""A receipt as a sheet of paper or a page: what the mail says, in its parts. Pure."""

from collections.abc import Sequence
from dataclasses import dataclass

from pickups.kernel.languages import grouped
from pickups.notices.words import receipt as mail
from pickups.notices.words.receipt import Receipt, Ticket


@dataclass(frozen=True)
class Line:
    """A line of a list: its number, its label or "", what it is, and sentences on it."""

    number: int
    label: str
    what: str
    said: Sequence[str]


@dataclass(frozen=True)
class Block:
    """Lines under a heading, "" for what was plainly taken."""

    heading: str
    lines: Sequence[Line]


@dataclass(frozen=True)
class Sheet:
    """A receipt in one language: what it is, the visit, the lists, what holds for all of it. Of a
    drop-off also its ticket's number, and in large type when to come back."""

    language: str
    title: str
    visit: Sequence[str]
    blocks: Sequence[Block]
    notes: Sequence[str]
    ticket: str = ""
    large: Sequence[str] = ()


def sheet(said: Receipt, language: str) -> Sheet:
    """The parts of a receipt, in the order in which they are read."""

    def say(key: str, **names: object) -> str:
        return mail.say(language, key, **names)

    taken = bool(said.lines or said.scrap)
    way, place = ("store", said.store) if said.store else ("yard", said.yard)
    count = mail.count_of(said, language)
    visit = [say(f"sheet_{way}" if taken else "sheet_none", count=count, customer=said.customer,
                 place=place)]  # fmt: skip
    visit.append(say("sheet_on", finished_on=said.finished_on))
    if (box := said.trailer) is not None:
        key = "sheet_trailer_at" if box.where else "sheet_trailer"
        visit.append(say(key, number=box.number, on=box.on, where=box.where))
    if said.customer_count is not None:
        ours = sum(line.line != "wheel" for line in said.lines)
        visit.append(say("sheet_counts", ours=ours, theirs=said.customer_count))
    ticket = said.ticket
    number = f"{ticket.number[:3]} {ticket.number[3:]}" if ticket else ""
    return Sheet(
        language=language,
        title=say("sheet_title"),
        visit=visit,
        blocks=_blocks(said, language),
        notes=mail.notes(said, language),
        ticket=say("sheet_ticket", number=number) if ticket else "",
        large=_large(ticket, said.yard, language) if ticket else (),
    )


def _large(ticket: Ticket, yard: str, language: str) -> list[str]:
    """When to come back, and when the rest is home."""
    said = []
    if ticket.come:
        said.append(mail.say(language, "sheet_come", on=ticket.come))
    if ticket.bring:
        said.append(mail.say(language, "sheet_bring", place=yard, on=ticket.bring))
    if ticket.open:
        key = "sheet_open_1" if ticket.open == 1 else "sheet_open_n"
        said.append(mail.say(language, key, n=ticket.open))
    return said


def _blocks(said: Receipt, language: str) -> list[Block]:
    blocks = []
    for key, lines in mail.apart(said):
        made = []
        for number, line in lines:
            marks, sentences = mail.casing_said(line, said, language)
            made.append(Line(number, grouped(line.label), ", ".join(marks), sentences))
        blocks.append(Block(mail.heading(key, language) if key else "", made))
    for key, lines_said in (("scrap", [(one, ()) for one in said.scrap]),
                            ("left", [(one.marks, one.said) for one in said.left])):  # fmt: skip
        if lines_said:
            made = [Line(i, "", what, more) for i, (what, more) in enumerate(lines_said, 1)]
            blocks.append(Block(mail.heading(key, language), made))
    return blocks
