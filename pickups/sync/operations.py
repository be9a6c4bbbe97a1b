"""Operations as they are kept: known ones found again, new ones numbered and written down.

Everything here runs in the transaction of a push (push.py) or of a retry, under the device's
lock. An operation is written once; only a held one changes, when it is tried again.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from django.db import connection

from pickups.kernel.bulk import array, copy_in
from pickups.kernel.wire import Malformed
from pickups.people import services as people
from pickups.people.models import Device
from pickups.questions import services as questions
from pickups.questions.rules import Kind as Question
from pickups.sync import batch
from pickups.sync.models import Incarnation, Operation
from pickups.sync.rules import Done, Sender
from pickups.sync.wire import Envelope, Outcome


@dataclass(slots=True)
class Item:
    """One operation on its way through a push."""

    raw: bytes
    envelope: Envelope
    hash: bytes
    done: Done | None = None
    repeat: bool = False
    sender: Sender | None = None
    was: str = ""
    position: str = ""
    sequence: int | None = None

    @property
    def retried(self) -> bool:
        """Held once, tried again: it keeps the sender that it came from."""
        return self.sender is not None

    @property
    def version_key(self) -> tuple[str, int]:
        """By which its command is found."""
        return (self.envelope.kind, self.envelope.version)


def without_repeats(device: UUID, items: list[Item]) -> list[Item]:
    """Answer what was answered before; return what is new (or held and to be tried again)."""
    with connection.cursor() as c:
        c.execute(
            "SELECT id, device_id, hash, outcome, code, position::text FROM sync_operation"
            " WHERE id = ANY(%s::uuid[])",
            [array(i.envelope.id for i in items)],
        )
        seen = {row[0]: row[1:] for row in c.fetchall()}
    fresh = []
    for item in items:
        known = seen.get(item.envelope.id)
        if known is None or item.retried:
            fresh.append(item)
            continue
        owner, fingerprint, outcome, code, position = known
        if owner != device or bytes(fingerprint) != item.hash:
            item.done = Done(Outcome.REFUSED, "id_reused")
        else:
            item.done, item.repeat = Done(Outcome(outcome), code), True
            item.position = position
    return fresh


def freed_by(ids: list[UUID], at: datetime) -> list[Item]:
    """Held operations that wait for these, and those that wait for them in turn."""
    found: list[UUID] = []
    known = ids
    while ids:
        with connection.cursor() as c:
            c.execute(
                "SELECT id FROM sync_operation"
                " WHERE awaits = ANY(%s::uuid[]) AND NOT id = ANY(%s::uuid[])",
                [array(ids), array([*known, *found])],
            )
            ids = [row[0] for row in c.fetchall()]
        found += ids
    return stored(found, at) if found else []


def stored(ids: Sequence[UUID], at: datetime) -> list[Item]:
    """Held operations as items again, in the order in which they came, from their own senders."""
    items = []
    rows = Operation.objects.filter(id__in=list(ids), outcome=Outcome.HELD).exclude(raw=None)
    for row in rows.select_related("device").order_by("recorded_at", "id"):
        raw = bytes(row.raw or b"")
        try:
            envelope, fingerprint = batch.open_operation(raw)
        except Malformed:  # taken by a release with wider bounds: it stays held, for a person
            continue
        sender = Sender(row.device_id, row.device.site_id, row.skew_ms, at)
        items.append(Item(raw, envelope, fingerprint, sender=sender, was=row.code))
    return items


def ended(item: Item) -> bool:
    """Whether its answer is one that stands: not held."""
    return item.done is not None and item.done.outcome is not Outcome.HELD


def number(device: Device, new: list[Item]) -> list[questions.Ask]:
    """Give each new operation its number; a number used before is a question, not a loss."""
    asks: list[questions.Ask] = []
    wanted = [(i.envelope.incarnation, i.envelope.sequence) for i in new]
    with connection.cursor() as c:
        c.execute(
            "SELECT o.incarnation, o.sequence FROM sync_operation o"
            " JOIN unnest(%s::uuid[], %s::bigint[]) w(i, s)"
            " ON o.device_id = %s AND o.incarnation = w.i AND o.sequence = w.s",
            [array(w[0] for w in wanted), array(w[1] for w in wanted), device.uid],
        )
        taken = set(c.fetchall())
    for item, number in zip(new, wanted, strict=True):
        if number in taken:
            facts = {"operation": str(item.envelope.id), "sequence": number[1]}
            subject = f"device:{device.uid}"
            asks.append(questions.Ask(Question.SEQUENCE_TAKEN, subject, facts))
        else:
            item.sequence = number[1]
            taken.add(number)
    return asks


def write(device: UUID, fresh: list[Item], waiting: list[Item], skew_ms: int, at: datetime) -> None:
    """Write new operations with their answers; bring held ones that were tried up to date."""
    with connection.cursor() as c:
        c.execute("SELECT pg_current_xact_id()::text")
        position = c.fetchone()[0]
    rows = []
    for item in fresh:
        assert item.done is not None
        item.position = position
        e = item.envelope
        raw = None if ended(item) else item.raw
        if not item.retried:
            rows.append((e.id, device, e.incarnation, item.sequence, e.kind, e.version, item.hash,
                         item.done.outcome.value, item.done.code, item.done.awaits, raw, skew_ms,
                         at, position))  # fmt: skip
    copy_in(
        "sync_operation",
        ("id", "device_id", "incarnation", "sequence", "kind", "version", "hash", "outcome",
         "code", "awaits", "raw", "skew_ms", "recorded_at", "position"),
        rows,
    )  # fmt: skip
    for item in (i for i in (*fresh, *waiting) if i.retried):
        assert item.done is not None
        now = (item.done.outcome.value, item.done.code, item.done.awaits)
        with connection.cursor() as c:
            c.execute(
                "UPDATE sync_operation SET outcome = %s, code = %s, awaits = %s,"
                " raw = CASE WHEN %s THEN NULL ELSE raw END, position = pg_current_xact_id()"
                " WHERE id = %s AND outcome = 'held'"
                " AND (outcome, code, awaits) IS DISTINCT FROM (%s, %s, %s::uuid)",
                [*now, ended(item), item.envelope.id, *now],
            )


def count(device: Device, fresh: list[Item], at: datetime, skew_ms: int) -> None:
    """The last writes of a push: how far each outbox has come, when the device was seen."""
    first = not Incarnation.objects.filter(device=device).exists()
    per: dict[UUID, list[int]] = {}
    for item in fresh:
        numbers = per.setdefault(item.envelope.incarnation, [])
        if item.sequence is not None:  # a number used twice fills no gap
            numbers.append(item.sequence)
    for uid, numbers in sorted(per.items()):
        with connection.cursor() as c:
            c.execute(
                "INSERT INTO sync_incarnation AS i"
                " (uid, device_id, first_at, last_sequence, received)"
                " VALUES (%s, %s, %s, %s, %s) ON CONFLICT (device_id, uid) DO UPDATE SET"
                " last_sequence = greatest(i.last_sequence, EXCLUDED.last_sequence),"
                " received = i.received + EXCLUDED.received RETURNING xmax = 0",
                [uid, device.uid, at, max(numbers, default=0), len(numbers)],
            )
            new = c.fetchone()[0]
        if new and not first:
            facts = {"incarnation": str(uid)}
            ask = questions.Ask(Question.NEW_INCARNATION, f"device:{device.uid}", facts)
            questions.ask([ask], at=at)
    people.mark_seen(uid=device.uid, at=at, skew_ms=skew_ms)
