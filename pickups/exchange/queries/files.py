"""Lists as files to hand out: what stands, and templates to start from."""

from collections.abc import Iterable, Iterator, Sequence
from typing import IO, Literal

from pickups.exchange import words
from pickups.exchange.queries import standing
from pickups.exchange.rules import csv_text, workbook
from pickups.exchange.rules.cells import guarded
from pickups.exchange.rules.lists import LISTS, Listing
from pickups.exchange.rules.reading import REMARK

What = Literal["standing", "template"]
Table = tuple[str, Sequence[str], Iterable[Sequence[str]]]
"""A sheet's title, its headings, its rows."""


def table(what: What, listing: Listing, language: str) -> Table:
    """One list as it is handed out."""
    headings = [words.heading(language, c.key) for c in listing.columns if _shown(what, c.key)]
    rows = standing.rows(listing, language) if what == "standing" else [example(listing, language)]
    return words.title(language, listing), headings, map(_guarded, rows)


def as_csv(one: Table) -> Iterator[str]:
    """One table as text."""
    return csv_text.write(one[1], one[2])


def write_book(to: IO[bytes], what: What, listings: Sequence[Listing], language: str) -> None:
    """Lists as a workbook; behind a template's, a sheet that says what each column means."""
    tables = [table(what, one, language) for one in listings]
    if what == "template":
        tables.append(_meanings(listings, language))
    write_tables(to, tables)


def write_tables(to: IO[bytes], tables: Iterable[Table]) -> None:
    """Tables as a workbook."""
    workbook.write(to, tables)


def example(listing: Listing, language: str) -> list[str]:
    """A row of invented data that no import reads."""
    invented = words.of(language).EXAMPLE
    row = [invented[c.key] for c in listing.columns if c.key != "id"]
    row[0] = f"{REMARK} {words.of(language).TEMPLATE['example']}: {row[0]}"
    return row


def _shown(what: What, key: str) -> bool:
    """Our own sign for a record stands in what is there, not in a template."""
    return what == "standing" or key != "id"


def _guarded(row: Sequence[str]) -> list[str]:
    return [guarded(cell) for cell in row]


def _meanings(listings: Sequence[Listing], language: str) -> Table:
    w = words.of(language)
    t, stores = w.TEMPLATE, sorted(standing.stores().values())
    heads = [t[key] for key in ("list", "column", "means", "allowed", "required")]
    rows = [
        [
            words.title(language, listing),
            words.heading(language, c.key),
            w.MEANS[c.key],
            words.allowed(language, c, stores),
            t["yes"] if c.required else t["no"],
        ]
        for listing in listings
        for c in listing.columns
    ]
    return t["title"], heads, map(_guarded, [*rows, ["", "", t["remark"], "", ""]])


BY_TITLE = {one.name: (one,) for one in LISTS} | {"all": LISTS}
"""What can be asked for: one list, or all of them in a workbook."""
