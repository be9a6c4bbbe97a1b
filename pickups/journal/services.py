"""Write to the journal; drain what it owes. The poke to the broker never fails a caller.

Reactions are registered once, at start-up, by config; this module knows none of them.
Lock order: delivery rows are claimed last and in a transaction of their own (SKIP LOCKED).
"""

import logging
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from django.db import connection, transaction
from psycopg import sql

from pickups.journal.models import Delivery, Entry
from pickups.kernel import clock
from pickups.kernel.bulk import jsonb

log = logging.getLogger(__name__)

CLAIM = timedelta(minutes=2)
TRIES = 12 + 7 * 24
"""Twelve tries within about an hour, then hourly for a week; then a person has to look."""
Reaction = Callable[[Entry], None]

_reactions: dict[str, dict[str, Reaction]] = {}
_pokes: list[Callable[[], object]] = []


@dataclass(frozen=True)
class Note:
    """What is to be written: kind, subject (such as `pickup:<uid>`), body of ids and codes."""

    kind: str
    subject: str
    body: Mapping[str, Any]


class TryAgain(Exception):
    """Somebody else is at the same thing just now: no fault, the reaction is run again later."""


def install(reactions: Mapping[str, Mapping[str, Reaction]], poke: Callable[[], object]) -> None:
    """Called by config once: which reactions each kind of entry owes, and how to poke a worker."""
    _reactions.clear()
    _reactions.update({kind: dict(table) for kind, table in reactions.items()})
    _pokes[:] = [poke]


def record(notes: Iterable[Note], *, at: datetime) -> None:
    """Write entries and the delivery rows that they owe, in the open transaction.

    One statement for all; a worker is poked once, after the commit. A broker that is down is
    logged and forgotten: beat sweeps what is owed.
    """
    notes = list(notes)
    if not notes:
        return
    told: list[Any] = [v for n in notes for v in (n.kind, n.subject, at, jsonb(dict(n.body)))]
    values = sql.SQL(", ").join([sql.SQL("(%s, %s, %s, %s)")] * len(notes))
    with connection.cursor() as c:
        c.execute(
            sql.SQL(
                "INSERT INTO journal_entry (kind, subject, recorded_at, body)"
                " VALUES {} RETURNING id"
            ).format(values),
            told,
        )
        ids = [row[0] for row in c.fetchall()]
        pairs = [
            (i, name)
            for i, n in zip(ids, notes, strict=True)
            for name in _reactions.get(n.kind, ())
        ]
        if pairs:
            c.executemany(
                "INSERT INTO journal_delivery"
                " (entry_id, reaction, not_before, tries, last_error) VALUES (%s, %s, %s, 0, '')",
                [(i, name, at) for i, name in pairs],
            )
    if pairs and not any(hook[1] is _poke_worker for hook in connection.run_on_commit):
        transaction.on_commit(_poke_worker, robust=True)


def _poke_worker() -> None:
    for poke in _pokes:
        try:
            poke()
        except Exception as e:  # noqa: BLE001  a dead broker must not fail what is committed
            log.warning("could not poke a worker (%s); the sweep will find it", type(e).__name__)


def drain(*, limit: int = 100) -> int:
    """Run what is owed and due; returns how many reactions were run. Safe to run many at once.

    A reaction runs outside any transaction of ours: it opens its own and may talk to the world.
    A failure is kept on its row and tried again later, ever more slowly, then hourly for a week.
    """
    ran = 0
    while ran < limit and (delivery := _claim()) is not None:
        _run(delivery)
        ran += 1
    return ran


def retry_given_up() -> int:
    """Owe again what was given up; for after a long outage. Returns how many there were."""
    return Delivery.objects.exclude(gave_up_at=None).update(
        gave_up_at=None, claimed_until=None, tries=0, not_before=clock.now()
    )


def _claim() -> Delivery | None:
    """One at a time: a claim that waits its turn must not run out, nor count as a try."""
    at = clock.now()
    with transaction.atomic():
        due = Delivery.objects.filter(done_at=None, gave_up_at=None, not_before__lte=at).exclude(
            claimed_until__gt=at
        )
        # A worker that dies each time never comes to say so: the claims run out on their own.
        due.filter(tries__gte=TRIES).update(gave_up_at=at, last_error="its worker died each time")
        owed = due.order_by("not_before", "id").select_for_update(skip_locked=True, of=("self",))
        delivery = owed.select_related("entry").first()
        if delivery is None:
            return None
        delivery.claimed_until, delivery.tries = at + CLAIM, delivery.tries + 1
        delivery.save(update_fields=["claimed_until", "tries"])
    return delivery


def _run(delivery: Delivery) -> None:
    mine = Delivery.objects.filter(id=delivery.id, tries=delivery.tries)
    reaction = _reactions.get(delivery.entry.kind, {}).get(delivery.reaction)
    try:
        if reaction is None:
            raise LookupError(f"no reaction {delivery.reaction} for {delivery.entry.kind}")
        reaction(delivery.entry)
    except Exception as e:
        at = clock.now()
        if isinstance(e, TryAgain) and delivery.tries < TRIES:
            log.info("reaction %s on entry %s waits: %s", delivery.reaction, delivery.entry_id, e)
        else:
            log.exception("reaction %s on entry %s failed", delivery.reaction, delivery.entry_id)
        wait = timedelta(seconds=min(3600, 2**delivery.tries))
        mine.update(
            claimed_until=None,
            not_before=at + wait,
            gave_up_at=at if delivery.tries >= TRIES else None,
            last_error=f"{type(e).__name__}: {e}"[:500],
        )
    else:
        mine.update(claimed_until=None, done_at=clock.now(), last_error="")
