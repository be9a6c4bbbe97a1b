"""A campaign: many schedules, those that are finished kept in a file and not played again.

What a schedule is worth depends on its size, so a line names it; the report is about all lines of
one size, whichever run played them.
"""

import json
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path
from typing import Any

from tests.sim import plan
from tests.sim.plan import Size, Step
from tests.sim.playing import Stage, sentence
from tests.sim.shrink import shrink

TRIES = 2
MOST_PLAYINGS = 120


class Campaign:
    """Seeds from `first` on, as many as `schedules` and `minutes` allow, whichever ends first."""

    def __init__(self, folder: Path, size: Size, *, first: int, schedules: int, minutes: float):
        self.size = size
        self.seeds = range(first, first + schedules)
        self.until = time.monotonic() + minutes * 60
        self.folder = folder
        folder.mkdir(parents=True, exist_ok=True)
        self.file = folder / "finished.jsonl"
        self.stage = Stage()
        self.failed: list[Path] = []

    def run(self) -> dict[str, Any]:
        """Play what is not finished; returns the report, written after each schedule."""
        finished = {line["seed"] for line in self.lines()}
        try:
            for seed in self.seeds:
                if seed in finished:
                    continue
                if time.monotonic() > self.until:
                    break
                self._one(seed)
                self._write_report()
        finally:
            self.stage.end()
        return self._write_report()

    def lines(self) -> Iterator[dict[str, Any]]:
        """What was finished before, of this size."""
        if not self.file.exists():
            return
        wanted = asdict(self.size)
        for text in self.file.read_text().splitlines():
            line = json.loads(text)
            if line["size"] == wanted:
                yield line

    def _one(self, seed: int) -> None:
        steps = plan.schedule(seed, self.size)
        outcome = self.stage.play(steps)
        _say(f"seed {seed}: {sentence(outcome)}")
        for finding in outcome.found[:20]:
            _say(f"   {finding}")
        line = {"seed": seed, "size": asdict(self.size), **asdict(outcome)}
        with self.file.open("a") as kept:
            kept.write(json.dumps(line) + "\n")
        if outcome.found:
            self.stage.end()  # a fresh server: what is wrong in this one must not be found again
            self._shrunk(seed, steps)

    def _shrunk(self, seed: int, steps: list[Step]) -> None:
        file = self.folder / f"failed-{seed}.json"
        file.write_text(json.dumps(steps, indent=1))
        self.failed.append(file)
        _say(f"   make sim REPLAY={file}  plays it again; now it is made smaller")
        smallest = shrink(steps, self._fails, most=MOST_PLAYINGS)
        if len(smallest) < len(steps):
            file.write_text(json.dumps(smallest, indent=1))
        _say(f"   {len(steps)} steps became {len(smallest)}:")
        for step in smallest[:60]:
            _say(f"     {json.dumps(step)}")

    def _fails(self, steps: list[Step]) -> bool:
        for _ in range(TRIES):
            if time.monotonic() > self.until:
                return False
            if self.stage.play(steps).found:
                return True
        return False

    def _write_report(self) -> dict[str, Any]:
        made = report([line for line in self.lines() if line["seed"] in self.seeds])
        (self.folder.parent / "sim.json").write_text(json.dumps(made, indent=1))
        return made


def report(lines: list[dict[str, Any]]) -> dict[str, Any]:
    """All finished schedules together; lost and doubled count the operations."""
    faults: Counter[str] = Counter()
    answers: Counter[str] = Counter()
    for line in lines:
        faults.update(line["faults"])
        answers.update(line["answers"])
    found = [finding for line in lines for finding in line["found"]]
    return {
        "schedules": len(lines),
        "failed_seeds": [line["seed"] for line in lines if line["found"]],
        "operations": sum(line["operations"] for line in lines),
        "photos": sum(line["photos"] for line in lines),
        "exchanges": sum(line["spans"].get("exchanges", 0) for line in lines),
        "rows_compared": sum(line["compared"] for line in lines),
        "lost": sum("lost: " in f or "is on the phone no more" in f for f in found),
        "doubled": sum("facts of" in f or "nobody entered" in f for f in found),
        "replicas_that_differ": sum("differs from a fresh phone" in f for f in found),
        "findings": len(found),
        "asked_to_wait": sum(line["asked_to_wait"] for line in lines),
        "seconds": round(sum(line["seconds"] for line in lines), 1),
        "faults": dict(sorted(faults.items())),
        "answers": dict(sorted(answers.items())),
    }


def table(made: dict[str, Any]) -> str:
    """The report for people."""
    parts = ("faults", "answers")
    rows = [(name.replace("_", " "), value) for name, value in made.items() if name not in parts]
    for part in parts:
        rows += [(part, ""), *((f"  {name}", n) for name, n in made[part].items())]
    return "\n".join(f"  {name:<28}{value}" for name, value in rows)


def _say(text: str) -> None:
    print(text, flush=True)
