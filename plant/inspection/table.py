"""The table of station events, read and appended to as a set. Knows no rule."""

from collections.abc import Collection, Iterable, Sequence
from datetime import UTC, datetime
from typing import Any
from uuid import UUID

import msgspec
from django.db import connection

from pickups.kernel.bulk import array, copy_in, jsonb, texts
from plant.inspection.fold import Event
from plant.inspection.kept import Kept
from plant.inspection.wire import StationEvent

_NAMED = """
SELECT fact, event, label, outcome, station, about, stamp, hash, by, device, key, happened_at, body
FROM inspection_station_event
WHERE plant_id = %s AND (event = ANY(%s::uuid[]) OR about = ANY(%s::uuid[])
                         OR label = ANY(%s::text[]))
"""
_UNDER = """
SELECT event, label, outcome, station, about, stamp, by, key = '' AND device IS NULL, body
FROM inspection_station_event
WHERE plant_id = %s AND label = ANY(%s::text[]) ORDER BY stamp, event
"""


class _Said(StationEvent):
    """What was taken once is not looked at again; its moment is in UTC, since tables take fewer
    offsets than messages do."""

    def __post_init__(self) -> None:
        if self.happened_at.tzinfo is not UTC:
            self.happened_at = self.happened_at.astimezone(UTC)


_said = msgspec.json.Decoder(_Said).decode
"""Django leaves jsonb as text in raw queries."""


def related(plant: UUID, events: Iterable[UUID], labels: Collection[str] = ()) -> dict[UUID, Kept]:
    """All that is kept under these labels; and these events as far as they are kept, what they are
    about, what is about them, and so on. What is about an event stands under that one's label."""
    found: dict[UUID, Kept] = {}
    ahead, asked, under = set(events), set[UUID](), texts(labels)
    while ahead:
        asked |= ahead
        named = array(ahead)
        rows = _read(_NAMED, [plant, named, named, under])
        found |= {k.event.uid: k for k in rows}
        ahead = {uid for k in rows if k.event.label not in labels
                 for uid in (k.event.uid, k.event.about) if uid} - asked  # fmt: skip
        under = texts(())
    return found


_LOST = """
SELECT e.plant_id, e.event, e.label FROM inspection_station_event e
WHERE e.about IS NOT NULL AND e.recorded_at BETWEEN %s AND %s AND NOT EXISTS (
  SELECT 1 FROM inspection_station_event n WHERE n.plant_id = e.plant_id AND n.event = e.about)
ORDER BY e.event
"""


def naming_nothing(since: datetime, until: datetime) -> list[tuple[UUID, UUID, str]]:
    """Plant, event and label of releases and withdrawals recorded within that time, of which what
    they name has not come."""
    with connection.cursor() as c:
        c.execute(_LOST, [since, until])
        return list(c.fetchall())


def under(plant: UUID, labels: Collection[str]) -> list[Event]:
    """What a plant has told of these labels, in the order of the fold."""
    with connection.cursor() as c:
        c.execute(_UNDER, [plant, texts(labels)])
        rows = c.fetchall()
    return [
        Event(uid, label, outcome, station, about, stamp, told, str(by or told.operator), inner)
        for uid, label, outcome, station, about, stamp, by, inner, body in rows
        for told in (_said(body),)
    ]


def _read(query: str, values: Sequence[Any]) -> list[Kept]:
    with connection.cursor() as c:
        c.execute(query, values)
        rows = c.fetchall()
    return [
        Kept(
            Event(uid, label, outcome, station, about, stamp, told, str(by or told.operator),
                  not key and device is None),
            fact, bytes(hash_), by, device, key, at,
        )
        for fact, uid, label, outcome, station, about, stamp, hash_, by, device, key, at, body
        in rows
        for told in (_said(body),)
    ]  # fmt: skip


def append(plant: UUID, new: Iterable[tuple[Kept, dict[str, Any]]], *, at: datetime) -> None:
    """Add events, each with its body as it was sent."""
    copy_in(
        "inspection_station_event",
        ("fact", "plant_id", "event", "hash", "key", "by", "device", "label", "station", "outcome",
         "operator", "machine", "load", "envelope", "tag", "about", "stamp", "happened_at",
         "recorded_at", "body"),
        (
            (k.fact, plant, e.uid, k.hash, k.key, k.by, k.device, e.label,
             e.station, e.outcome, e.told.operator, e.told.machine, e.told.load, e.told.envelope,
             e.told.tag or "", e.about, e.stamp, k.happened_at, at, jsonb(body))
            for k, body in new
            for e in (k.event,)
        ),
    )  # fmt: skip


def move(plant: UUID, labels: dict[UUID, str]) -> None:
    """Say of events under which label they count."""
    if labels:
        with connection.cursor() as c:
            c.execute(
                "UPDATE inspection_station_event e SET label = n.label"
                " FROM unnest(%s::uuid[], %s::text[]) n(event, label)"
                " WHERE e.plant_id = %s AND e.event = n.event",
                [list(labels), list(labels.values()), plant],
            )
