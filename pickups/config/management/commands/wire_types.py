"""`manage.py wire_types [--check]`: the OpenAPI schema from which the phone's types are made.

Writes frontend/src/sync/schema.json; with --check it fails where the file is not current. The
types themselves are made from it by `npm run types`.
"""

import json
from argparse import ArgumentParser
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError
from drf_spectacular.generators import SchemaGenerator


class Command(BaseCommand):
    """See the module's first lines."""

    help = "Write the OpenAPI schema that the phone's types are made from."

    def add_arguments(self, parser: ArgumentParser) -> None:
        """--check compares only."""
        parser.add_argument("--check", action="store_true")

    def handle(self, *args: Any, **options: Any) -> None:
        """Write or compare."""
        schema = SchemaGenerator().get_schema(request=None, public=True)  # type: ignore[no-untyped-call]
        text = json.dumps(schema, indent=1, sort_keys=True, default=str) + "\n"
        file = settings.BASE_DIR / "frontend" / "src" / "sync" / "schema.json"
        if not options["check"]:
            file.write_text(text)
            self.stdout.write(f"{file.relative_to(settings.BASE_DIR)}: written")
        elif not file.exists() or file.read_text() != text:
            raise CommandError(
                "frontend/src/sync/schema.json is not current; run `manage.py wire_types`,"
                " then `npm run types` in frontend/"
            )
