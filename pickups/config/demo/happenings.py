"""What happens in the demo's history: a pickup, hand-overs, a delivery, as phones tell them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from itertools import groupby
from typing import Any
from uuid import UUID, uuid4

from pickups.casings.words import comes_back
from pickups.config.demo.checking import checked
from pickups.config.demo.dealer import Dealer
from pickups.config.demo.pictures import picture, scrawl
from pickups.config.demo.plan import Act
from pickups.config.demo.telling import Entry, Phones, gateway
from pickups.customers import queries as customers
from pickups.kernel import clock
from pickups.promises import rules as promises

APART = timedelta(minutes=3)
BRANDS = ("Corvane", "Tall Pine", "Lathmore", "Hexholm")
SEEN = ("line", "rating", "position", "wheel", "odometer", "pulled_for", "findings",
        "fleet_brand", "sale", "complaint", "rim", "valve_out")  # fmt: skip
"""What is told of a casing as the plan has it, where it has it."""


@dataclass
class Taken:
    """A casing of the history once it was picked up."""

    label: str
    uid: UUID
    told: Mapping[str, Any]
    signer: str


@dataclass
class History:
    """Where the telling stands."""

    dealer: Dealer
    now: datetime
    pickups: Sequence[Mapping[str, Any]]
    phones: Phones
    shared: str
    taken: dict[tuple[int, int], Taken] = field(default_factory=dict)
    visits: dict[int, UUID] = field(default_factory=dict)


def casing(history: History, act: Act) -> Taken:
    assert act.casing is not None
    return history.taken[act.pickup, act.casing]


def _store(history: History, told: Mapping[str, Any]) -> str:
    site = history.dealer.people[told["driver"]].site
    assert site is not None
    return site.name


def pick_up(history: History, act: Act) -> None:
    """A whole visit: every casing with what is wanted and promised, the signature, the end."""
    told, dealer = history.pickups[act.pickup], history.dealer
    who, store = dealer.people[told["driver"]], _store(history, told)
    yard = dealer.yards[told["fleet"], told["yard"]]
    counter = str(dealer.sites[store].uid) if "store" in told else None
    pickup, late = uuid4(), timedelta(hours=told.get("told_after_h", 0), seconds=20)
    history.visits[act.pickup] = pickup
    due = _due(dealer, store, str(yard.uid) if counter is None else promises.STORE, act.at.date())
    held = customers.specifications_stood([yard.uid]).at(yard.uid, act.at)
    entries: list[Entry] = []
    labels: list[str] = []
    for i, one in enumerate(told["casings"]):
        label = history.shared if one.get("contested") else dealer.labels[store].pop(0)
        when = act.at + i * APART
        work = one.get("work", "retread")
        photos = _photos(label, i, one, device=dealer.devices[store].uid, at=when + late)
        payload = {
            "pickup": str(pickup),
            "yard": str(yard.uid),
            "label": label,
            "store": counter,
            **(seen := _seen(one, i)),
            "check": checked(
                {**seen, "work": work},
                held.terms if held else None,
                uid=str(held.uid) if held else None,
                number=held.number if held else None,
                day=when.date(),
            ),
            "work": work,
            "basis": one.get("basis", "own"),
            "tread_design": one.get("design", "") if work == "retread" else "",
            "purchase_order": told.get("purchase_order", ""),
            "unit": one["unit"],
            "back_to": "yard" if counter is None else "store",
            "promised": _promised(due[work], told, act.at) if comes_back(one) else None,
            "note": one.get("note", ""),
            "photos": photos,
        }
        entries.append(Entry("custody.pick_up", 4, payload, who, when))
        labels.append(label)
    uids, signer = history.phones.enter(entries, late=late), dealer.signers[told["fleet"]]
    for i, (label, uid) in enumerate(zip(labels, uids, strict=True)):
        history.taken[act.pickup, i] = Taken(label, uid, told, signer)
    over = act.at + (len(uids) + 1) * APART
    place = {"pickup": str(pickup), "yard": str(yard.uid)}
    end = {
        **_lines(history, told, place, over - APART, late),
        "pickup": str(pickup),
        "yard": str(yard.uid),
        "store": counter,
        "casings": [str(uid) for uid in uids],
        "customer_count": told["customer_count"],
        **_signed(told, signer, device=dealer.devices[store].uid, at=over + late),
    }
    history.phones.enter([Entry("custody.finish_pickup", 5, end, who, over)], late=late)


def _signed(told: Mapping[str, Any], signer: str, *, device: UUID, at: datetime) -> dict[str, Any]:
    """Who signed, or why they would not."""
    if "refused" in told:
        return {"refused": told["refused"], "unsigned": told["unsigned"]}
    return {"signer": signer, "signature": scrawl(signer, device=device, at=at)}


def _seen(one: Mapping[str, Any], number: int) -> dict[str, Any]:
    """What was read and seen of a casing; of a loose wheel no more than its rim."""
    told = {name: one[name] for name in SEEN if name in one}
    if "tin" not in one:
        return told
    tins = [{"tin": one["tin"], "made": "new"}]
    tins += [{"tin": one["retread"], "made": "retread"}] if "retread" in one else []
    places = [one["tread"], *([one["again"]] if "again" in one else [])]
    brand = BRANDS[number % len(BRANDS)]
    return {**told, "tins": tins, "size": one["size"], "brand": brand, "treads_32nds": places}


def _photos(
    label: str, number: int, one: Mapping[str, Any], *, device: UUID, at: datetime
) -> list[str]:
    count = one.get("photos", 0)
    return [picture(label, number + n + 1, device=device, at=at) for n in range(count)]


def _lines(
    history: History,
    told: Mapping[str, Any],
    place: Mapping[str, str],
    at: datetime,
    late: timedelta,
) -> dict[str, list[str]]:
    """Scrap that was counted and a casing that stayed, as the end of the visit lists them."""
    who, listed = history.dealer.people[told["driver"]], {}
    device = history.dealer.devices[_store(history, told)].uid
    for name, kind in (("scrap", "count_scrap"), ("left", "leave_here")):
        if name in told:
            photos = _photos("", 0, told[name], device=device, at=at + late)
            payload = {**told[name], **place, "photos": photos}
            entry = Entry(f"custody.{kind}", 1, payload, who, at)
            listed[name] = [str(uid) for uid in history.phones.enter([entry], late=late)]
    return listed


def _due(dealer: Dealer, store: str, place: str, day: date) -> dict[str, date | None]:
    """What the phone's table offered that day, by work."""
    due = {}
    for work, days in dealer.standard_times.items():
        trucks, calendar = dealer.trucks[store], dealer.calendar
        way = promises.way(day, working_days=days, plant=calendar, trucks=trucks, place=place)
        due[work] = way.promised if way else None
    return due


def _promised(day: date | None, told: Mapping[str, Any], at: datetime) -> dict[str, Any] | None:
    """As a phone tells it: by forecast where the visit has how sure that was, in percent."""
    if day is None:
        return None
    offered = {"on": str(day), "offered": str(day), "table": 1}
    if "sure" not in told:
        return {**offered, "basis": "standard_time"}
    made = clock.rfc3339(at - timedelta(minutes=40))
    return {**offered, "basis": "forecast", "confidence": told["sure"], "forecast_at": made}


HAND_OVERS = {"rack", "to plant", "from plant", "rack again"}


def hand_overs(history: History, acts: Sequence[Act]) -> None:
    """Scans of drivers, those of a store and moment together; what the dock told besides."""
    scans = sorted(
        (entry for act in acts for entry in _scans(history, act)),
        key=lambda e: (str(e.who.site), e.at),
    )
    for _, together in groupby(scans, key=lambda e: (e.who.site, e.at)):
        history.phones.enter(list(together))
    left: list[tuple[str, str, str, dict[str, object]]] = [
        (casing(history, act).label, "shipping", "shipped", {})
        for act in acts
        if act.what == "from plant"
    ]
    if left:
        gateway(history.dealer.key, left, at=acts[0].at)


def _scans(history: History, act: Act) -> list[Entry]:
    scanned, dealer = casing(history, act), history.dealer
    store = dealer.sites[_store(history, scanned.told)]
    plant = next(s for s in dealer.sites.values() if s.kind == s.Kind.PLANT)
    route = dealer.people[scanned.told["driver"]]
    shuttle = dealer.people[dealer.shuttles[store.name]]
    rack, dock = f"site:{store.uid}", f"plant:{plant.uid}"
    steps = {
        "rack": [("in", f"person:{route.uid}", rack, route)],
        "to plant": [
            ("in", rack, f"person:{shuttle.uid}", shuttle),
            ("in", f"person:{shuttle.uid}", dock, shuttle),
        ],
        "from plant": [("out", dock, f"person:{shuttle.uid}", shuttle)],
        "rack again": [("out", f"person:{shuttle.uid}", rack, shuttle)],
    }[act.what]
    made = []
    for i, (way, giver, taker, who) in enumerate(steps):
        payload = {"label": scanned.label, "way": way, "giver": giver, "taker": taker}
        at = act.at - (len(steps) - 1 - i) * timedelta(minutes=35)
        made.append(Entry("custody.hand_over", 1, payload, who, at))
    return made


def deliver(history: History, acts: Sequence[Act]) -> None:
    """The driver loads at the rack and hands over in the yard, or the counter hands over."""
    first, dealer = casing(history, acts[0]), history.dealer
    store, at = dealer.sites[_store(history, first.told)], acts[0].at
    yard = dealer.yards[first.told["fleet"], first.told["yard"]]
    fetched = acts[0].what == "fetch"
    who = dealer.people[first.told["driver"]]
    delivery = {"delivery": str(uuid4()), "yard": str(yard.uid)}
    delivery |= {"store": str(store.uid)} if fetched else {}
    labels = [casing(history, act).label for act in acts]
    if not fetched:
        way = {"way": "out", "giver": f"site:{store.uid}", "taker": f"person:{who.uid}"}
        loaded = at - timedelta(hours=2)
        history.phones.enter(
            [Entry("custody.hand_over", 1, {"label": x, **way}, who, loaded) for x in labels]
        )
    handed = history.phones.enter(
        [Entry("custody.deliver", 2, {**delivery, "label": x}, who, at) for x in labels]
    )
    over = at + APART
    drawn = scrawl(first.signer, device=dealer.devices[store.name].uid, at=over)
    end = {
        **delivery,
        "casings": [str(uid) for uid in handed],
        "signer": first.signer,
        "signature": drawn,
    }
    history.phones.enter([Entry("custody.finish_delivery", 2, end, who, over)])
