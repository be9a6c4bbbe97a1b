"""Reads of station events for loads and for trace: by load, lot, operator, machine and time.

An event that was taken back is not there, nor is one that only releases or takes back another.
"""

import json
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from django.db import connection
from psycopg.types.json import Jsonb


@dataclass(frozen=True, slots=True)
class Seen:
    """One event as far as a trace needs it. lots: [{kind, number}]."""

    event: UUID
    label: str
    station: str
    outcome: str
    operator: str
    by: UUID | None
    machine: str
    load: str
    envelope: str
    lots: list[dict[str, str]]
    happened_at: datetime


@dataclass(frozen=True, slots=True)
class Asked:
    """What is looked for; None and "" ask nothing. since and until: the first is in, the last out.

    lot: the number on it; lot_kind: what it is, all kinds where empty. operator: the plant's code
    of a person; persons: who that is on tablets, either will do.
    """

    load: str = ""
    lot: str = ""
    lot_kind: str = ""
    operator: str = ""
    persons: tuple[UUID, ...] = ()
    machine: str = ""
    station: str = ""
    since: datetime | None = None
    until: datetime | None = None

    @property
    def asks(self) -> bool:
        """Whether there is anything that narrows the search by an index."""
        return bool(self.load or self.lot or self.operator or self.machine
                    or (self.since and self.until))  # fmt: skip


_STANDS = """e.outcome NOT IN ('withdrawn', 'released') AND NOT EXISTS (
  SELECT 1 FROM inspection_station_event w
  WHERE w.about = e.event AND w.plant_id = e.plant_id AND w.outcome = 'withdrawn')"""
_SEEN = f"""
SELECT e.event, e.label, e.station, e.outcome, e.operator, e.by, e.machine, e.load, e.envelope,
  coalesce(e.body->'lots', '[]'), e.happened_at
FROM inspection_station_event e WHERE e.plant_id = %(plant)s AND {_STANDS}
"""  # noqa: S608 - text of ours alone


def of_load(plant: UUID, number: str) -> list[Seen]:
    """What was told of a load, in the order of the plant's clock."""
    return _seen("e.load = %(load)s AND e.load <> '' AND e.outcome <> 'hold'", plant, load=number)


def of_labels(plant: UUID, labels: Collection[str]) -> list[Seen]:
    """What was told of these labels, in the order of the plant's clock."""
    return _seen("e.label = ANY(%(labels)s)", plant, labels=sorted(labels))


def labels_of(plant: UUID, asked: Asked, *, also: Collection[str] = (), most: int) -> list[str]:
    """The labels that an event says it of, sorted, at most so many. also: numbers of loads that
    are asked for beside it, those that hold a lot."""
    where, values = _where(asked, also)
    query = (
        "SELECT DISTINCT e.label FROM inspection_station_event e"  # noqa: S608
        f" WHERE e.plant_id = %(plant)s AND {_STANDS} AND {where} ORDER BY 1 LIMIT %(most)s"
    )
    with connection.cursor() as c:
        c.execute(query, {"plant": plant, "most": most, **values})
        return [row[0] for row in c.fetchall()]


def _where(asked: Asked, also: Collection[str]) -> tuple[str, dict[str, Any]]:
    said: list[str] = []
    values: dict[str, Any] = {}
    if asked.lot:
        lot = {"number": asked.lot} | ({"kind": asked.lot_kind} if asked.lot_kind else {})
        values |= {"lot": Jsonb([lot]), "loads": sorted(also)}
        mine = "(e.body ? 'lots' AND e.body->'lots' @> %(lot)s)"
        said.append(f"({mine} OR (e.load = ANY(%(loads)s) AND e.load <> ''))" if also else mine)
    if asked.operator:
        mine = "(e.operator = %(operator)s AND e.operator <> '')"
        said.append(f"({mine} OR (e.by = ANY(%(persons)s) AND e.by IS NOT NULL))"
                    if asked.persons else mine)  # fmt: skip
        values |= {"operator": asked.operator, "persons": list(asked.persons)}
    for name in ("load", "machine", "station"):
        if value := getattr(asked, name):
            said.append(f"e.{name} = %({name})s AND e.{name} <> ''")
            values[name] = value
    if asked.since:
        said.append("e.happened_at >= %(since)s")
        values["since"] = asked.since
    if asked.until:
        said.append("e.happened_at < %(until)s")
        values["until"] = asked.until
    return " AND ".join(said) or "true", values


def _seen(where: str, plant: UUID, **values: Any) -> list[Seen]:
    with connection.cursor() as c:
        c.execute(f"{_SEEN} AND {where} ORDER BY e.happened_at, e.event",
                  {"plant": plant, **values})  # fmt: skip
        rows: Sequence[tuple[Any, ...]] = c.fetchall()
    return [_read(row) for row in rows]


def _read(row: Sequence[Any]) -> Seen:
    event, label, station, outcome, operator, by, machine, load, envelope, lots, at = row
    return Seen(event, label, station, outcome, operator, by, machine, load, envelope,
                _lots(lots), at)  # fmt: skip


def _lots(value: str | list[dict[str, str]]) -> list[dict[str, str]]:
    """Django leaves jsonb as text in raw queries."""
    found: list[dict[str, str]] = json.loads(value) if isinstance(value, str) else value
    return found
