"""What stands beside a question: the names, places and times of the ids in its subject and facts.

All questions of a page are read for together, in as few reads as there are kinds of ids.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any
from uuid import UUID

from django.conf import settings

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.custody import queries as custody
from pickups.custody.queries import Delivery, Fact, Pickup, VisitLine
from pickups.desk import words
from pickups.desk.queries.names import Names
from pickups.kernel.languages import day_in_words
from pickups.people import queries as people
from pickups.questions.models import Question
from pickups.questions.rules import Kind
from pickups.sync.models import Operation


@dataclass(frozen=True)
class Line:
    """One fact beside a question; `label` where the value is one that can be looked up."""

    term: str
    value: str
    label: str = ""


@dataclass
class Known:
    """Everything that the questions speak of, read beforehand."""

    names: Names
    facts: Mapping[UUID, Fact]
    visits: Mapping[UUID, Pickup | Delivery]
    orders: Mapping[UUID, WorkOrder]
    lines: Mapping[UUID, VisitLine]
    held: Mapping[UUID, Operation]
    withdrawals: Mapping[int, Fact]
    keys: Mapping[str, str]
    tellers: dict[UUID, Fact] = field(default_factory=dict)
    scans: dict[str, list[Fact]] = field(default_factory=dict)


_LISTS = ("listed", "picked_up", "delivered", "of_another")
"""Casings that stand in the facts of a question about a visit: the pick_ups or delivers of it."""
_LINES = ("scrap_listed", "scrap_counted", "left_listed", "left_there")
"""Lines of a pickup without a label that stand there too."""


def read(language: str, rows: Sequence[Question], held: Sequence[Operation]) -> Known:
    rivals = {UUID(w) for q in rows for w in q.facts.get("work_orders", [])}
    told = [q.facts.get(key) for q in rows for key in ("fact", "work_order")]
    told += [uid for q in rows for key in (*_LISTS, *_LINES) for uid in q.facts.get(key, [])]
    named = {UUID(str(t)) for t in told if t} | _subjects(rows, "fact") | rivals
    facts = custody.facts(named)
    orders = casings.work_orders(named)
    visits: dict[UUID, Pickup | Delivery] = {
        **custody.pickups(_subjects(rows, "pickup")),
        **custody.deliveries(_subjects(rows, "delivery")),
    }
    persons = {f.by for f in facts.values() if f.by} | {v.by for v in visits.values()}
    persons |= {UUID(str(q.facts["by"])) for q in rows if q.facts.get("by")}
    withdrawals = _withdrawals(rows)
    persons |= {f.by for f in withdrawals.values() if f.by}
    persons |= {q.settled_by for q in rows if q.settled_by}
    yards = {UUID(f.told["yard"]) for f in facts.values() if "yard" in f.told}
    yards |= {v.yard for v in visits.values()} | {w.yard for w in orders.values()}
    known = Known(
        Names(language, persons=persons, yards=yards),
        facts,
        visits,
        orders,
        custody.lines(named),
        {o.id: o for o in held},
        withdrawals,
        people.plant_key_names({str(f.told["key"]) for f in facts.values() if "key" in f.told}),
    )
    for label in {orders[w].label for w in rivals if w in orders}:
        # Whoever told a pick_up last, in the order of the fold, is whom the pictures are from.
        for fact in custody.told_about(custody.named_with([label])):
            if fact.kind == "picked_up":
                known.tellers[fact.corrects or fact.uid] = fact
            elif "station" in fact.told:
                known.scans.setdefault(label, []).append(fact)
    return known


def _withdrawals(rows: Sequence[Question]) -> dict[int, Fact]:
    """What settled the contested labels: the withdrawal recorded in the same moment."""
    found = {}
    for q in rows:
        if q.kind == Kind.LABEL_CONTESTED and q.settled_at is not None:
            for fact in custody.told_about([q.subject.partition(":")[2]]):
                if fact.kind == "withdrawn" and fact.recorded_at == q.settled_at:
                    found[q.id] = fact
    return found


def _subjects(rows: Sequence[Question], kind: str) -> set[UUID]:
    pairs = [q.subject.partition(":") for q in rows]
    return {UUID(key) for name, _, key in pairs if name == kind}


def lines(q: Question, known: Known) -> list[Line]:
    """What a question is about, and what was told beside it."""
    about, _, key = q.subject.partition(":")
    if q.kind == Kind.FROM_THE_FUTURE and about == "fact":
        return _clock(q, UUID(key), known)
    if q.kind in (Kind.LOAD_DIFFERS, Kind.CONSIGNMENT_DIFFERS):
        return _load(q.facts, known.names)
    if about == "load":
        return _cured(q.facts, known.names)
    if about == "unlabelled":
        return _unlabelled(q.facts, known.names)
    if about == "stop_use":
        return _stop_use(q.facts, known.names)
    both = [*_about(about, key, q.facts, known), *_told(q.facts, known)]
    return list(dict.fromkeys(both))  # a fact that is asked about may stand beside itself


def _about(about: str, key: str, facts: Mapping[str, Any], known: Known) -> list[Line]:
    """What the question is about."""
    names = known.names
    if about == "label":
        return [Line(names.say("label"), words.grouped(key), key)]
    if about == "event":
        label = str(facts["label"])
        return [Line(names.say("label"), words.grouped(label), label)]
    if about == "fact":
        return _fact(UUID(key), known)
    if about == "device":
        return [Line(names.say("device"), names.device(UUID(key)))]
    if about in ("pickup", "delivery") and UUID(key) in known.visits:
        visit = known.visits[UUID(key)]
        return [
            Line(names.say("yard"), names.place(visit.yard)),
            Line(names.say("driver"), names.person(visit.by)),
            Line(names.say("when"), names.when(visit.finished_at)),
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


def _fact(uid: UUID, known: Known) -> list[Line]:
    fact, names = known.facts.get(uid), known.names
    if fact is None:
        return []
    label = Line(names.say("label"), words.grouped(fact.label), fact.label)
    lines = [label] if fact.label else []
    if uid in known.lines:
        lines.append(Line(names.say("told_of_it"), _line(known.lines[uid], names)))
    if "yard" in fact.told:
        lines.append(Line(names.say("yard"), names.place(UUID(fact.told["yard"]))))
    if fact.by:
        lines.append(Line(names.say("driver"), names.person(fact.by)))
    return [*lines, Line(names.say("when"), names.when(fact.happened_at))]


def _clock(q: Question, uid: UUID, known: Known) -> list[Line]:
    """A fact from the future: whose clock gave the time, and what ours said then."""
    fact, names = known.facts.get(uid), known.names
    if fact is not None and "station" in fact.told:
        whose = names.at_station(fact.holder, fact.told)
        if prefix := str(fact.told.get("key", "")):
            whose = names.say("by_key", where=whose, name=known.keys.get(prefix) or prefix)
    else:
        device = str(q.facts.get("device"))
        whose = names.device(UUID(device) if device != "None" else None)
    its = datetime.fromisoformat(str(q.facts["happened_at"]))
    return [
        *_fact(uid, known)[:-1],  # but for when: that is its time, told below
        Line(names.say("whose_clock"), whose),
        Line(names.say("says_time"), names.when(its)),
        Line(names.say("our_time"), names.when(fact.recorded_at if fact else q.asked_at)),
    ]


def _told(facts: Mapping[str, Any], known: Known) -> list[Line]:
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
    for key in _LISTS:
        if key in facts:
            uids = [UUID(str(uid)) for uid in facts[key]]
            found = [known.orders.get(uid) or known.facts.get(uid) for uid in uids]
            labels = [words.grouped(one.label) for one in found if one is not None and one.label]
            labels += [_line(known.lines[uid], names) for uid in uids if uid in known.lines]
            lines.append(Line(names.say(f"casings_{key}"), ", ".join(labels) or "0"))
    lines += _counted(facts, known)
    lines += _seal(facts, names)
    if odd := facts.get("conflict") or facts.get("doubt"):
        lines.append(Line(names.say("does_not_fit"), names.say(str(odd))))
    if "error" in facts:
        lines.append(Line(names.say("error"), str(facts["error"])))
    for term, at in (("site_before", "left"), ("site", "site")):
        if at in facts:
            lines.append(Line(names.say(term), names.site(UUID(str(facts[at])))))
    if "owner" in facts:
        lines.append(Line(names.say("delivered_to"), names.holder(str(facts.get("holder", "")))))
        dealers = settings.DEALER_NAME if facts["owner"] == "dealer" else ""
        owner = dealers or names.holder(f"customer:{facts['owner']}")
        lines.append(Line(names.say("owner"), owner))
    if "sequence" in facts:
        lines.append(Line(names.say("number"), str(facts["sequence"])))
    return [*lines, *_inside(facts, names), *_hand_over(facts, names), *_against(facts, names)]


def _seal(facts: Mapping[str, Any], names: Names) -> list[Line]:
    """A trailer's seal as it was told and as it was found."""
    keys = [key for key in ("seal_told", "seal_found") if facts.get(key)]
    lines = [Line(names.say(key), str(facts[key])) for key in keys]
    state = facts.get("seal_state")
    return [*lines, Line(names.say("seal"), names.say(f"seal_{state}"))] if state else lines


def _counted(facts: Mapping[str, Any], known: Known) -> list[Line]:
    """Scrap and what stayed, listed and told; spoken of only where there is any."""
    lines = []
    for pair in (_LINES[:2], _LINES[2:]):
        if any(facts.get(key) for key in pair):
            for key in pair:
                uids = [UUID(uid) for uid in facts[key]]
                said = [_line(known.lines[u], known.names) for u in uids if u in known.lines]
                lines.append(Line(known.names.say(f"casings_{key}"), " ".join(said) or "0"))
    return lines


LISTED_ODD = ("unknown", "elsewhere", "not_finished", "on_hold", "contested")
"""What a label on a plant's scan of a truck can be besides short and over."""


def _load(facts: Mapping[str, Any], names: Names) -> list[Line]:
    """A load that was counted by hand, then scanned: where, how many, and which are odd."""
    who = "load_by" if "unknown" in facts else "driver"
    lines = [
        Line(names.say(f"load_{facts['way']}"), names.site(UUID(str(facts["site"])))),
        Line(names.say("load_scanned"), str(facts["scanned"])),
    ]
    if facts["counted"] is not None:
        lines.insert(1, Line(names.say("load_counted"), str(facts["counted"])))
    if facts["by"]:
        lines.insert(0, Line(names.say(who), names.person(UUID(str(facts["by"])))))
    for key in (*("short", "over"), *LISTED_ODD):
        if facts.get(key):
            labels = ", ".join(map(words.grouped, facts[key]))
            lines.append(Line(names.say(f"load_{key}"), labels))
    return lines


def _cured(facts: Mapping[str, Any], names: Names) -> list[Line]:
    """A cure load: where, its number, and the casings that the question is about."""
    labels = ", ".join(words.grouped(label) for label in facts["labels"])
    which = {facts.get("missing"): "load_short", facts.get("over"): "load_over"}
    return [
        Line(names.say("site"), names.site(UUID(str(facts["plant"])))),
        Line(names.say("cure_load"), str(facts["number"])),
        Line(names.say(which.get(True, "label")), labels),
    ]


def _unlabelled(facts: Mapping[str, Any], names: Names) -> list[Line]:
    """A casing without a label: where it lies, and what can be seen of it."""
    told = [Line(names.say(key), str(facts[key])) for key in ("rack", "brand", "size")
            if facts.get(key)]  # fmt: skip
    return [Line(names.say("site"), names.site(UUID(str(facts["plant"])))), *told]


def _stop_use(facts: Mapping[str, Any], names: Names) -> list[Line]:
    """Who has not confirmed a stop-use notice, and since when it was told."""
    since = datetime.fromisoformat(str(facts["since"]))
    return [
        Line(names.say("owner"), names.holder(f"customer:{facts['customer']}")),
        Line(names.say("when"), names.when(since)),
    ]


DOUBTS = (
    "finished_and_rejected", "finished_on_hold", "worked_on_after_rejection",
    "sent_back_after_finish", "finished_not_repaired", "seen_after_shipped", "names_nothing",
    "release_not_allowed", "built_differs",
)  # fmt: skip
"""What of a casing inside a plant can be in doubt, as the question's facts name it."""


def _inside(facts: Mapping[str, Any], names: Names) -> list[Line]:
    """What stations told of a casing that does not fit, and in which plant."""
    doubts = [Line(names.say("does_not_fit"), names.say(d)) for d in DOUBTS if d in facts]
    if not doubts:
        return []
    return [Line(names.say("site"), names.site(UUID(str(facts["plant"])))), *doubts]


def _line(v: VisitLine, names: Names) -> str:
    return names.told.scrap(v.told) if v.kind == "scrap" else names.told.left(v.told)


def _against(facts: Mapping[str, Any], names: Names) -> list[Line]:
    """What the spec check said against a casing, and by which number of the specification."""
    if not facts.get("against"):
        return []
    lines = [Line(names.say("spec_against"), ", ".join(names.told.because(facts["against"])))]
    number = facts.get("by_number")
    return [*lines, Line(names.say("spec_by_number"), str(number))] if number else lines


def _hand_over(facts: Mapping[str, Any], names: Names) -> list[Line]:
    """To whom it was handed, and for when it was promised."""
    lines: list[Line] = []
    if "taker" in facts:
        lines.append(Line(names.say("handed_to"), names.holder(str(facts["taker"]))))
    for term in ("promised", "expected"):
        if term in facts:
            day = date.fromisoformat(str(facts[term]))
            lines.append(Line(names.say(term), day_in_words(names.language, day)))
    return lines
