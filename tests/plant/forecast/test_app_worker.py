"""The whole way with a real worker: events over HTTP, a forecast computed beside the web process,
a store's promise table that a phone pulls; kills and doubles on the way."""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from uuid import UUID

import pytest

from pickups.config.places import PROJECT
from tests.plant.forecast.plants import passed, picked
from tests.world.phone import Phone
from tests.world.plant import Gateway
from tests.world.stack import Stack

PATIENCE_S = 240.0


class Worker:
    """A Celery worker with two processes, which can be killed as a power cut would."""

    def __init__(self, stack: Stack) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-m", "celery", "-q", "-A", "pickups.config.celery", "worker",
             "-c", "2", "-l", "WARNING", "--without-gossip", "--without-mingle"],
            cwd=PROJECT,
            env=stack.environment,
            start_new_session=True,
        )  # fmt: skip

    def kill(self) -> None:
        """SIGKILL to all of it."""
        if self.process.poll() is None:
            os.killpg(self.process.pid, signal.SIGKILL)
            self.process.wait()


@pytest.fixture
def stack(monkeypatch: pytest.MonkeyPatch) -> Iterator[Stack]:
    """A plant that has entered all, a store whose trucks go there, a web process; no worker yet."""
    monkeypatch.setenv("FORECAST_EVERY_S", "1")
    with Stack(labels=20) as made:
        told = "from tests.plant.forecast import plants"
        made.call(f"{told}; plants.enter_at({made.cast['plant']!r})")
        cast = made.cast
        made.call(f"publish_promises({cast['store']!r}, {cast['plant']!r}, {cast['yard']!r})")
        made.start_web()
        yield made


def until(is_so: Callable[[], object]) -> None:
    """Wait for a state, however busy the machine is."""
    end = time.monotonic() + PATIENCE_S
    while not is_so():
        assert time.monotonic() < end, "it never came to that"
        time.sleep(0.1)


def casings(stack: Stack) -> tuple[Phone, Gateway, list[str]]:
    """Four casings on their way through the plant, told over HTTP."""
    phone = Phone(stack.door, UUID(stack.cast["driver"]))
    assert phone.enrol(stack.fresh_code()).status == 200
    labels = stack.cast["labels"][:4]
    picked(phone, UUID(stack.cast["yard"]), labels)
    gateway = Gateway(stack.door, stack.cast["plant_key"])
    for n, label in enumerate(labels):
        passed(gateway, label, *("receiving", "initial-inspection", "enveloping")[: 1 + n % 3])
    return phone, gateway, labels


def send(stack: Stack, times: int = 1) -> None:
    """What beat does every ten seconds."""
    stack.call(f"from plant.forecast.tasks import sweep; [sweep.delay() for _ in range({times})]")


def published(stack: Stack) -> int:
    rows = stack.rows("SELECT count(*) FROM journal_entry WHERE kind = 'forecast.published'")
    return int(rows[0][0])


def sent_and_published(stack: Stack) -> int:
    """Send, and see what came of what was sent before."""
    send(stack)
    return published(stack)


def test_events_become_a_forecast_and_a_phones_table_though_a_worker_is_killed_in_the_middle(
    stack: Stack,
) -> None:
    phone, gateway, labels = casings(stack)
    phone.pull_all()
    (before,) = phone.seen("promise_table").values()
    assert not before["forecast"]
    killed = Worker(stack)
    try:
        send(stack)
        until(lambda: stack.rows("SELECT 1 FROM forecast_forecast WHERE begun_at NOTNULL"))
    finally:
        killed.kill()
    # It died while it computed: nothing of it is there, and it is due again.
    assert published(stack) == 0
    assert stack.rows("SELECT count(*) FROM promises_finish") == [(0,)]
    assert stack.rows("SELECT at FROM forecast_forecast") == [(None,)]
    worker = Worker(stack)
    try:
        until(lambda: sent_and_published(stack))
        send(stack, times=3)  # at once, to two processes: nothing has changed, nothing is computed
        until(lambda: stack.rows("SELECT 1 FROM promises_table WHERE forecast IS NOT NULL"))
        phone.pull_all()
        (after,) = phone.seen("promise_table").values()
        assert after["forecast"]
        assert stack.rows("SELECT count(*) FROM promises_finish") == [(4,)]
        assert published(stack) == 1
        # One event more, and what it says of that casing follows.
        gateway.tell(labels[0], "finished", station="paint")
        until(lambda: sent_and_published(stack) == 2)
        assert stack.rows("SELECT count(*) FROM promises_finish") == [(3,)]
        scored = "SELECT count(*) FROM forecast_prediction WHERE finished_at IS NOT NULL"
        assert stack.rows(scored) == [(1,)]
    finally:
        worker.kill()
