"""Phones of the simulation: the shipped TypeScript engine on Node, many in one process."""

import fcntl
import json
import subprocess
import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import Any

from pickups.config.places import PROJECT

RUNNER = PROJECT / "frontend" / "tests" / "sim" / "dist" / "runner.mjs"
World = Callable[[dict[str, Any]], None]


def build() -> None:
    """Make the runner from the app's sources as they are now; two at once take turns."""
    with (PROJECT / "frontend" / "tests" / "sim" / "vite.config.ts").open() as mine:
        fcntl.flock(mine, fcntl.LOCK_EX)
        subprocess.run(
            ["npm", "run", "-s", "sim:build"], cwd=PROJECT / "frontend", check=True, timeout=600
        )


class Phones:
    """The process; one schedule at a time is played in it."""

    def __init__(self) -> None:
        self.process = subprocess.Popen(
            ["node", "--max-old-space-size=1500", str(RUNNER)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        self._speaking = threading.Lock()
        self._hands = ThreadPoolExecutor(1)

    def play(self, play: dict[str, Any], world: World) -> dict[str, Any]:
        """Play a schedule; `world` is called with what shall happen to the server, while the
        phones go on. Raises Broke where the phones could not go on."""
        self._say({"play": play})
        assert self.process.stdout is not None
        happening = []
        for line in self.process.stdout:
            message = json.loads(line)
            if "world" in message:
                happening.append(self._hands.submit(self._happen, message, world))
            elif "over" in message:
                for one in happening:
                    one.result()
                over: dict[str, Any] = message["over"]
                return over
            else:
                raise Broke(message["broke"])
        raise Broke("the phones' process ended")

    def _happen(self, message: dict[str, Any], world: World) -> None:
        try:
            world(message["what"])
        finally:
            self._say({"done": message["world"]})

    def _say(self, message: dict[str, Any]) -> None:
        assert self.process.stdin is not None
        with self._speaking:
            self.process.stdin.write(json.dumps(message) + "\n")
            self.process.stdin.flush()

    def end(self) -> None:
        """Throw the phones away."""
        self.process.kill()
        self.process.wait()
        self._hands.shutdown()


class Broke(Exception):
    """The simulation itself could not go on: no finding about the product until it is looked at."""
