"""Open questions in words: what is asked, the facts beside it, and both sides of a contested label.

Ids in a question's subject and facts are looked up in as few reads as there are kinds of them.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any
from uuid import UUID

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.custody import queries as custody
from pickups.custody.queries import Fact, Pickup
from pickups.desk import rules, words
from pickups.desk.queries.names import Names
from pickups.questions import queries as questions
from pickups.questions.models import Question
from pickups.questions.rules import Kind
from pickups.sync.models import Operation


@dataclass(frozen=True)
class Line:
    """One fact beside a question; `label` where the value is one that can be looked up."""

    term: str
    value: str
    label: str = ""


@dataclass(frozen=True)
class Side:
    """One of the casings on a contested label; photos are (fact, number) of their record."""

    work_order: UUID
    lines: Sequence[Line]
    photos: Sequence[tuple[UUID, int]]
    sign: rules.Sign
    progress: str


@dataclass(frozen=True)
class Asked:
    """A question as the office reads it; a contested label has sides and no settling by note."""

    id: int
    kind: str
    meaning: str
    age: str
    owner: str
    lines: Sequence[Line]
    label: str = ""
    sides: Sequence[Side] = ()


@dataclass
class _Known:
    """Everything that the questions speak of, read beforehand."""

    names: Names
    facts: Mapping[UUID, Fact]
    pickups: Mapping[UUID, Pickup]
    orders: Mapping[UUID, WorkOrder]
    held: Mapping[UUID, Operation]
    tellers: dict[UUID, Fact] = field(default_factory=dict)


def asked(language: str, *, held: Sequence[Operation], at: datetime) -> list[Asked]:
    """The open questions, oldest first; a contested label before all others."""
    rows = list(questions.open_questions())
    rows.sort(key=lambda q: q.kind != Kind.LABEL_CONTESTED)
    known = _read(language, rows, held)
    return [_asked(q, known, at) for q in rows]


def _read(language: str, rows: Sequence[Question], held: Sequence[Operation]) -> _Known:
    rivals = {UUID(w) for q in rows for w in q.facts.get("work_orders", [])}
    told = [q.facts.get(key) for q in rows for key in ("fact", "work_order")]
    named = {UUID(str(t)) for t in told if t} | _subjects(rows, "fact") | rivals
    facts = custody.facts(named)
    orders = casings.work_orders(named)
    pickups = custody.pickups(_subjects(rows, "pickup"))
    persons = {f.by for f in facts.values() if f.by} | {p.by for p in pickups.values()}
    persons |= {UUID(str(q.facts["by"])) for q in rows if q.facts.get("by")}
    yards = {UUID(f.told["yard"]) for f in facts.values() if "yard" in f.told}
    yards |= {p.yard for p in pickups.values()} | {w.yard for w in orders.values()}
    known = _Known(
        Names(language, persons=persons, yards=yards),
        facts,
        pickups,
        orders,
        {o.id: o for o in held},
    )
    for label in {orders[w].label for w in rivals if w in orders}:
        # Whoever told a pick_up last, in the order of the fold, is whom the pictures are from.
        for fact in custody.told_about(label):
            if fact.kind == "picked_up":
                known.tellers[fact.corrects or fact.uid] = fact
    return known


def _subjects(rows: Sequence[Question], kind: str) -> set[UUID]:
    pairs = [q.subject.partition(":") for q in rows]
    return {UUID(key) for name, _, key in pairs if name == kind}


def _asked(q: Question, known: _Known, at: datetime) -> Asked:
    names = known.names
    about, _, key = q.subject.partition(":")
    rivals = [UUID(w) for w in q.facts.get("work_orders", [])]
    sides = [_side(w, known) for w in rivals if w in known.orders]
    return Asked(
        id=q.id,
        kind=q.kind,
        meaning=words.meaning(names.language, q.kind),
        age=names.say("asked", age=words.span(names.language, (at - q.asked_at).total_seconds())),
        owner=names.say("for", role=names.say(f"role_{q.owner}")),
        lines=[*_about(about, key, q.facts, known), *_told(q.facts, known)],
        label=key if about == "label" else "",
        sides=sides,
    )


def _side(uid: UUID, known: _Known) -> Side:
    order, names = known.orders[uid], known.names
    teller = known.tellers.get(uid)
    photos = teller.told.get("photos", []) if teller else []
    first = known.facts.get(uid)
    told = order.told
    lines = [
        Line(names.say("yard"), names.yard(order.yard)),
        Line(names.say("customer"), names.customer(order.yard)),
        Line(names.say("driver"), names.person(first.by if first else None)),
        Line(names.say("when_picked"), names.when(order.picked_up_at)),
        Line(names.say("size"), told.get("size") or names.say("not_told")),
        Line(names.say("tin"), told.get("tin") or names.say("not_told")),
        Line(names.say("tread"), words.depths(names.language, told.get("tread_32nds", []))),
    ]
    if told.get("note"):
        lines.append(Line(names.say("note_told"), told["note"]))
    return Side(
        uid,
        lines,
        [(teller.uid, n) for n in range(1, len(photos) + 1)] if teller else [],
        rules.sign(order.progress, on_hold=order.on_hold, in_question=True),
        names.say(f"progress_{order.progress}"),
    )


def _about(about: str, key: str, facts: Mapping[str, Any], known: _Known) -> list[Line]:
    """What the question is about."""
    names = known.names
    if about == "label":
        return [Line(names.say("label"), words.grouped(key), key)]
    if about == "fact":
        return _fact(UUID(key), known)
    if about == "device":
        return [Line(names.say("device"), names.device(UUID(key)))]
    if about == "pickup" and UUID(key) in known.pickups:
        pickup = known.pickups[UUID(key)]
        return [
            Line(names.say("yard"), names.place(pickup.yard)),
            Line(names.say("driver"), names.person(pickup.by)),
            Line(names.say("when"), names.when(pickup.finished_at)),
        ]
    if about == "operation":
        kind = words.entry_kind(names.language, str(facts.get("kind", "")))
        version = facts.get("version")
        said = names.say("entry_v", kind=kind, version=version) if version else kind
        lines = [Line(names.say("entry"), said)]
        if operation := known.held.get(UUID(key)):
            lines.append(Line(names.say("device"), names.device(operation.device_id)))
            lines.append(Line(names.say("recorded_at"), names.when(operation.recorded_at)))
        return lines
    return []


def _fact(uid: UUID, known: _Known) -> list[Line]:
    fact, names = known.facts.get(uid), known.names
    if fact is None:
        return []
    lines = [Line(names.say("label"), words.grouped(fact.label), fact.label)]
    if "yard" in fact.told:
        lines.append(Line(names.say("yard"), names.place(UUID(fact.told["yard"]))))
    if fact.by:
        lines.append(Line(names.say("driver"), names.person(fact.by)))
    return [*lines, Line(names.say("when"), names.when(fact.happened_at))]


def _told(facts: Mapping[str, Any], known: _Known) -> list[Line]:
    """What was told beside it."""
    names = known.names
    lines: list[Line] = []
    if fact := facts.get("fact") or facts.get("work_order"):
        lines += [
            line for line in _fact(UUID(str(fact)), known) if not line.label or "fact" in facts
        ]
    if facts.get("by"):
        lines.append(Line(names.say("driver"), names.person(UUID(str(facts["by"])))))
    ours = facts.get("ours", len(facts["casings"]) if "casings" in facts else None)
    theirs = facts.get("theirs", facts.get("count"))
    if ours is not None:
        lines.append(Line(names.say("ours"), str(ours)))
    if theirs is not None:
        lines.append(Line(names.say("theirs"), str(theirs)))
    if "conflict" in facts:
        lines.append(Line(names.say("does_not_fit"), names.say(str(facts["conflict"]))))
    if "happened_at" in facts:
        told = datetime.fromisoformat(str(facts["happened_at"]))
        lines.append(Line(names.say("says_time"), names.when(told)))
    if "error" in facts:
        lines.append(Line(names.say("error"), str(facts["error"])))
    if "sequence" in facts:
        lines.append(Line(names.say("number"), str(facts["sequence"])))
    return lines
