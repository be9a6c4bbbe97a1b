"""Starts the real supervisor over a data folder of its own, and reads what it says."""

import os
import signal
import socket
import subprocess
import sys
import time
from contextlib import suppress
from pathlib import Path

import psutil

from pickups.config import places

SERVED, WELCOMED = "the first page is served", "Ctrl-C stops everything"
NOT_OURS = ("DATABASE_URL", "REDIS_URL", "EMAIL_URL", "PORT", "PUBLIC_BASE_URL", "HOST")


def own_environment(var: Path, **more: str) -> dict[str, str]:
    """The environment of a person at a bare machine: nothing that the test run set."""
    kept = {
        key: value
        for key, value in os.environ.items()
        if key not in NOT_OURS and not key.startswith(("YARDLOOP_", "PYTEST_", "DJANGO_"))
    }
    return {**kept, "YARDLOOP_VAR": str(var), "PYTHONUNBUFFERED": "1", **more}


def free_port() -> int:
    """A port with free ones after it, below those that the kernel hands out."""
    for port in range(20000 + os.getpid() % 5000, 32000, 7):
        with socket.socket() as probe, suppress(OSError):
            probe.bind(("127.0.0.1", port))
            return port
    raise AssertionError("no free port")


class Run:
    """One `python -m pickups.config.supervisor` and all that it started."""

    def __init__(self, var: Path, **env: str) -> None:
        self.var = var
        self.said = var.parent / f"said-{time.monotonic_ns()}.txt"
        with self.said.open("wb") as output:
            self.process = subprocess.Popen(
                [sys.executable, "-m", "pickups.config.supervisor"],
                cwd=places.PROJECT,
                env=own_environment(var, **env),
                stdout=output,
                stderr=subprocess.STDOUT,
                start_new_session=True,
            )

    def wait_for(self, words: str, patience_s: float = 180) -> str:
        end = time.monotonic() + patience_s
        while words not in (text := self.said.read_text()):
            assert self.process.poll() is None, text
            assert time.monotonic() < end, text
            time.sleep(0.05)
        return text

    def family(self) -> list[psutil.Process]:
        """The supervisor and everything below it."""
        whole = psutil.Process(self.process.pid)
        return [whole, *whole.children(recursive=True)]

    def stop(self, sig: signal.Signals = signal.SIGTERM) -> int:
        if self.process.poll() is None:
            self.process.send_signal(sig)
        return self.process.wait(60)

    def kill_everything(self) -> None:
        """kill -9 of all, parents first, as a machine that loses its power."""
        for process in self.family():
            with suppress(psutil.NoSuchProcess):
                process.kill()
        self.process.wait(10)
