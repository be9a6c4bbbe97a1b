"""One server for all small schedules; the journeys' way to a product and a browser, for the runs in
Chromium."""

from collections.abc import Iterator

import pytest

from tests.journeys.conftest import open_app, stack, web
from tests.sim import phones
from tests.sim.playing import Stage

__all__ = ["open_app", "stack", "stage", "web"]


@pytest.fixture(scope="session")
def stage() -> Iterator[Stage]:
    """Server and phones; schedules on it do not meet each other."""
    phones.build()
    made = Stage()
    yield made
    made.end()
