"""The table of facts, read and appended to as a set. Knows no rule; services decide, this keeps."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

import msgspec
from django.db import OperationalError, connection

from pickups.custody.fold import Fact, Kind
from pickups.kernel import locks
from pickups.kernel.bulk import array, copy_in, jsonb, texts


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
WITH own AS MATERIALIZED (
  SELECT uid, kind, label, stamp, corrects, holder, told, work_order FROM custody_fact
  WHERE label = ANY(%(labels)s::text[]) OR uid = ANY(%(originals)s::uuid[])
     OR (kind = 'relabelled' AND (told ->> 'now') = ANY(%(labels)s::text[]))
), named AS MATERIALIZED (
  SELECT ARRAY(SELECT uid FROM own) have,
         ARRAY(SELECT corrects FROM own WHERE corrects IS NOT NULL) originals
)
SELECT * FROM own UNION ALL
SELECT uid, kind, label, stamp, corrects, holder, told, work_order FROM custody_fact f
WHERE (uid = ANY((SELECT originals FROM named)::uuid[])
       OR corrects = ANY((SELECT have || originals || %(originals)s::uuid[] FROM named)::uuid[]))
  AND NOT EXISTS (SELECT FROM own WHERE own.uid = f.uid)
"""


def reach(labels: Iterable[str], originals: Iterable[UUID]) -> tuple[list[str], list[Kept]]:
    """All that the fold of these labels needs, and every label that it speaks of.

    Corrections and relabellings may lead to labels that the caller could not know; their keys are
    tried, never waited for, so that the order of locks stands. Raises OperationalError where one
    is busy: the sender tries again.
    """
    touched, originals = set(labels), sorted(originals)
    while True:
        kept = under(sorted(touched), originals)
        further = {k.fact.label for k in kept}
        further |= {k.fact.told["now"] for k in kept if k.fact.kind is Kind.RELABELLED}
        further -= touched
        if not further:
            return sorted(touched), kept
        if not locks.try_take(locks.label_key(label) for label in further):
            raise OperationalError("a label that a correction or relabelling names is busy")
        touched |= further


def under(labels: Sequence[str], originals: Sequence[UUID]) -> list[Kept]:
    """Every fact under these labels, the relabellings that end in them, the originals named by
    corrections, and every correction of any of them, under whatever label."""
    with connection.cursor() as c:
        c.execute(_UNDER, {"labels": texts(labels), "originals": array(originals)})
        rows = c.fetchall()
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
             work_orders.get(t.fact.uid), t.fact.holder, jsonb(dict(t.fact.told)), t.happened_at,
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
