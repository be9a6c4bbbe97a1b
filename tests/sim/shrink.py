"""A failing schedule made smaller: delta debugging (Zeller and Hildebrandt, 2002) over its steps,
first by whole phones and whole kinds of fault, then by ever finer pieces. Pure.

What fails on real processes may pass when it is played again: a smaller one counts as failing when
it fails in one of several tries, and none is taken that did not.
"""

import json
import re
from collections.abc import Callable, Iterable, Iterator
from itertools import pairwise

from tests.sim.draft import Step
from tests.sim.plan import sound
from tests.sim.road import STOPS

Fails = Callable[[list[Step]], bool]


def shrink(steps: list[Step], fails: Fails, *, most: int) -> list[Step]:
    """The smallest schedule found that still fails, after at most `most` playings."""
    left = [most]

    def still(candidate: list[Step]) -> bool:
        if left[0] <= 0 or not candidate:
            return False
        left[0] -= 1
        return fails(candidate)

    for part in _kinds(steps):
        smaller = sound([s for s in steps if s not in part])
        if len(smaller) < len(steps) and still(smaller):
            steps = smaller
    pieces = 2
    while left[0] > 0 and len(steps) > 1:
        for gone in _split(len(steps), pieces):
            smaller = sound([s for i, s in enumerate(steps) if i not in gone])
            if len(smaller) < len(steps) and still(smaller):
                steps, pieces = smaller, max(2, pieces - 1)
                break
        else:
            if pieces >= len(steps):
                break
            pieces = min(len(steps), pieces * 2)
    return _few(steps)


def _kinds(steps: list[Step]) -> Iterator[list[Step]]:
    """All steps of one phone, all of one kind of fault."""
    for phone in sorted({s["phone"] for s in steps if "phone" in s}, reverse=True):
        yield [s for s in steps if s.get("phone") == phone]
    for kind in ("world", "net", "kill", "clock", "enrol", "rest"):
        yield [s for s in steps if s["do"] == kind]


def _split(length: int, pieces: int) -> Iterable[range]:
    edges = [length * i // pieces for i in range(pieces + 1)]
    return [range(a, b) for a, b in pairwise(edges) if a < b]


def _few(steps: list[Step]) -> list[Step]:
    """Phones that do nothing any more are not there: the rest are numbered anew, each still of
    its store (a phone's number says which)."""
    here = sorted({s["phone"] for s in steps if "phone" in s})
    numbers: dict[int, int] = {}
    for store in (0, 1):
        for n, phone in enumerate(p for p in here if p % 2 == store):
            numbers[phone] = 2 * n + store
    kept = (s for s in steps if _run_of(s) in (None, *numbers))
    return [_renumbered(s, numbers) for s in kept]


def _run_of(step: Step) -> int | None:
    """The phone whose sheet the office changes in this step."""
    return int(step["run"].removeprefix("@run")) if "run" in step else None


def _renumbered(step: Step, numbers: dict[int, int]) -> Step:
    """The same of the phone's new number: its driver, his run and the stops of his sheet."""

    def sign(found: re.Match[str]) -> str:
        name, n = found[1], int(found[2])
        if name == "stop":
            return f"@stop{numbers[n // STOPS] * STOPS + n % STOPS}"
        return f"@{name}{numbers[n]}"

    one: Step = json.loads(re.sub(r"@(person|run|stop)(\d+)", sign, json.dumps(step)))
    return one | {"phone": numbers[step["phone"]]} if "phone" in step else one
