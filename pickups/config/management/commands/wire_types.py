"""`manage.py wire_types [--check]`: what the phone's app takes over from the server's own tables.

Writes the OpenAPI schema, frontend/src/sync/schema.json, from which `npm run types` makes the
types, and what reasons and stations are called, frontend/src/pickups/said.json. With
--check it fails where a file is not current.
"""

import json
from argparse import ArgumentParser
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError
from drf_spectacular.generators import SchemaGenerator

from pickups.casings import reasons
from pickups.kernel.languages import LANGUAGES
from plant.dock.rules import DEFAULT_ROUTE


class Command(BaseCommand):
    """See the module's first lines."""

    help = "Write the schema that the phone's types are made from, and what reasons are called."

    def add_arguments(self, parser: ArgumentParser) -> None:
        """--check compares only."""
        parser.add_argument("--check", action="store_true")

    def handle(self, *args: Any, **options: Any) -> None:
        """Write or compare."""
        schema = SchemaGenerator().get_schema(request=None, public=True)  # type: ignore[no-untyped-call]
        written = {
            "sync/schema.json": json.dumps(schema, indent=1, sort_keys=True, default=str),
            "pickups/said.json": json.dumps(_said(), indent=2, ensure_ascii=False),
        }
        for name, text in written.items():
            file = settings.BASE_DIR / "frontend" / "src" / name
            if not options["check"]:
                file.write_text(text + "\n")
                self.stdout.write(f"{file.relative_to(settings.BASE_DIR)}: written")
            elif not file.exists() or file.read_text() != text + "\n":
                raise CommandError(
                    f"frontend/src/{name} is not current; run `manage.py wire_types`,"
                    " then `npm run types` in frontend/"
                )


def _said() -> dict[str, dict[str, dict[str, str]]]:
    """Reasons of the catalogue and stations of the default route, in every language."""
    stations = list(DEFAULT_ROUTE)
    return {
        "reasons": {c: {lang: reasons.words(c, lang) for lang in LANGUAGES} for c in reasons.CODES},
        "stations": {c: {lang: reasons.station(c, lang) for lang in LANGUAGES} for c in stations},
    }
