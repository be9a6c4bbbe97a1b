"""The table of facts, read and appended to as a set. Knows no rule; services decide, this keeps."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

import msgspec
from django.db import connection
from psycopg.types.json import Jsonb

from pickups.custody.fold import Fact, Kind
from pickups.kernel.bulk import copy_in


@dataclass(frozen=True, slots=True)
class Told:
    """A fact, and who told it: the person, the sender, by which clock and how far off it was."""

    fact: Fact
    happened_at: datetime
    by: UUID | None
    device: UUID | None
    skew_ms: int | None


@dataclass(frozen=True, slots=True)
class Kept:
    """A fact as it stands in the table, and the work order that it is adopted by."""

    fact: Fact
    work_order: UUID | None


_UNDER = """
SELECT uid, kind, label, stamp, corrects, holder, told, work_order FROM custody_fact
WHERE label = ANY(%s) OR uid = ANY(%s)
"""
_RELATED = """
SELECT uid, kind, label, stamp, corrects, holder, told, work_order FROM custody_fact
WHERE (uid = ANY(%s) OR corrects = ANY(%s)) AND NOT uid = ANY(%s)
"""


def under(labels: Sequence[str], originals: Sequence[UUID]) -> list[Kept]:
    """Every fact under these labels, the originals named by corrections, and every correction
    of any of them, under whatever label: all that the fold of these labels needs."""
    with connection.cursor() as c:
        c.execute(_UNDER, [list(labels), list(originals)])
        rows = c.fetchall()
        have = {row[0] for row in rows}
        named = [row[4] for row in rows if row[4] is not None and row[4] not in have]
        if have or originals:
            c.execute(_RELATED, [named, [*have, *originals, *named], list(have)])
            rows += c.fetchall()
    return [Kept(Fact(r[0], Kind(r[1]), r[2], r[3], r[4], r[5], _told(r[6])), r[7]) for r in rows]


_told = msgspec.json.Decoder(dict[str, Any]).decode
"""Django leaves jsonb as text in raw queries."""


def append(told: Iterable[Told], *, at: datetime, work_orders: dict[UUID, UUID]) -> None:
    """Add facts, each adopted by the work order given for it, if any."""
    copy_in(
        "custody_fact",
        ("uid", "kind", "label", "stamp", "corrects", "work_order", "holder", "told",
         "happened_at", "recorded_at", "skew_ms", "by", "device"),
        (
            (t.fact.uid, t.fact.kind.value, t.fact.label, t.fact.stamp, t.fact.corrects,
             work_orders.get(t.fact.uid), t.fact.holder, Jsonb(dict(t.fact.told)), t.happened_at,
             at, t.skew_ms, t.by, t.device)
            for t in told
        ),
    )  # fmt: skip


def adopt(moves: dict[UUID, UUID | None]) -> None:
    """Say of facts whose they are now; None puts them back to their label."""
    if moves:
        with connection.cursor() as c:
            c.execute(
                "UPDATE custody_fact f SET work_order = n.w"
                " FROM unnest(%s::uuid[], %s::uuid[]) n(uid, w) WHERE f.uid = n.uid",
                [list(moves), list(moves.values())],
            )
