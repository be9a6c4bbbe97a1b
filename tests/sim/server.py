"""The server of the simulation: database, broker, two web processes and an office, each of which
can be killed at any moment and comes back. When what was the matter is kept for each kill, so that
an answer of 500 and more can be told from one that nothing explains.
"""

import json
import random
import socket
import subprocess
import sys
import time
import urllib.request
from collections import Counter
from contextlib import suppress
from typing import Any, Self

from pickups.config.places import PROJECT
from tests.world.stack import Stack

PATIENCE_S = 300
"""Until a process must have come up: far longer than any needs, however busy the machine."""

SAID = {
    "web": "web killed",
    "webs": "webs killed",
    "database": "database killed",
    "broker": "broker killed",
    "sheet": "sheet changed",
}
"""What of it stands in the report."""


def quiet_port() -> int:
    """A free port below those that systems give to outgoing connections (Linux: from 32768 on),
    so that a killed process finds it free again."""
    while True:
        port = random.randrange(20_000, 32_000)
        with socket.socket() as s, suppress(OSError):
            s.bind(("127.0.0.1", port))
            return port


class Nursery:
    """Where web processes come from (see nursery.py); all of them end with it."""

    def __init__(self, stack: Stack) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-m", "tests.sim.nursery"],
            cwd=PROJECT,
            env=stack.environment,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )

    def ask(self, call: str, argument: int) -> Any:
        """Its answer."""
        assert self.process.stdin is not None
        assert self.process.stdout is not None
        self.process.stdin.write(json.dumps([call, argument]) + "\n")
        self.process.stdin.flush()
        return json.loads(self.process.stdout.readline())

    def end(self) -> None:
        """It and all that came from it."""
        self.process.communicate()


class Web:
    """One web process on a port of its own."""

    def __init__(self, nursery: Nursery) -> None:
        self.nursery = nursery
        self.port = quiet_port()
        self.pid = 0

    def begin(self) -> None:
        """Start it; `wait` says when it answers."""
        self.pid = self.nursery.ask("begin", self.port)

    def wait(self) -> None:
        """Until it answers."""
        end = time.monotonic() + PATIENCE_S
        while True:
            try:
                urllib.request.urlopen(f"http://localhost:{self.port}/healthz", timeout=60).read()
                return
            except OSError:
                assert time.monotonic() < end, "a web process does not come up"
                time.sleep(0.05)
                if not self.nursery.ask("runs", self.pid):  # somebody had the port for a moment
                    self.begin()

    def kill(self) -> None:
        """SIGKILL to it and its workers."""
        self.nursery.ask("kill", self.pid)


class Server:
    """One server for many schedules; `made` counts those that were seated."""

    def __init__(self) -> None:
        self.stack = Stack(durable=True, labels=1)
        self.nursery: Nursery | None = None
        self.webs: list[Web] = []
        self.happened: Counter[str] = Counter()
        self.away: list[tuple[float, float]] = []
        self.made = 0
        self.dump = ""
        self._clerk: subprocess.Popen[str] | None = None
        self._turn = 0

    def __enter__(self) -> Self:
        self.nursery = Nursery(self.stack)
        self.stack.postgres.start()
        self.stack.valkey.start()
        self.stack.migrate()
        self.webs = [Web(self.nursery), Web(self.nursery)]
        for web in self.webs:
            web.begin()
        self.office("plant")
        for web in self.webs:
            web.wait()
        return self

    def __exit__(self, *_: object) -> None:
        if self._clerk is not None:
            self._clerk.kill()
            self._clerk.wait()
        if self.nursery is not None:
            self.nursery.end()
        self.stack.__exit__()

    @property
    def ports(self) -> list[int]:
        """Where the web processes listen."""
        return [web.port for web in self.webs]

    def office(self, call: str, **arguments: Any) -> Any:
        """A call to the office's process (see clerk.py)."""
        if self._clerk is None:
            self._clerk = subprocess.Popen(
                [sys.executable, "-m", "tests.sim.clerk"],
                cwd=PROJECT,
                env=self.stack.environment,
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                text=True,
            )
        clerk = self._clerk
        assert clerk.stdin is not None
        assert clerk.stdout is not None
        clerk.stdin.write(json.dumps([call, arguments]) + "\n")
        clerk.stdin.flush()
        said = json.loads(clerk.stdout.readline())
        if "fault" in said:
            raise RuntimeError(f"{call}: {said['fault']}")
        return said["answer"]

    def happen(self, step: dict[str, Any]) -> None:
        """What a schedule does to the server; returns when all of it is there again."""
        what, begun = step["what"], time.time()
        if what == "web":
            self._turn += 1
            self._kill_webs([self.webs[self._turn % len(self.webs)]])
        elif what == "webs":
            self._kill_webs(self.webs)
        elif what == "database":
            self._kill(self.stack.postgres)
        elif what == "broker":
            self._kill(self.stack.valkey)
        elif what == "backup":
            self.dump = self.office("backup", folder=str(self.stack.home / "backups"))
        elif what == "restore":
            if not self.dump:
                return
            self.office("restore", dump=self.dump)
            self.dump = ""
        elif what == "sheet":
            self.office("sheet", run=step["run"], change=step["change"])
        else:
            raise ValueError(what)
        if what not in ("backup", "sheet"):
            self.away.append((begun, time.time()))
        self.happened[SAID.get(what, what)] += 1

    def _kill_webs(self, webs: list[Web]) -> None:
        for web in webs:
            web.kill()
            web.begin()
        for web in webs:
            web.wait()

    def _kill(self, service: Any) -> None:
        assert service.process is not None
        service.process.kill()
        service.process.wait()
        service.start()

    def explains(self, begun_ms: float, ended_ms: float) -> bool:
        """Whether something was killed while an answer was on its way, or just before."""
        return any(
            begun_ms <= (until + 1) * 1000 and ended_ms >= since * 1000
            for since, until in self.away
        )
