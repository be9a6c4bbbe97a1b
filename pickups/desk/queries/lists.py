"""The pages on which lists come in: what a file would do, how far it is, what came."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from pickups.desk.queries.names import Names
from pickups.exchange import services, words
from pickups.exchange.models import Import
from pickups.exchange.queries.standing import Referred
from pickups.exchange.queries.taken import lately
from pickups.exchange.rules.lists import BY_NAME, LISTS, Column, Value
from pickups.exchange.rules.planning import Fault, Plan, Step
from pickups.exchange.rules.reading import MOST_ROWS
from pickups.exchange.rules.values import cell_of
from pickups.kernel.uploads import MOST_BYTES
from pickups.kernel.wire import shown

SHOWN = 100
"""How many faults, changes and new records a page shows."""
LATELY = 20
"""How many of the files read last are listed."""
CELL = 80
"""How much of a cell a page shows."""


@dataclass(frozen=True)
class Wrong:
    """A fault as a person reads it."""

    where: str
    value: str
    why: str


@dataclass(frozen=True)
class Change:
    """One column of one record that would change."""

    record: str
    column: str
    was: str
    will: str


def first(language: str) -> dict[str, Any]:
    """What the page of the lists offers."""
    names = Names(language)
    titles = [(one.name, words.title(language, one)) for one in LISTS]
    label = names.say("lists_file", most=MOST_BYTES // 2**20, rows=_n(MOST_ROWS))
    return {"titles": titles, "file_label": label, "lately": _lately(names)}


def _lately(names: Names) -> list[dict[str, Any]]:
    found = lately(LATELY)
    who = Names(names.language, persons=[i.by for i in found if i.by])
    return [
        {
            "uid": one.uid,
            "name": one.name,
            "by": who.person(one.by) if one.by else names.say("lists_by_command"),
            "read": names.when(one.made_at),
            "state": _state(one, names),
        }
        for one in found
    ]


def _state(one: Import, names: Names) -> str:
    if one.agreed_at is None:
        return names.say("lists_state_seen")
    if one.finished_at is None:
        return names.say("lists_state_running", done=_n(one.done), total=_n(one.total))
    left = len(one.left_out)
    many = "lists_state_done_but" + ("_one" if left == 1 else "")
    return names.say(many, n=left) if left else names.say("lists_state_done")


def of_import(taken: Import, language: str) -> dict[str, Any]:
    """The page of one file: what it would do, or how far it is, or what came of it."""
    names = Names(language)
    around = {"taken": taken, "notes": _notes(taken, language)}
    if taken.agreed_at is None:
        return {**around, **_would(taken, names)}
    headings = taken.found["headings"]
    key = "list_done" if taken.finished_at else "list_running"
    return {
        **around,
        "state": "done" if taken.finished_at else "running",
        "title": names.say(key, name=taken.name),
        "progress": names.say("list_progress", done=_n(taken.done), total=_n(taken.total)),
        "counts": _counts(taken.written, language),
        "wrong": [_wrong(f, language, headings) for f in services.faults_of(taken)[:SHOWN]],
        "wrong_more": _more(names, len(taken.left_out)),
    }


def _would(taken: Import, names: Names) -> dict[str, Any]:
    plan, world = services.look(taken)
    language, headings = names.language, taken.found["headings"]
    counts = plan.counted()
    sums = {what: sum(c[what] for c in counts.values()) for what in ("new", "changed")}
    changed = [s for s in plan.steps if s.changes and not s.new]
    new = [s for s in plan.steps if s.new]
    wrong, referred = len(plan.faults), Referred(world.records)
    return {
        "state": "wrong" if wrong else "ready" if any(sums.values()) else "nothing",
        "title": names.say("list_title", name=taken.name),
        "mark": plan.mark,
        "go": names.say("list_go", new=_n(sums["new"]), changed=_n(sums["changed"])),
        "counts": _counts(counts, language),
        "wrong_say": names.say("list_wrong_one" if wrong == 1 else "list_wrong_n", n=_n(wrong)),
        "wrong": [_wrong(f, language, headings) for f in plan.faults[:SHOWN]],
        "wrong_more": _more(names, wrong),
        "changes": [c for s in changed[:SHOWN] for c in _changes(s, referred, names)],
        "changes_more": _more(names, len(changed)),
        "news": [_record(s, referred, names.language) for s in new[:SHOWN]],
        "news_more": _more(names, len(new)),
    }


def faults(plan: Plan, taken: Import, language: str) -> Iterable[Sequence[str]]:
    """Every fault as a row of a file."""
    for fault in plan.faults:
        one = _wrong(fault, language, taken.found["headings"])
        yield [one.where, fault.value, one.why]


def _wrong(fault: Fault, language: str, headings: dict[str, dict[str, str]]) -> Wrong:
    where = words.where(language, fault, headings)
    return Wrong(where, shown(fault.value, CELL), words.why(language, fault))


def _changes(step: Step, referred: Referred, names: Names) -> list[Change]:
    record, listing = _record(step, referred, names.language), BY_NAME[step.list]
    nothing = names.say("list_empty_cell")
    return [
        Change(
            record,
            words.heading(names.language, key),
            _said(listing.column(key), was, referred, names.language) or nothing,
            _said(listing.column(key), will, referred, names.language) or nothing,
        )
        for key, (was, will) in step.changes.items()
    ]


def _record(step: Step, referred: Referred, language: str) -> str:
    """What a person calls the record of a row."""
    listing = BY_NAME[step.list]
    keys = ("name",) if step.list == "customers" else listing.known_by
    said = (_said(listing.column(k), step.values[k], referred, language) for k in keys)
    return ", ".join(text for text in said if text)


def _said(column: Column, value: Value, referred: Referred, language: str) -> str:
    if value and column.reads in ("store", "customer", "yard"):
        return referred.said(column.key, str(value))
    return shown(cell_of(column, value, words.spoken(language)), CELL)


def _counts(counts: dict[str, dict[str, int]], language: str) -> list[dict[str, str]]:
    return [
        {"title": words.title(language, one), **{k: _n(v) for k, v in counts[one.name].items()}}
        for one in LISTS
        if one.name in counts
    ]


def _notes(taken: Import, language: str) -> list[str]:
    notes = [words.said(language, key, **facts) for key, facts in taken.found["said"]]
    if unknown := taken.found["unknown"]:
        columns = ", ".join(dict.fromkeys(shown(heading, 40) for _, heading in unknown))
        notes.append(words.said(language, "unknown", columns=columns))
    return notes


def _more(names: Names, total: int) -> str:
    return names.say("list_more", n=_n(total - SHOWN)) if total > SHOWN else ""


def _n(number: int) -> str:
    """A count with a thin space between thousands, which both languages read."""
    return f"{number:,}".replace(",", "\N{THIN SPACE}")
