"""What a plant's events are to the custody ledger. Pure.

Most become one fact. One that binds a tag becomes two; one that only says which casing it is, that
of the tag alone. A release or a withdrawal becomes one only once the event that it names is here:
until then nobody knows what it undoes, and one that undoes nothing (undoing.py) is none at all.
"""

from collections.abc import Collection, Mapping
from typing import Any
from uuid import UUID

from pickups.custody.fold import Fact, Kind
from pickups.kernel import clock, ids
from plant.inspection.fold import Event
from plant.inspection.kept import Kept, fact_uid
from plant.inspection.undoing import undoes


def moved(events: Mapping[UUID, Kept]) -> dict[UUID, str]:
    """Events that count under another label than they stand under: that of what they are about."""
    found: dict[UUID, str] = {}
    for uid, kept in events.items():
        label = _counts_under(kept.event, events)
        if label != kept.event.label:
            found[uid] = label
    return found


def _counts_under(event: Event, events: Mapping[UUID, Kept]) -> str:
    return [event, *_named(event, events)][-1].label


def _named(event: Event, events: Mapping[UUID, Kept]) -> list[Event]:
    """What an event is about, what that is about, and so on, as far as it is here."""
    found = [event]
    while (about := found[-1].about) is not None and about in events:
        if any(e.uid == about for e in found):
            break  # a ring of events that name each other names nothing
        found.append(events[about].event)
    return found[1:]


def of(plant: UUID, events: Mapping[UUID, Kept], new: Collection[UUID]) -> list[tuple[Fact, Kept]]:
    """The facts that these events are since those that are new came, each with its event."""
    told: list[tuple[Fact, Kept]] = []
    for kept in events.values():
        concerned = [kept.event, *_named(kept.event, events)]
        if any(e.uid in new for e in concerned) and is_told(kept.event, events):
            told += [(fact, kept) for fact in _facts(plant, kept, events)]
    return told


def is_told(event: Event, events: Mapping[UUID, Kept]) -> bool:
    """Whether custody hears of an event, as far as is known now."""
    if event.about is None:
        return True
    target = events.get(event.about)
    if target is None or not undoes(event, target.event):
        return False
    return event.outcome == "released" or is_told(target.event, events)


def _facts(plant: UUID, kept: Kept, events: Mapping[UUID, Kept]) -> list[Fact]:
    event = kept.event
    if event.outcome == "withdrawn" and event.about:
        target = events[event.about].event
        named = events[event.about].fact
        made = [] if target.identifies else [_withdrawal(plant, event, kept.fact, named)]
        if target.told.tag:
            made.append(_withdrawal(plant, event, _tag_uid(kept.fact), _tag_uid(named)))
        return made
    made = [] if event.identifies else [_fact(plant, kept)]
    if event.told.tag:
        made.append(_relabelled(kept))
    return made


def _fact(plant: UUID, kept: Kept) -> Fact:
    event, e = kept.event, kept.event.told
    told = _head(kept)
    for name in ("reason", "cause", "operator", "note", "again_at"):
        if value := getattr(e, name):
            told[name] = value
    if event.outcome == "released" and event.about is not None:
        told["releases"] = str(fact_uid(plant, event.about))
    photos = [*e.photos, *(photo for finding in e.findings for photo in finding.photos)]
    if photos:
        told["photos"] = list(dict.fromkeys(photos))
    if e.findings:
        told["zone"] = e.findings[0].zone
    return Fact(
        uid=kept.fact,
        kind=Kind(event.outcome),
        label=event.label,
        stamp=event.stamp,
        holder=f"road:{plant}" if event.outcome == "shipped" else f"plant:{plant}",
        told=told,
    )


def _head(kept: Kept) -> dict[str, Any]:
    told = {"at": clock.rfc3339(kept.happened_at), "station": kept.event.station}
    return told | ({"key": kept.key} if kept.key else {})


def _withdrawal(plant: UUID, event: Event, uid: UUID, corrects: UUID) -> Fact:
    at = clock.rfc3339(event.told.happened_at)
    told = {"at": at, "station": event.station, "plant": str(plant), "reason": event.told.note}
    return Fact(
        uid=uid,
        kind=Kind.WITHDRAWN,
        label=event.label,
        stamp=event.stamp,
        corrects=corrects,
        told=told,
    )


def _relabelled(kept: Kept) -> Fact:
    """The casing wears its tag from now on, or the label that came in place of a lost one."""
    told = {**_head(kept), "now": kept.event.told.tag, "why": "at_plant"}
    uid = _tag_uid(kept.fact)
    return Fact(uid, Kind.RELABELLED, kept.event.label, kept.event.stamp, told=told)


def _tag_uid(fact: UUID) -> UUID:
    return ids.derived(fact, "tag")
