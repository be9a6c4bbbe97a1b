"""Locks taken first and in one order: pushes over the same things never wait in a ring."""

import random
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterable
from uuid import uuid4

import pytest
from django.db import connection, connections, transaction

from pickups.custody.models import Fact
from pickups.kernel import locks
from pickups.kernel.locks import label_key, pickup_key
from pickups.sync.models import Operation
from tests.conftest import Enrol
from tests.sync.batches import push
from tests.world import Phone, World
from tests.world.phone import Reply
from tests.world.tables import nothing_written
from tests.world.threads import at_once

pytestmark = [
    pytest.mark.django_db(transaction=True),
    pytest.mark.usefixtures("apart"),
    pytest.mark.xdist_group("feed"),
]

PHONES, PUSHES = 6, 34


def deadlocks() -> int:
    """As the server counts them; a connection tells its share when it ends."""
    connections.close_all()
    time.sleep(0.2)
    with connection.cursor() as c:
        c.execute("SELECT deadlocks FROM pg_stat_database WHERE datname = current_database()")
        return int(c.fetchone()[0])


def working(phone: Phone, world: World, number: int, labels: list[str]) -> Callable[[], list[int]]:
    """Pushes that touch the same labels, pickups, strangers and unknown yards in any order."""
    chance = random.Random(number)
    pickups, yards = SHARED["pickups"], [world.yard.uid, *SHARED["yards"]]

    def one() -> None:
        told = phone.pick_up(chance.choice(labels), chance.choice(yards), chance.choice(pickups))
        told["by"] = str(chance.choice([world.driver.uid, *SHARED["people"]]))
        if chance.random() < 0.4:
            original = {"fact": told["id"], "label": told["payload"]["label"]}
            payload = {
                "pickup": told["payload"]["pickup"],
                "withdraws": original,
                "reason": "put back",
            }
            phone.enter("custody.withdraw", payload)
        if chance.random() < 0.3:
            phone.finish(uuid4(), world.yard.uid, [told["id"]])

    def work() -> list[int]:
        statuses = []
        for _ in range(PUSHES):
            for _ in range(chance.randint(1, 4)):
                one()
            chance.shuffle(phone.outbox)
            statuses.append(phone.push().status)
            # Who waited too long for a lock on a busy machine comes again, as a phone does.
            while statuses[-1] == 503:
                statuses[-1] = phone.push().status
        return statuses

    return work


SHARED = {name: [uuid4() for _ in range(3)] for name in ("pickups", "yards", "people")}


def test_hundreds_of_pushes_over_the_same_things_never_deadlock(world: World, enrol: Enrol) -> None:
    labels = world.labels[:25]
    phones = [enrol() for _ in range(PHONES)]
    before = deadlocks()
    at_work = (working(p, world, n, labels) for n, p in enumerate(phones))
    statuses = [status for each in at_once(*at_work) for status in each]
    assert statuses == [200] * (PHONES * PUSHES)
    assert deadlocks() == before
    entered = sum(p.sequence for p in phones)
    assert entered > PHONES * PUSHES * 2
    assert Operation.objects.count() == entered
    assert Fact.objects.count() > PHONES * PUSHES


def test_the_same_pushes_with_locks_taken_as_they_come_do_deadlock(
    world: World, enrol: Enrol, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Two phones push the same two labels, one the other way round; both hold their first."""
    both_hold_one = threading.Barrier(2, timeout=10)

    def as_they_come(keys: Iterable[int]) -> None:
        for n, key in enumerate(dict.fromkeys(keys)):
            if n == 1:
                both_hold_one.wait()
            with connection.cursor() as c:
                c.execute("SELECT pg_advisory_xact_lock(%s)", [key])

    phones = [enrol(), enrol()]
    labels = [world.a_label(), world.a_label()]
    for phone, order in zip(phones, (labels, labels[::-1]), strict=True):
        for label in order:
            phone.pick_up(label, world.yard.uid, uuid4())
    before = deadlocks()
    with monkeypatch.context() as other:
        other.setattr(locks, "take", lambda keys: as_they_come(list(keys)[1::2]))
        replies = at_once(*(phone.push for phone in phones))
    assert sorted(reply.status for reply in replies) == [200, 503]
    assert deadlocks() == before + 1
    loser = next(p for p, reply in zip(phones, replies, strict=True) if reply.status == 503)
    assert set(push(loser)) == {"contested label_contested"}
    assert Fact.objects.count() == 4


def test_questions_about_one_yard_and_one_person_are_no_ring_either(
    world: World, enrol: Enrol
) -> None:
    """No lock key is shared here: the two batches meet only at what they ask."""
    phones = [enrol(), enrol()]
    yard, stranger = uuid4(), uuid4()
    before = deadlocks()
    for _ in range(12):
        for n, phone in enumerate(phones):
            unknown_yard = phone.pick_up(world.labels[n], yard, phone.uid)
            by_stranger = phone.pick_up(world.labels[n], world.yard.uid, phone.uid)
            by_stranger["by"] = str(stranger)
            between = phone.finish(uuid4(), world.yard.uid, [unknown_yard["id"]])
            phone.outbox = [unknown_yard, between, by_stranger][:: 1 if n else -1]
        replies = at_once(*(phone.push for phone in phones))
        assert [reply.status for reply in replies] == [200, 200]
        with connection.cursor() as c:
            c.execute("UPDATE questions_question SET settled_at = now() WHERE settled_at IS NULL")
    assert deadlocks() == before


@pytest.mark.parametrize("held", ["label", "pickup", "device"])
def test_a_lock_that_stays_held_is_answered_503_and_nothing_is_recorded(
    world: World, phone: Phone, held: str
) -> None:
    label, pickup = world.a_label(), uuid4()
    phone.pick_up(label, world.yard.uid, pickup)
    locked, answered = threading.Event(), threading.Event()
    keys = {"label": [label_key(label)], "pickup": [pickup_key(pickup)], "device": []}

    def holder() -> Reply | None:
        with transaction.atomic():
            if held == "device":
                with connection.cursor() as c:
                    c.execute("SELECT 1 FROM people_device FOR NO KEY UPDATE")
            locks.take(keys[held])
            locked.set()
            assert answered.wait(10)
        return None

    def sender() -> Reply | None:
        assert locked.wait(10)
        with connection.cursor() as c:
            c.execute("SET lock_timeout = '150ms'")
        try:
            with nothing_written():
                return phone.push()
        finally:
            answered.set()

    reply = at_once(holder, sender)[1]
    assert reply is not None
    assert (reply.status, reply.json["code"]) == (503, "try_later")
    assert int(next(v for k, v in reply.headers.items() if k.lower() == "retry-after")) > 0
    assert len(phone.outbox) == 1
    assert push(phone) == ["accepted"]


BOUNDS = ("lock_timeout", "idle_in_transaction_session_timeout", "transaction_timeout")
SHOW = f"""
import django; django.setup()
from django.db import connection
with connection.cursor() as c:
    for name in {BOUNDS!r}:
        c.execute("SHOW " + name)
        print(c.fetchone()[0])
"""


def test_the_server_gives_up_waiting_before_a_phone_does() -> None:
    """What the product asks of every connection: a wait and a transaction have an end. The tests'
    own process has longer ones (tests/conftest.py)."""
    done = subprocess.run([sys.executable, "-c", SHOW], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["3s", "5s", "30s"]
