"""The life of a label, told in sentences from its facts; and a text as a label, or what is wrong.

A fact shows when it happened by the clock of whoever told it, and beside it, where they differ,
when it was recorded and how far off that clock was.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from uuid import UUID

from pickups.casings import queries as casings
from pickups.casings import reasons, strokes
from pickups.casings.models import WorkOrder
from pickups.custody import queries as custody
from pickups.custody.queries import Fact
from pickups.desk import rules, words
from pickups.desk.queries.names import Names
from pickups.labels import queries as labels
from pickups.labels import rules as grammar
from pickups.questions import queries as questions


@dataclass(frozen=True)
class Event:
    """One fact as a sentence; photos are (fact, number) of their record."""

    when: str
    said: str
    more: Sequence[str]
    clocks: str
    photos: Sequence[tuple[UUID, int]]
    in_question: bool


@dataclass(frozen=True)
class Trip:
    """A work order that wears the label, or wore it until it was withdrawn."""

    sign: strokes.Sign
    progress: str
    place: str
    holder: str
    on_hold: bool
    withdrawn: bool
    contested: bool


@dataclass(frozen=True)
class Life:
    """The whole page of a label."""

    label: str
    grouped: str
    printed: bool
    trips: Sequence[Trip]
    events: Sequence[Event]
    contested: bool
    waits: bool


def label_of(text: str, language: str) -> tuple[str, str]:
    """A typed or scanned text as a label, and, where it is none, what is wrong with it in words."""
    code = grammar.tidy(text)
    fault = grammar.fault(code)
    if fault is None:
        return code, ""
    said = words.say(language, f"fault_{fault}", text=_as_typed(text), n=len(code))
    if _bare(text) != code and fault != grammar.LabelFault.EMPTY:
        said += words.say(language, "read_as", code=_as_typed(code))
    return "", said


def _as_typed(text: str) -> str:
    """A text to be shown again: what has no shape as a sign that something stood there."""
    shown = "".join(c if c.isprintable() else "\ufffd" for c in text.strip())
    return shown if len(shown) <= rules.ECHO_MOST else f"{shown[: rules.ECHO_MOST]}…"


def _bare(text: str) -> str:
    """Capitals without gaps and dashes: what means the same however it is written."""
    return "".join(c for c in text.upper() if not c.isspace() and c not in "-._")


def life(label: str, language: str) -> Life:
    """Everything known about a sound label."""
    facts = custody.told_about(label)
    orders = casings.under(label)
    persons = {f.by for f in facts if f.by} | _persons([*orders, *facts])
    yards = {w.yard for w in orders} | {UUID(f.told["yard"]) for f in facts if "yard" in f.told}
    names = Names(language, persons=persons, yards=yards)
    subjects = [f"label:{label}", *(f"fact:{f.uid}" for f in facts)]
    asked = questions.subjects_in_question(subjects)
    whole = f"label:{label}" in asked
    before = {f.uid: f for f in facts}
    return Life(
        label=label,
        grouped=words.grouped(label),
        printed=label in labels.printed([label]),
        trips=[_trip(w, names, in_question=whole and not w.withdrawn) for w in orders],
        events=[_event(f, before, names, asked, label) for f in facts],
        contested=any(w.contested for w in orders),
        waits=bool(facts) and not orders,
    )


def _persons(held: Iterable[WorkOrder | Fact]) -> set[UUID]:
    pairs = [one.holder.partition(":") for one in held]
    return {UUID(key) for kind, _, key in pairs if kind == "person"}


def _trip(w: WorkOrder, names: Names, *, in_question: bool) -> Trip:
    return Trip(
        sign=strokes.sign(w.progress, on_hold=w.on_hold, in_question=in_question),
        progress=names.say(f"progress_{w.progress}"),
        place=names.place(w.yard),
        holder=names.holder(w.holder) if w.holder and not w.withdrawn else "",
        on_hold=w.on_hold,
        withdrawn=w.withdrawn,
        contested=w.contested,
    )


def _event(
    f: Fact, before: Mapping[UUID, Fact], names: Names, asked: set[str], label: str
) -> Event:
    photos = f.told.get("photos", [])
    return Event(
        when=names.when(f.happened_at),
        said=_said(f, before, names),
        more=_more(f, names),
        clocks=_clocks(f, names),
        photos=[(f.uid, n) for n in range(1, len(photos) + 1)],
        in_question=f"fact:{f.uid}" in asked
        or (f"label:{label}" in asked and f.kind == "picked_up"),
    )


def _said(f: Fact, before: Mapping[UUID, Fact], names: Names) -> str:
    who = _who(f, names)
    if f.kind == "picked_up" and f.corrects is None:
        return names.say("fact_picked_up", place=names.place(UUID(f.told["yard"])), who=who)
    if f.kind == "picked_up":
        old = before.get(f.corrects) if f.corrects else None
        if old is None or old.label == f.label:
            return names.say("fact_told_again", who=who)
        new, was = words.grouped(f.label), words.grouped(old.label)
        return names.say("fact_moved", who=who, label=new, old=was)
    if f.kind == "withdrawn":
        return names.say("fact_withdrawn", who=who, reason=f.told.get("reason", ""))
    place = names.holder(f.holder) if f.holder else ""
    return names.say(f"fact_{f.kind}", where=who, place=place)


def _who(f: Fact, names: Names) -> str:
    """The person, or the station of a plant with its operator."""
    if f.by is not None:
        person = names.person(f.by)
        return person if f.device else names.say("in_office", name=person)
    where = names.at_station(f.holder, f.told)
    operator = f.told.get("operator")
    return f"{where}, {names.say('by_operator', operator=operator)}" if operator else where


def _more(f: Fact, names: Names) -> list[str]:
    """What else was told, a short sentence each."""
    told, language = f.told, names.language
    said = [str(told[key]) for key in ("size", "tin") if told.get(key)]
    if told.get("tread_32nds"):
        said.append(f"{names.say('tread')} {words.depths(language, told['tread_32nds'])}")
    if told.get("reason") and f.kind != "withdrawn":
        said.append(names.say("because", reason=reasons.words(str(told["reason"]), language)))
    if told.get("zone"):
        said.append(names.say(f"zone_{told['zone']}"))
    if told.get("cause"):
        said.append(names.say("cause", cause=names.say(f"cause_{told['cause']}")))
    if told.get("note"):
        said.append(names.say("quoted", text=told["note"]))
    return said


def _clocks(f: Fact, names: Names) -> str:
    said = []
    if abs((f.recorded_at - f.happened_at).total_seconds()) > rules.LATE_S:
        said.append(names.say("recorded", when=names.when(f.recorded_at)))
    if f.skew_ms is not None and abs(f.skew_ms) >= rules.CLOCK_RIGHT_MS:
        key = "clock_was_ahead" if f.skew_ms > 0 else "clock_was_behind"
        said.append(names.say(key, age=words.span(names.language, abs(f.skew_ms) / 1000)))
    return "; ".join(said)
