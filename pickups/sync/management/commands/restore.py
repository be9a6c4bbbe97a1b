"""`manage.py restore FILE --yes`: the database of a backup takes the place of the one here.

It is filled and brought to this release beside the old one, given a new epoch, and only then
the two change places: a restore that fails changes nothing, and no phone ever sees old rows
under a known epoch. Phones notice the epoch, start afresh and push their last 30 days again.
Photos that lie in the folder and that the backup does not know of get their rows again.
The old database stays as NAME_before_restore until the next restore.
"""

import time
from argparse import ArgumentParser
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.db import DatabaseError, connection
from django.db.backends.utils import CursorWrapper
from psycopg import sql

from pickups.sync import photos, services
from pickups.sync.management.commands.backup import (
    copy_missing,
    database_name,
    photos_folder,
    run_tool,
)

PATIENCE_S = 20.0


class Command(BaseCommand):
    help = "Puts a backup in the place of the database; asks for --yes."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", type=Path, help="the .dump file that `backup` wrote")
        parser.add_argument("--yes", action="store_true", help="yes, replace what is here")

    def handle(self, *_: Any, **options: Any) -> None:
        dump: Path = options["file"]
        name = database_name()
        if not dump.is_file():
            raise CommandError(f"{dump} is no file.")
        if not options["yes"]:
            raise CommandError(
                f"This replaces the database {name} by {dump.name}. Say --yes to do it."
            )
        new = f"{name}_restoring"
        fill(new, dump)
        with working_on(new):
            call_command("migrate", interactive=False, verbosity=0)
            epoch = services.renew_epoch()
        change_places(name, new)
        saved, here = dump.parent / "photos", photos_folder()
        copied = copy_missing(saved, here) if here and saved.is_dir() else 0
        found = photos.register(here) if here else 0
        self.stdout.write(
            f"{dump.name} is in place, with epoch {epoch} and {copied} photos brought back;"
            f" {found} that came after it were found in the folder.\n"
            f"The database that was here is kept as {name}_before_restore."
        )


def fill(new: str, dump: Path) -> None:
    with outside() as cursor:
        cursor.execute(_named("DROP DATABASE IF EXISTS {} WITH (FORCE)", new))
        cursor.execute(_named("CREATE DATABASE {} TEMPLATE template0 ENCODING 'UTF8'", new))
    run_tool("pg_restore", new, "--no-owner", "--no-acl", "--exit-on-error", str(dump.resolve()))


@contextmanager
def working_on(database: str) -> Iterator[None]:
    """Our own connection goes to another database, without an end to its transactions."""
    settings = connection.settings_dict
    kept, options = settings["NAME"], settings["OPTIONS"]
    connection.close()
    settings["NAME"] = database
    settings["OPTIONS"] = {**options, "options": "-c transaction_timeout=0"}
    try:
        yield
    finally:
        connection.close()
        settings["NAME"], settings["OPTIONS"] = kept, options


def change_places(name: str, new: str) -> None:
    """The moment of the restore. Whoever is connected is cut off and connects again."""
    before = f"{name}_before_restore"
    with outside() as cursor:
        cursor.execute(_named("DROP DATABASE IF EXISTS {} WITH (FORCE)", before))
        cursor.execute(_named("ALTER DATABASE {} ALLOW_CONNECTIONS false", name))
        try:
            _cut_off(cursor, name)
            cursor.execute(_named("ALTER DATABASE {} RENAME TO {}", name, before))
        except (DatabaseError, CommandError):
            cursor.execute(_named("ALTER DATABASE {} ALLOW_CONNECTIONS true", name))
            raise
        try:
            cursor.execute(_named("ALTER DATABASE {} RENAME TO {}", new, name))
        except DatabaseError:
            cursor.execute(_named("ALTER DATABASE {} RENAME TO {}", before, name))
            cursor.execute(_named("ALTER DATABASE {} ALLOW_CONNECTIONS true", name))
            raise
        cursor.execute(_named("ALTER DATABASE {} ALLOW_CONNECTIONS true", before))


def _cut_off(cursor: CursorWrapper, name: str) -> None:
    end = time.monotonic() + PATIENCE_S
    while True:
        cursor.execute(
            "SELECT count(pg_terminate_backend(pid)) FROM pg_stat_activity WHERE datname = %s",
            [name],
        )
        if cursor.fetchone() == (0,):
            return
        if time.monotonic() > end:
            raise CommandError(f"Somebody stays connected to {name}; nothing was changed.")
        time.sleep(0.05)


@contextmanager
def outside() -> Iterator[CursorWrapper]:
    """A cursor in the server's own database, in no transaction; ours must not be in the way."""
    connection.close()
    with connection._nodb_cursor() as cursor:  # noqa: SLF001 - as Django's own test runner does
        yield cursor


def _named(statement: str, *names: str) -> sql.Composed:
    return sql.SQL(statement).format(*map(sql.Identifier, names))
