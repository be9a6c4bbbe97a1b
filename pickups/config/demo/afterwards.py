"""What happens in the demo's history after a visit: a trailer is emptied, an owner is called about
what waits at the counter or told a new day, a customer says that a signed list was otherwise."""

from collections.abc import Mapping
from datetime import date, datetime, timedelta
from typing import Any
from uuid import UUID, uuid4

from pickups.config.demo.happenings import APART, History, Taken, casing
from pickups.config.demo.pictures import scrawl
from pickups.config.demo.plan import Act
from pickups.config.demo.telling import Entry
from pickups.custody import disputes
from pickups.promises import keeping, watching
from pickups.promises import queries as promises
from pickups.promises.models import Promise
from pickups.promises.watching import NewDay


def take_closed(history: History, act: Act) -> None:
    """A trailer leaves a yard closed: its number, its seal, the customer's count, a signature."""
    told, dealer = history.pickups[act.pickup], history.dealer
    who, yard = dealer.people[told["driver"]], dealer.yards[told["fleet"], told["yard"]]
    assert who.site is not None
    signer, device = dealer.signers[told["fleet"]], dealer.devices[who.site.name].uid
    visit = uuid4()
    history.visits[act.pickup] = visit
    end = {
        "pickup": str(visit),
        "yard": str(yard.uid),
        "trailer": told["trailer"],
        "customer_count": told["customer_count"],
        "signer": signer,
        "signed_in": "en",
        "signature": scrawl(signer, device=device, at=act.at),
    }
    history.phones.enter([Entry("custody.finish_pickup", 5, end, who, act.at)])


def empty(history: History, act: Act) -> None:
    """It is opened at the store: each casing gets a label, nothing is read yet; all lie on its rack
    then, and its list is told."""
    told, dealer, more = history.pickups[act.pickup], history.dealer, act.more or {}
    who, yard = dealer.people[more["by"]], dealer.yards[told["fleet"], told["yard"]]
    assert who.site is not None
    place = {"pickup": str(history.visits[act.pickup]), "yard": str(yard.uid)}
    labels = [dealer.labels[who.site.name].pop(0) for _ in told["casings"]]
    taken = [
        Entry(
            "custody.pick_up",
            3,
            {**place, "label": label, "line": "retread", "size": one["size"], "work": "retread",
             "basis": "own", "unit": one["unit"], "back_to": "yard"},
            who,
            act.at + i * timedelta(minutes=1),
        )
        for i, (label, one) in enumerate(zip(labels, told["casings"], strict=True))
    ]  # fmt: skip
    uids = history.phones.enter(taken)
    for i, (label, uid) in enumerate(zip(labels, uids, strict=True)):
        history.taken[act.pickup, i] = Taken(label, uid, told, dealer.signers[told["fleet"]])
    over, rack = act.at + (len(uids) + 1) * APART, f"site:{who.site.uid}"
    way = {"way": "in", "giver": f"person:{who.uid}", "taker": rack}
    scans = [Entry("custody.hand_over", 1, {"label": x, **way}, who, over) for x in labels]
    end = {**place, "casings": [str(uid) for uid in uids], "store": str(who.site.uid),
           "seal": told["trailer"]["seal"], "seal_state": "whole",
           "counted": len(uids)}  # fmt: skip
    history.phones.enter([*scans, Entry("custody.empty_trailer", 1, end, who, over)])


def remind(history: History, act: Act) -> None:
    """A step about a casing that waits at the counter, told by who booked it in."""
    waiting, step = casing(history, act), act.what.removeprefix("remind ")
    who, more = history.dealer.people[waiting.told["driver"]], dict(act.more or {})
    if hold := more.pop("hold_days", None):
        more["until"] = str(act.at.date() + timedelta(days=hold))
    payload = {"label": waiting.label, "step": step, **more}
    history.phones.enter([Entry("custody.remind", 1, payload, who, act.at)])


def say_otherwise(history: History, act: Act) -> None:
    """A customer says that a signed pickup was otherwise; the office looks into it, and may have
    settled it since."""
    more, people = act.more or {}, history.dealer.people
    case = disputes.tell(
        visit=history.visits[act.pickup], said=more["said"], theirs=more["theirs"], by=None,
        at=act.at,
    )  # fmt: skip
    assert case is not None
    at, by = act.at, people["petra"].uid
    for step in more.get("then", ()):
        at += timedelta(minutes=step["minutes"])
        _step(case.uid, step, case.due_on, by=by, at=at)


def tell_new_day(history: History, act: Act) -> None:
    """The office tells the owner of a casing that is late a day so many days after the first."""
    assert act.more is not None
    uid = history.taken[act.pickup, act.more["casing"]].uid
    keeping.keep(work_orders=[uid], at=act.at)
    stands = promises.standing([uid])[uid]
    on = stands.on + timedelta(days=act.more["days"])
    new, by = NewDay(stands.uid, on, Promise.Basis.BY_HAND), history.dealer.people["petra"].uid
    watching.revise(new_days={uid: new}, by=by, at=act.at)


def _step(case: UUID, step: Mapping[str, Any], due_on: date, *, by: UUID, at: datetime) -> None:
    if "to_me" in step:
        disputes.assign(dispute=case, to=by, due_on=due_on, by=by, at=at)
    elif "outcome" in step:
        outcome = disputes.Outcome(step["outcome"])
        disputes.settle(
            dispute=case, outcome=outcome, said=step["said"], facts=(), by=by, at=at
        )  # fmt: skip
    else:
        disputes.note(dispute=case, said=step["said"], by=by, at=at)
