"""`manage.py purge`: what may name a person and was kept long enough is erased now.

The worker does the same once a day; the facts stay, and pages say that something was erased.
"""

from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand

from pickups.custody import keeping
from pickups.kernel import clock
from pickups.people import services as people
from pickups.sync import services as sync


class Command(BaseCommand):
    """Says of each kind how long it is kept and how much of it was erased."""

    help = "Erase words, signatures and names that are older than KEPT_DAYS_... keeps them."

    def handle(self, *args: Any, **options: Any) -> None:
        """A line a kind."""
        at = clock.now()
        erased = people.purge(at=at) | keeping.purge(at=at)
        for kind, n in sync.erase_typed(at=at).items():
            erased[kind] += n
        for kind, n in erased.items():
            self.stdout.write(f"{kind}: {n} erased, kept for {settings.KEPT_DAYS[kind]} days")
