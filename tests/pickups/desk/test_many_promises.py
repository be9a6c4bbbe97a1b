"""The list and the account of many promises ask the database no more often than of few."""

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from tests.pickups.promises.forecasting import DAY, back, forecast, trucks_every_day
from tests.pickups.promises.history import promised
from tests.pickups.promises.promising import sent, taken, today
from tests.world import Phone, World

pytestmark = pytest.mark.django_db


def asked(client: Client, address: str) -> int:
    """How many statements a page takes."""
    with CaptureQueriesContext(connection) as statements:
        assert client.get(address).status_code == 200
    return len(statements)


@pytest.mark.parametrize("address", ["/office/promises/", "/office/promises/kept"])
def test_a_long_list_asks_no_more_often_than_a_short_one(
    world: World, phone: Phone, office: Client, address: str
) -> None:
    trucks_every_day(world)

    def more(count: int) -> list[dict[str, object]]:
        on = today() - 5 * DAY
        for _ in range(count):
            promised(phone, world, on=on, taken_on=on - 9 * DAY, sure=90)
        risky = [taken(phone, world, back(3)) for _ in range(count)]
        sent(phone)
        return risky

    risky = more(1)
    forecast(world, *((op, [6]) for op in risky))
    few = asked(office, address)
    risky += more(4)
    forecast(world, *((op, [6]) for op in risky))
    assert asked(office, address) == few


def test_watching_asks_no_more_often_of_many(world: World, phone: Phone) -> None:
    trucks_every_day(world)
    ops = [taken(phone, world, back(3)) for _ in range(6)]
    sent(phone)
    counts = []
    for some in (ops[:1], ops):
        with CaptureQueriesContext(connection) as statements:
            forecast(world, *((op, [6]) for op in some))
        counts.append(len(statements))
    assert counts[1] <= counts[0] + 2  # the rows that are new
