"""Operations from a device, as the sync hands them over: parse, lock, record, answer.

Each command answers every operation; none raises for what a driver has told.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any
from uuid import UUID

import msgspec

from pickups.custody import emptying, receipt_links, services, visit_lines, visits
from pickups.custody.fold import Fact, Kind
from pickups.custody.ledger import Told
from pickups.custody.wire import (
    CountScrap1,
    Deliver1,
    Deliver2,
    EmptyTrailer1,
    FinishDelivery1,
    FinishDelivery2,
    FinishDelivery3,
    FinishDelivery4,
    FinishDelivery5,
    FinishPickup1,
    FinishPickup2,
    FinishPickup3,
    FinishPickup4,
    FinishPickup5,
    HandOver1,
    LeaveHere1,
    PickUp1,
    PickUp2,
    PickUp3,
    PickUp4,
    Relabel1,
    Remind1,
    Withdraw1,
)
from pickups.kernel.clock import rfc3339
from pickups.kernel.locks import label_key, pickup_key
from pickups.people import services as people
from pickups.people.rules import Words
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


def _picked_up(e: Entered, p: PickUp1 | PickUp2 | PickUp3) -> Fact:
    told: dict[str, Any] = {
        "at": rfc3339(e.envelope.happened_at),
        "pickup": str(p.pickup),
        "yard": str(p.yard),
        "size": p.size,
        "note": p.note,
        "photos": p.photos,
    }
    told |= _seen(p) if isinstance(p, PickUp3) else {"tin": p.tin, "tread_32nds": p.tread_32nds}
    taker = f"person:{e.envelope.by}"
    if not isinstance(p, PickUp1):
        told |= _wanted(p)
        if p.store is not None:
            taker = f"site:{p.store}"
    if p.corrects is not None:
        told["original_label"] = p.corrects.label
    return Fact(
        uid=e.envelope.id,
        kind=Kind.PICKED_UP,
        label=p.label,
        stamp=e.envelope.stamp,
        corrects=p.corrects.fact if p.corrects else None,
        holder="" if p.corrects else taker,
        told={k: v for k, v in told.items() if v},
    )


_SEEN = ("line", "rating", "brand", "position", "wheel", "odometer", "odometer_in", "pulled_for",
         "fleet_brand", "complaint", "rim", "valve_out")  # fmt: skip
_BUILT = ("tins", "findings", "check", "sale")


def _promised(promised: msgspec.Struct) -> dict[str, Any]:
    """A promise as it is kept: instants as the wire writes them."""
    kept: dict[str, Any] = msgspec.to_builtins(promised)
    if at := getattr(promised, "forecast_at", None):
        kept["forecast_at"] = rfc3339(at)
    return kept


def _seen(p: PickUp3) -> dict[str, Any]:
    """What was seen of it, as it is kept; the first TIN and all depths in a row stand beside, as
    earlier versions told them."""
    told = {name: getattr(p, name) for name in _SEEN}
    told |= {name: msgspec.to_builtins(getattr(p, name)) for name in _BUILT}
    told |= {"treads_32nds": p.treads_32nds if any(p.treads_32nds) else []}
    told |= {"tin": p.tins[0].tin if p.tins else ""}
    told |= {"dual_with": p.dual_with} if isinstance(p, PickUp4) else {}
    return told | {"tread_32nds": [d for place in p.treads_32nds for d in place if d is not None]}


def _wanted(p: PickUp2 | PickUp3) -> dict[str, Any]:
    """What is to be done with it, and what was promised."""
    return {
        "store": str(p.store) if p.store else "",
        "work": p.work,
        "basis": p.basis,
        "tread_design": p.tread_design,
        "purchase_order": p.purchase_order,
        "unit": p.unit,
        "back_to": p.back_to,
        "promised": _promised(p.promised) if p.promised else None,
    }


def _pick_up_keys(p: PickUp1 | PickUp2 | PickUp3) -> Iterable[int]:
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


def _relabel(entered: Sequence[Entered]) -> list[Done]:
    return _record(entered, [_told(e, _relabelled(e, e.payload)) for e in entered])


def _relabelled(e: Entered, p: Relabel1) -> Fact:
    told = {"now": p.now, "why": p.why, "known_by": p.known_by, "photos": p.photos}
    return Fact(
        uid=e.envelope.id,
        kind=Kind.RELABELLED,
        label=p.label,
        stamp=e.envelope.stamp,
        told={"at": rfc3339(e.envelope.happened_at), **{k: v for k, v in told.items() if v}},
    )


def _remind(entered: Sequence[Entered]) -> list[Done]:
    said = {e.envelope.id: e.payload.said for e in entered}
    people.keep_words(said, kind=Words.REMINDER, at=entered[0].sender.at)
    return _record(entered, [_told(e, _reminded(e, e.payload)) for e in entered])


def _reminded(e: Entered, p: Remind1) -> Fact:
    """What was said stands apart, to be erased: the fact knows only that there was something."""
    told = {"step": p.step, "until": p.until, "by": str(e.envelope.by), "worded": bool(p.said)}
    return Fact(
        uid=e.envelope.id,
        kind=Kind.REMINDED,
        label=p.label,
        stamp=e.envelope.stamp,
        told={"at": rfc3339(e.envelope.happened_at), **{k: v for k, v in told.items() if v}},
    )


def _finish(entered: Sequence[Entered]) -> list[Done]:
    return [_finish_one(e, e.payload) for e in entered]


_FinishPickup = FinishPickup1 | FinishPickup2 | FinishPickup3 | FinishPickup4 | FinishPickup5
_WithLines = FinishPickup3 | FinishPickup4 | FinishPickup5
_FinishDelivery = (
    FinishDelivery1 | FinishDelivery2 | FinishDelivery3 | FinishDelivery4 | FinishDelivery5
)


def _finish_one(e: Entered, p: _FinishPickup) -> Done:
    lines = [*p.scrap, *p.left] if isinstance(p, _WithLines) else []
    unseen: UUID | None = visits.first_unseen([*p.casings, *lines])
    if unseen is not None:
        return Done(Outcome.HELD, "reference_unseen", unseen)
    told = {
        "visit": str(p.pickup),
        "casings": _listed(p.casings),
        "customer_count": p.customer_count,
        "note": p.note,
        "photos": p.photos,
    }
    signed = visits.UNSIGNED
    if not isinstance(p, FinishPickup1):
        told |= {"store": _text(p.store), "unsigned": p.unsigned, "shown": p.shown}
        signed = visits.Signed(p.signer, p.signature or "")
    if isinstance(p, _WithLines):
        told |= {"scrap": _listed(p.scrap), "left": _listed(p.left)}
    if isinstance(p, FinishPickup4 | FinishPickup5):
        told |= {
            "trailer": msgspec.to_builtins(p.trailer),
            "nobody_there": p.nobody_there,
            "signed_in": p.signed_in,
            "deposit_cents": p.deposit_cents,
            "deposit_note": p.deposit_note,
        }
    key = ""
    if isinstance(p, FinishPickup5):
        told["refused"], key = p.refused, p.receipt_key
    end = _ended(e, Kind.PICKUP_END, p.yard, told, signed)
    code = visits.finish(end, signed=signed, site=e.sender.site, at=e.sender.at)
    if key:
        receipt_links.keep(key, visit=p.pickup, at=e.sender.at)
    return Done(Outcome.CONTESTED, code) if code else Done()


def _listed(uids: Sequence[UUID]) -> list[str]:
    return [str(uid) for uid in dict.fromkeys(uids)]


def _text(uid: UUID | None) -> str:
    return str(uid) if uid else ""


def _ended(
    e: Entered, kind: Kind, yard: UUID, told: Mapping[str, object], signed: visits.Signed
) -> Told:
    """The end of a visit as a fact: under no label, with everything that was told; that somebody
    signed, but not who."""
    kept = {k: v for k, v in told.items() if v not in ("", None, [])}
    kept |= {"signed": True} if signed != visits.UNSIGNED else {}
    kept |= {"at": rfc3339(e.envelope.happened_at), "yard": str(yard)}
    return _told(e, Fact(e.envelope.id, kind, "", e.envelope.stamp, told=kept))


def _empty(entered: Sequence[Entered]) -> list[Done]:
    return [_empty_one(e, e.payload) for e in entered]


def _empty_one(e: Entered, p: EmptyTrailer1) -> Done:
    unseen: UUID | None = visits.first_unseen([*p.casings, *p.scrap, *p.left])
    if unseen is not None:
        return Done(Outcome.HELD, "reference_unseen", unseen)
    told: dict[str, object] = {
        "visit": str(p.pickup),
        "casings": _listed(p.casings),
        "scrap": _listed(p.scrap),
        "left": _listed(p.left),
        "store": _text(p.store),
        "seal": p.seal,
        "seal_state": p.seal_state,
        "counted": p.counted,
        "note": p.note,
        "photos": p.photos,
    }
    fact = _ended(e, Kind.EMPTIED, p.yard, told, visits.UNSIGNED)
    code = emptying.tell(fact, at=e.sender.at)
    return Done(Outcome.CONTESTED, code) if code else Done()


def _tell_line(entered: Sequence[Entered]) -> list[Done]:
    return [_tell_line_one(e, e.payload) for e in entered]


def _tell_line_one(e: Entered, p: CountScrap1 | LeaveHere1) -> Done:
    if p.corrects is not None and visits.first_unseen([p.corrects]) is not None:
        return Done(Outcome.HELD, "reference_unseen", p.corrects)
    told: dict[str, Any] = {k: v for k, v in msgspec.to_builtins(p).items() if k not in _NAMES}
    told |= {"visit": str(p.pickup), "at": rfc3339(e.envelope.happened_at)}
    fact = Fact(
        uid=e.envelope.id,
        kind=Kind.SCRAP if isinstance(p, CountScrap1) else Kind.LEFT,
        label="",
        stamp=e.envelope.stamp,
        corrects=p.corrects,
        told={k: v for k, v in told.items() if v not in ("", None, []) and v is not False},
    )
    code = visit_lines.tell(_told(e, fact), site=e.sender.site, at=e.sender.at)
    return Done(Outcome.CONTESTED, code) if code else Done()


_NAMES = ("pickup", "corrects")
"""What a fact keeps under another name."""


def _hand_over(entered: Sequence[Entered]) -> list[Done]:
    return _record(entered, [_told(e, _handed(e, e.payload)) for e in entered])


def _handed(e: Entered, p: HandOver1) -> Fact:
    """What a plant gives is on its way home, whatever `way` says: a device without a connection
    may not have heard yet that the plant is done with it."""
    out = p.way == "out" or p.giver.startswith("plant:")
    told = {"giver": p.giver, "note": p.note, "photos": p.photos}
    return Fact(
        uid=e.envelope.id,
        kind=Kind.HANDED_OUT if out else Kind.HANDED_IN,
        label=p.label,
        stamp=e.envelope.stamp,
        holder=p.taker,
        told={"at": rfc3339(e.envelope.happened_at), **{k: v for k, v in told.items() if v}},
    )


def _deliver(entered: Sequence[Entered]) -> list[Done]:
    yards = visits.customers_of({e.payload.yard for e in entered})
    return _record(entered, [_told(e, _returned(e, e.payload, yards)) for e in entered])


def _returned(e: Entered, p: Deliver1 | Deliver2, yards: Mapping[UUID, UUID]) -> Fact:
    told = {"delivery": str(p.delivery), "yard": str(p.yard), "note": p.note, "photos": p.photos}
    told["giver"] = f"person:{e.envelope.by}"
    if isinstance(p, Deliver2) and p.store is not None:
        told |= {"store": str(p.store), "giver": f"site:{p.store}"}
    owner = yards.get(p.yard)
    return Fact(
        uid=e.envelope.id,
        kind=Kind.RETURNED,
        label=p.label,
        stamp=e.envelope.stamp,
        holder=f"customer:{owner}" if owner else "",
        told={"at": rfc3339(e.envelope.happened_at), **{k: v for k, v in told.items() if v}},
    )


def _finish_delivery(entered: Sequence[Entered]) -> list[Done]:
    return [_finish_delivery_one(e, e.payload) for e in entered]


def _finish_delivery_one(e: Entered, p: _FinishDelivery) -> Done:
    unseen: UUID | None = visits.first_unseen(p.casings)
    if unseen is not None:
        return Done(Outcome.HELD, "reference_unseen", unseen)
    told: dict[str, object] = {
        "visit": str(p.delivery),
        "casings": _listed(p.casings),
        "unsigned": p.unsigned,
        "shown": p.shown,
        "note": p.note,
        "photos": p.photos,
    }
    if not isinstance(p, FinishDelivery1):
        told["store"] = _text(p.store)
    if isinstance(p, FinishDelivery3 | FinishDelivery4 | FinishDelivery5):
        told |= {"nobody_there": p.nobody_there, "signed_in": p.signed_in}
    if isinstance(p, FinishDelivery4 | FinishDelivery5):
        told["refused"] = p.refused
    signed = visits.Signed(p.signer, p.signature or "")
    end = _ended(e, Kind.DELIVERY_END, p.yard, told, signed)
    code = visits.finish_delivery(end, signed=signed, site=e.sender.site, at=e.sender.at)
    if isinstance(p, FinishDelivery5) and p.receipt_key:
        receipt_links.keep(p.receipt_key, visit=p.delivery, at=e.sender.at)
    return Done(Outcome.CONTESTED, code) if code else Done()


PICK_UP_1 = Command(PickUp1, _pick_up_keys, _pick_up)
PICK_UP_2 = Command(PickUp2, _pick_up_keys, _pick_up)
PICK_UP_3 = Command(PickUp3, _pick_up_keys, _pick_up)
PICK_UP_4 = Command(PickUp4, _pick_up_keys, _pick_up)
RELABEL_1 = Command(Relabel1, lambda p: (label_key(p.label), label_key(p.now)), _relabel)
WITHDRAW_1 = Command(Withdraw1, _withdraw_keys, _withdraw)
REMIND_1 = Command(Remind1, lambda p: (label_key(p.label),), _remind, ("said", Words.REMINDER))
FINISH_PICKUP_1 = Command(FinishPickup1, lambda p: (pickup_key(p.pickup),), _finish)
FINISH_PICKUP_2 = Command(FinishPickup2, lambda p: (pickup_key(p.pickup),), _finish)
FINISH_PICKUP_3 = Command(FinishPickup3, lambda p: (pickup_key(p.pickup),), _finish)
FINISH_PICKUP_4 = Command(FinishPickup4, lambda p: (pickup_key(p.pickup),), _finish)
FINISH_PICKUP_5 = Command(FinishPickup5, lambda p: (pickup_key(p.pickup),), _finish)
EMPTY_TRAILER_1 = Command(EmptyTrailer1, lambda p: (pickup_key(p.pickup),), _empty)
COUNT_SCRAP_1 = Command(CountScrap1, lambda p: (pickup_key(p.pickup),), _tell_line)
LEAVE_HERE_1 = Command(LeaveHere1, lambda p: (pickup_key(p.pickup),), _tell_line)
HAND_OVER_1 = Command(HandOver1, lambda p: (label_key(p.label),), _hand_over)
DELIVER_1 = Command(Deliver1, lambda p: (pickup_key(p.delivery), label_key(p.label)), _deliver)
DELIVER_2 = Command(Deliver2, lambda p: (pickup_key(p.delivery), label_key(p.label)), _deliver)
FINISH_DELIVERY_1 = Command(FinishDelivery1, lambda p: (pickup_key(p.delivery),), _finish_delivery)
FINISH_DELIVERY_2 = Command(FinishDelivery2, lambda p: (pickup_key(p.delivery),), _finish_delivery)
FINISH_DELIVERY_3 = Command(FinishDelivery3, lambda p: (pickup_key(p.delivery),), _finish_delivery)
FINISH_DELIVERY_4 = Command(FinishDelivery4, lambda p: (pickup_key(p.delivery),), _finish_delivery)
FINISH_DELIVERY_5 = Command(FinishDelivery5, lambda p: (pickup_key(p.delivery),), _finish_delivery)
