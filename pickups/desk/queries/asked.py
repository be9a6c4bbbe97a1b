"""Questions in words: what is asked, the facts beside it, and both sides of a contested label;
and those that were settled lately, with who said what.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from pickups.casings import strokes
from pickups.custody import queries as custody
from pickups.custody.queries import Fact
from pickups.desk import rules, words
from pickups.desk.queries import beside
from pickups.desk.queries.beside import Known, Line
from pickups.desk.queries.names import Names
from pickups.questions import queries as questions
from pickups.questions.models import Question
from pickups.questions.rules import Kind
from pickups.sync.models import Operation


@dataclass(frozen=True)
class Side:
    """One of the casings on a contested label; photos are (fact, number) of their record.

    scans: what the plant read under the label, each with its distance from this pickup.
    """

    work_order: UUID
    lines: Sequence[Line]
    photos: Sequence[tuple[UUID, int]]
    scans: Sequence[tuple[str, str]]
    sign: strokes.Sign
    progress: str


@dataclass(frozen=True)
class Swapped:
    """A relabelling that stands, and that may have been the mistake."""

    fact: UUID
    said: str


@dataclass(frozen=True)
class Asked:
    """A question as the office reads it; a contested label has sides and no settling by note.

    swaps: what put labels in one another's place. dispute: the case that is settled in
    its place. visit, stop: the pickup, or the stop-use notice, that it is about. yours: whether
    the reader may decide it.
    """

    id: int
    kind: str
    meaning: str
    age: str
    owner: str
    yours: bool
    lines: Sequence[Line]
    label: str = ""
    sides: Sequence[Side] = ()
    swaps: Sequence[Swapped] = ()
    dispute: str = ""
    visit: str = ""
    stop: str = ""


@dataclass(frozen=True)
class Settled:
    """A question that is answered: what it was about, by whom and when, and what was said."""

    meaning: str
    lines: Sequence[Line]
    how: str
    said: str


def asked(
    language: str, role: str, *, held: Sequence[Operation], at: datetime
) -> tuple[list[Asked], list[Settled]]:
    """The open questions, oldest first, a contested label before all others; and the last settled.

    role: the reader's.
    """
    rows = list(questions.open_questions())
    rows.sort(key=lambda q: q.kind != Kind.LABEL_CONTESTED)
    over = questions.settled_lately(rules.SETTLED_SHOWN)
    known = beside.read(language, [*rows, *over], held)
    swaps = custody.swaps_of({_label(q) for q in rows if q.kind in _ABOUT_LABELS})
    return [_asked(q, role, known, swaps, at) for q in rows], [_settled(q, known) for q in over]


def _label(q: Question) -> str:
    return q.subject.partition(":")[2]


def _asked(
    q: Question, role: str, known: Known, swaps: Mapping[str, Sequence[Fact]], at: datetime
) -> Asked:
    names = known.names
    about, _, label = q.subject.partition(":")
    rivals = [UUID(w) for w in q.facts.get("work_orders", [])]
    sides = [_side(w, known) for w in rivals if w in known.orders]
    return Asked(
        id=q.id,
        kind=q.kind,
        meaning=words.meaning(names.language, q.kind),
        age=names.say("asked", age=words.span(names.language, (at - q.asked_at).total_seconds())),
        owner=names.say("for", role=names.say(f"role_{q.owner}")),
        yours=rules.may_decide(role, q.owner),
        lines=beside.lines(q, known),
        label=label if about == "label" else "",
        sides=sides,
        swaps=[_swapped(f, names) for f in swaps[label]] if q.kind in _ABOUT_LABELS else (),
        dispute=str(q.facts["dispute"]) if q.kind == Kind.DISPUTED else "",
        visit=label if about == "pickup" and UUID(label) in known.visits else "",
        stop=str(q.facts["stop"]) if about == "stop_use" else "",
    )


_ABOUT_LABELS = (Kind.LABEL_CONTESTED, Kind.LABEL_REPLACED)


def _swapped(f: Fact, names: Names) -> Swapped:
    now, old = words.grouped(str(f.told["now"])), words.grouped(f.label)
    why, when = names.say(f"why_{f.told['why']}"), names.when(f.happened_at)
    return Swapped(f.uid, names.say("swap_said", now=now, old=old, why=why, when=when))


def _side(uid: UUID, known: Known) -> Side:
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
    if said := names.told.casing(told) if told.get("line") else ():
        lines.append(Line(names.say("told_of_it"), " ".join(said)))
    if told.get("note"):
        lines.append(Line(names.say("note_told"), told["note"]))
    return Side(
        uid,
        lines,
        [(teller.uid, n) for n in range(1, len(photos) + 1)] if teller else [],
        [_scan(f, order.picked_up_at, names) for f in known.scans.get(order.label, [])],
        strokes.sign(order.progress, on_hold=order.on_hold, in_question=True),
        names.say(f"progress_{order.progress}"),
    )


def _scan(f: Fact, picked_up_at: datetime, names: Names) -> tuple[str, str]:
    """What the plant read; and how long after this pickup, or before it, which no casing can."""
    where = names.say(f"fact_{f.kind}", where=names.at_station(f.holder, f.told))
    apart = (f.happened_at - picked_up_at).total_seconds()
    age = words.span(names.language, abs(apart))
    distance = names.say("scan_after" if apart >= 0 else "scan_before", age=age)
    return where, f"{names.when(f.happened_at)}, {distance}"


def _settled(q: Question, known: Known) -> Settled:
    names, withdrawal = known.names, known.withdrawals.get(q.id)
    by, note = q.settled_by, q.settlement
    if withdrawal is not None:
        by, note = withdrawal.by, str(withdrawal.told.get("reason", ""))
    assert q.settled_at is not None
    key = "settled_by" if by else "settled_itself"
    return Settled(
        words.meaning(names.language, q.kind),
        beside.lines(q, known),
        names.say(key, who=names.person(by), when=names.when(q.settled_at)),
        # What nobody typed is a remark of the program's own.
        names.say("quoted", text=note) if by and note else "",
    )
