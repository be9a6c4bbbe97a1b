"""Facts from before the doors bounded their times: the office's pages show them all the same."""

from datetime import UTC, datetime
from uuid import uuid4

import pytest
from django.db import transaction
from django.test import Client
from pytest_django import Settings

from pickups.custody import services as custody
from pickups.custody.fold import Fact, Kind
from pickups.custody.ledger import Told
from pickups.kernel import clock
from pickups.questions import services as questions
from pickups.questions.rules import Kind as Question
from tests.world import World


@pytest.mark.parametrize(
    ("zone", "at"),
    [
        ("America/Chicago", datetime(1, 1, 1, tzinfo=UTC)),
        ("America/Chicago", datetime(700, 2, 3, tzinfo=UTC)),
        ("Asia/Tokyo", datetime(9999, 12, 31, 23, 59, 59, tzinfo=UTC)),
    ],
)
def test_a_time_that_no_zone_can_hold_breaks_no_page(
    world: World, office: Client, settings: Settings, zone: str, at: datetime
) -> None:
    settings.DEALER_TIME_ZONE = zone
    label, pickup = world.a_label(), uuid4()
    told = {"at": clock.rfc3339(at), "pickup": str(pickup), "yard": str(world.yard.uid)}
    fact = Fact(uuid4(), Kind.PICKED_UP, label, 1, holder=f"person:{world.driver.uid}", told=told)
    with transaction.atomic():
        custody.record(
            [Told(fact, at, by=world.driver.uid, device=None, skew_ms=None)],
            site=world.store.uid,
            at=clock.now(),
        )
        facts = {"happened_at": at.isoformat(), "device": None}
        asked = questions.Ask(Question.FROM_THE_FUTURE, f"fact:{fact.uid}", facts)
        questions.ask([asked], at=clock.now())
    for page in ("/office/", f"/office/labels/{label}"):
        answer = office.get(page)
        assert answer.status_code == 200
        assert f" {at.year}, " in answer.content.decode()
