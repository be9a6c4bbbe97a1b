"""Write casings and the projection of work orders; called by custody, which folds them.

Rows are locked by id, `FOR NO KEY UPDATE`, by whoever read them (queries.locked); a version
rises only where something that can be seen has changed.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from django.db import connection
from psycopg import sql

from pickups.casings.models import Casing, WorkOrder
from pickups.casings.rules import Progress
from pickups.kernel.bulk import copy_in, jsonb


@dataclass(frozen=True, slots=True)
class Standing:
    """A work order as the facts have it."""

    uid: UUID
    casing: UUID
    pickup: UUID
    yard: UUID
    customer: UUID | None
    site: UUID
    label: str
    progress: Progress
    station: str
    reason: str
    on_hold: bool
    contested: bool
    withdrawn: bool
    holder: str
    picked_up_at: datetime
    told: dict[str, Any]


_COLUMNS = ("uid", "casing_id", "pickup", "yard", "customer", "site", "label", "progress",
            "station", "reason", "on_hold", "contested", "withdrawn", "holder", "picked_up_at",
            "told")  # fmt: skip
_TYPES = ("uuid", "uuid", "uuid", "uuid", "uuid", "uuid", "text", "text", "text", "text", "bool",
          "bool", "bool", "text", "timestamptz", "jsonb")  # fmt: skip


_ADVANCE = sql.SQL(
    "UPDATE casings_work_order w SET {sets}, version = w.version + 1"
    " FROM unnest({arrays}) n({names}) WHERE w.uid = n.uid RETURNING w.uid, w.version"
).format(
    sets=sql.SQL(", ").join(
        sql.SQL("{0} = n.{0}").format(sql.Identifier(c))
        for c in _COLUMNS
        if c not in {"uid", "casing_id"}
    ),
    arrays=sql.SQL(", ").join(sql.SQL("%s::{}[]").format(sql.SQL(t)) for t in _TYPES),
    names=sql.SQL(", ").join(map(sql.Identifier, _COLUMNS)),
)


def _row(s: Standing) -> tuple[Any, ...]:
    return (s.uid, s.casing, s.pickup, s.yard, s.customer, s.site, s.label, s.progress.value,
            s.station, s.reason, s.on_hold, s.contested, s.withdrawn, s.holder, s.picked_up_at,
            jsonb(s.told))  # fmt: skip


def begin(new: Sequence[Standing], *, casings: Iterable[tuple[UUID, str, str]]) -> None:
    """New work orders, and the casings (uid, TIN, size) that were not known before."""
    if not new:
        return
    copy_in("casings_casing", ("uid", "tin", "size"), casings)
    copy_in("casings_work_order", (*_COLUMNS, "version"), ((*_row(s), 1) for s in new))


def advance(changed: Sequence[Standing]) -> dict[UUID, int]:
    """Bring locked work orders up to date; returns the new version of each."""
    if not changed:
        return {}
    columns = list(zip(*(_row(s) for s in changed), strict=True))
    with connection.cursor() as c:
        c.execute(_ADVANCE, [list(column) for column in columns])
        return dict(c.fetchall())


def describe(casings: dict[UUID, tuple[str, str]]) -> None:
    """TIN and size of casings as they were told last; the same whatever came first."""
    if casings:
        with connection.cursor() as c:
            c.execute(
                "UPDATE casings_casing c SET tin = n.tin, size = n.size"
                " FROM unnest(%s::uuid[], %s::text[], %s::text[]) n(uid, tin, size)"
                " WHERE c.uid = n.uid AND (c.tin, c.size) IS DISTINCT FROM (n.tin, n.size)",
                [
                    list(casings),
                    [tin for tin, _ in casings.values()],
                    [size for _, size in casings.values()],
                ],
            )


def own(
    *, casing: UUID, yard: UUID | None, dealers: str, since: datetime | None
) -> list[tuple[UUID, UUID, int]]:
    """Whose a casing is, as custody's facts of ownership have it.

    Returns (uid, store, new version) of each of its work orders, on which phones see it.
    """
    Casing.objects.filter(uid=casing).update(yard=yard, dealers=dealers, owned_since=since)
    rows = WorkOrder.objects.select_for_update(no_key=True).filter(casing=casing).order_by("uid")
    for row in rows:
        row.version += 1
        row.save(update_fields=["version"])
    return [(row.uid, row.site, row.version) for row in rows]


def seen_anew(uids: Iterable[UUID]) -> list[tuple[UUID, UUID, int]]:
    """What is shown of these work orders has changed beside them: (uid, store, new version)."""
    rows = WorkOrder.objects.select_for_update(no_key=True).filter(uid__in=list(uids))
    seen = []
    for row in rows.order_by("uid"):
        row.version += 1
        row.save(update_fields=["version"])
        seen.append((row.uid, row.site, row.version))
    return seen


def move_customer(*, customer: UUID, site: UUID) -> list[tuple[UUID, UUID, int]]:
    """A customer's work orders are seen at another store: (uid, old store, new version) of each."""
    rows = WorkOrder.objects.filter(customer=customer).exclude(site=site).order_by("uid")
    moved = []
    for row in rows.select_for_update(no_key=True):
        moved.append((row.uid, row.site, row.version + 1))
        row.site, row.version = site, row.version + 1
        row.save(update_fields=["site", "version"])
    return moved
