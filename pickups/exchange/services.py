"""Read a file, agree to what it would do, write it: at most 1,000 rows a commit.

Lock order: the import's row, then `records_key`, then customers and what is theirs. Every step is
safe to repeat: it says which line it begins at, and one that is behind us is no step.
"""

import io
from collections.abc import Iterable, Mapping
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID

from django.db import transaction
from django.db.models import Q

from pickups.customers import bringing
from pickups.exchange import words
from pickups.exchange.models import Import
from pickups.exchange.queries import standing
from pickups.exchange.rules import csv_text, workbook
from pickups.exchange.rules.lists import LISTS, SPECIFICATIONS, Value
from pickups.exchange.rules.planning import Fault, Plan, Step, World, plan
from pickups.exchange.rules.reading import Line, Read, Unreadable
from pickups.journal import services as journal
from pickups.kernel import clock, locks
from pickups.kernel.uploads import MOST_BYTES
from pickups.kernel.wire import shown
from pickups.people import queries as people
from pickups.people.models import User

ROWS_A_COMMIT = 1_000
SPECIFICATIONS_A_COMMIT = 200
"""Each is a version of its own under its customer's lock: more would hold the feed up."""
KEPT = timedelta(days=1)
"""How long a file is kept that nobody agreed to, and the account of one that was written."""
FIELDS = {
    "name": "name",
    "yard_name": "name",
    "contact": "name",
    "store": "home_site",
}
"""Columns whose field in the services has another name."""


def read(raw: bytes, wanted: str = "") -> Read:
    """The lists in a file, in the order of writing. wanted: only the list of this name.

    Raises Unreadable, which says why.
    """
    if len(raw) > MOST_BYTES:
        raise too_big()
    if workbook.is_workbook(raw):
        found = workbook.read(io.BytesIO(raw), words.headings(), wanted)
    else:
        found = csv_text.read(raw, words.headings(), wanted)
    order = [one.name for one in LISTS]
    found.lines.sort(key=lambda line: order.index(line.list))
    return found


def too_big() -> Unreadable:
    """What is said of a file that is larger than is read."""
    return Unreadable("too_big", most=MOST_BYTES // 2**20)


def take_in(*, raw: bytes, name: str, wanted: str, by: UUID | None, at: datetime) -> Import:
    """Keep what was read until somebody agrees to it. Raises Unreadable."""
    found = read(raw, wanted)
    return Import.objects.create(
        name=shown(name, 120),
        by=by,
        made_at=at,
        lines=[[line.list, line.sheet, line.row, line.cells] for line in found.lines],
        found={"headings": found.headings, "unknown": found.unknown, "said": found.said},
        total=len(found.lines),
    )


def lines_of(taken: Import) -> list[Line]:
    """What was read."""
    return [Line(*line) for line in taken.lines]


def look(taken: Import) -> tuple[Plan, World]:
    """What a file would do now, and what would stand then."""
    world = standing.world()
    return plan(lines_of(taken), world, mint=taken.uid, spoken=words.spoken("en")), world


def agree(*, uid: UUID, mark: str, at: datetime, owe: bool = True) -> str:
    """Somebody agreed to what carried this mark; the first step is owed.

    Answers `agreed`, `agreed_before`, `gone`, `faults`, `moved` (it would do something else now),
    `nothing`. owe: whether workers write it; else who calls does, by `step`.
    """
    taken = Import.objects.filter(uid=uid).first()
    if taken is None:
        return "gone"
    if taken.agreed_at is not None:
        return "agreed_before"
    now, _ = look(taken)  # seconds for a long file, so no lock: each step holds its marks again
    if now.faults:
        return "faults"
    if now.mark != mark:
        return "moved"
    if not any(s.changes for s in now.steps):
        return "nothing"
    marks = [s.mark if s.changes else "" for s in now.steps]
    with transaction.atomic():
        still = Import.objects.filter(uid=uid, agreed_at=None)
        if not still.update(marks=marks, agreed_at=at):
            return "agreed_before" if Import.objects.filter(uid=uid).exists() else "gone"
        if owe:
            _owe(uid, 0, at)
    return "agreed"


def step(*, uid: UUID, start: int, owe: bool = True) -> int | None:
    """Write the rows from `start` on, 1,000 at most, in one transaction that owes the next step.

    Returns where the next begins; None where there is none, or where this one is behind us. What
    differs from what was agreed to, or can no longer be, is left out and said.
    """
    known = Import.objects.filter(uid=uid, finished_at=None).exclude(agreed_at=None).first()
    if known is None:
        return None
    lines = _portion(lines_of(known), start)  # nobody changes them while they are written
    end, at, spoken = start + len(lines), clock.now(), words.spoken("en")
    agreed = dict(zip(map(_at, lines), (known.marks or [])[start:end], strict=True))
    with transaction.atomic():
        rows = Import.objects.defer("lines", "marks").select_for_update(no_key=True)
        taken = rows.filter(uid=uid).first()
        if taken is None or taken.finished_at or taken.done != start:
            return None
        locks.take([locks.records_key()])
        world = standing.world({line.list for line in lines})
        now = plan(lines, world, mint=uid, spoken=spoken)
        fit = [s for s in now.steps if not s.changes or s.mark == agreed[_at(s)]]
        moved = [s for s in now.steps if s.changes and s.mark != agreed[_at(s)]]
        left_out = now.faults + [Fault(s.sheet, s.row, "", "", "changed_since") for s in moved]
        _write(fit, bringing.Bringer(_person(taken.by), taken.name))
        taken.written = _added(taken.written, Plan(fit).counted())
        taken.left_out += [_kept(f) for f in left_out]
        taken.done = end
        changed = ["written", "left_out", "done"]
        if end == taken.total:
            taken.finished_at, taken.lines, taken.marks = at, [], []
            changed += ["finished_at", "lines", "marks"]
        elif owe:
            _owe(uid, end, at)
        taken.save(update_fields=changed)
    return end if end < taken.total else None


def _at(row: Line | Step) -> tuple[str, str, int]:
    return row.list, row.sheet, row.row


def _portion(lines: list[Line], start: int) -> list[Line]:
    """What one commit writes: so many rows, fewer from the first specification on."""
    rows = lines[start : start + ROWS_A_COMMIT]
    told = [at for at, line in enumerate(rows) if line.list == SPECIFICATIONS.name]
    return rows[: told[0] + SPECIFICATIONS_A_COMMIT] if told else rows


def forget(*, at: datetime) -> int:
    """Files that nobody agreed to in time, and old accounts of those that are written, are gone;
    what is being written stays, however long it takes."""
    refused, written = Q(agreed_at=None, made_at__lt=at - KEPT), Q(finished_at__lt=at - KEPT)
    return Import.objects.filter(refused | written).delete()[0]


def faults_of(taken: Import) -> list[Fault]:
    """What was left out on the way."""
    return [Fault(**fault) for fault in taken.left_out]


def _owe(uid: UUID, start: int, at: datetime) -> None:
    body = {"import": str(uid), "start": start}
    journal.record([journal.Note("list.agreed", f"import:{uid}", body)], at=at)


def _write(steps: Iterable[Step], bringer: bringing.Bringer) -> None:
    rows: dict[str, list[bringing.Told]] = {}
    for s in steps:
        if s.changes:
            # A specification is said whole each time.
            whole = s.list == SPECIFICATIONS.name
            told = s.values if whole else {k: v for k, (_, v) in s.changes.items()}
            fields = {FIELDS.get(k, k): _stored(k, v) for k, v in told.items()}
            rows.setdefault(s.list, []).append(bringing.Told(s.uid, s.new, fields))
    for name, write in WRITES.items():
        if name in rows:
            write(rows[name], bringer)


WRITES = {
    "customers": bringing.customers,
    "yards": bringing.yards,
    "contacts": bringing.contacts,
    "specifications": bringing.specifications,
}


def _stored(key: str, value: Value) -> Any:
    return UUID(str(value)) if key in ("store", "customer", "yard") and value else value


def _person(uid: UUID | None) -> User | None:
    return people.person(uid) if uid else None


def _added(
    one: Mapping[str, Mapping[str, int]], other: Mapping[str, Mapping[str, int]]
) -> dict[str, dict[str, int]]:
    return {
        name: {
            what: one.get(name, {}).get(what, 0) + other.get(name, {}).get(what, 0)
            for what in ("new", "changed", "same")
        }
        for name in {**one, **other}
    }


def _kept(fault: Fault) -> dict[str, Any]:
    return {
        "sheet": fault.sheet,
        "row": fault.row,
        "column": fault.column,
        "value": fault.value,
        "key": fault.key,
        "facts": dict(fault.facts),
    }
