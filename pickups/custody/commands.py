"""Operations from a device, as the sync hands them over: parse, lock, record, answer.

Each command answers every operation; none raises for what a driver has told.
"""

from collections.abc import Iterable, Sequence
from uuid import UUID

from pickups.custody import services, visits
from pickups.custody.fold import Fact, Kind
from pickups.custody.ledger import Told
from pickups.custody.wire import FinishPickup1, PickUp1, Withdraw1
from pickups.kernel.clock import rfc3339
from pickups.kernel.locks import label_key, pickup_key
from pickups.sync.rules import Command, Done, Entered
from pickups.sync.wire import Outcome


def _record(entered: Sequence[Entered], told: Sequence[Told]) -> list[Done]:
    sender = entered[0].sender
    codes = services.record(told, site=sender.site, at=sender.at)
    return [
        Done(Outcome.CONTESTED, codes[e.envelope.id]) if e.envelope.id in codes else Done()
        for e in entered
    ]


def _told(e: Entered, fact: Fact) -> Told:
    sender = e.sender
    return Told(fact, e.envelope.happened_at, e.envelope.by, sender.device, sender.skew_ms)


def _pick_up(entered: Sequence[Entered]) -> list[Done]:
    return _record(entered, [_told(e, _picked_up(e, e.payload)) for e in entered])


def _picked_up(e: Entered, p: PickUp1) -> Fact:
    told = {
        "at": rfc3339(e.envelope.happened_at),
        "pickup": str(p.pickup),
        "yard": str(p.yard),
        "tin": p.tin,
        "size": p.size,
        "tread_32nds": p.tread_32nds,
        "note": p.note,
        "photos": p.photos,
    }
    if p.corrects is not None:
        told["original_label"] = p.corrects.label
    return Fact(
        uid=e.envelope.id,
        kind=Kind.PICKED_UP,
        label=p.label,
        stamp=e.envelope.stamp,
        corrects=p.corrects.fact if p.corrects else None,
        holder="" if p.corrects else f"person:{e.envelope.by}",
        told={k: v for k, v in told.items() if v},
    )


def _pick_up_keys(p: PickUp1) -> Iterable[int]:
    yield pickup_key(p.pickup)
    yield label_key(p.label)
    if p.corrects is not None:
        yield label_key(p.corrects.label)


def _withdraw(entered: Sequence[Entered]) -> list[Done]:
    return _record(entered, [_told(e, _withdrawn(e, e.payload)) for e in entered])


def _withdrawn(e: Entered, p: Withdraw1) -> Fact:
    return Fact(
        uid=e.envelope.id,
        kind=Kind.WITHDRAWN,
        label=p.withdraws.label,
        stamp=e.envelope.stamp,
        corrects=p.withdraws.fact,
        told={"at": rfc3339(e.envelope.happened_at), "reason": p.reason},
    )


def _withdraw_keys(p: Withdraw1) -> Iterable[int]:
    return (pickup_key(p.pickup), label_key(p.withdraws.label))


def _finish(entered: Sequence[Entered]) -> list[Done]:
    return [_finish_one(e, e.payload) for e in entered]


def _finish_one(e: Entered, p: FinishPickup1) -> Done:
    casings = list(dict.fromkeys(p.casings))  # one named twice is still one casing
    unseen: UUID | None = visits.first_unseen(casings)
    if unseen is not None:
        return Done(Outcome.HELD, "reference_unseen", unseen)
    code = visits.finish(
        uid=p.pickup,
        yard=p.yard,
        casings=casings,
        customer_count=p.customer_count,
        note=p.note,
        finished_at=e.envelope.happened_at,
        by=e.envelope.by,
        site=e.sender.site,
        at=e.sender.at,
    )
    return Done(Outcome.CONTESTED, code) if code else Done()


PICK_UP_1 = Command(PickUp1, _pick_up_keys, _pick_up)
WITHDRAW_1 = Command(Withdraw1, _withdraw_keys, _withdraw)
FINISH_PICKUP_1 = Command(FinishPickup1, lambda p: (pickup_key(p.pickup),), _finish)
