"""The office's page of a pickup that took a trailer closed: its numbers, its seal, every count."""

from typing import Any
from uuid import UUID, uuid4

import pytest
from django.test import Client

from tests.pickups.notices.visits import pushed
from tests.pickups.portal.conftest import text
from tests.world import Phone, World

pytestmark = pytest.mark.django_db


@pytest.fixture
def at(world: World, phone: Phone) -> dict[str, Any]:
    """A trailer left a yard closed, forty casings in it by its customer's word."""
    where = {"pickup": str(uuid4()), "yard": str(world.yard.uid)}
    trailer = {"number": "TW-118", "seal": "0047112", "left": "TW-109"}
    phone.enter("custody.finish_pickup", where | {"trailer": trailer, "customer_count": 40},
                version=4)  # fmt: skip
    pushed(phone)
    return where


def test_a_shut_trailer_stands_with_its_numbers(office: Client, at: dict[str, Any]) -> None:
    page = text(office.get(f"/office/visits/{at['pickup']}/"))
    assert "Trailer taken closed TW-118" in page
    assert "Seal as it was told 0047112" in page
    assert "Trailer left there TW-109" in page
    assert "Emptied not yet: its list comes then" in page


def test_emptied_it_stands_with_the_seal_as_it_was_found_and_both_counts(
    office: Client, world: World, phone: Phone, at: dict[str, Any]
) -> None:
    casing = phone.pick_up(world.a_label(), world.yard.uid, UUID(at["pickup"]))["id"]
    told = {"casings": [casing], "seal": "0047113", "seal_state": "broken", "counted": 2}
    told |= {"store": str(world.store.uid), "note": "cut by hand", "photos": ["a" * 64]}
    emptying = phone.enter("custody.empty_trailer", at | told)
    pushed(phone)
    answer = office.get(f"/office/visits/{at['pickup']}/")
    page = text(answer)
    assert "Seal as it was read 0047113" in page
    assert "Seal broken" in page
    assert world.store.name in page
    assert "cut by hand" in page
    assert "Counted by who emptied it 2" in page
    assert "The customer, at the visit 40" in page
    assert f"/office/photos/{emptying['id']}/1" in answer.content.decode()
    # The question about the seal shows both.
    questions = text(office.get("/office/"))
    assert "Seal as it was told 0047112" in questions
