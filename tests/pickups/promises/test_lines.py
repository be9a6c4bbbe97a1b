"""A day is promised for what comes back worked on, and for nothing else."""

from datetime import date, timedelta

import pytest

from tests.pickups.promises.promising import asked, promise, sent, taken, told_again
from tests.pickups.promises.trucks import publish
from tests.world import Phone, World

pytestmark = pytest.mark.django_db

MONDAY = date(2026, 4, 20)
EARLY = MONDAY + timedelta(days=1)


@pytest.mark.parametrize(
    ("line", "questioned"),
    [
        ("retread", True),
        ("repair", True),
        ("wheel_tire", True),
        ("sell", False),
        ("adjustment", False),
        ("wheel", False),
    ],
)
def test_only_of_what_is_worked_on_a_day_is_too_early(
    world: World, phone: Phone, line: str, questioned: bool
) -> None:
    publish(world)
    op = taken(phone, world, EARLY, on=MONDAY) | {"version": 3}
    op["payload"]["line"] = line
    sent(phone, op)
    assert (asked(op) is not None) == questioned
    assert (promise(op).expected is not None) == questioned


def test_an_older_app_that_promises_a_day_for_a_wheel_is_not_asked_about(
    world: World, phone: Phone
) -> None:
    publish(world)
    op = taken(phone, world, None, on=MONDAY) | {"version": 3}
    op["payload"]["line"] = "wheel"
    again = told_again(phone, op, promised=EARLY)
    del again["payload"]["line"]
    sent(phone, op, again)
    assert promise(again).expected is None
    assert asked(again) is None
