"""A list of 10,000 yards, looked at and written, against the same records saved one a request.

Both in this process, without a network between: ours by the services that the page and the command
call, the peer by the product's own page for one yard, which writes history and feed too.
"""

import time

import pytest
from django.test import Client

from pickups.customers.models import Yard
from pickups.exchange import services
from pickups.kernel import clock
from pickups.people.models import User
from tests.bench.figures import note
from tests.pickups.exchange.files import text
from tests.world import World

ROWS, NAIVE = 10_000, 200


@pytest.mark.django_db(transaction=True)
def test_a_list_of_10_000_yards_against_a_request_a_row(world: World) -> None:
    rows = [["Tarn Valley Haulage", f"Yard {n}", f"{n} Low Lane"] for n in range(ROWS)]
    raw = text([["customer", "yard", "address"], *rows])
    began = time.perf_counter()
    taken = services.take_in(raw=raw, name="yards.csv", wanted="", by=None, at=clock.now())
    plan, _ = services.look(taken)
    looked = time.perf_counter() - began
    assert services.agree(uid=taken.uid, mark=plan.mark, at=clock.now(), owe=False) == "agreed"
    start: int | None = 0
    longest = 0.0
    while start is not None:
        step = time.perf_counter()
        start = services.step(uid=taken.uid, start=start, owe=False)
        longest = max(longest, time.perf_counter() - step)
    ours = ROWS / (time.perf_counter() - began)
    assert Yard.objects.filter(name__startswith="Yard ").count() == ROWS
    naive = by_requests(world)
    note(
        "list of 10,000 yards",
        rows_per_s=ours,
        looked_at_s=looked,
        longest_commit_s=longest,
        request_a_row_per_s=naive,
        times=ours / naive,
        aim="no commit holds the feed for 3 s",
    )
    assert longest < 3


def by_requests(world: World) -> float:
    """Yards a second by the page for one yard."""
    admin = User.objects.create_superuser("root", role="admin")
    client = Client()
    client.force_login(admin)
    began = time.perf_counter()
    for n in range(NAIVE):
        told = {"customer": world.other_customer.uid, "name": f"One {n}", "address": "x"}
        answer = client.post("/admin/customers/yard/add/", told)
        assert answer.status_code == 302
    took = time.perf_counter() - began
    assert Yard.objects.filter(name__startswith="One ").count() == NAIVE
    return NAIVE / took
