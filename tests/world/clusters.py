"""A PostgreSQL of one's own: what a phone pulls waits for every open transaction of its cluster,
and other tests hold transactions open at the same time.
"""

import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import psycopg
from django.db import connection, connections

from pickups.config.embedded_postgres import Postgres
from pickups.config.places import DATABASE_USER
from pickups.sync.management.commands.backup import run_tool


@contextmanager
def cluster() -> Iterator[Postgres]:
    """A new, empty, throw-away server."""
    home = Path(tempfile.mkdtemp(prefix="yardloop-apart-"))
    home.chmod(0o711)  # as root the database runs under an account that has to pass
    server = Postgres(home, durable=False)
    try:
        server.start()
        yield server
    finally:
        server.stop()
        shutil.rmtree(home, ignore_errors=True)


@contextmanager
def moved_to(server: Postgres) -> Iterator[None]:
    """Django's connection, in every thread, goes to the database of the same name there."""
    settings = connections["default"].settings_dict
    here = settings["HOST"]
    connections.close_all()
    settings["HOST"] = str(server.sockets)
    try:
        yield
    finally:
        connections.close_all()
        settings["HOST"] = here


def copy_tables_to(server: Postgres) -> None:
    """Make the test database over there, with the same tables."""
    name = connection.settings_dict["NAME"]
    make_database(server, name)
    dump = server.log.with_name("tables.dump")
    run_tool("pg_dump", name, "--format=custom", f"--file={dump}")
    with moved_to(server):
        run_tool("pg_restore", name, "--no-owner", "--exit-on-error", str(dump))


def make_database(server: Postgres, name: str) -> None:
    """An empty database over there."""
    with psycopg.connect(
        host=str(server.sockets), user=DATABASE_USER, dbname="postgres", autocommit=True
    ) as c:
        c.execute(f'CREATE DATABASE "{name}" TEMPLATE template0')
