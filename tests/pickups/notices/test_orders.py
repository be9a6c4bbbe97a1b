"""Whatever order facts arrive in, and whenever mails are sent between: what a contact was told
last is what stands, nothing is said twice in a row, and nothing while it may not leave.

The expectation is told apart from the product: from the events alone, by the words of the rules.
"""

from dataclasses import dataclass
from datetime import datetime, timedelta
from uuid import UUID, uuid4

import pytest
from django.core.cache import cache
from django.db import transaction
from hypothesis import HealthCheck, event, given, settings
from hypothesis import strategies as st

from pickups.customers import services as customers
from pickups.customers.models import Contact
from pickups.journal.models import Delivery
from pickups.kernel import clock
from pickups.notices.models import Line
from pickups.people import queries as people
from pickups.people.models import PlantKey
from plant.inspection import services as inspection
from plant.inspection.wire import StationEvent
from tests.pickups.notices.visits import drain_all
from tests.world import Phone, World
from tests.world.mail import MailServer

# Each example is a transaction of its own: all of them in one would outlive its timeout.
pytestmark = pytest.mark.django_db(transaction=True)

BEGAN = datetime.fromisoformat("2026-05-04T10:00:00Z")
PICK_UP = "picked_up"
MOVES = ("rack", "truck", "back")
"""Told by a phone, on the way home: down on its store's rack, onto a truck, back with its owner."""


@dataclass(frozen=True)
class Scan:
    """What a station or a phone told; number orders it in time, releases names another's."""

    number: int
    outcome: str
    reason: str = ""
    releases: int = -1


@st.composite
def histories(draw: st.DrawFn) -> list[Scan]:
    """Two to eight scans of one casing, true or not; releases name one that stops it, once."""
    scans: list[Scan] = []
    for number in range(draw(st.integers(2, 8))):
        held = {s.number for s in scans if s.outcome in ("hold", "rejected")}
        free = sorted(held - {s.releases for s in scans})
        outcome = draw(st.sampled_from(
            ["finished", "finished", "rejected", "rejected", "hold", "rack", "rack", "truck",
             "back"]
            + ["released"] * 4 * bool(free)
        ))  # fmt: skip
        if outcome == "released":
            scans.append(Scan(number, outcome, releases=draw(st.sampled_from(free))))
        else:
            why = st.sampled_from(["BEAD_BURNED", "SW_CUT"])
            reason = draw(why) if outcome == "rejected" else ""
            scans.append(Scan(number, outcome, reason))
    return scans


def stands(scans: list[Scan]) -> str:
    """What may be said of the casing when just these are known: "" where nothing may."""
    released = {s.releases for s in scans}
    stop = {s.outcome for s in scans if s.outcome == "hold" and s.number not in released}
    rejected = sorted(
        (s.number, s.reason) for s in scans if s.outcome == "rejected" and s.number not in released
    )
    if stop:
        return ""
    if rejected:
        return f"rejected {rejected[-1][1]}"
    if not any(s.outcome == "finished" for s in scans):
        return "open"
    if any(s.outcome == "back" for s in scans):
        return ""
    moves = sorted((s.number, s.outcome) for s in scans if s.outcome in MOVES)
    return "ready" if moves and moves[-1][1] == "rack" else "finished"


def sort(news: str) -> str:
    """The news as `stands` writes it."""
    return " ".join(news.split()[:2]) if news.startswith("rejected") else news.partition(" ")[0]


def tell(
    key: PlantKey, phone: Phone, world: World, label: str, scan: Scan, ids: list[UUID]
) -> None:
    """Whoever told it tells it now."""
    if scan.outcome not in MOVES:
        post(key, label, scan, ids)
        return
    driver, rack = f"person:{world.driver.uid}", f"site:{world.store.uid}"
    kind, told = "custody.deliver", {"delivery": str(ids[scan.number]), "yard": str(world.yard.uid)}
    if scan.outcome != "back":
        giver, taker = (driver, rack) if scan.outcome == "rack" else (rack, driver)
        kind, told = "custody.hand_over", {"way": "out", "giver": giver, "taker": taker}
    at = BEGAN + timedelta(minutes=scan.number)
    phone.enter(kind, told | {"label": label}, stamp=clock.to_ms(at), happened_at=clock.rfc3339(at))
    assert phone.push().status == 200
    assert phone.outbox == []


def post(key: PlantKey, label: str, scan: Scan, ids: list[UUID]) -> None:
    rejected = scan.outcome == "rejected"
    told = StationEvent(
        id=ids[scan.number],
        label=label,
        station="buffing",
        outcome=scan.outcome,  # type: ignore[arg-type]
        happened_at=BEGAN + timedelta(minutes=scan.number),
        reason=scan.reason,
        cause="casing" if rejected else None,
        releases=ids[scan.releases] if scan.releases >= 0 else None,
    )
    inspection.post(key=key, events=[(told, inspection.said(told))])


@settings(
    max_examples=40,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(histories(), st.data())
def test_what_was_told_last_is_what_stands_and_nothing_is_told_twice(
    world: World, phone: Phone, mail: MailServer, scans: list[Scan], data: st.DataObject
) -> None:
    arrivals: list[Scan | str] = data.draw(st.permutations([*scans, PICK_UP]))
    drains = data.draw(st.lists(st.booleans(), min_size=len(arrivals), max_size=len(arrivals)))
    ids = [uuid4() for _ in scans]
    key = people.plant_key(world.plant_key)
    assert key is not None
    mail.mails.clear()
    cache.clear()  # the phone's rate outlives an example
    with transaction.atomic():
        contact = Contact.objects.get(customer=world.customer)
        label = world.labels[0]
        here: list[Scan] = []
        picked_up = False
        last = ""  # what was said last, as the rules have it
        said = 0
        for arrival, drains_now in zip(arrivals, [*drains[:-1], True], strict=True):
            if isinstance(arrival, Scan):
                tell(key, phone, world, label, arrival, ids)
                here.append(arrival)
            else:
                phone.pick_up(label, world.yard.uid, uuid4())
                assert phone.push().status == 200
                picked_up = True
            if not drains_now:
                continue
            drain_all()
            now = stands(here) if picked_up else ""
            told = Line.objects.filter(contact=contact.uid).order_by("place")
            news = [sort(line.news) for line in told]
            assert len(news) == len(mail.mails), "a mail a line, and no mail without one"
            if (
                now == ""
                or (now == "open" and last in ("", "open"))
                or (now == "finished" and last == "ready")
            ):
                assert len(news) == said, "nothing may be said, or nothing is new"
            else:
                assert news[-1] == now
                # The same reason once more only where a rejection was released in between.
                again = any(s.outcome == "released" for s in here) and now.startswith("rejected")
                assert len(news) - said == (now != last) or (again and len(news) - said == 1)
                last = now
            said = len(news)
            drain_all()
            assert len(mail.mails) == said
        event(f"{said} told")
        transaction.set_rollback(True)


def test_the_property_knows_each_of_the_things_that_can_stand() -> None:
    finished, rejected = Scan(0, "finished"), Scan(1, "rejected", "ZIPPER")
    assert stands([finished]) == "finished"
    assert stands([finished, rejected]) == stands([rejected, finished]) == "rejected ZIPPER"
    assert stands([finished, rejected, Scan(2, "released", releases=1)]) == "finished"
    assert stands([rejected, Scan(2, "released", releases=1)]) == "open"
    assert stands([finished, Scan(2, "hold")]) == ""
    assert sort("rejected ZIPPER casing 0") == "rejected ZIPPER"
    rack, truck = Scan(3, "rack"), Scan(4, "truck")
    assert stands([rack, finished]) == "ready"
    assert stands([truck, rack, finished]) == "finished"
    assert stands([rack]) == "open"
    assert stands([rack, finished, Scan(5, "back")]) == ""
    assert stands([rack, finished, rejected]) == "rejected ZIPPER"
    assert sort("ready store 1") == "ready"


HOME = [Scan(0, "received"), Scan(1, "finished"), Scan(2, "finished"), Scan(3, "shipped"),
        Scan(4, "truck"), Scan(5, "rack"), Scan(6, "rack")]  # fmt: skip
OUT = [*HOME, Scan(7, "truck")]
BROUGHT_BACK = [*OUT, Scan(8, "rack")]
DELIVERED = [*OUT, Scan(8, "back")]


@settings(
    max_examples=25,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(st.sampled_from([HOME, OUT, BROUGHT_BACK, DELIVERED]), st.data())
def test_ready_is_told_once_to_each_contact_whatever_the_order_and_however_often(
    world: World, phone: Phone, mail: MailServer, way: list[Scan], data: st.DataObject
) -> None:
    told: list[Scan | str] = [*way, PICK_UP]
    arrivals = data.draw(st.permutations(told))
    drains = data.draw(st.lists(st.booleans(), min_size=len(told), max_size=len(told)))
    ids = [uuid4() for _ in range(9)]
    key = people.plant_key(world.plant_key)
    assert key is not None
    mail.mails.clear()
    cache.clear()
    with transaction.atomic():
        customers.add_contact(customer=world.customer, name="Teo", email="teo@tarn.example")
        label = world.labels[0]
        for arrival, drains_now in zip(arrivals, drains, strict=True):
            if isinstance(arrival, Scan):
                tell(key, phone, world, label, arrival, ids)
            else:
                phone.pick_up(label, world.yard.uid, uuid4())
                assert phone.push().status == 200
            if drains_now:
                drain_all()
        for _ in range(2):  # the second as after a crash between mail and mark
            drain_all()
            Delivery.objects.update(done_at=None, not_before=clock.now())
        drain_all()
        for address in ("ines@tarn.example", "teo@tarn.example"):
            subjects = [str(m["Subject"]) for m in mail.to(address)]
            ready = subjects.count("Your casings: 1 ready")
            assert len(set(subjects)) == len(subjects), "nothing is said twice"
            assert ready == 1 if way in (HOME, BROUGHT_BACK) else ready <= 1
            assert set(subjects) <= {"Your casings: 1 ready", "Your casings: 1 finished"}
            assert not ready or subjects[-1] == "Your casings: 1 ready", "nothing comes after it"
        event(f"{len(mail.mails)} mails")
        transaction.set_rollback(True)
