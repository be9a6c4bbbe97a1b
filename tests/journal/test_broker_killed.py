"""From the journal to the mailbox with the broker killed: a push is answered, a mail comes once.

Everything is real and of this test's own: database, broker, web process, worker, beat, SMTP. The
broker is ended with SIGKILL before a push, between its commit and the worker, and after the mail.
"""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from uuid import UUID, uuid4

import pytest

from pickups.config.places import PROJECT
from tests.world import Phone
from tests.world.mail import MailServer, running
from tests.world.stack import Stack

SWEEP_S = 5.0
"""How often beat looks for what is owed (CELERY_BEAT_SCHEDULE)."""


class Works:
    """The stack with what drains it, each part killable, and one enrolled phone."""

    def __init__(self, stack: Stack, mail: MailServer) -> None:
        self.stack, self.mail = stack, mail
        self.processes: dict[str, subprocess.Popen[bytes]] = {}
        self.phone = Phone(stack.door, UUID(stack.cast["driver"]))
        assert self.phone.enrol(stack.fresh_code()).status == 200

    def start(self, name: str, *arguments: str) -> None:
        celery = [sys.executable, "-m", "celery", "-q", "-A", "pickups.config.celery"]
        self.processes[name] = subprocess.Popen(
            [*celery, *arguments, "-l", "WARNING"],
            cwd=PROJECT,
            env={**self.stack.environment, "EMAIL_URL": f"smtp://127.0.0.1:{self.mail.port}"},
            start_new_session=True,
        )

    def start_worker(self) -> None:
        self.start("worker", "worker", "-c", "1", "--without-gossip", "--without-mingle")

    def start_beat(self) -> None:
        self.start("beat", "beat", "--pidfile=")

    def kill(self, name: str) -> None:
        """SIGKILL to a part and all below it."""
        process = self.processes.pop(name)
        os.killpg(process.pid, signal.SIGKILL)
        process.wait()

    def kill_broker(self) -> None:
        broker = self.stack.valkey.process
        assert broker is not None
        broker.kill()
        broker.wait()

    def visit(self) -> float:
        """A pickup of one casing, pushed; returns how long the answer took."""
        pickup, yard = uuid4(), UUID(self.stack.cast["yard"])
        label = self.stack.cast["labels"].pop()
        op = self.phone.pick_up(label, yard, pickup)
        self.phone.finish(pickup, yard, [op["id"]])
        began = time.monotonic()
        reply = self.phone.push()
        took = time.monotonic() - began
        assert reply.status == 200, reply.body
        assert [a["outcome"] for a in reply.json["answers"]] == ["accepted", "accepted"]
        assert self.phone.outbox == []
        return took

    def owed(self) -> int:
        sql = "SELECT count(*) FROM journal_delivery WHERE done_at IS NULL"
        return int(self.stack.rows(sql)[0][0])

    def mails(self, count: int, within_s: float) -> None:
        """Wait until there are so many mails, each another, and nothing is owed."""
        wait_until(lambda: len(self.mail.mails) >= count and not self.owed(), within_s)
        assert len(self.mail.mails) == count
        assert len({m["Message-ID"] for m in self.mail.mails}) == count


def wait_until(done: Callable[[], bool], within_s: float) -> None:
    end = time.monotonic() + within_s
    while not done():
        assert time.monotonic() < end, f"not within {within_s} s"
        time.sleep(0.05)


@pytest.fixture
def works() -> Iterator[Works]:
    mail = MailServer()
    with running(mail), Stack(durable=True, labels=20) as stack:
        stack.start_web()
        made = Works(stack, mail)
        try:
            yield made
        finally:
            for name in list(made.processes):
                made.kill(name)


@pytest.mark.xdist_group("processes")
def test_a_receipt_comes_once_whenever_the_broker_is_killed(works: Works) -> None:
    # Nobody sweeps yet: it is the poke after the commit that sets the worker to work.
    works.start_worker()
    works.visit()
    works.mails(1, within_s=20)

    # Killed before the push: answered all the same, and soon; the sweep finds what is owed.
    works.kill_broker()
    took = [works.visit() for _ in range(3)]
    assert max(took) < 2, took
    assert len(works.mail.mails) == 1
    works.stack.valkey.start()
    works.start_beat()
    works.mails(4, within_s=30)

    # Killed between the commit and the worker: the poke is in a queue that nobody reads.
    works.kill("worker")
    works.visit()
    works.kill_broker()
    assert works.owed() > 0
    works.stack.valkey.start()
    works.start_worker()
    works.mails(5, within_s=30)

    # Killed while the worker is in the middle of the mail.
    works.mail.arrived.clear()
    works.mail.gate.clear()
    works.visit()
    assert works.mail.arrived.wait(15)
    works.kill_broker()
    works.mail.gate.set()
    works.stack.valkey.start()
    works.mails(6, within_s=30)

    # Killed afterwards: tasks that are delivered again find nothing owed.
    works.kill_broker()
    works.stack.valkey.start()
    time.sleep(SWEEP_S + 1)
    works.mails(6, within_s=1)
    for name in ("worker", "beat"):
        assert works.processes[name].poll() is None, f"the {name} outlived the broker"
