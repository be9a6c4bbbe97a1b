"""What the dealer has set reaches phones with the sites: told anew when it changed, else not."""

from typing import Any

import pytest
from pytest_django import Settings

from pickups.journal.models import Entry
from pickups.people import telling
from tests.pickups.notices.visits import drain_all
from tests.world import Phone, World

pytestmark = [
    pytest.mark.django_db(transaction=True),  # a feed shows what is committed
    pytest.mark.usefixtures("apart"),
    pytest.mark.xdist_group("feed"),
]


def told(phone: Phone, cursor: Any) -> tuple[list[dict[str, Any]], Any]:
    """What a pull says of sites from a place on, and where it ends."""
    bodies = []
    while True:
        page = phone.send("POST", "/api/sync/pull", {"cursor": cursor}, bearer=True).json
        bodies += [r["body"] for r in page["rows"] if r["entity"] == "site"]
        cursor = page["cursor"]
        if not page["more"]:
            return bodies, cursor


def test_days_that_were_set_anew_come_with_the_next_pull(
    world: World, phone: Phone, settings: Settings
) -> None:
    telling.tell_settings()
    drain_all()
    first, cursor = told(phone, None)
    assert {body["unclaimed"]["call"] for body in first} == {7}
    assert told(phone, cursor)[0] == []
    settings.UNCLAIMED_CALL_DAYS = 10
    assert telling.tell_settings()
    drain_all()
    again, cursor = told(phone, cursor)
    assert len(again) == len(first)
    assert {body["unclaimed"]["call"] for body in again} == {10}
    # Nothing changed since: nobody hears it twice.
    assert not telling.tell_settings()
    drain_all()
    assert told(phone, cursor)[0] == []
    assert Entry.objects.filter(kind="settings.told").count() == 2
