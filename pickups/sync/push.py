"""Applying a pushed batch: every answer of it is true, or none was given.

One transaction a batch, no savepoints. Locks: the device's row, then the lock keys of everything
the batch and the held operations that it frees will touch, sorted, before any insert. An
operation seen before is answered as before (`repeat`); the same id with another body or from
another device is refused without showing the first answer. A contradiction is a row, never an
exception; where our own code breaks, the batch is halved until the poison is alone, and that
operation is stored whole as held. A busy or lost database is no answer: the phone tries again.
"""

import logging
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby
from uuid import UUID

from django.db import OperationalError, connection, transaction

from pickups.kernel import clock, locks
from pickups.kernel.bulk import copy_in
from pickups.kernel.problems import Code, Problem
from pickups.kernel.wire import Fault, Malformed, read
from pickups.people import services as people
from pickups.people.models import Device
from pickups.questions import services as questions
from pickups.questions.rules import Kind as Question
from pickups.sync import batch, registry
from pickups.sync.models import Incarnation, Operation
from pickups.sync.queries import missing_photos, state
from pickups.sync.rules import Done, Entered, Sender
from pickups.sync.wire import Answer, Envelope, Outcome, PushAnswer, PushRequest

log = logging.getLogger(__name__)


@dataclass(slots=True)
class Item:
    """One operation on its way through a push."""

    raw: bytes
    envelope: Envelope
    hash: bytes
    done: Done | None = None
    repeat: bool = False
    sender: Sender | None = None
    position: str = ""
    sequence: int | None = None

    @property
    def retried(self) -> bool:
        """Held once, tried again: it keeps the sender that it came from."""
        return self.sender is not None

    @property
    def version_key(self) -> tuple[str, int]:
        return (self.envelope.kind, self.envelope.version)


def push(*, device: UUID, request: PushRequest) -> PushAnswer:
    """Apply a batch and answer each operation in its order; see the module's first lines."""
    at = clock.now()
    answers: list[Answer | None] = []
    items: dict[int, Item] = {}
    ids: dict[UUID, int] = {}
    for raw in request.operations:
        place = len(answers)
        try:
            envelope, fingerprint = batch.open_operation(bytes(raw))
        except Malformed as e:
            answers.append(_refusal("malformed", batch.readable_id(bytes(raw)), e.fault))
            continue
        answers.append(None)
        first = ids.setdefault(envelope.id, place)
        if first != place and items[first].hash != fingerprint:
            answers[place] = _reused(envelope.id)
            continue
        items[place] = Item(bytes(raw), envelope, fingerprint)
    skew_ms = clock.to_ms(request.sent_at) - clock.to_ms(at)
    _apply(device, [i for p, i in items.items() if ids[i.envelope.id] == p], skew_ms, at)
    for place, item in items.items():
        applied = items[ids[item.envelope.id]]
        answers[place] = _answer(applied, repeat=applied.repeat or applied is not item)
    photos = [h for i in items.values() for h in _photos(i.envelope)]
    return PushAnswer(
        server_time=at,
        epoch=state().epoch,
        answers=[a for a in answers if a is not None],
        missing_photos=missing_photos(photos) if photos else [],
    )


def retry_held(*, limit: int = 500, everything: bool = False) -> int:
    """Try held operations again, `limit` in a transaction; returns how many were freed.

    The sweep tries those whose awaited operation has arrived meanwhile; `everything`, after a
    release, also those whose kind or version was unknown or whose payload was not understood.
    """
    rows = Operation.objects.filter(outcome=Outcome.HELD)
    if not everything:
        rows = rows.filter(awaits__in=Operation.objects.values("id"))
    pairs = rows.order_by("device_id", "recorded_at", "id").values_list("device_id", "id")
    freed = 0
    for device, mine in groupby(list(pairs), key=lambda pair: pair[0]):
        uids = [uid for _, uid in mine]
        for start in range(0, len(uids), limit):
            at = clock.now()
            items = _stored(uids[start : start + limit], at)
            _apply(device, items, 0, at)
            freed += sum(1 for i in items if _ended(i))
    return freed


def _apply(
    device: UUID, items: list[Item], skew_ms: int, at: datetime, *, freeing: bool = True
) -> None:
    if not items:
        return
    try:
        with transaction.atomic(), questions.together(at=at):
            _transaction(device, items, skew_ms, at, freeing=freeing)
    except (OperationalError, Problem):
        raise  # locked, cancelled, away or revoked: nothing was recorded
    except Exception as e:
        _reset(items)
        if len(items) == 1 and freeing:  # perhaps what it frees is the poison
            _apply(device, items, skew_ms, at, freeing=False)
            return
        if len(items) == 1:
            log.exception("operation %s could not be applied", items[0].envelope.id)
            with transaction.atomic():
                _keep_poison(device, items[0], skew_ms, at, e)
            return
        middle = len(items) // 2
        _apply(device, items[:middle], skew_ms, at)
        _apply(device, items[middle:], skew_ms, at)


def _reset(items: list[Item]) -> None:
    for item in items:
        item.done, item.repeat, item.position, item.sequence = None, False, "", None


def _transaction(
    device: UUID, items: list[Item], skew_ms: int, at: datetime, *, freeing: bool
) -> None:
    row = people.lock_device(uid=device)
    if row.is_revoked and not all(i.retried for i in items):
        raise Problem(Code.DEVICE_REVOKED)
    sender = Sender(row.uid, row.site_id, skew_ms, at)
    fresh = _without_repeats(device, items)
    waiting = _freed_by([i.envelope.id for i in fresh], at) if freeing else []
    todo = [*fresh, *waiting]
    entered = [_read(item, sender) for item in todo]
    keys: list[int] = []
    for item, e in zip(todo, entered, strict=True):
        if e is not None and (known := registry.command(*item.version_key)):
            keys.extend(known.keys(e.payload))
    locks.take(keys)
    new = [i for i in fresh if not i.retried]
    asks = _sequences(row, new)
    _run(todo, entered)
    _write(device, fresh, waiting, skew_ms, at)
    questions.ask([*asks, *_asks(todo)], at=at)
    freed = [f"operation:{i.envelope.id}" for i in todo if i.retried and _ended(i)]
    if freed:
        kinds = (Question.REFERENCE_UNSEEN, Question.VERSION_UNKNOWN, Question.KIND_UNKNOWN,
                 Question.COULD_NOT_APPLY, Question.PAYLOAD_NOT_UNDERSTOOD)  # fmt: skip
        questions.settle(kinds=kinds, subjects=freed, how="applied by itself", at=at)
    if new:
        _count(row, new, at, skew_ms)


def _without_repeats(device: UUID, items: list[Item]) -> list[Item]:
    """Answer what was answered before; return what is new (or held and to be tried again)."""
    with connection.cursor() as c:
        c.execute(
            "SELECT id, device_id, hash, outcome, code, position::text FROM sync_operation"
            " WHERE id = ANY(%s)",
            [[i.envelope.id for i in items]],
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


def _freed_by(ids: list[UUID], at: datetime) -> list[Item]:
    """Held operations that wait for these, and those that wait for them in turn."""
    found: list[UUID] = []
    known = ids
    while ids:
        with connection.cursor() as c:
            c.execute(
                "SELECT id FROM sync_operation WHERE awaits = ANY(%s) AND NOT id = ANY(%s)",
                [ids, [*known, *found]],
            )
            ids = [row[0] for row in c.fetchall()]
        found += ids
    return _stored(found, at) if found else []


def _stored(ids: Sequence[UUID], at: datetime) -> list[Item]:
    """Held operations as items again, in the order in which they came, from their own senders."""
    items = []
    rows = Operation.objects.filter(id__in=list(ids), outcome=Outcome.HELD).exclude(raw=None)
    for row in rows.select_related("device").order_by("recorded_at", "id"):
        envelope, fingerprint = batch.open_operation(bytes(row.raw or b""))
        sender = Sender(row.device_id, row.device.site_id, row.skew_ms, at)
        items.append(Item(bytes(row.raw or b""), envelope, fingerprint, sender=sender))
    return items


def _read(item: Item, sender: Sender) -> Entered | None:
    """The payload as the struct of its kind and version, or None where it has to be held."""
    known = registry.command(*item.version_key)
    if known is None:
        code = "version_unknown" if registry.knows_kind(item.envelope.kind) else "kind_unknown"
        item.done = Done(Outcome.HELD, code)
        return None
    try:
        payload = read(item.envelope.payload, known.payload, "payload")
    except Malformed:
        item.done = Done(Outcome.HELD, "payload_not_understood")
        return None
    return Entered(item.envelope, payload, item.sender or sender)


def _run(todo: list[Item], entered: list[Entered | None]) -> None:
    """Apply all in the order entered; then, again, those that had waited for one behind them."""
    ready = [(i, e) for i, e in zip(todo, entered, strict=True) if e is not None]
    while ready:
        _run_once(ready)
        here = {i.envelope.id for i, _ in ready if _ended(i)}
        ready = [(i, e) for i, e in ready if i.done is not None and i.done.awaits in here]


def _run_once(ready: list[tuple[Item, Entered]]) -> None:
    """Runs of operations of one kind that follow each other go to their command together."""
    for key, run in groupby(ready, key=lambda pair: pair[0].version_key):
        pairs = list(run)
        known = registry.command(*key)
        assert known is not None
        done = known.apply([e for _, e in pairs])
        for (item, _), result in zip(pairs, done, strict=True):
            item.done = result


def _ended(item: Item) -> bool:
    return item.done is not None and item.done.outcome is not Outcome.HELD


def _sequences(device: Device, new: list[Item]) -> list[questions.Ask]:
    """Give each new operation its number; a number used before is a question, not a loss."""
    asks: list[questions.Ask] = []
    wanted = [(i.envelope.incarnation, i.envelope.sequence) for i in new]
    with connection.cursor() as c:
        c.execute(
            "SELECT o.incarnation, o.sequence FROM sync_operation o"
            " JOIN unnest(%s::uuid[], %s::bigint[]) w(i, s)"
            " ON o.device_id = %s AND o.incarnation = w.i AND o.sequence = w.s",
            [[w[0] for w in wanted], [w[1] for w in wanted], device.uid],
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


def _write(
    device: UUID, fresh: list[Item], waiting: list[Item], skew_ms: int, at: datetime
) -> None:
    with connection.cursor() as c:
        c.execute("SELECT pg_current_xact_id()::text")
        position = c.fetchone()[0]
    rows = []
    for item in fresh:
        assert item.done is not None
        item.position = position
        e = item.envelope
        raw = None if _ended(item) else item.raw
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
                [*now, _ended(item), item.envelope.id, *now],
            )


def _asks(todo: list[Item]) -> list[questions.Ask]:
    asks = []
    for item in todo:
        if item.done is not None and item.done.outcome is Outcome.HELD:
            facts = {"kind": item.envelope.kind, "version": item.envelope.version,
                     "by": str(item.envelope.by)}  # fmt: skip
            subject = f"operation:{item.envelope.id}"
            asks.append(questions.Ask(Question(item.done.code), subject, facts))
    return asks


def _count(device: Device, fresh: list[Item], at: datetime, skew_ms: int) -> None:
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
                " VALUES (%s, %s, %s, %s, %s) ON CONFLICT (uid) DO UPDATE SET"
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


def _keep_poison(device: UUID, item: Item, skew_ms: int, at: datetime, error: Exception) -> None:
    """Our own code broke on this one: keep it whole, ask, and let the others pass."""
    row = people.lock_device(uid=device)
    if not _without_repeats(device, [item]):
        return
    item.done = Done(Outcome.HELD, "could_not_apply")
    asks = [] if item.retried else _sequences(row, [item])
    _write(device, [item], [], skew_ms, at)
    facts = {"kind": item.envelope.kind, "error": type(error).__name__}
    subject = f"operation:{item.envelope.id}"
    questions.ask([*asks, questions.Ask(Question.COULD_NOT_APPLY, subject, facts)], at=at)
    if not item.retried:
        _count(row, [item], at, skew_ms)


def _photos(envelope: Envelope) -> list[str]:
    hashes = envelope.payload.get("photos")
    return [h for h in hashes if isinstance(h, str)] if isinstance(hashes, list) else []


def _refusal(code: str, uid: str | None, fault: Fault) -> Answer:
    return Answer(
        Outcome.REFUSED, uid, code=code, field=fault.field, value=fault.value, allowed=fault.allowed
    )


def _reused(uid: UUID) -> Answer:
    fault = Fault("id", str(uid), "an id that was never used for another operation")
    return _refusal("id_reused", str(uid), fault)


def _answer(item: Item, *, repeat: bool) -> Answer:
    assert item.done is not None
    if item.done.outcome is Outcome.REFUSED:
        return _reused(item.envelope.id)
    return Answer(
        item.done.outcome,
        str(item.envelope.id),
        repeat=repeat,
        position=item.position,
        code=item.done.code or None,
    )
