"""Record station events: kept as posted, and told to the custody ledger in the same transaction.

Locks: the label keys of the batch, before anything is read. The fact's uid is derived from plant
and event id, so an event that comes twice is one fact. The answer never tells whether we know the
label.
"""

from collections.abc import Sequence
from datetime import datetime
from uuid import UUID

from django.db import transaction
from psycopg.types.json import Jsonb

from pickups.casings import reasons
from pickups.custody import services as custody
from pickups.custody.fold import Fact, Kind
from pickups.custody.ledger import Told
from pickups.kernel import clock, ids, locks
from pickups.kernel.bulk import copy_in
from pickups.kernel.problems import Code, Problem
from pickups.kernel.wire import Fault, Malformed
from pickups.people.models import PlantKey
from plant.dock import queries as dock
from plant.inspection.models import StationEvent
from plant.inspection.wire import EventAnswer
from plant.inspection.wire import StationEvent as Posted


def post(
    *,
    key: PlantKey,
    events: Sequence[tuple[Posted, dict[str, object], bytes]],
    at: datetime | None = None,
) -> list[EventAnswer]:
    """Record a batch: (event, as posted, fingerprint). All of it or, where one is wrong, nothing.

    at: when it is recorded, now unless a history is told that lies in the past (the demo's).
    Raises Malformed for a station that the plant does not have, a release that names nothing or a
    rejection without a reason of the catalogue and a cause, Problem(id_reused) where an id was
    used with another body.
    """
    at = at or clock.now()
    _check(key.plant_id, [event for event, _, _ in events])
    with transaction.atomic():
        locks.take({locks.label_key(event.label) for event, _, _ in events})
        seen = _seen(key.plant_id, [event.id for event, _, _ in events])
        answers, new = [], {}
        for event, body, fingerprint in events:
            known = seen.get(event.id)
            if known is not None and known != fingerprint:
                fault = Fault("id", str(event.id), "an id not used for another event")
                raise Problem(Code.ID_REUSED, fault)
            answers.append(EventAnswer(str(event.id), repeat=known is not None))
            seen[event.id] = fingerprint
            if known is None:
                new[event.id] = (event, body, fingerprint)
        _keep(key, list(new.values()), at)
        told = [_told(key, event) for event, _, _ in new.values()]
        if told:
            custody.record(told, site=key.plant_id, at=at)
    return answers


def _check(plant: UUID, events: Sequence[Posted]) -> None:
    stations = dock.codes(plant)
    for i, event in enumerate(events):
        if not clock.on_calendar(event.happened_at):
            moment = event.happened_at.isoformat()
            allowed = "a moment in the years 1-9999"
            raise Malformed(Fault(f"events[{i}].happened_at", moment, allowed))
        if event.station not in stations:
            allowed = ", ".join(stations)
            raise Malformed(Fault(f"events[{i}].station", event.station, allowed))
        if (event.outcome == "released") != (event.releases is not None):
            allowed = "the id of a hold or rejection with `released`, and only with it"
            raise Malformed(Fault(f"events[{i}].releases", str(event.releases), allowed))
        if event.outcome == "rejected":
            _check_rejection(f"events[{i}]", event)


def _check_rejection(field: str, event: Posted) -> None:
    """Why, in a code that the customer can be told in words; and whose doing it is."""
    if not reasons.known(event.reason):
        allowed = f"with `rejected` one of {', '.join(reasons.CODES)}"
        raise Malformed(Fault(f"{field}.reason", event.reason, allowed))
    if event.cause is None:
        allowed = f"with `rejected` one of {', '.join(reasons.CAUSES)}"
        raise Malformed(Fault(f"{field}.cause", "", allowed))


def _seen(plant: UUID, uids: Sequence[UUID]) -> dict[UUID, bytes]:
    rows = StationEvent.objects.filter(plant=plant, event__in=list(uids))
    return {uid: bytes(kept) for uid, kept in rows.values_list("event", "hash")}


def _keep(
    key: PlantKey, new: Sequence[tuple[Posted, dict[str, object], bytes]], at: datetime
) -> None:
    copy_in(
        "inspection_station_event",
        ("fact", "plant_id", "event", "hash", "key", "label", "station", "outcome",
         "happened_at", "recorded_at", "body"),
        (
            (fact_uid(key.plant_id, e.id), key.plant_id, e.id, kept, key.prefix, e.label,
             e.station, e.outcome, e.happened_at, at, Jsonb(body))
            for e, body, kept in new
        ),
    )  # fmt: skip


def fact_uid(plant: UUID, event: UUID) -> UUID:
    """The custody fact that an event becomes."""
    return ids.derived(plant, str(event))


def _told(key: PlantKey, e: Posted) -> Told:
    at = clock.rfc3339(e.happened_at)
    told: dict[str, object] = {"at": at, "station": e.station, "key": key.prefix}
    for name in ("reason", "cause", "operator", "note"):
        if value := getattr(e, name):
            told[name] = value
    if e.releases is not None:
        told["releases"] = str(fact_uid(key.plant_id, e.releases))
    photos = [photo for finding in e.findings for photo in finding.photos]
    if photos:
        told["photos"] = photos
    if e.findings:
        told["zone"] = e.findings[0].zone
    holder = f"road:{key.plant_id}" if e.outcome == "shipped" else f"plant:{key.plant_id}"
    fact = Fact(
        uid=fact_uid(key.plant_id, e.id),
        kind=Kind(e.outcome),
        label=e.label,
        stamp=clock.to_ms(e.happened_at),
        holder=holder,
        told=told,
    )
    return Told(fact, e.happened_at, by=None, device=None, skew_ms=None)
