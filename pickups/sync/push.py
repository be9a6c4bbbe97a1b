"""Applying a pushed batch: every answer of it is true, or none was given.

One transaction a batch, no savepoints. Locks: the device's row, then the lock keys of everything
the batch and the held operations that it frees will touch, sorted, before any insert. An
operation seen before is answered as before (`repeat`); the same id with another body or from
another device is refused without showing the first answer. A contradiction is a row, never an
exception; where our own code breaks, the batch is halved until the poison is alone, and that
operation is stored whole as held. A busy or lost database is no answer: the phone tries again.
"""

import logging
from datetime import datetime
from itertools import groupby
from uuid import UUID

from django.db import OperationalError, transaction

from pickups.kernel import clock, locks
from pickups.kernel.problems import Code, Problem
from pickups.kernel.wire import Fault, Malformed, read
from pickups.people import services as people
from pickups.questions import services as questions
from pickups.questions.rules import Kind as Question
from pickups.sync import batch, operations, registry
from pickups.sync.models import Operation
from pickups.sync.operations import Item
from pickups.sync.queries import missing_photos, state
from pickups.sync.rules import Done, Entered, Sender
from pickups.sync.wire import Answer, Envelope, Outcome, PushAnswer, PushRequest

log = logging.getLogger(__name__)


def push(*, device: UUID, request: PushRequest, by_office: bool = False) -> PushAnswer:
    """Apply a batch and answer each operation in its order; see the module's first lines.

    by_office: the office brings what the device had saved; one that is revoked is no bar then.
    """
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
    _apply(device, [i for p, i in items.items() if ids[i.envelope.id] == p], skew_ms, at,
           by_office=by_office)  # fmt: skip
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
            items = operations.stored(uids[start : start + limit], at)
            _apply(device, items, 0, at)
            freed += sum(1 for i in items if operations.ended(i))
    return freed


def _apply(
    device: UUID,
    items: list[Item],
    skew_ms: int,
    at: datetime,
    *,
    freeing: bool = True,
    by_office: bool = False,
) -> None:
    if not items:
        return
    try:
        with transaction.atomic(), questions.together(at=at):
            _transaction(device, items, skew_ms, at, freeing=freeing, by_office=by_office)
    except (OperationalError, Problem):
        raise  # locked, cancelled, away or revoked: nothing was recorded
    except Exception as e:
        _reset(items)
        if len(items) == 1 and freeing:  # perhaps what it frees is the poison
            _apply(device, items, skew_ms, at, freeing=False, by_office=by_office)
            return
        if len(items) == 1:
            log.exception("operation %s could not be applied", items[0].envelope.id)
            with transaction.atomic():
                _keep_poison(device, items[0], skew_ms, at, e)
            return
        middle = len(items) // 2
        for half in (items[:middle], items[middle:]):
            _apply(device, half, skew_ms, at, by_office=by_office)


def _reset(items: list[Item]) -> None:
    for item in items:
        item.done, item.repeat, item.position, item.sequence = None, False, "", None


def _transaction(
    device: UUID, items: list[Item], skew_ms: int, at: datetime, *, freeing: bool, by_office: bool
) -> None:
    row = people.lock_device(uid=device)
    if row.is_revoked and not by_office and not all(i.retried for i in items):
        raise Problem(Code.DEVICE_REVOKED)
    sender = Sender(row.uid, row.site_id, skew_ms, at)
    fresh = operations.without_repeats(device, items)
    waiting = operations.freed_by([i.envelope.id for i in fresh], at) if freeing else []
    todo = [*fresh, *waiting]
    entered = [_read(item, sender) for item in todo]
    keys: list[int] = []
    for item, e in zip(todo, entered, strict=True):
        if e is not None and (known := registry.command(*item.version_key)):
            keys.extend(known.keys(e.payload))
    locks.take(keys)
    new = [i for i in fresh if not i.retried]
    asks = operations.number(row, new)
    _run(todo, entered)
    operations.write(device, fresh, waiting, skew_ms, at)
    questions.ask([*asks, *_asks(todo)], at=at)
    freed = [f"operation:{i.envelope.id}" for i in todo if i.retried and operations.ended(i)]
    if freed:
        kinds = (Question.REFERENCE_UNSEEN, Question.VERSION_UNKNOWN, Question.KIND_UNKNOWN,
                 Question.COULD_NOT_APPLY, Question.PAYLOAD_NOT_UNDERSTOOD,
                 Question.RELEASE_NOT_ALLOWED)  # fmt: skip
        questions.settle(kinds=kinds, subjects=freed, how="applied by itself", at=at)
    if new:
        operations.count(row, new, at, skew_ms)


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
        here = {i.envelope.id for i, _ in ready if operations.ended(i)}
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


def _asks(todo: list[Item]) -> list[questions.Ask]:
    asks = []
    for item in todo:
        # Tried again and held for the same reason: a person may have settled that long ago.
        held = item.done is not None and item.done.outcome is Outcome.HELD
        if item.done is not None and held and item.done.code != item.was:
            facts = {"kind": item.envelope.kind, "version": item.envelope.version,
                     "by": str(item.envelope.by)}  # fmt: skip
            subject = f"operation:{item.envelope.id}"
            asks.append(questions.Ask(Question(item.done.code), subject, facts))
    return asks


def _keep_poison(device: UUID, item: Item, skew_ms: int, at: datetime, error: Exception) -> None:
    """Our own code broke on this one: keep it whole, ask, and let the others pass."""
    row = people.lock_device(uid=device)
    if not operations.without_repeats(device, [item]):
        return
    item.done = Done(Outcome.HELD, "could_not_apply")
    asks = [] if item.retried else operations.number(row, [item])
    operations.write(device, [item], [], skew_ms, at)
    facts = {"kind": item.envelope.kind, "error": type(error).__name__}
    subject = f"operation:{item.envelope.id}"
    questions.ask([*asks, questions.Ask(Question.COULD_NOT_APPLY, subject, facts)], at=at)
    if not item.retried:
        operations.count(row, [item], at, skew_ms)


def _photos(envelope: Envelope) -> list[str]:
    hashes = envelope.payload.get("photos")
    named = [*hashes] if isinstance(hashes, list) else []
    return [h for h in (*named, envelope.payload.get("signature")) if isinstance(h, str)]


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
