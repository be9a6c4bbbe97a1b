"""A yard full of casings, and a load sheet of the store."""

from datetime import date
from uuid import UUID

import pytest

from pickups.runs import services as runs
from pickups.runs.models import Run
from pickups.runs.rules import Head
from tests.pickups.runs.yard import DAY, Yard
from tests.world import Phone, World
from tests.world.plant import Gateway


@pytest.fixture
def yard(world: World, phone: Phone, gateway: Gateway) -> Yard:
    """The driver's phone and the plant, ready to tell."""
    return Yard(world, phone, gateway)


def head(world: World, *, on: date = DAY, driver: UUID | None = None, **more: str) -> Head:
    """A route from the store; with its own driver unless another is named."""
    who = driver or world.driver.uid
    return Head(start=world.store.uid, on=on, vehicle="truck 4", driver=who, **more)


@pytest.fixture
def run(world: World) -> Run:
    """A sheet of the store with its driver, still empty."""
    return runs.draw_up(site=world.store.uid, head=head(world))
