"""A broker that is dead or hangs costs the sender a bounded moment, and raises what is named."""

import socket
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from celery import Celery
from django.conf import settings
from kombu.exceptions import OperationalError


@contextmanager
def hanging(path: Path) -> Iterator[None]:
    """A server that takes connections and says nothing."""
    with socket.socket(socket.AF_UNIX) as server:
        server.bind(str(path))
        server.listen()
        yield


def seconds_to_fail(path: Path) -> float:
    app = Celery("apart", set_as_current=False)
    app.config_from_object(settings, namespace="CELERY")
    app.conf.update(broker_url=f"redis+socket://{path}")
    began = time.monotonic()
    with pytest.raises(OperationalError):
        app.send_task("journal.drain", retry=False)
    took = time.monotonic() - began
    app.close()
    return took


def test_a_dead_broker_costs_half_a_second_at_most(tmp_path: Path) -> None:
    assert seconds_to_fail(tmp_path / "nobody.sock") < 0.5


def test_a_broker_that_hangs_costs_the_read_timeout_once(tmp_path: Path) -> None:
    with hanging(tmp_path / "mute.sock"):
        assert 0.9 < seconds_to_fail(tmp_path / "mute.sock") < 1.8
