"""What tablets at stations tell, as the sync hands it over: read, record, answer.

A tablet that was without a connection may name a station that the route has lost meanwhile: what
it tells is kept whole and a person is asked; it is tried again after the route is put right.
"""

from collections.abc import Iterable, Sequence
from uuid import UUID

from pickups.kernel.locks import label_key
from pickups.kernel.problems import Problem
from pickups.kernel.wire import Malformed
from pickups.people import queries as people
from pickups.sync.rules import Command, Done, Entered
from pickups.sync.wire import Outcome
from plant.dock import queries as dock
from plant.inspection import rules, services
from plant.inspection.services import Told
from plant.inspection.wire import StationEvent, Tell1


def _tell(entered: Sequence[Entered]) -> list[Done]:
    plant = entered[0].sender.site
    stations = dock.codes(plant)
    strangers = _may_undo_nothing(entered)
    told = {e.envelope.id: _told(e, e.payload) for e in entered}
    good = {
        uid: t
        for uid, t in told.items()
        if t and uid not in strangers and next(rules.faults(t.event, stations), None) is None
    }
    try:
        made = services.tell(plant=plant, events=list(good.values()), at=entered[0].sender.at)
    except Problem as e:  # an id that a system of the plant has used: kept whole, others pass
        raise ValueError(str(e)) from e
    answers = dict(zip(good, made, strict=True))
    return [
        Done(Outcome.HELD, "release_not_allowed")
        if e.envelope.id in strangers
        else _done(answers.get(e.envelope.id))
        for e in entered
    ]


def _may_undo_nothing(entered: Sequence[Entered]) -> set[UUID]:
    """Releases and withdrawals of somebody who does not work in the plant, nor answers for it:
    kept whole, and a person is asked."""
    undoing = [e for e in entered if e.payload.outcome in rules.UNDOING]
    roles = people.roles({e.envelope.by for e in undoing}) if undoing else {}
    return {e.envelope.id for e in undoing if roles.get(e.envelope.by) not in rules.MAY_UNDO}


def _done(answer: services.Answer | None) -> Done:
    if answer is None:
        return Done(Outcome.HELD, "payload_not_understood")
    return Done(Outcome.CONTESTED, answer.question) if answer.question else Done()


def _told(e: Entered, p: Tell1) -> Told | None:
    """None where a label in it is none: its check does not fit."""
    told = {name: getattr(p, name) for name in p.__struct_fields__}
    try:
        event = StationEvent(id=e.envelope.id, happened_at=e.envelope.happened_at, **told)
    except Malformed:
        return None
    sender, stamp = e.sender, e.envelope.stamp
    return Told(event, e.envelope.by, sender.device, "", sender.skew_ms, stamp)


def _tell_keys(p: Tell1) -> Iterable[int]:
    yield label_key(p.label)
    if p.tag is not None:
        yield label_key(p.tag)


TELL_1 = Command(Tell1, _tell_keys, _tell)
