"""A backup restored is equal row by row; a restore that fails or is not meant changes nothing."""

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import psycopg
import pytest
from PIL import Image

from pickups.config import places
from pickups.sync.management.commands.backup import copy_missing

NAME = f"apart_{os.getpid()}"
pytestmark = pytest.mark.xdist_group("restore")


def connect(database: str) -> "psycopg.Connection[Any]":
    return psycopg.connect(
        host=os.environ["YARDLOOP_TEST_POSTGRES"],
        user=places.DATABASE_USER,
        dbname=database,
        autocommit=True,
    )


def manage(var: Path, *command: str) -> "subprocess.CompletedProcess[str]":
    url = f"postgres://yardloop@{os.environ['YARDLOOP_TEST_POSTGRES'].replace('/', '%2F')}/{NAME}"
    return subprocess.run(
        [sys.executable, "manage.py", *command],
        cwd=places.PROJECT,
        env={**os.environ, "DATABASE_URL": url, "YARDLOOP_VAR": str(var)},
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.fixture
def var(tmp_path: Path) -> Iterator[Path]:
    """Data folder of an installation with a database of its own, tables made."""
    var = tmp_path / "var"
    with connect("postgres") as server:
        server.execute(f"CREATE DATABASE {NAME}")
    made = manage(var, "migrate", "-v0")
    assert made.returncode == 0, made.stderr
    yield var
    with connect("postgres") as server:
        for database in (NAME, f"{NAME}_restoring", f"{NAME}_before_restore"):
            server.execute(f"DROP DATABASE IF EXISTS {database} WITH (FORCE)")


def contents(database: str) -> dict[str, list[str]]:
    """Every row of every table as text, but for the stamps that a restore renews."""
    with connect(database) as connection:
        tables = connection.execute(
            "SELECT tablename FROM pg_tables WHERE schemaname = 'public' ORDER BY 1"
        ).fetchall()
        return {
            table: sorted(
                row[0]
                for row in connection.execute(
                    f"SELECT (to_jsonb(t) - '{{epoch,xid,seq,position,horizon}}'::text[])::text"
                    f" FROM {table} t"
                ).fetchall()
            )
            for (table,) in tables
        }


def epoch() -> str:
    with connect(NAME) as connection:
        found = connection.execute("SELECT epoch::text FROM sync_feed_state").fetchone()
    assert found is not None
    return str(found[0])


def fill() -> None:
    with connect(NAME) as connection:
        connection.execute(
            "INSERT INTO sync_feed (scope, entity, uid, version, gone)"
            " SELECT 'store:1', 'casing', gen_random_uuid(), n, false"
            " FROM generate_series(1, 300) n"
        )


def backup(var: Path, folder: Path) -> Path:
    done = manage(var, "backup", "--to", str(folder))
    assert done.returncode == 0, done.stderr
    dump = Path(done.stdout.splitlines()[0])
    assert dump.stat().st_mode & 0o777 == 0o600
    return dump


def test_a_restored_database_equals_the_one_that_was_backed_up(var: Path, tmp_path: Path) -> None:
    fill()
    photo = var / "photos" / "ab" / "abcdef"
    photo.parent.mkdir(parents=True)
    photo.write_bytes(b"a photo")
    dump = backup(var, tmp_path / "kept")
    saved, known = contents(NAME), epoch()
    assert len(saved["sync_feed"]) == 300

    with connect(NAME) as connection:
        connection.execute("DELETE FROM sync_feed WHERE version > 100")
        connection.execute("CREATE TABLE made_later (n int)")
    photo.unlink()
    with connect(NAME) as somebody:  # is cut off, as a web process would be
        done = manage(var, "restore", str(dump), "--yes")
        assert done.returncode == 0, done.stderr
        with pytest.raises(psycopg.OperationalError):
            somebody.execute("SELECT 1")

    assert contents(NAME) == saved
    assert epoch() != known
    assert epoch() in done.stdout
    assert photo.read_bytes() == b"a photo"
    with connect(NAME) as connection:
        seen = connection.execute(
            "SELECT count(*) FROM sync_feed WHERE xid < pg_snapshot_xmin(pg_current_snapshot())"
        ).fetchone()
    assert seen == (300,)
    assert len(contents(f"{NAME}_before_restore")["sync_feed"]) == 100


def test_a_photo_that_came_after_the_backup_has_its_row_after_the_restore(
    var: Path, tmp_path: Path
) -> None:
    """The file is still in the folder; the operations that name it are pushed again."""
    dump = backup(var, tmp_path / "kept")
    file = var / "photos" / "ab" / f"{'ab' * 32}.jpg"
    file.parent.mkdir(parents=True)
    Image.new("RGB", (40, 20)).save(file)
    half = var / "photos" / "cd" / f"{'cd' * 32}.jpg"
    half.parent.mkdir()
    half.write_bytes(file.read_bytes()[:200])
    done = manage(var, "restore", str(dump), "--yes")
    assert done.returncode == 0, done.stderr
    assert "1 that came after it" in done.stdout
    with connect(NAME) as connection:
        rows = connection.execute("SELECT sha256, file, width, height, bytes FROM sync_photo")
        assert rows.fetchall() == [("ab" * 32, f"ab/{'ab' * 32}.jpg", 40, 20, file.stat().st_size)]


def test_of_a_photo_the_whole_file_is_kept_on_whichever_side_a_piece_of_it_lies(
    tmp_path: Path,
) -> None:
    here, kept = tmp_path / "here", tmp_path / "kept"
    for side, held in ((here, {"new": 9, "cut there": 9, "cut here": 4, "same": 9}),
                       (kept, {"cut there": 4, "cut here": 9, "same": 9})):  # fmt: skip
        side.mkdir()
        for name, size in held.items():
            (side / name).write_bytes(b"x" * size)
    (here / "unfinished.ab.new").write_bytes(b"x")
    before = (kept / "same").stat()
    assert copy_missing(here, kept) == 2
    sizes = {file.name: file.stat().st_size for file in kept.iterdir()}
    assert sizes == {"new": 9, "cut there": 9, "cut here": 9, "same": 9}
    assert (kept / "same").stat() == before
    assert copy_missing(kept, here) == 1
    assert (here / "cut here").stat().st_size == 9
    assert (here / "cut here").stat().st_mode & 0o777 == 0o600


def test_without_yes_nothing_is_replaced(var: Path, tmp_path: Path) -> None:
    dump = backup(var, tmp_path / "kept")
    fill()
    before, known = contents(NAME), epoch()
    refused = manage(var, "restore", str(dump))
    assert refused.returncode != 0
    assert "--yes" in refused.stderr
    assert (contents(NAME), epoch()) == (before, known)


@pytest.mark.parametrize("damage", ["cut", "nonsense"])
def test_a_damaged_file_leaves_the_database_as_it_was(
    var: Path, tmp_path: Path, damage: str
) -> None:
    fill()
    dump = backup(var, tmp_path / "kept")
    whole = dump.read_bytes()
    dump.write_bytes(whole[: len(whole) // 2] if damage == "cut" else b"nonsense")
    before, known = contents(NAME), epoch()
    failed = manage(var, "restore", str(dump), "--yes")
    assert failed.returncode != 0
    assert "pg_restore failed" in failed.stderr
    assert (contents(NAME), epoch()) == (before, known)
