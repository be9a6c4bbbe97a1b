"""`manage.py import_customers FILE [--write]`: customers and what is theirs, from CSV or XLSX.

Without --write nothing is written: it says what would be new, what would change, and every fault
with its row and column. Exit code 1 where something is wrong with the file, then nothing is
written either. The same file again finds everything as it is.
"""

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from pickups.exchange import services, words
from pickups.exchange.models import Import
from pickups.exchange.queries.standing import Referred
from pickups.exchange.rules.lists import BY_NAME, LISTS
from pickups.exchange.rules.planning import Plan
from pickups.exchange.rules.reading import Unreadable
from pickups.exchange.rules.values import cell_of
from pickups.kernel import clock
from pickups.kernel.languages import LANGUAGES
from pickups.kernel.uploads import MOST_BYTES
from pickups.kernel.wire import shown


class Command(BaseCommand):
    """See the module's first lines."""

    help = "Bring customers, yards, contacts and specifications in from a CSV or XLSX file."

    def add_arguments(self, parser: CommandParser) -> None:
        """The file, what is in it, and whether to write."""
        parser.add_argument("file", type=Path)
        parser.add_argument("--write", action="store_true", help="write it; else only look")
        parser.add_argument("--list", default="", choices=["", *(one.name for one in LISTS)],
                            help="what is in it; else the headings say")  # fmt: skip
        parser.add_argument("--language", default="en", choices=LANGUAGES)

    def handle(self, *args: Any, **options: Any) -> None:
        """Look; say what is found; write where that was asked for and nothing is wrong."""
        language, path = options["language"], options["file"]
        try:
            raw = _read(path)
            taken = services.take_in(
                raw=raw, name=path.name, wanted=options["list"], by=None, at=clock.now()
            )
        except Unreadable as why:
            raise CommandError(f"{path.name}: {words.unreadable(language, why)}") from None
        plan, world = services.look(taken)
        self._say(plan, taken, Referred(world.records), language)
        if plan.faults:
            taken.delete()
            raise CommandError(f"{len(plan.faults)} faults; nothing was written")
        if not options["write"]:
            taken.delete()
            self.stdout.write("Nothing was written. Add --write to write it.")
            return
        self._write(taken, plan.mark)

    def _write(self, taken: Import, mark: str) -> None:
        came = services.agree(uid=taken.uid, mark=mark, at=clock.now(), owe=False)
        if came == "nothing":
            taken.delete()
            self.stdout.write("Nothing to write.")
            return
        if came != "agreed":
            raise CommandError("Something was changed meanwhile; nothing was written. Try again.")
        start: int | None = 0
        while start is not None:
            start = services.step(uid=taken.uid, start=start, owe=False)
            if start is not None:
                self.stdout.write(f"{start} of {taken.total} rows")
        taken.refresh_from_db()
        left = services.faults_of(taken)
        for fault in left:
            where = words.where("en", fault, taken.found["headings"])
            self.stdout.write(f"left out: {where}: {words.why('en', fault)}")
        if left:
            raise CommandError(f"Written, but {len(left)} rows left out")
        self.stdout.write(self.style.SUCCESS("Written."))

    def _say(self, plan: Plan, taken: Import, referred: Referred, language: str) -> None:
        for key, facts in taken.found["said"]:
            self.stdout.write(words.said(language, key, **facts))
        if unknown := [shown(heading, 40) for _, heading in taken.found["unknown"]]:
            self.stdout.write(words.said(language, "unknown", columns=", ".join(unknown)))
        for name, counts in plan.counted().items():
            told = ", ".join(f"{n} {what}" for what, n in counts.items())
            self.stdout.write(f"{words.title(language, name)}: {told}")
        for step in plan.steps:
            for key, (was, will) in step.changes.items() if not step.new else ():
                column = BY_NAME[step.list].column(key)
                texts = [
                    referred.said(key, str(v))
                    if v and column.reads in ("store", "customer", "yard")
                    else cell_of(column, v, words.spoken(language))
                    for v in (was, will)
                ]
                heading = words.heading(language, key)
                self.stdout.write(f"row {step.row}, {heading}: {texts[0]!r} -> {texts[1]!r}")
        for fault in plan.faults:
            where = words.where(language, fault, taken.found["headings"])
            said = words.why(language, fault)
            self.stderr.write(f"{where}: {shown(fault.value)!r}: {said}")


def _read(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            raw = file.read(MOST_BYTES + 1)
    except OSError as e:
        raise CommandError(f"{path} cannot be read: {e.strerror}") from None
    if len(raw) > MOST_BYTES:
        raise services.too_big()
    return raw
