"""A whole product of its own for one test: database, broker, web process, all killable.

Nothing is shared with the test's own database: what the web process commits is read here by
plain SQL. `web.kill()` is SIGKILL to the whole group, as a power cut would be.
"""

import json
import os
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request
from pathlib import Path
from typing import Any, Self

import psycopg

from pickups.config.embedded_postgres import Postgres
from pickups.config.embedded_valkey import Valkey
from pickups.config.places import PROJECT
from tests.world.phone import Reply


def free_port() -> int:
    """A port that nobody listens on just now."""
    with socket.socket() as s:
        s.bind(("127.0.0.1", 0))
        return int(s.getsockname()[1])


class Stack:
    """Database, broker and web process below one folder."""

    def __init__(
        self,
        *,
        durable: bool = False,
        labels: int = 200,
        wsgi: str = "pickups.config.wsgi:application",
    ) -> None:
        self.labels = labels
        self.home = Path(tempfile.mkdtemp(prefix="yardloop-stack-"))
        self.home.chmod(0o711)
        self.postgres = Postgres(self.home, durable=durable)
        self.valkey = Valkey(self.home, durable=durable)
        self.port = free_port()
        self.url = f"http://localhost:{self.port}"
        self.wsgi = wsgi
        self.web: subprocess.Popen[bytes] | None = None
        self.cast: dict[str, Any] = {}

    def __enter__(self) -> Self:
        self.postgres.start()
        self.valkey.start()
        self.migrate()
        made = self.call(f"seat({self.labels})")
        self.cast = json.loads(made.splitlines()[-1])
        return self

    def __exit__(self, *_: object) -> None:
        self.kill_web()
        self.valkey.stop()
        self.postgres.stop()
        shutil.rmtree(self.home, ignore_errors=True)

    @property
    def environment(self) -> dict[str, str]:
        """What our processes run with."""
        return {
            # Who gives no mail server must not reach one that happens to run on this machine.
            "EMAIL_URL": "smtp://127.0.0.1:9",
            **os.environ,
            "DJANGO_SETTINGS_MODULE": "pickups.config.settings",
            "DATABASE_URL": self.postgres.url,
            "REDIS_URL": self.valkey.url(),
            "YARDLOOP_VAR": str(self.home),
            "PUBLIC_BASE_URL": self.url,
            "PORT": str(self.port),
        }

    def _python(self, *arguments: str, **env: str) -> str:
        done = subprocess.run(
            [sys.executable, *arguments],
            cwd=PROJECT,
            env=self.environment | env,
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == 0, done.stdout + done.stderr
        return done.stdout

    def call(self, expression: str) -> str:
        """Call a function of tests.world.seat in a process of its own; returns its print."""
        start = "import django; django.setup(); from tests.world.seat import *"
        return self._python("-c", f"{start}; {expression}")

    def manage(self, *arguments: str) -> str:
        """Run a management command over this database; returns what it printed."""
        return self._python("manage.py", *arguments)

    def migrate(self) -> None:
        """Make the tables, as the supervisor does: however long a busy machine takes."""
        no_end = {"DATABASE_TRANSACTION_TIMEOUT": "0", "DATABASE_IDLE_TIMEOUT": "0"}
        self._python("manage.py", "migrate", "-v0", **no_end)

    def start_web(self, *, patience_s: float = 30, workers: int = 1) -> None:
        """Start the web process, or as many of them as the product runs, until it answers."""
        self.web = subprocess.Popen(
            [sys.executable, "-m", "granian", "--interface", "wsgi", "--no-ws",
             "--log-level", "error", "--host", "127.0.0.1", "--port", str(self.port),
             "--workers", str(workers), "--blocking-threads", "4", self.wsgi],
            cwd=PROJECT,
            env=self.environment,
            start_new_session=True,
        )  # fmt: skip
        end = time.monotonic() + patience_s
        while True:
            try:
                urllib.request.urlopen(f"{self.url}/healthz", timeout=2).read()
                return
            except OSError:
                if time.monotonic() > end or self.web.poll() is not None:
                    raise
                time.sleep(0.02)

    def kill_web(self) -> None:
        """SIGKILL to the web process and its workers."""
        if self.web is not None and self.web.poll() is None:
            os.killpg(self.web.pid, signal.SIGKILL)
            self.web.wait()

    def connect(self) -> "psycopg.Connection[tuple[Any, ...]]":
        """A database connection of our own, each statement its own transaction."""
        return psycopg.connect(self.postgres.url, autocommit=True)

    def rows(self, query: str, *values: object) -> list[tuple[Any, ...]]:
        """The answer to one query."""
        with self.connect() as c:
            return c.execute(query, values or None).fetchall()

    def fresh_code(self, site: str = "store") -> str:
        """An enrolment code for a site of the cast."""
        return self.call(f"show_code({self.cast[site]!r})").strip()

    def door(self, method: str, path: str, body: bytes, headers: dict[str, str]) -> Reply:
        """A door over real HTTP; raises OSError where the server is away."""
        request = urllib.request.Request(
            self.url + path, data=body or None, headers=headers, method=method
        )
        try:
            with urllib.request.urlopen(request, timeout=30) as answer:
                return Reply(answer.status, dict(answer.headers.items()), answer.read())
        except urllib.error.HTTPError as e:
            return Reply(e.code, dict(e.headers.items()), e.read())
