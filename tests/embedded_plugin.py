"""Throw-away PostgreSQL and Valkey for one pytest run, loaded with `-p tests.embedded_plugin`.

Starts before pytest-django reads the settings. With xdist the controller starts them once and
the workers find them in the environment, each with Valkey databases of its own. Names for
tests that start real servers: YARDLOOP_TEST_POSTGRES (the folder of the socket),
YARDLOOP_TEST_VALKEY (the socket), YARDLOOP_TEST_VALKEY_DB (the first of this worker's four).
"""

import atexit
import os
import shutil
import tempfile
from pathlib import Path

import pytest

from pickups.config.embedded_postgres import Postgres
from pickups.config.embedded_valkey import Valkey

DATABASES_PER_WORKER = 4


@pytest.hookimpl(tryfirst=True)
def pytest_load_initial_conftests() -> None:
    # Playwright's synchronous door keeps an event loop, which Django would take for ours.
    os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"
    if "YARDLOOP_TEST_VALKEY" not in os.environ:
        start_services()
    worker = os.environ.get("PYTEST_XDIST_WORKER", "gw0").removeprefix("gw")
    first = int(worker) * DATABASES_PER_WORKER
    os.environ["YARDLOOP_TEST_VALKEY_DB"] = str(first)
    os.environ["REDIS_URL"] = f"unix://{os.environ['YARDLOOP_TEST_VALKEY']}?db={first}"


def start_services() -> None:
    home = Path(tempfile.mkdtemp(prefix="yardloop-tests-"))
    home.chmod(0o711)  # as root the database runs under an account that has to pass
    postgres, valkey = Postgres(home, durable=False), Valkey(home, durable=False)
    owner = os.getpid()

    def stop() -> None:
        if os.getpid() == owner:  # not in a forked child
            valkey.stop()
            postgres.stop()
            shutil.rmtree(home, ignore_errors=True)

    atexit.register(stop)
    postgres.start()
    valkey.start()
    os.environ["DATABASE_URL"] = postgres.url
    os.environ["YARDLOOP_TEST_POSTGRES"] = str(postgres.sockets)
    os.environ["YARDLOOP_TEST_VALKEY"] = str(valkey.socket)
    os.environ["YARDLOOP_VAR"] = str(home)
