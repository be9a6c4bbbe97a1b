"""Database and broker come back from every kind of kill with all that was acknowledged."""

import os
import signal
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

import psycopg
import pytest
import redis

from pickups.config import embedded, places
from pickups.config.embedded_postgres import Postgres
from pickups.config.embedded_valkey import Valkey

KILLED_WHILE_IT_RUNS = """
import os, pathlib, signal
from pickups.config.embedded_postgres import Postgres
postgres = Postgres(pathlib.Path({var!r}))
postgres.start()
print(postgres.process.pid, flush=True)
os.kill(os.getpid(), signal.SIGKILL)
"""


@pytest.fixture
def var() -> Iterator[Path]:
    with tempfile.TemporaryDirectory(prefix="yardloop-own-", ignore_cleanup_errors=True) as folder:
        Path(folder).chmod(0o711)
        yield Path(folder)


@pytest.fixture
def postgres(var: Path) -> Iterator[Postgres]:
    service = Postgres(var)
    service.start()
    yield service
    service.stop()


@pytest.fixture
def valkey(var: Path) -> Iterator[Valkey]:
    service = Valkey(var)
    service.start()
    yield service
    service.stop()


def rows(postgres: Postgres, statement: str = "SELECT count(*) FROM kept") -> int:
    with psycopg.connect(postgres.url, autocommit=True) as connection:
        found = connection.execute(statement).fetchone()
    assert found is not None
    return int(found[0])


def write(postgres: Postgres) -> None:
    with psycopg.connect(postgres.url, autocommit=True) as connection:
        connection.execute("CREATE TABLE kept AS SELECT generate_series(1, 1000) AS n")


def kill(process: "subprocess.Popen[bytes] | None") -> None:
    assert process is not None
    process.kill()
    process.wait()


def test_a_killed_database_comes_back_with_every_row(postgres: Postgres) -> None:
    write(postgres)
    kill(postgres.process)
    postgres.start()
    assert rows(postgres) == 1000


def test_a_process_id_that_somebody_else_has_now_does_not_stop_a_start(postgres: Postgres) -> None:
    write(postgres)
    postgres.stop()
    (postgres.data / "postmaster.pid").write_text(
        f"{os.getpid()}\n{postgres.data}\n1712346200\n5432\n/tmp\n\n  1 1\nready\n"
    )
    postgres.start()
    assert rows(postgres) == 1000


def test_the_database_of_a_killed_parent_ends_and_starts_again_at_once(var: Path) -> None:
    killed = subprocess.run(
        [sys.executable, "-c", KILLED_WHILE_IT_RUNS.format(var=str(var))],
        cwd=places.PROJECT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert killed.returncode == -signal.SIGKILL, killed.stderr
    again = Postgres(var)
    again.start()
    try:
        assert rows(again, "SELECT 1") == 1
        assert again.process is not None
        assert again.process.pid != int(killed.stdout)
    finally:
        again.stop()


def test_a_cluster_half_made_is_never_used(var: Path) -> None:
    postgres = Postgres(var)
    half = postgres.data.with_name("postgres.making")
    half.mkdir(parents=True)
    (half / "PG_VERSION").write_text("18")
    postgres.start()
    try:
        assert rows(postgres, "SELECT 1") == 1
        assert not half.exists()
    finally:
        postgres.stop()


def test_data_of_another_major_version_are_refused_untouched(var: Path) -> None:
    postgres = Postgres(var)
    postgres.data.mkdir(parents=True)
    (postgres.data / "PG_VERSION").write_text("17\n")
    with pytest.raises(embedded.CannotStart, match="made by PostgreSQL 17"):
        postgres.start()
    assert [file.name for file in postgres.data.iterdir()] == ["PG_VERSION"]


def test_a_killed_broker_comes_back_with_what_was_queued(valkey: Valkey) -> None:
    redis.Redis(unix_socket_path=str(valkey.socket)).rpush("queue", *range(500))
    valkey.stop()
    valkey.start()
    line = redis.Redis(unix_socket_path=str(valkey.socket))
    line.rpush("queue", "last")
    line.config_set("appendfsync", "always")
    line.rpush("queue", "very last")
    kill(valkey.process)
    valkey.start()
    assert redis.Redis(unix_socket_path=str(valkey.socket)).llen("queue") == 502


def test_an_orphaned_broker_is_ended_before_another_writes_the_same_file(valkey: Valkey) -> None:
    assert valkey.process is not None
    orphan = valkey.process.pid
    valkey.pid_file.write_text(str(orphan))
    again = Valkey(valkey.data.parent)
    again.start()
    assert valkey.process.wait(5) is not None
    assert again.process is not None
    assert again.process.pid != orphan
    again.stop()


def test_a_socket_folder_of_another_account_is_refused(tmp_path: Path) -> None:
    folder = Path("/usr")  # root's, so another's for a plain user; root gives one away
    if os.geteuid() == 0:
        folder = tmp_path / "sockets"
        folder.mkdir()
        os.chown(folder, 12345, -1)
    before = folder.stat()
    with pytest.raises(embedded.CannotStart, match="another account"):
        embedded.make_socket_dir(folder)
    assert folder.stat() == before


def test_a_second_start_over_the_same_data_is_refused(tmp_path: Path) -> None:
    with (
        embedded.only_one(tmp_path / "lock"),
        pytest.raises(embedded.CannotStart, match="runs already"),
        embedded.only_one(tmp_path / "lock"),
    ):
        pytest.fail("two hold the lock")
    with embedded.only_one(tmp_path / "lock"):
        pass
