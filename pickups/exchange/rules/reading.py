"""From a file's rows of cells to a list with its columns named. Pure.

The headings may stand below a title, in any order, in either language; row numbers are those that
a spreadsheet shows. A row whose first cell begins with # is a remark (a template's example is one).
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from pickups.exchange.rules.cells import ERRORS, folded, text_of, unguarded
from pickups.exchange.rules.lists import LISTS, Listing

MOST_ROWS = 20_000
MOST_COLUMNS = 60
HEAD_WITHIN = 20
"""Headings are looked for in so many rows."""
REMARK = "#"

Grid = Iterable[tuple[int, Sequence[object]]]
"""Rows with the number that a spreadsheet shows."""


class Unreadable(Exception):
    """A file that cannot be read: why (a key of the words), and what the sentence names."""

    def __init__(self, key: str, **facts: object) -> None:
        super().__init__(key)
        self.key, self.facts = key, facts


@dataclass(frozen=True, slots=True)
class Line:
    """One row that is read: where it stands, and its cells by column."""

    list: str
    sheet: str
    row: int
    cells: dict[str, str]


@dataclass(slots=True)
class Read:
    """What was found in a file. headings: the columns by sheet as the file names them. unknown:
    columns nobody reads, as "sheet" and heading. said: what a person should know of the reading
    (keys of the words), with what each names."""

    lines: list[Line] = field(default_factory=list)
    headings: dict[str, dict[str, str]] = field(default_factory=dict)
    unknown: list[tuple[str, str]] = field(default_factory=list)
    said: list[tuple[str, dict[str, object]]] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Head:
    """A row of headings: which list it heads, and at which place each column stands."""

    listing: Listing
    row: int
    at: dict[str, int]
    unknown: tuple[str, ...]

    @property
    def lacks(self) -> list[str]:
        """The columns without which its rows cannot be read, or tell nothing."""
        one_of = self.listing.one_of
        rest = one_of[:1] if one_of and not self.at.keys() & set(one_of) else ()
        return [key for key in (*self.listing.required, *rest) if key not in self.at]


Names = dict[str, str]
"""Every way to write a heading, folded, to the column's key."""


def places(cells: Sequence[object], names: Names) -> dict[str, int]:
    """The columns that a row would head, with their places; the first of two alike counts."""
    found: dict[str, int] = {}
    for at, cell in enumerate(cells):
        if key := names.get(folded(text_of(cell))):
            found.setdefault(key, at)
    return found


def head(rows: Sequence[tuple[int, Sequence[object]]], names: dict[str, Names],
         wanted: str = "") -> Head | None:  # fmt: skip
    """The headings among the first rows: those of the list that most of them name, whose required
    columns are all there. A row of which half are headings of ours, and that lacks one, raises.
    wanted: only this list is looked for."""
    best: Head | None = None
    nearest: Head | None = None
    for number, cells in rows:
        for listing in LISTS:
            if wanted and listing.name != wanted:
                continue
            at = places(cells, names[listing.name])
            others = tuple(
                t for i, c in enumerate(cells) if (t := text_of(c)) and i not in set(at.values())
            )
            one = Head(listing, number, at, others)
            if len(at) >= len(others) and (nearest is None or len(at) > len(nearest.at)):
                nearest = one
            if one.lacks:
                continue
            if best is None or len(at) > len(best.at):
                best = one
    if best is None and nearest is not None and len(nearest.at) > (0 if wanted else 1):
        name, missing = nearest.listing.name, nearest.lacks
        raise Unreadable("column_missing", list=name, row=nearest.row, columns=missing)
    return best


def lines(sheet: str, grid: Grid, names: dict[str, Names], into: Read, wanted: str = "") -> bool:
    """Read one sheet into what was found; False where no headings of ours stand in it.

    Raises Unreadable where the sheet is too long or a column that no row can do without is missing.
    """
    rows = iter(grid)
    first = [row for _, row in zip(range(HEAD_WITHIN), rows, strict=False)]
    found = head(first, names, wanted)
    if found is None:
        return False
    into.headings[sheet] = {k: text_of(_cell(first, found.row, at)) for k, at in found.at.items()}
    into.unknown += [(sheet, heading) for heading in found.unknown]
    remarks = 0
    for number, cells in (*(r for r in first if r[0] > found.row), *rows):
        texts = [text_of(c) for c in cells[:MOST_COLUMNS]]
        if not any(texts):
            continue
        if texts[0].startswith(REMARK) and texts[0] not in ERRORS:
            remarks += 1
            continue
        told = {k: unguarded(texts[at]) if at < len(texts) else "" for k, at in found.at.items()}
        into.lines.append(Line(found.listing.name, sheet, number, told))
        if len(into.lines) > MOST_ROWS:
            raise Unreadable("too_many_rows", most=MOST_ROWS)
    if remarks:
        into.said.append(("remarks", {"n": remarks, "sheet": sheet}))
    return True


def _cell(rows: Sequence[tuple[int, Sequence[object]]], number: int, at: int) -> object:
    return next(cells[at] for row, cells in rows if row == number)
