"""`manage.py plant_key --plant NAME --name WHAT`: a key for a plant's system, said once.

`manage.py plant_key --revoke PREFIX`: the key opens nothing from now on.
"""

from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from pickups.people import services
from pickups.people.models import Site


class Command(BaseCommand):
    """Prints a new key; only its hash is kept, so it cannot be shown again."""

    help = "Print a new key with which a plant's system posts station events."

    def add_arguments(self, parser: CommandParser) -> None:
        """Which plant, and what the key is for."""
        parser.add_argument("--plant", help="name of the plant")
        parser.add_argument("--name", help="what will use it, such as a gateway")
        parser.add_argument("--revoke", metavar="PREFIX", help="the part before the dot of a key")

    def handle(self, *args: Any, **options: Any) -> None:
        """One line: the whole key."""
        if options["revoke"]:
            if not services.revoke_key(prefix=options["revoke"]):
                raise CommandError(f"--revoke is {options['revoke']!r}; no key in force begins so")
            self.stdout.write(f"{options['revoke']} opens nothing from now on")
            return
        if not options["plant"] or not options["name"]:
            raise CommandError("--plant and --name are needed, or --revoke PREFIX")
        plants = Site.objects.filter(kind=Site.Kind.PLANT)
        plant = plants.filter(name=options["plant"]).first()
        if plant is None:
            known = ", ".join(plants.order_by("name").values_list("name", flat=True))
            raise CommandError(f"--plant is {options['plant']!r}; allowed: {known or 'none yet'}")
        _, key = services.issue_key(plant=plant, name=options["name"])
        self.stdout.write(key)
