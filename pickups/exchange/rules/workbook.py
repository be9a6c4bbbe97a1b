"""A workbook (ECMA-376, .xlsx) to its sheets' rows, and rows to a workbook. No table, no screen.

Nothing is unpacked before its sizes are looked at, and what is unpacked is bounded by them. No
formula is worked out (the value that was last shown counts), no link is followed, no macro runs.
"""

import re
import warnings
import zipfile
from collections.abc import Iterable, Sequence
from typing import IO, Any

from openpyxl import Workbook, load_workbook
from openpyxl.cell import WriteOnlyCell
from openpyxl.styles import Alignment, Font
from openpyxl.utils import get_column_letter

from pickups.exchange.rules.reading import MOST_COLUMNS, Grid, Names, Read, Unreadable, lines

MOST_UNPACKED = 64 * 2**20
MOST_PARTS = 400
MOST_SHEETS = 20
LAST_ROW = 2**20
"""The last row that a sheet can have (ECMA-376, part 1, 18.3.1.73, as spreadsheets keep it)."""
_DTD = re.compile(rb"<!(DOCTYPE|ENTITY)", re.IGNORECASE)
_HIDDEN = re.compile(rb"<row\b[^<>]*\bhidden=\"(?:1|true)\"")
"""A tag ends before the next begins (XML 1.0, 2.3), so that every byte is looked at once."""
_OLD = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"


def is_workbook(raw: bytes) -> bool:
    """Whether these are the bytes of a workbook, whatever the file is called. Raises Unreadable for
    a spreadsheet in another form."""
    if raw.startswith(_OLD):
        raise Unreadable("old_workbook")
    return raw.startswith(b"PK")


def read(file: IO[bytes], names: dict[str, Names], wanted: str = "") -> Read:
    """Every sheet that has headings of ours; Unreadable where none has."""
    found, seen = Read(), 0
    hidden = _looked_through(file)
    file.seek(0)
    try:
        with warnings.catch_warnings():  # about parts that are not read
            warnings.simplefilter("ignore")
            book = load_workbook(file, read_only=True, data_only=True, keep_links=False)
            for sheet in book.worksheets[:MOST_SHEETS]:
                sheet.reset_dimensions()  # what a file says of its size is not believed
                seen += lines(sheet.title, _rows(sheet), names, found, wanted)
    except Unreadable:
        raise
    except Exception:  # noqa: BLE001 - a hostile file breaks its reader in any way it likes
        raise Unreadable("broken_workbook") from None
    if not seen:
        raise Unreadable("no_headings")
    if hidden:
        found.said.append(("hidden_rows", {"n": hidden}))
    return found


def _looked_through(file: IO[bytes]) -> int:
    """How many rows are hidden; Unreadable where the file is no workbook or unpacks to too much."""
    try:
        with zipfile.ZipFile(file) as parts:
            known = parts.infolist()
            if len(known) > MOST_PARTS or sum(p.file_size for p in known) > MOST_UNPACKED:
                raise Unreadable("too_much_inside", most=MOST_UNPACKED // 2**20)
            if "xl/workbook.xml" not in parts.namelist():
                raise Unreadable("other_archive")
            if any(p.flag_bits & 1 for p in known):
                raise Unreadable("locked_workbook")
            hidden = 0
            for part in known:
                if part.filename.endswith((".xml", ".rels")):
                    content = parts.read(part)
                    if _DTD.search(content) or b"\x00" in content[:200]:
                        raise Unreadable("broken_workbook")
                    hidden += len(_HIDDEN.findall(content))
            return hidden
    except Unreadable:
        raise
    except Exception:  # noqa: BLE001 - as above
        raise Unreadable("broken_workbook") from None


def _rows(sheet: Any) -> Grid:
    for number, cells in enumerate(sheet.iter_rows(max_col=MOST_COLUMNS, values_only=True), 1):
        if number > LAST_ROW:
            raise Unreadable("broken_workbook")
        if cells.count(None) < len(cells):
            yield number, cells


def write(
    to: IO[bytes], sheets: Iterable[tuple[str, Sequence[str], Iterable[Sequence[str]]]]
) -> None:
    """Sheets of text, each with its title, headings and rows; no row is kept in memory."""
    book = Workbook(write_only=True)
    for title, headings, rows in sheets:
        sheet = book.create_sheet(title)
        sheet.freeze_panes = "A2"
        for at, heading in enumerate(headings, 1):
            column = sheet.column_dimensions[get_column_letter(at)]
            column.width = min(60, max(14, len(heading) + 2))
        sheet.append([_head(sheet, h) for h in headings])
        for row in rows:
            sheet.append([_cell(sheet, text) for text in row])
    book.save(to)


def _head(sheet: Any, text: str) -> Any:
    cell = _cell(sheet, text)
    cell.font = Font(bold=True)
    cell.alignment = Alignment(vertical="top", wrap_text=True)
    return cell


def _cell(sheet: Any, text: str) -> Any:
    """A text stays one, whatever it looks like."""
    cell = WriteOnlyCell(sheet, value=text or None)
    if text:
        cell.data_type = "s"
        cell.number_format = "@"
    return cell
