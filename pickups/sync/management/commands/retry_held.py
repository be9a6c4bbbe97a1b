"""`manage.py retry_held`: after a release, try everything again that could not be applied."""

from typing import Any

from django.core.management.base import BaseCommand

from pickups.sync import push


class Command(BaseCommand):
    """See the module's first lines."""

    help = "Try held operations again: kinds and versions that this release may know."

    def handle(self, *args: Any, **options: Any) -> None:
        """Try all of them once."""
        self.stdout.write(f"{push.retry_held(limit=100_000, everything=True)} freed")
