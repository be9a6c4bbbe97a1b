"""`manage.py backup`: the whole database in one file, and the photos beside it.

It reads while everybody works: the file is one consistent moment. Photos are named by their
content and never change, so each is copied once; they are copied after the database, so no
row of the file names a photo that was left out. A file appears whole or not at all.
"""

import os
import shutil
import subprocess
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.files.storage import FileSystemStorage, storages
from django.core.management.base import BaseCommand, CommandError
from django.db import connection
from django.db.backends.postgresql.client import DatabaseClient

from pickups.kernel import clock
from pickups.sync.photos import UNFINISHED, sync_to_disk


class Command(BaseCommand):
    help = "Writes the database and the photos into a folder; safe while everybody works."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument(
            "--to",
            type=Path,
            default=settings.VAR_DIR / "backups",
            help="the folder (default: %(default)s)",
        )

    def handle(self, *_: Any, **options: Any) -> None:
        folder: Path = options["to"]
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        dump = dump_database(folder / f"yardloop-{clock.now():%Y%m%dT%H%M%S.%fZ}.dump")
        here = photos_folder()
        copied = copy_missing(here, folder / "photos") if here else 0
        size_mb = dump.stat().st_size / 1_000_000
        self.stdout.write(f"{dump}\n{size_mb:.1f} MB, {copied} new photos beside it")
        if here is None:
            self.stdout.write("The photos lie in a store of their own: keep its copies there.")


def dump_database(dump: Path) -> Path:
    new = dump.with_suffix(UNFINISHED)
    new.touch(mode=0o600)
    run_tool("pg_dump", database_name(), "--format=custom", f"--file={new}")
    sync_to_disk(new)
    return new.rename(dump)


def database_name() -> str:
    return str(connection.settings_dict["NAME"])


def run_tool(tool: str, database: str, *arguments: str) -> None:
    """Runs one of PostgreSQL's own programs on a database; the password stays off its line."""
    line, secrets = DatabaseClient.settings_to_cmd_args_env(
        {**connection.settings_dict, "NAME": database}, []
    )
    program = Path(settings.DATABASE_TOOLS) / tool if settings.DATABASE_TOOLS else tool
    try:
        done = subprocess.run(
            [str(program), *line[1:-1], "--dbname", database, *arguments],
            env={**os.environ, **(secrets or {})},
            capture_output=True,
            text=True,
            check=False,
        )
    except FileNotFoundError as missing:
        raise CommandError(f"{tool} is not here: name its folder in DATABASE_TOOLS") from missing
    if done.returncode:
        raise CommandError(f"{tool} failed:\n{done.stderr.strip()}")


def photos_folder() -> Path | None:
    """None when the photos lie in a store outside this machine's disk."""
    photos = storages["photos"]
    return Path(photos.location) if isinstance(photos, FileSystemStorage) else None


def copy_missing(source: Path, target: Path) -> int:
    """Copies what the target lacks, or has only a piece of; says how many files that were.

    A photo never changes: of two files with one name the smaller is what a crash or a full disk
    has left, on whichever side it lies.
    """
    copied = 0
    for file in source.rglob("*"):
        if not file.is_file() or file.name.endswith(UNFINISHED):
            continue
        kept = target / file.relative_to(source)
        if kept.exists() and kept.stat().st_size >= file.stat().st_size:
            continue
        kept.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        new = kept.with_name(f"{kept.name}{UNFINISHED}")
        shutil.copyfile(file, new)
        new.chmod(0o600)
        sync_to_disk(new)
        new.replace(kept)
        copied += 1
    return copied
