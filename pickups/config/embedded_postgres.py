"""PostgreSQL from a wheel, as our own child on a Unix socket, with no TCP port.

Comes back after a kill of anything: a stale pid file, a reused process id, an orphan and a
leftover socket are each looked at before a start, and what was committed is there again.
A half-made cluster is never used. As root the server runs under an unprivileged account.
Trust authentication is safe here: the socket's folder is closed to all others.
"""

import os
import shutil
import signal
import subprocess
import time
from pathlib import Path
from typing import Any

import psycopg

from pickups.config import embedded, places

MAJOR = places.POSTGRES_MAJOR


class Postgres:
    name = "postgres"

    def __init__(self, var: Path, *, durable: bool = True) -> None:
        """`durable=False` is for throw-away data of tests: no crash is survived."""
        self.durable = durable
        self.uid = embedded.unprivileged_uid()
        self.data = self._data(var.resolve() / "postgres")
        self.log = self.data.parent / "postgres.log"
        self.sockets = places.socket_dir(var, "database")
        self.bin = self._reachable_binaries()
        self.process: subprocess.Popen[bytes] | None = None

    @property
    def url(self) -> str:
        return places.database_url(self.sockets)

    def start(self, patience_s: float = 60) -> None:
        new = self._make_cluster()
        embedded.make_socket_dir(self.sockets, self.uid)
        self._clear_leftovers()
        with open(self.log, "ab") as log:
            self.process = embedded.start_child(
                [str(self.bin / "postgres"), "-D", str(self.data), *self._options()],
                end_with=signal.SIGINT,
                cwd="/",
                output=log,
                uid=self.uid,
            )
        self._wait(patience_s)
        if new:
            self._make_database()

    def stop(self) -> None:
        # SIGINT is PostgreSQL's fast shutdown, SIGQUIT its immediate one.
        embedded.end(self.process, signal.SIGINT, signal.SIGQUIT, each_s=20)
        shutil.rmtree(self.sockets, ignore_errors=True)

    def _data(self, wanted: Path) -> Path:
        """Below a private folder no other account reaches the data; then they lie outside."""
        if self.uid is None:
            return wanted
        elsewhere = embedded.outside(wanted.parent) / "postgres"
        if (elsewhere / "PG_VERSION").exists():
            return elsewhere
        if embedded.open_to_all(wanted.parent):
            return wanted
        if (wanted / "PG_VERSION").exists():
            raise embedded.CannotStart(
                f"{wanted} holds the data, but a folder above it is closed to the account "
                "that PostgreSQL runs under. Open that folder (chmod o+x) or move the project."
            )
        elsewhere.parent.mkdir(parents=True, exist_ok=True, mode=0o755)
        return elsewhere

    def _reachable_binaries(self) -> Path:
        wheel = embedded.wheel_dir(places.POSTGRES_WHEEL)
        found = Path(places.database_tools())
        if self.uid is None or embedded.open_to_all(found / "postgres"):
            return found
        copy = embedded.outside(wheel) / "binaries"
        if not (copy / "complete").exists():
            shutil.rmtree(copy, ignore_errors=True)
            copy.mkdir(parents=True, mode=0o755)
            shutil.copytree(found.parent, copy / wheel.name / found.parent.name, symlinks=True)
            libs = f"{wheel.name}.libs"
            shutil.copytree(wheel.parent / libs, copy / libs)
            (copy / "complete").touch()
        return copy / wheel.name / found.parent.name / "bin"

    def _make_cluster(self) -> bool:
        version = self.data / "PG_VERSION"
        if version.exists():
            if version.read_text().strip() != str(MAJOR):
                raise embedded.CannotStart(
                    f"{self.data} was made by PostgreSQL {version.read_text().strip()}, "
                    f"this is {MAJOR}: restore a backup into a new data folder."
                )
            return False
        making = self.data.with_name("postgres.making")
        shutil.rmtree(making, ignore_errors=True)
        making.mkdir(parents=True, mode=0o700)
        if self.uid is not None:
            os.chown(making, self.uid, -1)
        account: dict[str, Any] = {} if self.uid is None else {"user": self.uid, "extra_groups": []}
        made = subprocess.run(
            [
                str(self.bin / "initdb"),
                *("-D", str(making), "-U", places.DATABASE_USER, "--encoding=UTF8"),
                # The wheel has no ICU; this provider sorts by code point on every machine.
                *("--locale-provider=builtin", "--builtin-locale=C.UTF-8", "--locale=C"),
                "--auth=trust",
                *([] if self.durable else ["--no-sync"]),
            ],
            capture_output=True,
            text=True,
            check=False,
            cwd="/",
            **account,
        )
        if made.returncode:
            raise embedded.CannotStart(f"initdb failed:\n{made.stdout}{made.stderr}")
        making.rename(self.data)
        return True

    def _clear_leftovers(self) -> None:
        pid_file = self.data / "postmaster.pid"
        if pid_file.exists():
            words = pid_file.read_text().split()
            pid = int(words[0]) if words and words[0].isdigit() else 0
            if pid and embedded.alive(pid, str(self.data)):  # the orphan of a killed supervisor
                os.kill(pid, signal.SIGINT)
                if not embedded.wait_gone(pid, str(self.data), patience_s=20):
                    raise embedded.CannotStart(f"process {pid} uses {self.data} and does not end")
            pid_file.unlink(missing_ok=True)
        for leftover in self.sockets.glob(".s.PGSQL.*"):  # the socket's lock names the dead too
            leftover.unlink(missing_ok=True)

    def _options(self) -> list[str]:
        settings = {
            "listen_addresses": "",
            "unix_socket_directories": str(self.sockets),
            "unix_socket_permissions": "0700",
            "max_connections": "200",
            "timezone": "UTC",
        }
        if not self.durable:
            settings |= {"fsync": "off", "synchronous_commit": "off", "full_page_writes": "off"}
        return [word for key, value in settings.items() for word in ("-c", f"{key}={value}")]

    def _wait(self, patience_s: float) -> None:
        """Ready is a connection that was answered, not a line in the log."""
        end = time.monotonic() + patience_s
        while True:
            if self.process is None or self.process.poll() is not None:
                raise embedded.CannotStart(f"PostgreSQL ended at its start; see {self.log}")
            try:
                self._connect().close()
            except psycopg.OperationalError:
                if time.monotonic() > end:
                    raise
                time.sleep(embedded.STEP_S)
            else:
                return

    def _connect(self) -> "psycopg.Connection[tuple[Any, ...]]":
        return psycopg.connect(
            host=str(self.sockets),
            user=places.DATABASE_USER,
            dbname="postgres",
            connect_timeout=2,
            autocommit=True,
        )

    def _make_database(self) -> None:
        with self._connect() as connection:
            connection.execute(f"CREATE DATABASE {places.DATABASE_NAME}")
