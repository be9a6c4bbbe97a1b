"""A campaign: many schedules, those that are finished kept in a file and not played again.

What a schedule is worth depends on its size, so a line names it; the report is about all lines of
one size, whichever run played them.
"""

import json
import threading
import time
from collections import Counter
from collections.abc import Iterator, Mapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import asdict
from pathlib import Path
from typing import Any

from pickups.config.wiring import COMMANDS
from tests.sim import plan
from tests.sim.draft import Step
from tests.sim.plan import Size
from tests.sim.playing import Stage, sentence
from tests.sim.shrink import shrink

TRIES = 2
MOST_PLAYINGS = 120
ENOUGH = 1000
"""Of how many operations on every kind must be among them."""
HOUR_S = 3600
LOST = ("lost: ", "no fact of", "is on the phone no more")
DOUBLED = ("facts of", "nobody entered")
"""Of findings: an operation that is not there, or more than once."""


class Campaign:
    """Seeds from `first` on, as many as `schedules` and `minutes` allow, whichever ends first;
    `at_once` of them side by side, each on a server of its own."""

    def __init__(
        self, folder: Path, size: Size, *, first: int, schedules: int, minutes: float, at_once: int
    ):
        self.size = size
        self.seeds = range(first, first + schedules)
        self.until = time.monotonic() + minutes * 60
        self.at_once = at_once
        self.folder = folder
        folder.mkdir(parents=True, exist_ok=True)
        self.file = folder / "finished.jsonl"
        self._writing = threading.Lock()
        self._coming = iter(self.seeds)

    def run(self) -> dict[str, Any]:
        """Play what is not finished; returns the report, written after each schedule."""
        finished = {line["seed"] for line in self.lines()}
        self._coming = iter([seed for seed in self.seeds if seed not in finished])
        with ThreadPoolExecutor(self.at_once) as pool:
            try:
                for one in [pool.submit(self._some) for _ in range(self.at_once)]:
                    one.result()
            finally:
                self.until = 0  # whoever ends this is waited for: schedules under way are finished
        return self._write_report()

    def _some(self) -> None:
        stage = Stage()
        try:
            while (seed := self._next()) is not None:
                self._one(stage, seed)
        finally:
            stage.end()

    def _next(self) -> int | None:
        with self._writing:
            return next(self._coming, None) if time.monotonic() < self.until else None

    def lines(self) -> Iterator[dict[str, Any]]:
        """What was finished before, of this size."""
        if not self.file.exists():
            return
        wanted = asdict(self.size)
        for text in self.file.read_text().splitlines():
            line = json.loads(text)
            if line["size"] == wanted:
                yield line

    def _one(self, stage: Stage, seed: int) -> None:
        steps = plan.schedule(seed, self.size)
        outcome = stage.play(steps)
        line = {"seed": seed, "size": asdict(self.size), "at": time.time(), **asdict(outcome)}
        with self._writing:
            _say(f"seed {seed}: {sentence(outcome)}")
            for finding in outcome.found[:20]:
                _say(f"   {finding}")
            with self.file.open("a") as kept:
                kept.write(json.dumps(line) + "\n")
            self._write_report()
        if outcome.found:
            stage.end()  # a fresh server: what is wrong in this one must not be found again
            self._shrunk(stage, seed, steps)

    def _shrunk(self, stage: Stage, seed: int, steps: list[Step]) -> None:
        file = self.folder / f"failed-{seed}.json"
        file.write_text(json.dumps(steps, indent=1))
        _say(f"   make sim REPLAY={file}  plays it again; now it is made smaller")
        smallest = shrink(steps, lambda some: self._fails(stage, some), most=MOST_PLAYINGS)
        if len(smallest) < len(steps):
            file.write_text(json.dumps(smallest, indent=1))
        _say(f"   {len(steps)} steps became {len(smallest)}:")
        for step in smallest[:60]:
            _say(f"     {json.dumps(step)}")

    def _fails(self, stage: Stage, steps: list[Step]) -> bool:
        for _ in range(TRIES):
            if time.monotonic() > self.until:
                return False
            if stage.play(steps).found:
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
    kinds: Counter[str] = Counter()
    for line in lines:
        faults.update(line["faults"])
        answers.update(line["answers"])
        kinds.update(line["kinds"])
    operations = sum(line["operations"] for line in lines)
    found = [finding for line in lines for finding in line["found"]]
    return {
        "schedules": len(lines),
        "failed_seeds": [line["seed"] for line in lines if line["found"]],
        "most_within_an_hour": _most_within(HOUR_S, sorted(line["at"] for line in lines)),
        "operations": operations,
        "photos": sum(line["photos"] for line in lines),
        "exchanges": sum(line["spans"].get("exchanges", 0) for line in lines),
        "rows_compared": sum(line["compared"] for line in lines),
        "lost": sum(any(word in f for word in LOST) for f in found),
        "doubled": sum(any(word in f for word in DOUBLED) for f in found),
        "replicas_that_differ": sum("differs from a fresh phone" in f for f in found),
        "findings": len(found),
        "asked_to_wait": sum(line["asked_to_wait"] for line in lines),
        "seconds": round(sum(line["seconds"] for line in lines), 1),
        "never_told": sorted(plan.drivers(COMMANDS) - set(kinds)) if operations >= ENOUGH else [],
        "kinds": dict(kinds.most_common()),
        "faults": dict(sorted(faults.items())),
        "answers": dict(sorted(answers.items())),
    }


def _most_within(span_s: float, moments: list[float]) -> int:
    """How many of these moments, in their order, lie within the best span of this length."""
    best = since = 0
    for n, moment in enumerate(moments, start=1):
        while moment - moments[since] > span_s:
            since += 1
        best = max(best, n - since)
    return best


def table(made: Mapping[str, Any]) -> str:
    """The report for people; of each kind of operation its share too."""
    parts = ("kinds", "faults", "answers")
    rows = [(name.replace("_", " "), value) for name, value in made.items() if name not in parts]
    told = sum(made["kinds"].values())
    kinds = {name: f"{n}  {n / told:.1%}" for name, n in made["kinds"].items()}
    for part, counts in {**{p: made[p] for p in parts}, "kinds": kinds}.items():
        rows += [(part, ""), *((f"  {name}", n) for name, n in counts.items())]
    return "\n".join(f"  {name:<28}{value}" for name, value in rows)


def _say(text: str) -> None:
    print(text, flush=True)
