"""`manage.py export_work FILE`: casings, work orders and counted scrap as CSV or XLSX.

What the file is called says its form. A .csv holds the casings; with --scrap the scrap instead.
"""

import tempfile
from datetime import date
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from pickups.casings.rules import Progress
from pickups.customers import queries as customers
from pickups.exchange.queries import files, work
from pickups.exchange.rules.cells import same_name
from pickups.kernel.languages import LANGUAGES


class Command(BaseCommand):
    """See the module's first lines."""

    help = "Write casings and work orders to a CSV or XLSX file."

    def add_arguments(self, parser: CommandParser) -> None:
        """Where to, and which of them."""
        parser.add_argument("file", type=Path)
        parser.add_argument("--customer", default="", help="number or name")
        parser.add_argument("--from", dest="first", type=date.fromisoformat, help="2026-04-21")
        parser.add_argument("--to", dest="last", type=date.fromisoformat, help="2026-04-21")
        parser.add_argument("--progress", default="", choices=["", *Progress])
        parser.add_argument("--scrap", action="store_true", help="scrap that was counted, as CSV")
        parser.add_argument("--language", default="en", choices=LANGUAGES)

    def handle(self, *args: Any, **options: Any) -> None:
        """Beside it first, then in its place: a file that is half written is never there."""
        path: Path = options["file"]
        if path.suffix not in (".csv", ".xlsx"):
            raise CommandError(f"{path.name} ends with {path.suffix!r}; allowed: .csv, .xlsx")
        chosen = work.Chosen(
            _customer(options["customer"]), options["first"], options["last"], options["progress"]
        )
        tables = work.tables(chosen, options["language"])
        try:
            with (
                tempfile.TemporaryDirectory(dir=path.parent) as beside,
                (Path(beside) / path.name).open("wb") as to,
            ):
                if path.suffix == ".xlsx":
                    files.write_tables(to, [make() for make in tables.values()])
                else:
                    for line in files.as_csv(tables["scrap" if options["scrap"] else "casings"]()):
                        to.write(line.encode())
                to.close()
                Path(to.name).replace(path)
        except OSError as e:
            raise CommandError(f"{path} cannot be written: {e.strerror}") from None
        self.stdout.write(f"{path} is written")


def _customer(text: str) -> Any:
    if not text:
        return None
    names = (same_name(text), text.casefold())
    found = [
        c.uid
        for c in customers.every_customer()
        if c.number.casefold() == names[1] or same_name(c.name) == names[0]
    ]
    if len(found) != 1:
        raise CommandError(f"--customer is {text!r}, which names {len(found)} customers")
    return found[0]
