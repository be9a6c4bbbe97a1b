"""`manage.py import_unsent FILE`: enter what a phone saved to a file, as if the phone had sent it.

Safe to repeat: what the server has already is not entered twice. `--look` only says what is in it.
"""

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.db import OperationalError

from pickups.people import queries as people
from pickups.sync import unsent

WHY = {
    "damaged": "{file} is damaged, or no file that a phone has saved. Nothing was entered.",
    "other_server": "{file} was sealed to another server's key: only that one can open it."
    " Was EXPORT_KEY changed, or the export_key beside the secret key lost?",
    "newer": "{file} was saved by a newer app than this server knows. Nothing was entered.",
    "device_unknown": "The phone that saved {file} was never enrolled here. Nothing was entered.",
    "device_revoked": "The phone that saved {file} is shut out. If its entries are to be taken all"
    " the same, say --although-shut-out.",
}


class Command(BaseCommand):
    """See the module's first lines."""

    help = "Enter what a phone saved to a file, as if the phone had sent it; safe to repeat."

    def add_arguments(self, parser: ArgumentParser) -> None:
        """The file, and who brings it."""
        parser.add_argument("file", type=Path)
        parser.add_argument("--look", action="store_true", help="only say what is in it")
        parser.add_argument("--by", metavar="USERNAME", help="who brings it, for the journal")
        parser.add_argument("--although-shut-out", action="store_true", help="of a revoked phone")

    def handle(self, *args: Any, **options: Any) -> None:
        """Look, and take unless only a look was asked for."""
        file: Path = options["file"]
        by = self._person(options["by"])
        try:
            inside = unsent.opened(file.read_bytes())
            if options["look"]:
                self._say(unsent.look(inside))
                return
            taken = unsent.take(inside, by=by, although_revoked=options["although_shut_out"])
        except OSError as why:
            raise CommandError(f"{file} cannot be read: {why.strerror}") from None
        except unsent.Unusable as why:
            raise CommandError(WHY[why.why].format(file=file)) from None
        except OperationalError:
            raise CommandError("The database was busy. Run it again: nothing is doubled.") from None
        came = ", ".join(f"{n} {outcome}" for outcome, n in sorted(taken.outcomes.items()))
        self.stdout.write(
            f"{taken.device.name}: {came or 'no entries'}; {taken.repeats} were here before;"
            f" {taken.photos} photos, {taken.photos_refused} more not readable"
        )

    def _person(self, username: str | None) -> Any:
        if username is None:
            return None
        person = people.signing_in_as(username)
        if person is None:
            raise CommandError(f"--by {username!r}: nobody has that user name.")
        return person.uid

    def _say(self, seen: unsent.Look) -> None:
        self.stdout.write(
            f"{seen.device.name} ({seen.device.status}), saved {seen.saved_at:%Y-%m-%d %H:%M} UTC:"
            f" {seen.operations} entries, {seen.here} of them here before; {seen.photos} photos,"
            f" {seen.photos_here} of them here before"
        )
