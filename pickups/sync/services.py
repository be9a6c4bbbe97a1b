"""Writes of the feed: what is new in a scope, what has left it, a new epoch after a restore.

The version of a row is bumped by its owner under the row's lock; here it only ever grows.
"""

import uuid
from collections.abc import Iterable
from datetime import datetime, timedelta
from uuid import UUID

import msgspec
from django.conf import settings
from django.db import connection, transaction

from pickups.journal.models import Entry
from pickups.kernel.bulk import array
from pickups.sync import registry
from pickups.sync.models import Operation
from pickups.sync.rules import Change
from pickups.sync.wire import Outcome


def put(changes: Iterable[Change]) -> None:
    """Bring rows of the feed up to date in the open transaction, in one order, one statement."""
    unique = {(c.scope, c.entity, c.uid): c for c in changes}
    if not unique:
        return
    rows = [unique[key] for key in sorted(unique)]
    keys = list(dict.fromkeys((r.scope, r.entity) for r in rows))  # few, where rows are many
    place = {key: n for n, key in enumerate(keys, start=1)}
    with connection.cursor() as c:
        c.execute(
            "INSERT INTO sync_feed AS f (scope, entity, uid, version, gone)"
            " SELECT (%s::text[])[r.key], (%s::text[])[r.key], r.uid, r.version, r.gone = 1"
            " FROM unnest(%s::int[], %s::uuid[], %s::bigint[], %s::int[])"
            " r(key, uid, version, gone)"
            " ON CONFLICT (scope, entity, uid) DO UPDATE"
            " SET version = greatest(f.version, EXCLUDED.version),"
            # An older word that comes late (a reaction run again) changes nothing.
            " gone = CASE WHEN EXCLUDED.version >= f.version THEN EXCLUDED.gone ELSE f.gone END",
            [
                [scope for scope, _ in keys],
                [entity for _, entity in keys],
                array(place[r.scope, r.entity] for r in rows),
                array(r.uid for r in rows),
                array(r.version for r in rows),
                array(int(r.gone) for r in rows),
            ],
        )


def move(change: Change, *, old_scope: str) -> None:
    """A row leaves one scope and enters another, in one transaction."""
    put([Change(old_scope, change.entity, change.uid, change.version, gone=True), change])


def renew_epoch() -> UUID:
    """A new epoch, and every row of the feed stamped anew; called by restore, and only by it.

    After a dump and restore the counter of transactions begins again: rows would carry ids that
    no snapshot reaches, and phones would wait for ever. Phones that hold the old epoch are told
    to start afresh and to push what they sent in the last 30 days again.
    """
    epoch = uuid.uuid4()
    with transaction.atomic(), connection.cursor() as c:
        c.execute("UPDATE sync_feed_state SET epoch = %s, horizon = '0'::xid8", [epoch])
        c.execute("UPDATE sync_feed SET version = version")  # the trigger stamps xid and seq
        # What phones still hold points at positions of the old counter: seen by now.
        c.execute("UPDATE sync_operation SET position = pg_current_xact_id()")
    return epoch


def purge_gone(*, before: str) -> int:
    """Forget drops before a transaction id; phones whose cursor is older start afresh (410).

    What a phone cannot have seen yet stays, whatever the id.
    """
    with transaction.atomic(), connection.cursor() as c:
        c.execute(
            "UPDATE sync_feed_state SET horizon ="
            " greatest(horizon, least(%s::xid8, pg_snapshot_xmin(pg_current_snapshot())))",
            [before],
        )
        c.execute(
            "DELETE FROM sync_feed f USING sync_feed_state s WHERE f.gone AND f.xid < s.horizon"
        )
        return int(c.rowcount)


def publish(entry: Entry) -> None:
    """Reaction: put a row that an app below this one speaks of into the feed. Safe to repeat."""
    told = entry.body
    with transaction.atomic():
        gone = told.get("gone", False)
        put([Change(told["scope"], told["entity"], UUID(told["uid"]), told["version"], gone)])


def erase_typed(*, at: datetime) -> dict[str, int]:
    """What a person typed into an operation that is held still, and was kept long enough, is erased
    in it: how many of each kind. It is found again by its id and its hash, which stay."""
    erased: dict[str, int] = {}
    for kind, (field, words) in registry.typed().items():
        before = at - timedelta(days=settings.KEPT_DAYS[words])
        held = Operation.objects.filter(outcome=Outcome.HELD, kind=kind, recorded_at__lt=before)
        with transaction.atomic():
            for row in held.exclude(raw=None).select_for_update():
                told = msgspec.json.decode(bytes(row.raw or b""))
                if told["payload"].get(field):
                    told["payload"][field] = ""
                    row.raw = msgspec.json.encode(told)
                    row.save(update_fields=["raw"])
                    erased[words] = erased.get(words, 0) + 1
    return erased


def purge(*, older_than: datetime) -> int:
    """Forget drops from before a day; which transaction that was is told by the operations."""
    with connection.cursor() as c:
        c.execute(
            "SELECT max(position)::text FROM sync_operation WHERE recorded_at < %s", [older_than]
        )
        before = c.fetchone()[0]
    return purge_gone(before=before) if before else 0
