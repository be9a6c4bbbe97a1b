"""A list that was read, held against what stands: what would be new, what would change, what cannot
be. Pure, and the same each time it is asked with the same answers.

A column that is not in the file stays as it is; an empty cell empties it. A record is found by its
id, else by what it is known by (`find`). What is new gets an id that follows from the file and the
row, so that writing it twice writes it once.
"""

import hashlib
import json
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any
from uuid import UUID, uuid5

from pickups.exchange.rules.cells import bare, same_name
from pickups.exchange.rules.lists import BY_NAME, LISTS, Column, Listing, Value, Values
from pickups.exchange.rules.reading import Line
from pickups.exchange.rules.values import Faulty, Spoken, point_nought, value_of


@dataclass(frozen=True, slots=True)
class Fault:
    """What is wrong where: sheet and row as a spreadsheet shows them, the column's key (empty: the
    whole row), what stood there, why (a key of the words) and what that sentence names."""

    sheet: str
    row: int
    column: str
    value: str
    key: str
    facts: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Step:
    """What one row comes to. uid: of the record, there or to come. changes: the columns that would
    be written, each with what stood and what is to stand; none of a new record stood."""

    list: str
    sheet: str
    row: int
    uid: UUID
    new: bool
    values: Values
    changes: Mapping[str, tuple[Value, Value]]

    @property
    def mark(self) -> str:
        """A short sign of exactly this step: what was agreed to is told from anything else."""
        said = json.dumps([str(self.uid), self.new, dict(self.changes)], sort_keys=True)
        return hashlib.sha256(said.encode()).hexdigest()[:12]


@dataclass(slots=True)
class Plan:
    """Every row in the order of writing, and every fault."""

    steps: list[Step] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)

    @property
    def mark(self) -> str:
        """A sign of all that would be written."""
        marks = "".join(s.mark for s in self.steps if s.changes)
        return hashlib.sha256(marks.encode()).hexdigest()[:24]

    def counted(self) -> dict[str, dict[str, int]]:
        """How many of each list are new, changed and unchanged."""
        counts: dict[str, dict[str, int]] = {}
        for s in self.steps:
            one = counts.setdefault(s.list, {"new": 0, "changed": 0, "same": 0})
            one["new" if s.new else "changed" if s.changes else "same"] += 1
        return counts


class World:
    """What stands, and what this file has brought before the row that is looked at."""

    def __init__(self, stores: Mapping[UUID, str], records: Mapping[str, Mapping[UUID, Values]]):
        self.stores = dict(stores)
        self.records: dict[str, dict[UUID, Values]] = {one.name: {} for one in LISTS}
        self._by: dict[tuple[str, ...], list[UUID]] = {}
        self.unsure: set[str] = set()
        """Names of customers and yards in rows that have a fault: what names them is no fault too.
        """
        for name, rows in records.items():
            for uid, values in rows.items():
                self.put(name, uid, values)

    def put(self, name: str, uid: UUID, values: Values) -> None:
        """A record stands like this from here on."""
        old = self.records[name].get(uid)
        for key in _keys(name, old) if old is not None else ():
            self._by[key].remove(uid)
        self.records[name][uid] = values
        for key in _keys(name, values):
            self._by.setdefault(key, []).append(uid)

    def known(self, *key: str) -> list[UUID]:
        """The records that a key finds."""
        return self._by.get(key, [])

    def store(self, text: str) -> list[UUID]:
        """The stores of a name."""
        return [uid for uid, name in self.stores.items() if same_name(name) == same_name(text)]

    def customer(self, text: str) -> list[UUID]:
        """The customers that a number or, where no number fits, a name finds."""
        number = self.known("customers", "number", point_nought(text).casefold())
        return number or self.known("customers", "name", same_name(text))

    def yard(self, customer: str, text: str) -> list[UUID]:
        """The yards of a customer that a name finds."""
        return self.known("yards", customer, same_name(text))


def _keys(name: str, values: Values) -> list[tuple[str, ...]]:
    """What a record is found by, the surest first."""
    if name == "customers":
        number = str(values.get("number", "")).casefold()
        own = [(name, "number", number)] if number else []
        return [*own, (name, "name", same_name(str(values["name"])))]
    return [(name, *(same_name(str(values[key])) for key in BY_NAME[name].known_by))]


def plan(lines: Iterable[Line], world: World, *, mint: UUID, spoken: Spoken) -> Plan:
    """Hold every line against the world, which knows each row before the next is looked at.

    mint: the file's id, from which those of new records follow.
    """
    made, order = Plan(), [one.name for one in LISTS]
    seen: dict[UUID, Line] = {}
    for line in sorted(lines, key=lambda one: order.index(one.list)):
        faults: list[Fault] = []
        step = _step(line, world, mint, spoken, faults)
        if step is not None and not faults and (before := seen.get(step.uid)):
            facts = {"row": before.row, "sheet": before.sheet}
            column = _found_by(line)
            value = line.cells.get(column, "")
            faults.append(Fault(line.sheet, line.row, column, value, "twice", facts))
        if step is None or faults:
            world.unsure |= {same_name(v) for v in line.cells.values() if v}
            made.faults += faults
            continue
        seen[step.uid] = line
        world.put(step.list, step.uid, step.values)
        made.steps.append(step)
    return made


def _found_by(line: Line) -> str:
    """The filled column, the surest, by which a row is the record that it is."""
    keys = ("id", "number", *reversed(BY_NAME[line.list].known_by))
    return next((key for key in keys if line.cells.get(key)), "")


def _step(line: Line, world: World, mint: UUID, spoken: Spoken, faults: list[Fault]) -> Step | None:
    listing = BY_NAME[line.list]

    def wrong(column: str, key: str, **facts: object) -> None:
        value = line.cells.get(column, "")
        faults.append(Fault(line.sheet, line.row, column, value, key, facts))

    told = _told(line, listing, spoken, wrong)
    candidates = _named(line, world, wrong)
    uid = _found_by_id(told, listing, world, wrong)
    stands = world.records[listing.name].get(uid) if uid else None
    if not _settle(told, candidates, stands, world, line, wrong) or faults:
        return None
    if uid is None:
        uid = _find(listing, told, world, wrong)
        stands = world.records[listing.name].get(uid) if uid else None
    _only_one(listing, told, uid, stands, world, wrong)
    if faults:
        return None
    at = (line.list, line.sheet, line.row)
    if uid is None or stands is None:
        values = {c.key: told.get(c.key, _empty(c)) for c in listing.columns if c.key != "id"}
        made = uuid5(mint, "/".join(map(str, at)))
        return Step(*at, made, True, values, {k: (None, v) for k, v in values.items()})
    changes = {k: (stands[k], v) for k, v in told.items() if not _same(stands[k], v)}
    return Step(*at, uid, False, {**stands, **told}, changes)


Wrong = Callable[..., None]


def _told(line: Line, listing: Listing, spoken: Spoken, wrong: Wrong) -> dict[str, Value]:
    """What each cell means; references are still texts, an id is not told."""
    told: dict[str, Value] = {}
    for column in listing.columns:
        if column.key in line.cells:
            try:
                told[column.key] = value_of(column, line.cells[column.key], spoken)
            except Faulty as why:
                wrong(column.key, why.key, **why.facts)
    if not told.get("number", "-"):  # a number that is not told is not taken away
        told.pop("number")
    return told


def _named(line: Line, world: World, wrong: Wrong) -> dict[str, list[UUID]]:
    """The stores and customers that a row's names may mean."""
    candidates: dict[str, list[UUID]] = {}
    if (text := line.cells.get("store")) and line.list == "customers":
        candidates["store"] = world.store(text)
        if not candidates["store"]:
            wrong("store", "no_store", allowed=sorted(world.stores.values()))
    if text := line.cells.get("customer"):
        candidates["customer"] = world.customer(text)
        if not candidates["customer"] and same_name(text) not in world.unsure:
            wrong("customer", "no_customer")
    return candidates


def _found_by_id(
    told: dict[str, Value], listing: Listing, world: World, wrong: Wrong
) -> UUID | None:
    text = told.pop("id", None)
    if not text:
        return None
    uid = UUID(str(text))
    if uid not in world.records[listing.name]:
        wrong("id", "no_id")
        return None
    return uid


def _settle(
    told: dict[str, Value],
    candidates: dict[str, list[UUID]],
    stands: Values | None,
    world: World,
    line: Line,
    wrong: Wrong,
) -> bool:
    """Put the one record that a name means in its place; where several have it, the one that stood.
    False where a name stands in a row that has a fault."""
    for key, found in candidates.items():
        was = stands.get(key) if stands else None
        own = [uid for uid in found if str(uid) == was]
        if len(found) > 1 and not own:
            wrong(key, f"several_{key}s", n=len(found))
        if not found:
            return False
        told[key] = str((own or found)[0])
    return _settle_yard(told, stands, world, line, wrong)


def _settle_yard(
    told: dict[str, Value], stands: Values | None, world: World, line: Line, wrong: Wrong
) -> bool:
    text = line.cells.get("yard")
    if not text:
        if text is not None:
            told["yard"] = None
        return True
    customer = str(told.get("customer") or (stands or {}).get("customer", ""))
    was = str(stands["yard"]) if stands else ""
    yards = [str(uid) for uid in world.yard(customer, text)]
    if not yards and same_name(text) in world.unsure:
        return False
    if not yards:
        wrong("yard", "no_yard")
    elif len(yards) > 1 and was not in yards:
        wrong("yard", "several_yards", n=len(yards))
    else:
        told["yard"] = was if was in yards else yards[0]
    return True


def _find(listing: Listing, told: dict[str, Value], world: World, wrong: Wrong) -> UUID | None:
    """The record that a row without an id means; a customer by number, else by name where the name
    is nobody's with another number."""
    if listing.name != "customers":
        found = world.known(listing.name, *(same_name(str(told.get(k))) for k in listing.known_by))
        if len(found) > 1:
            wrong(listing.known_by[-1], "several_records", n=len(found))
        return found[0] if found else None
    number = str(told.get("number", ""))
    if number and (found := world.known("customers", "number", number.casefold())):
        return found[0]
    named = world.known("customers", "name", same_name(str(told["name"])))
    if number:
        named = [u for u in named if not world.records["customers"][u]["number"]]
    if len(named) > 1:
        wrong("name", "several_customers", n=len(named))
    return named[0] if named else None


def _only_one(
    listing: Listing,
    told: dict[str, Value],
    uid: UUID | None,
    stands: Values | None,
    world: World,
    wrong: Wrong,
) -> None:
    """No two records by one key, and what is somebody's stays theirs."""
    if stands and "customer" in told and told["customer"] != stands["customer"]:
        wrong("customer", "stays_theirs")
        return
    after = {**(stands or {}), **told}
    if listing.name == "customers":
        number = str(after.get("number", "")).casefold()
        others = world.known("customers", "number", number) if number else []
        if any(o != uid for o in others):
            wrong("number", "number_taken")
        return
    key = [same_name(str(after.get(k))) for k in listing.known_by]
    if stands and key == [same_name(str(stands.get(k))) for k in listing.known_by]:
        return
    if any(o != uid for o in world.known(listing.name, *key)):
        wrong(listing.known_by[-1], "name_taken")


def _same(old: Value, new: Value) -> bool:
    """Texts differ where a reader sees that they do."""
    if isinstance(old, list) and isinstance(new, list):
        return sorted(old) == sorted(new)
    if isinstance(old, str) and isinstance(new, str):
        return bare(old) == new
    return old == new


def _empty(column: Column) -> Value:
    return None if column.reads in ("whole", "texts", "choices", "yard") else column.initial
