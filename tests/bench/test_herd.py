"""200 phones back online at once with 150 operations each, against one phone that pushes as many.

The web processes are the product's own number; the phones share the machine's cores with them.
"""

import json
from collections.abc import Iterator
from itertools import product

import pytest

from tests.bench.figures import note
from tests.world.herd import fill, gather, recorded
from tests.world.stack import Stack

PHONES, EACH = 200, 150
ALL = PHONES * EACH


@pytest.fixture(scope="module")
def stack() -> Iterator[Stack]:
    with Stack(durable=True, labels=1000) as made:
        ranges = [a + b for a, b in product("MN", "2345")]
        store = made.cast["store"]
        made.cast["labels"] = json.loads(
            made.call(f"print_more({store!r}, {ranges!r}, {ALL // 3})").splitlines()[-1]
        )
        made.start_web(workers=2)
        yield made


def test_200_phones_at_once_against_one_serial_push(stack: Stack) -> None:
    warm = gather(stack, 4, EACH)
    warm.come_back()
    alone = gather(stack, 1, EACH)
    for _ in range(PHONES - 1):
        fill(alone.phones[0], stack, EACH)
    serial_s = alone.come_back()
    herd = gather(stack, PHONES, EACH)
    before = recorded(stack)
    herd_s = herd.come_back()
    after = recorded(stack)
    told = {name: after[name] - before[name] for name in after}
    note(
        "200 phones back at once",
        seconds=herd_s,
        serial_s=serial_s,
        ratio=herd_s / serial_s,
        told_to_try_again=herd.said[503],
        recorded=told["facts"],
        aim="all recorded within 2 x of one serial push, none lost or doubled",
    )
    assert set(herd.said) <= {200, 503}
    assert herd.hasty == 0
    assert told == {
        "facts": ALL,
        "ids": ALL,
        "orders": ALL - PHONES,
        "pickups": PHONES,
        "accepted": ALL,
    }
