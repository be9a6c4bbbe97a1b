"""`manage.py enrol_code --site NAME`: a code to enrol a phone, without the office's page."""

from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser

from pickups.people import services
from pickups.people.models import Site, User


class Command(BaseCommand):
    """Prints a code that is good for one phone and 15 minutes, and the address that takes it."""

    help = "Print a code to enrol one phone within 15 minutes."

    def add_arguments(self, parser: CommandParser) -> None:
        """Whose phone it will be."""
        parser.add_argument("--site", required=True, help="name of the store or plant")

    def handle(self, *args: Any, **options: Any) -> None:
        """In the name of the first administrator."""
        site = Site.objects.filter(name=options["site"]).first()
        if site is None:
            known = ", ".join(Site.objects.order_by("name").values_list("name", flat=True))
            raise CommandError(f"--site is {options['site']!r}; allowed: {known or 'none yet'}")
        admin = User.objects.filter(role=User.Role.ADMIN, is_active=True).order_by("id").first()
        if admin is None:
            raise CommandError("No administrator is entered yet, and a code is made by somebody.")
        code = services.show_code(site=site, made_by=admin)
        self.stdout.write(code)
        self.stdout.write(f"{settings.PUBLIC_BASE_URL}/app/#enrol={code}")
