"""Phones that come back online at the same moment: nothing is lost, nothing is doubled."""

from collections.abc import Iterator

import pytest

from tests.world.herd import gather, recorded
from tests.world.stack import Stack

PHONES, OPERATIONS = 10, 30


@pytest.fixture(scope="module")
def stack() -> Iterator[Stack]:
    with Stack(labels=PHONES * OPERATIONS) as made:
        made.start_web(workers=2)
        yield made


def test_ten_phones_at_once_are_all_heard_and_told_no_worse_than_try_again(stack: Stack) -> None:
    herd = gather(stack, PHONES, OPERATIONS)
    herd.come_back()
    assert set(herd.said) <= {200, 503}
    assert herd.hasty == 0
    assert all(
        answer["outcome"] == "accepted"
        for phone in herd.phones
        for answer in phone.answers.values()
    )
    casings = PHONES * (OPERATIONS - 1)
    assert recorded(stack) == {
        "facts": PHONES * OPERATIONS,
        "ids": PHONES * OPERATIONS,
        "orders": casings,
        "pickups": PHONES,
        "accepted": PHONES * OPERATIONS,
    }
