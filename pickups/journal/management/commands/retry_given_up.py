"""`manage.py retry_given_up`: after a long outage, owe again what was given up."""

from typing import Any

from django.core.management.base import BaseCommand

from pickups.journal import services


class Command(BaseCommand):
    """See the module's first lines."""

    help = "Try reactions (such as mails) again that failed for a week and were given up."

    def handle(self, *args: Any, **options: Any) -> None:
        """Owe them again; the next sweep runs them."""
        self.stdout.write(f"{services.retry_given_up()} owed again")
