"""Phones of the simulation: the shipped TypeScript engine on Node, driven by JSON lines."""

import json
import subprocess
from typing import Any

from pickups.config.places import PROJECT

RUNNER = PROJECT / "frontend" / "tests" / "sim" / "dist" / "runner.mjs"


class NodePhone:
    """One phone; a command in, its answer out."""

    def __init__(self, url: str) -> None:
        assert RUNNER.exists(), "npm run sim:build in frontend/ makes the phones; make sim does it"
        self.process = subprocess.Popen(
            ["node", str(RUNNER), url],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        self.entered: dict[str, dict[str, Any]] = {}

    def ask(self, do: str, **more: Any) -> dict[str, Any]:
        """Send a command and wait for its answer."""
        assert self.process.stdin is not None
        assert self.process.stdout is not None
        self.process.stdin.write(json.dumps({"do": do, **more}) + "\n")
        self.process.stdin.flush()
        line = self.process.stdout.readline()
        assert line, "the phone's process ended"
        answer: dict[str, Any] = json.loads(line)
        return answer

    def must(self, do: str, **more: Any) -> dict[str, Any]:
        """As ask, for commands that cannot fail."""
        answer = self.ask(do, **more)
        assert answer["ok"], answer
        return answer

    def end(self) -> None:
        """Throw the phone away."""
        self.process.kill()
        self.process.wait()
