"""`manage.py plant_key --plant NAME --name WHAT`: a key for a plant's system, said once.

`--scope events|loads|read`, once or more: only what it is for; all three where none is named.
`manage.py plant_key --renew PREFIX`: a key in its place; both are good until the old is revoked.
`manage.py plant_key --revoke PREFIX`: the key opens nothing from now on.
"""

from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from pickups.people import services
from pickups.people.models import Site
from pickups.people.rules import KeyScope


class Command(BaseCommand):
    """Prints a new key; only its hash is kept, so it cannot be shown again."""

    help = "Print a new key with which a plant's system posts station events."

    def add_arguments(self, parser: CommandParser) -> None:
        """Which plant, and what the key is for."""
        parser.add_argument("--plant", help="name of the plant")
        parser.add_argument("--name", help="what will use it, such as a gateway")
        scopes = [scope.value for scope in KeyScope]
        parser.add_argument("--scope", action="append", choices=scopes, help="what it is for")
        parser.add_argument("--renew", metavar="PREFIX", help="the key in whose place one is made")
        parser.add_argument("--revoke", metavar="PREFIX", help="the part before the dot of a key")

    def handle(self, *args: Any, **options: Any) -> None:
        """One line: the whole key."""
        if options["revoke"]:
            if not services.revoke_key(prefix=options["revoke"]):
                raise CommandError(f"--revoke is {options['revoke']!r}; no key in force begins so")
            self.stdout.write(f"{options['revoke']} opens nothing from now on")
            return
        if options["renew"]:
            made = services.renew_key(prefix=options["renew"])
            if made is None:
                raise CommandError(f"--renew is {options['renew']!r}; no key in force begins so")
            self.stdout.write(made[1])
            return
        if not options["plant"] or not options["name"]:
            raise CommandError("--plant and --name are needed, or --renew or --revoke PREFIX")
        plants = Site.objects.filter(kind=Site.Kind.PLANT)
        plant = plants.filter(name=options["plant"]).first()
        if plant is None:
            known = ", ".join(plants.order_by("name").values_list("name", flat=True))
            raise CommandError(f"--plant is {options['plant']!r}; allowed: {known or 'none yet'}")
        scopes = [KeyScope(scope) for scope in options["scope"] or KeyScope]
        _, key = services.issue_key(plant=plant, name=options["name"], scopes=scopes)
        self.stdout.write(key)
