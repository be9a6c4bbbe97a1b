"""The steps that somebody has made on a load sheet, each with its inverse, kept in their session.

A step can be undone while nobody else has changed the sheet since: it knows the version that it
left behind. Undoing one makes the step before it the next to be undone.
"""

from collections.abc import Callable
from typing import Any
from uuid import UUID

import msgspec
from django.http import HttpRequest

from pickups.runs import services as runs
from pickups.runs.rules import Head, Placed, Said, Taken

KEPT = "sheet_steps"
MOST_STEPS, MOST_SHEETS = 20, 5


class SetStop(msgspec.Struct, frozen=True):
    """What stood at a stop before."""

    stop: UUID
    said: Said


class MoveStop(msgspec.Struct, frozen=True):
    """Where a stop was before."""

    stop: UUID
    to: int


class Nothing(msgspec.Struct, frozen=True):
    """An inverse that needs nothing."""


def _inverse(
    shape: type[Any], call: Callable[[UUID, int, Any], object]
) -> Callable[[UUID, int, Any], None]:
    def run(uid: UUID, seen: int, kept: Any) -> None:
        call(uid, seen, msgspec.convert(kept, shape))

    return run


INVERSES: dict[str, Callable[[UUID, int, Any], None]] = {
    "amend": _inverse(Head, lambda uid, seen, a: runs.amend(run=uid, head=a, seen=seen)),
    "add_stop": _inverse(UUID, lambda uid, seen, a: runs.remove_stop(run=uid, stop=a, seen=seen)),
    "set_stop": _inverse(
        SetStop, lambda uid, seen, a: runs.set_stop(run=uid, stop=a.stop, said=a.said, seen=seen)
    ),
    "move_stop": _inverse(
        MoveStop, lambda uid, seen, a: runs.move_stop(run=uid, stop=a.stop, to=a.to, seen=seen)
    ),
    "remove_stop": _inverse(
        Taken, lambda uid, seen, a: runs.put_stop_back(run=uid, stop=a, seen=seen)
    ),
    "put": _inverse(Placed, lambda uid, seen, a: runs.put_back(run=uid, placed=a, seen=seen)),
    "take_off": _inverse(Placed, lambda uid, seen, a: runs.put_back(run=uid, placed=a, seen=seen)),
    "take_back": _inverse(Nothing, lambda uid, seen, _: runs.hand(run=uid, seen=seen)),
    "come_back": _inverse(Nothing, lambda uid, seen, _: runs.not_back(run=uid, seen=seen)),
    "not_back": _inverse(Nothing, lambda uid, seen, _: runs.come_back(run=uid, seen=seen)),
}
"""How the step of each verb is undone, by what was kept of it."""


class Step(msgspec.Struct):
    """One step: the verb, what its inverse needs, the words for it, and the versions of the sheet
    before and after it."""

    verb: str
    inverse: Any
    values: dict[str, str]
    before: int
    after: int


def remember(request: HttpRequest, run: UUID, step: Step) -> None:
    """A step was made; those before it stand below it."""
    _keep(request, run, [*_steps(request, run), step])


def forget(request: HttpRequest, run: UUID) -> None:
    """Nothing before this can be undone: the sheet is with its driver, and to take it back from
    the road has a button of its own that says so."""
    _keep(request, run, [])


def last(request: HttpRequest, run: UUID, version: int) -> Step | None:
    """The step that can be undone on a sheet that stands at this version."""
    kept = _steps(request, run)
    return kept[-1] if kept and kept[-1].after == version else None


def undo(request: HttpRequest, run: UUID, seen: int) -> Step | None:
    """Undo the last step; None where there is none. Raises Refused, and keeps the step then."""
    step = last(request, run, seen)
    if step is None:
        return None
    INVERSES[step.verb](run, seen, step.inverse)
    kept = _steps(request, run)[:-1]
    if kept and kept[-1].after == step.before:
        kept[-1].after = seen + 1
    else:
        kept = []
    _keep(request, run, kept)
    return step


def _steps(request: HttpRequest, run: UUID) -> list[Step]:
    try:
        return msgspec.convert(request.session.get(KEPT, {}).get(str(run), []), list[Step])
    except msgspec.ValidationError:  # of an older release
        return []


def _keep(request: HttpRequest, run: UUID, steps: list[Step]) -> None:
    sheets = {k: v for k, v in request.session.get(KEPT, {}).items() if k != str(run)}
    sheets[str(run)] = msgspec.to_builtins(steps[-MOST_STEPS:], str_keys=True)
    request.session[KEPT] = dict(list(sheets.items())[-MOST_SHEETS:])
