"""Pick_ups and plant facts of the same labels at the same time: nobody's fact stays nobody's.

The lock on the label is what makes them meet. The last tests hold two transactions open at once
and show that without the lock a fact is left behind, and with it none can be.
"""

import random
import threading
from collections.abc import Callable, Iterator
from uuid import uuid4

import pytest
from django.db import connection, transaction

from pickups.casings.models import WorkOrder
from pickups.custody import services
from pickups.custody.fold import Fact, Kind
from pickups.custody.models import Fact as Row
from pickups.kernel import clock, locks
from pickups.labels import queries as labels_read
from pickups.labels import services as labels
from tests.conftest import Enrol
from tests.pickups.custody.histories import at_plant, told
from tests.world import World
from tests.world.plant import Gateway
from tests.world.threads import at_once

pytestmark = pytest.mark.django_db(transaction=True)

BUSY = 503
"""A lock that others held for too long: a sender tries again, nothing is recorded."""
LABELS, BATCH = 240, 12


def batches(items: list[str], random_order: random.Random) -> Iterator[list[str]]:
    shuffled = random_order.sample(items, len(items))
    for at in range(0, len(shuffled), BATCH):
        yield shuffled[at : at + BATCH]


def orphans() -> int:
    """Plant facts whose label is bound and that are nobody's."""
    bound = Row.objects.filter(kind=Kind.PICKED_UP).values("label")
    return Row.objects.filter(work_order=None, label__in=bound).count()


def test_pick_ups_that_race_with_the_plant_leave_no_orphan(
    world: World, enrol: Enrol, gateway: Gateway
) -> None:
    roll = labels.print_roll(range_symbols="K8", count=LABELS, site=world.store, at=clock.now())
    codes = labels_read.codes_of(roll)
    phones = [enrol(), enrol()]

    def drive(phone_at: int) -> None:
        phone = phones[phone_at]
        for batch in batches(codes[phone_at::2], random.Random(phone_at)):
            for code in batch:
                phone.pick_up(code, world.yard.uid, uuid4())
            reply = phone.push()
            while reply.status == BUSY:
                reply = phone.push()
            assert reply.status == 200, reply.body

    def post(outcome: str) -> None:
        for batch in batches(codes, random.Random(outcome)):
            gateway.deliver([gateway.event(code, outcome) for code in batch])

    at_once(lambda: drive(0), lambda: drive(1), lambda: post("received"), lambda: post("finished"))
    assert orphans() == 0
    assert Row.objects.count() == 3 * LABELS
    assert WorkOrder.objects.filter(progress="finished").count() == LABELS


def hold_pick_up(
    label: str, world: World, recorded: threading.Event, go_on: Callable[[], None]
) -> None:
    """Record a pick_up and commit it only after `go_on` has returned."""
    facts = {"at": clock.rfc3339(clock.now()), "pickup": str(uuid4()), "yard": str(world.yard.uid)}
    fact = Fact(uuid4(), Kind.PICKED_UP, label, clock.to_ms(clock.now()), told=facts)
    with transaction.atomic():
        locks.take([locks.label_key(label)])
        services.record([told(fact)], site=world.store.uid, at=clock.now())
        recorded.set()
        go_on()


def scan(label: str, world: World, recorded: threading.Event) -> None:
    """Record a plant's fact while the pick_up is written and not yet committed."""
    assert recorded.wait(10)
    with transaction.atomic():
        locks.take([locks.label_key(label)])
        fact = at_plant(uuid4(), Kind.RECEIVED, label)
        services.record([told(fact)], site=world.store.uid, at=clock.now())


def waiting_for_a_lock() -> int:
    with connection.cursor() as c:
        c.execute(
            "SELECT count(*) FROM pg_locks l JOIN pg_database d ON d.oid = l.database"
            " WHERE d.datname = current_database() AND locktype = 'advisory' AND NOT granted"
        )
        return int(c.fetchone()[0])


def test_a_plant_fact_waits_for_the_pick_up_that_is_being_written(world: World) -> None:
    label, recorded = world.a_label(), threading.Event()

    def until_the_other_waits() -> None:
        for _ in range(1000):
            if waiting_for_a_lock():
                return
            threading.Event().wait(0.005)
        pytest.fail("nobody waited for the label")

    at_once(
        lambda: hold_pick_up(label, world, recorded, until_the_other_waits),
        lambda: scan(label, world, recorded),
    )
    assert orphans() == 0
    assert WorkOrder.objects.get().progress == "received"


def test_without_the_lock_a_plant_fact_is_left_behind(
    world: World, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(locks, "take", lambda _: None)
    label, recorded, scanned = world.a_label(), threading.Event(), threading.Event()

    def scan_then_say() -> None:
        scan(label, world, recorded)
        scanned.set()

    at_once(
        lambda: hold_pick_up(label, world, recorded, lambda: assert_soon(scanned)),
        scan_then_say,
    )
    assert orphans() == 1
    assert WorkOrder.objects.get().progress == "picked_up"


def assert_soon(event: threading.Event) -> None:
    assert event.wait(10)
