"""Record what stations did: kept as told, and told to the custody ledger in the same transaction.

Locks: the label keys of the batch, before anything is read. The fact's uid is derived from plant
and event id, so an event that comes twice is one fact. What names another event (a release, a
withdrawal) counts under that one's label and is told to custody once that one is here, whichever
came first. The answer never tells whether we know the label.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID

import msgspec
from django.db import OperationalError, transaction

from pickups.custody import services as custody
from pickups.custody.ledger import Told as InCustody
from pickups.journal import services as journal
from pickups.kernel import clock, locks
from pickups.kernel.problems import Code, Problem
from pickups.kernel.wire import Fault, Malformed, fingerprint
from pickups.people.models import PlantKey
from pickups.questions import queries as asked
from pickups.questions import services as questions
from pickups.questions.rules import Kind as Question
from plant.dock import queries as dock
from plant.inspection import facts, keeping, rules, table
from plant.inspection.fold import Event, Route
from plant.inspection.kept import Kept, fact_uid
from plant.inspection.wire import EventAnswer
from plant.inspection.wire import StationEvent as Posted

__all__ = ("Answer", "Told", "check", "fact_uid", "post", "said", "sweep", "tell")

LOST_AFTER, LOST_UNTIL = timedelta(days=1), timedelta(days=30)
"""How long what an event names may take to come, and how far back is looked. Our own figures."""


@dataclass(frozen=True, slots=True)
class Told:
    """A station event and who told it: a person on a tablet, or a system by the prefix of its key;
    without device and key it is the plant's own pages (Event.inner).

    skew_ms: how far that clock was ahead of ours, where it was measured. stamp: whole ms, made
    where it was told; its moment where none was. body: as it was sent, where that is known.
    """

    event: Posted
    by: UUID | None
    device: UUID | None
    key: str
    skew_ms: int | None
    stamp: int | None = None
    body: dict[str, Any] | None = None


@dataclass(frozen=True, slots=True)
class Answer:
    """What became of an event. question: the kind of the question that it raised."""

    repeat: bool
    question: str = ""


def post(
    *, key: PlantKey, events: Sequence[tuple[Posted, dict[str, Any]]], at: datetime | None = None
) -> list[EventAnswer]:
    """Record a batch: (event, as posted). All of it or, where one is wrong, nothing.

    at: when it is recorded, now unless a history is told that lies in the past (the demo's).
    Raises Malformed for what the plant does not allow (rules.faults), Problem(id_reused) where an
    id was used with another body.
    """
    at = at or clock.now()
    route = keeping.route_of(key.plant_id)
    _check([event for event, _ in events], [stop.code for stop in route.stops])
    told = [Told(e, None, None, key.prefix, None, body=body) for e, body in events]
    with transaction.atomic(), questions.together(at=at):
        made = tell(plant=key.plant_id, events=told, at=at, route=route)
    return [
        EventAnswer(str(event.id), repeat=answer.repeat)
        for (event, _), answer in zip(events, made, strict=True)
    ]


def check(*, plant: UUID, events: Sequence[Posted]) -> None:
    """Raises Malformed for the first event that the plant does not allow, naming its place."""
    _check(events, dock.codes(plant))


def _check(events: Sequence[Posted], stations: Sequence[str]) -> None:
    for i, event in enumerate(events):
        for fault in rules.faults(event, stations):
            raise Malformed(replace(fault, field=f"events[{i}].{fault.field}"))


def tell(
    *, plant: UUID, events: Sequence[Told], at: datetime, route: Route | None = None
) -> list[Answer]:
    """Record what was told at a plant's stations; events that are checked, in any order.

    Safe to repeat: an id of this plant that is known is told once. Takes the lock keys of the
    labels, opens a transaction where there is none. Raises Problem(id_reused) as above,
    OperationalError where a label that only another event names is busy: try again. route: the
    plant's, where it was read already.
    """
    with transaction.atomic(savepoint=False):
        named = {e.event.label for e in events} | {e.event.tag for e in events if e.event.tag}
        locks.take(locks.label_key(label) for label in named)
        about = {uid for e in events if (uid := _about(e.event)) is not None}
        known = table.related(plant, about | {e.event.id for e in events}, named)
        new, repeats = _new(plant, events, known)
        if not new:
            return [Answer(True) for _ in events]
        fresh = {uid: kept for uid, (kept, _) in new.items()}
        moved = facts.moved(known | fresh)
        _lock(set(moved.values()) - named)
        here = known | fresh
        for uid, label in moved.items():
            here[uid] = replace(here[uid], event=replace(here[uid].event, label=label))
        table.append(plant, [(here[uid], body) for uid, (_, body) in new.items()], at=at)
        table.move(plant, {uid: label for uid, label in moved.items() if uid not in new})
        told = [
            InCustody(fact, k.happened_at, k.by, k.device, k.skew_ms)
            for fact, k in facts.of(plant, here, new)
        ]
        made = custody.recorded(told, site=plant, at=at) if told else custody.Recorded({}, {})
        touched = {k.event.label for k in (*here.values(), *known.values())} | named
        touched |= {k.event.told.tag for k in here.values() if k.event.told.tag}
        _found(here, new, at)
        read = keeping.Read(frozenset(named), [k.event for k in here.values()], made.names)
        raised = keeping.refold(plant=plant, labels=touched, at=at, route=route, read=read)
        _tell_of_loads(plant, here.values(), at)
    return [
        Answer(repeat, raised.get(e.event.id) or made.codes.get(here[e.event.id].fact, ""))
        for e, repeat in zip(events, repeats, strict=True)
    ]


def _tell_of_loads(plant: UUID, events: Iterable[Kept], at: datetime) -> None:
    """Cure loads that were named, or whose naming was taken back, are told to the app above."""
    loads = sorted({kept.event.told.load for kept in events} - {""})
    if loads:
        journal.record([journal.Note("load.told", f"site:{plant}", {"loads": loads})], at=at)


def _new(
    plant: UUID, events: Sequence[Told], known: Mapping[UUID, Kept]
) -> tuple[dict[UUID, tuple[Kept, dict[str, Any]]], list[bool]]:
    """Those that are not known, each with its body; and for every event whether it is a repeat."""
    new: dict[UUID, tuple[Kept, dict[str, Any]]] = {}
    hashes = {uid: kept.hash for uid, kept in known.items()}
    repeats = []
    for e in events:
        uid, body = e.event.id, e.body if e.body is not None else said(e.event)
        hashed = fingerprint(body)
        repeats.append(uid in hashes)
        if hashes.setdefault(uid, hashed) != hashed:
            fault = Fault("id", str(uid), "an id not used for another event")
            raise Problem(Code.ID_REUSED, fault)
        if not repeats[-1]:
            new[uid] = (_kept(plant, e, hashed, body), body)
    return new, repeats


def _kept(plant: UUID, e: Told, hashed: bytes, body: dict[str, Any]) -> Kept:
    told = e.event if e.body is not None else msgspec.convert(body, Posted)  # as it will be read
    event = Event(
        uid=told.id,
        label=told.label,
        outcome=told.outcome,
        station=told.station,
        about=_about(told),
        stamp=clock.to_ms(told.happened_at) if e.stamp is None else e.stamp,
        told=told,
        by=str(e.by) if e.by else told.operator,
        inner=not e.key and e.device is None,
    )
    fact = fact_uid(plant, told.id)
    return Kept(event, fact, hashed, e.by, e.device, e.key, e.event.happened_at, e.skew_ms)


def sweep(*, at: datetime) -> int:
    """Ask about releases and withdrawals of which what they name has not come within a day: a slip
    in an id. Each is asked about once. Returns how many were. Repeatable."""
    lost = table.naming_nothing(at - LOST_UNTIL, at - LOST_AFTER)
    known = asked.asked_about(Question.PLANT_IMPOSSIBLE, [_about_event(e) for _, e, _ in lost])
    asks = [
        questions.Ask(Question.PLANT_IMPOSSIBLE, _about_event(event),
                      {"plant": str(plant), "label": label, "names_nothing": [str(event)]})
        for plant, event, label in lost if _about_event(event) not in known
    ]  # fmt: skip
    questions.ask(asks, at=at)
    return len(asks)


def _about_event(event: UUID) -> str:
    return f"event:{event}"


def _found(here: Mapping[UUID, Kept], new: Collection[UUID], at: datetime) -> None:
    """What named nothing for long names something now."""
    late = [uid for uid, kept in here.items() if uid not in new and kept.event.about in new]
    if late:
        questions.settle(kinds=[Question.PLANT_IMPOSSIBLE], subjects=map(_about_event, late),
                         how="settled by a later event", at=at)  # fmt: skip


def said(event: Posted) -> dict[str, Any]:
    """An event as a system would have posted it: without what it leaves unsaid."""
    plain: dict[str, Any] = msgspec.to_builtins(event)
    plain["happened_at"] = clock.rfc3339(event.happened_at)
    return {name: value for name, value in plain.items() if value not in ("", None, [])}


def _about(event: Posted) -> UUID | None:
    return event.releases or event.withdraws


def _lock(further: set[str]) -> None:
    """Labels that only another event names: their keys are tried, so that the order stands."""
    if further and not locks.try_take(locks.label_key(label) for label in further):
        raise OperationalError("a label that another event names is busy")
