"""`manage.py load_demo`: the demo data, once; only on the database that the supervisor starts."""

from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import connection, transaction

from pickups.config.demo import dealer, history, trying
from pickups.kernel import clock


class Command(BaseCommand):
    """Loads the demo, or says that it is there; `--sign-ins` tells how to try it."""

    help = "Load the demo data into the embedded database; safe to repeat."

    def add_arguments(self, parser: CommandParser) -> None:
        """The one choice."""
        parser.add_argument(
            "--sign-ins",
            action="store_true",
            help="only print sign-ins, unused labels and how to get a key",
        )

    def handle(self, *args: Any, **options: Any) -> None:
        """All or nothing, in one transaction."""
        if not settings.EMBEDDED_DATABASE:
            raise CommandError(
                "The demo has known passwords, so it goes only into the database that `make run`"
                " starts. DATABASE_URL names another one: nothing was written."
            )
        if options["sign_ins"]:
            self.stdout.write("\n".join(trying.lines()))
            return
        with transaction.atomic(), connection.cursor() as c:
            # Three weeks in one transaction may take longer than any that a user waits for.
            c.execute("SET LOCAL transaction_timeout = 0")
            if dealer.is_there():
                self.stdout.write("The demo data are there already; nothing was changed.")
                return
            at = clock.now()
            history.tell(dealer.build(at=at), at=at)
        self.stdout.write("The demo data are loaded.")
