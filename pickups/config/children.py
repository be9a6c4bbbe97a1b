"""Keeps the supervisor's children running, and puts their words into one log.

A child that ends is started again after a pause that doubles while it keeps ending. Its whole
process group is ended first: a worker that outlives its master would hold the port. Children
are started from the main thread only (see embedded.py: the leash).
"""

import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import IO

import psutil

from pickups.config import embedded, places

PAUSE_LEAST_S, PAUSE_MOST_S, WELL_AFTER_S = 0.5, 30.0, 60.0
STOP_PATIENCE_S = 15.0
LOG_MAX_BYTES = 20_000_000


class Log:
    """One line after the other, with the name of who said it, on stdout and in a file."""

    def __init__(self, file: Path) -> None:
        if file.exists() and file.stat().st_size > LOG_MAX_BYTES:
            file.replace(file.with_name(f"{file.name}.1"))
        self._file = open(file, "a", encoding="utf-8")  # noqa: SIM115 - open as long as we run
        self._lock = threading.Lock()

    def say(self, name: str, line: str) -> None:
        with self._lock:
            self._file.write(f"{time.strftime('%F %T')} {name:<9}| {line}\n")
            self._file.flush()
            with suppress(OSError):  # the terminal is gone; the file stays
                print(f"{name:<9}| {line}", flush=True)

    def follow(self, name: str, source: IO[bytes]) -> threading.Thread:
        """Copies what a child says until it ends."""

        def copy() -> None:
            with source:
                for line in source:
                    self.say(name, line.decode(errors="replace").rstrip())

        thread = threading.Thread(target=copy, daemon=True, name=f"log-{name}")
        thread.start()
        return thread


class Child:
    """One of our own programs, started with `command`."""

    def __init__(self, name: str, command: list[str], env: dict[str, str], log: Log) -> None:
        self.name, self.command, self.env, self.log = name, command, env, log
        self.process: subprocess.Popen[bytes] | None = None
        self.asked = False

    def start(self) -> None:
        if self.process is not None:
            end_group(self.process.pid)
        self.process = embedded.start_child(
            self.command,
            end_with=signal.SIGTERM,
            cwd=places.PROJECT,
            output=subprocess.PIPE,
            env=self.env,
        )
        assert self.process.stdout is not None
        self.log.follow(self.name, self.process.stdout)

    def listens(self, port: int) -> bool:
        """Whether it is this program that listens there, and no stranger's."""
        with suppress(psutil.Error):
            assert self.process is not None
            mine = psutil.Process(self.process.pid).net_connections("tcp")
            return any(c.status == psutil.CONN_LISTEN and c.laddr[1] == port for c in mine)
        return False

    def ask_to_stop(self) -> None:
        """Once only: a second SIGTERM would cut short what a worker is finishing."""
        if self.process is not None and self.process.poll() is None and not self.asked:
            self.asked = True
            self.process.terminate()

    def stop(self) -> None:
        self.ask_to_stop()
        if self.process is not None:
            with suppress(subprocess.TimeoutExpired):
                self.process.wait(STOP_PATIENCE_S)
            end_group(self.process.pid)
            self.process.wait()


class Kept:
    """A service with its pauses: look() starts it again when it is down and the pause is over."""

    def __init__(self, service: embedded.Service, log: Log, changed: Callable[[], None]) -> None:
        self.service, self.log, self.changed = service, log, changed
        self.pause_s = PAUSE_LEAST_S
        self.started_at = time.monotonic()
        self.again_at: float | None = None

    def look(self) -> None:
        process, now = self.service.process, time.monotonic()
        if process is not None and process.poll() is None:
            return
        if self.again_at is None:
            if now - self.started_at > WELL_AFTER_S:
                self.pause_s = PAUSE_LEAST_S
            ended = "did not start" if process is None else f"ended with {process.returncode}"
            self.log.say(self.service.name, f"{ended}; it starts again in {self.pause_s:.1f} s")
            self.again_at = now + self.pause_s
        elif now >= self.again_at:
            self.pause_s = min(2 * self.pause_s, PAUSE_MOST_S)
            self.again_at, self.started_at = None, now
            try:
                self.service.start()
            except Exception as failed:  # noqa: BLE001 - tried again; the others go on meanwhile
                self.log.say(self.service.name, str(failed))
            self.changed()


def end_group(group: int) -> None:
    with suppress(ProcessLookupError, PermissionError):
        os.killpg(group, signal.SIGKILL)


def end_leftovers(left: list[tuple[int, float]], log: Log) -> None:
    """Ends what a killed supervisor left; the time of birth tells it from a later process."""
    for pid, born in left:
        with suppress(psutil.Error):
            process = psutil.Process(pid)
            gone = process.status() == psutil.STATUS_ZOMBIE
            if abs(process.create_time() - born) < 1 and not gone:
                log.say("start", f"ends process {pid}, left by a run that was killed")
                process.terminate()
                with suppress(psutil.TimeoutExpired):
                    process.wait(5)
                end_group(pid)


def births(services: list[embedded.Service]) -> list[tuple[int, float]]:
    found = []
    for service in services:
        if isinstance(service, Child) and service.process is not None:
            with suppress(psutil.Error):
                pid = service.process.pid
                found.append((pid, psutil.Process(pid).create_time()))
    return found


def main_thread_only() -> None:
    if threading.current_thread() is not threading.main_thread():
        sys.exit("the supervisor runs in the main thread: its children end with that thread")
