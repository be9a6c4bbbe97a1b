"""The pull: one statement a page, so that no row can slip between two looks.

A row is given once every transaction that could still commit before it has ended: its xid is
below pg_snapshot_xmin of the same snapshot that read it. The cursor is the (xid, seq) of the last
row, compared as xid8 and number; never seq alone, never a mark read apart from the rows.
A page that empties the feed moves the cursor up to that xmin, so that a quiet scope does not fall
behind the horizon of purged drops.
"""

import base64
import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple
from uuid import UUID

from django.db import connection

from pickups.kernel import clock
from pickups.kernel.problems import Code, Problem
from pickups.kernel.wire import Fault, Malformed, shown, storable
from pickups.sync import registry
from pickups.sync.models import Feed, FeedState, Incarnation, Operation, Photo
from pickups.sync.wire import Outcome, PullPage, Row


class Position(NamedTuple):
    """The last row read. What was dropped before the transaction `since` is no news to the phone:
    it began to read the scope only after that."""

    xid: int
    seq: int
    since: int


START = Position(0, 0, 0)

_PAGE = """
WITH seen AS MATERIALIZED (
       SELECT pg_snapshot_xmin(pg_current_snapshot()) AS xmin, horizon FROM sync_feed_state),
     at AS (SELECT * FROM unnest(%s::text[], %s::xid8[], %s::bigint[]) k(scope, xid, seq))
SELECT seen.xmin::text, seen.horizon::text,
       f.scope, f.entity, f.uid, f.version, f.gone, f.xid::text, f.seq
FROM seen LEFT JOIN LATERAL (
  SELECT r.* FROM at CROSS JOIN LATERAL (
    SELECT * FROM sync_feed f
    WHERE f.scope = at.scope AND (f.xid, f.seq) > (at.xid, at.seq) AND f.xid < seen.xmin
    ORDER BY f.xid, f.seq LIMIT %s) r
  ORDER BY r.xid, r.seq LIMIT %s) f ON true
ORDER BY f.xid, f.seq
"""


@dataclass(frozen=True)
class Cursor:
    """How far a phone has read: the epoch, and a position for each of its scope keys."""

    epoch: UUID
    at: dict[str, Position]

    def text(self) -> str:
        """The cursor as the phone keeps it: opaque."""
        plain = {"e": str(self.epoch), "k": {k: list(map(str, p)) for k, p in self.at.items()}}
        return base64.urlsafe_b64encode(json.dumps(plain).encode()).decode()


def read_cursor(text: str) -> Cursor:
    """A cursor that we once gave; raises Malformed for anything else."""
    try:
        plain = json.loads(base64.urlsafe_b64decode(text.encode()))
        storable(plain)  # its keys are said again, in `forget`
        at = {str(k): Position(*map(_xid, p)) for k, p in plain["k"].items()}
        return Cursor(UUID(plain["e"]), at)
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
        raise Malformed(Fault("cursor", shown(text), "a cursor that this server gave")) from None


def state() -> FeedState:
    """The one row about the feed; made where it is missing."""
    row, _ = FeedState.objects.get_or_create(id=1, defaults={"horizon": "0"})
    return row


def _xid(value: object) -> int:
    number = int(str(value))
    if not 0 <= number < 2**63:
        raise ValueError(value)
    return number


def page(*, scopes: Sequence[str], cursor: str | None, limit: int) -> PullPage:
    """The next rows for these scope keys.

    Raises Problem: epoch_changed for a cursor of another epoch, past_horizon for one older than
    the drops that were purged; Malformed for a cursor that is not ours.
    """
    known = state()
    old = read_cursor(cursor) if cursor else Cursor(known.epoch, {})
    if old.epoch != known.epoch:
        raise Problem(Code.EPOCH_CHANGED)
    at = {scope: old.at.get(scope, START) for scope in scopes}
    with connection.cursor() as c:
        c.execute(
            _PAGE,
            [
                list(at),
                [str(p.xid) for p in at.values()],
                [p.seq for p in at.values()],
                limit,
                limit,
            ],
        )
        found = c.fetchall()
    xmin, horizon = found[0][:2]
    if any(p != START and max(p.xid, p.since) < int(horizon) for p in at.values()):
        raise Problem(Code.PAST_HORIZON)
    found = [row[2:] for row in found if row[2] is not None]
    at = {scope: p._replace(since=p.since or int(xmin)) for scope, p in at.items()}
    for scope, _, _, _, _, xid, seq in found:
        at[scope] = at[scope]._replace(xid=int(xid), seq=seq)
    if len(found) < limit:  # all below xmin was seen; numbers begin at 1
        at = {scope: Position(int(xmin), 0, int(xmin)) for scope in at}
    return PullPage(
        server_time=clock.now(),
        epoch=known.epoch,
        cursor=Cursor(known.epoch, at).text(),
        horizon=xmin,
        more=len(found) == limit,
        rows=_rows(found),
        forget=sorted(set(old.at) - set(scopes)),
    )


def _rows(found: Sequence[tuple[Any, ...]]) -> list[Row]:
    """Bodies are read after the page: they may be newer than the version, never older."""
    wanted: dict[str, list[UUID]] = {}
    for _, entity, uid, _, gone, _, _ in found:
        if not gone:
            wanted.setdefault(entity, []).append(uid)
    bodies = {entity: registry.bodies(entity, uids) for entity, uids in wanted.items()}
    rows = []
    for scope, entity, uid, version, gone, _, _ in found:
        body = None if gone else bodies[entity].get(uid)
        rows.append(Row(scope, entity, str(uid), version, gone=body is None, body=body))
    return rows


def versions(scope: str, entity: str, uids: Iterable[UUID]) -> dict[UUID, int]:
    """What these rows were last told as, also those that are gone."""
    rows = Feed.objects.filter(scope=scope, entity=entity, uid__in=list(uids))
    return dict(rows.values_list("uid", "version"))


def feed_age_s() -> float:
    """Seconds since the oldest transaction that still holds the feed back began; 0 where none."""
    with connection.cursor() as c:
        c.execute(
            "SELECT coalesce(max(extract(epoch FROM clock_timestamp() - xact_start)), 0)"
            " FROM pg_stat_activity WHERE backend_xid IS NOT NULL AND pid <> pg_backend_pid()"
        )
        return float(c.fetchone()[0])


def missing_photos(hashes: Sequence[str]) -> list[str]:
    """Which of these photos have not arrived."""
    here = set(Photo.objects.filter(sha256__in=hashes).values_list("sha256", flat=True))
    return sorted(set(hashes) - here)


def gaps(device: UUID) -> list[tuple[UUID, int]]:
    """Outboxes of a device that skipped numbers: (incarnation, how many are missing)."""
    rows = Incarnation.objects.filter(device=device).order_by("first_at")
    return [(r.uid, r.last_sequence - r.received) for r in rows if r.last_sequence > r.received]


def held(limit: int = 200) -> list[Operation]:
    """Operations that could not be applied yet, oldest first."""
    return list(
        Operation.objects.filter(outcome=Outcome.HELD).order_by("recorded_at", "id")[:limit]
    )
