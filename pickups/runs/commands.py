"""Operations about runs from a device, as the sync hands them over: lock, keep, answer.

None raises for what a driver has told.
"""

from collections.abc import Callable, Iterable, Sequence
from typing import Any
from uuid import UUID

import msgspec

from pickups.kernel.locks import run_key
from pickups.people.rules import Words
from pickups.runs import telling
from pickups.runs.happenings import Kind
from pickups.runs.wire import AddStop1, Arrive1, CountLoad1, Resume1, Skip1
from pickups.sync.rules import Command, Done, Entered


def _each(one: Callable[[Entered, Any], Done]) -> Callable[[Sequence[Entered]], list[Done]]:
    return lambda entered: [one(e, e.payload) for e in entered]


def _arrive(e: Entered, p: Arrive1) -> Done:
    return telling.tell(e, Kind.ARRIVED, run=p.run, stop=p.stop)


def _skip(e: Entered, p: Skip1) -> Done:
    told = {"why": p.why, "photos": p.photos}
    return telling.tell(e, Kind.SKIPPED, run=p.run, stop=p.stop, told=told, typed=p.note)


def _resume(e: Entered, p: Resume1) -> Done:
    return telling.tell(e, Kind.RESUMED, run=p.run, stop=p.stop)


def _add_stop(e: Entered, p: AddStop1) -> Done:
    return telling.add_stop(e, run=p.run, yard=p.yard, after=p.after, why=p.why)


def _count_load(e: Entered, p: CountLoad1) -> Done:
    told = {k: v for k, v in msgspec.to_builtins(p).items() if k not in ("run", "stop", "site")}
    return telling.count_load(e, site=p.site, run=p.run, stop=p.stop, told=told)


def _keys(run: UUID | None) -> Iterable[int]:
    return () if run is None else (run_key(run),)


ARRIVE_1 = Command(Arrive1, lambda p: _keys(p.run), _each(_arrive))
SKIP_1 = Command(Skip1, lambda p: _keys(p.run), _each(_skip), ("note", Words.ROAD))
RESUME_1 = Command(Resume1, lambda p: _keys(p.run), _each(_resume))
ADD_STOP_1 = Command(AddStop1, lambda p: _keys(p.run), _each(_add_stop), ("why", Words.ROAD))
COUNT_LOAD_1 = Command(CountLoad1, lambda p: _keys(p.run), _each(_count_load))
