"""A file of text to rows: which encoding, which separator. Pure.

UTF-8 with or without a mark, UTF-16 where a mark says so, else Windows-1252, which is said. Comma,
semicolon or tab: the one by which the most headings are found.
"""

import csv
import io
from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress
from itertools import chain

from pickups.exchange.rules.reading import HEAD_WITHIN, Grid, Names, Read, Unreadable, lines, places

BOM = "\N{BYTE ORDER MARK}"
"""By this mark a spreadsheet knows that the text is UTF-8."""
SEPARATORS = ",;\t"
MOST_TEXT = 10_000
"""The longest cell that is looked at; more is a quotation mark that was never closed."""


def decoded(raw: bytes) -> tuple[str, str]:
    """The text and the encoding it was in."""
    marked = raw.startswith((b"\xff\xfe", b"\xfe\xff"))
    for encoding in ("utf-16",) if marked else ("utf-8-sig", "cp1252"):
        try:
            text = raw.decode(encoding)
        except UnicodeDecodeError:
            continue
        if "\x00" in text:
            raise Unreadable("not_text")
        return text, encoding
    raise Unreadable("not_text")


def read(raw: bytes, names: dict[str, Names], wanted: str = "") -> Read:
    """One list out of a file of text; Unreadable where there is none."""
    text, encoding = decoded(raw)
    if not text.strip():
        raise Unreadable("empty")
    known = {k: v for one in names.values() for k, v in one.items()}
    separator = max(SEPARATORS, key=lambda s: _headings(text, s, known))
    found = Read()
    if encoding == "cp1252":
        found.said.append(("windows", {}))
    if not lines("", _rows(text, separator), names, found, wanted):
        raise Unreadable("no_headings")
    return found


def write(headings: Sequence[str], rows: Iterable[Sequence[str]]) -> Iterator[str]:
    """A list as text (RFC 4180), row by row: none is kept in memory."""
    line = io.StringIO()
    writer = csv.writer(line)
    yield BOM
    for row in chain([headings], rows):
        writer.writerow(row)
        yield line.getvalue()
        line.seek(0)
        line.truncate()


def _headings(text: str, separator: str, known: Names) -> tuple[int, int]:
    """How many headings of ours one row holds by a separator, then how many cells."""
    first: list[Sequence[object]] = []
    with suppress(Unreadable):  # it is said again when the file is read in earnest
        for _, (_, cells) in zip(range(HEAD_WITHIN), _rows(text, separator), strict=False):
            first.append(cells)
    return max(((len(places(c, known)), len(c)) for c in first), default=(0, 0))


def _rows(text: str, separator: str) -> Grid:
    """Every row with its number; a line break in a cell begins none, as in a spreadsheet."""
    rows = csv.reader(io.StringIO(text, newline=""), delimiter=separator)
    number = 0
    while True:
        number += 1
        try:
            cells = next(rows)
        except StopIteration:
            return
        except csv.Error:
            raise Unreadable("broken_row", row=number) from None
        if any(len(cell) > MOST_TEXT for cell in cells):
            raise Unreadable("long_cell", row=number, most=MOST_TEXT)
        yield number, cells
