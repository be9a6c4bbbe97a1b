"""Facts and journal are for ever: the database itself refuses to change or delete them."""

from uuid import uuid4

import pytest
from django.db import IntegrityError, connection, transaction

from pickups.custody.models import Fact
from tests.world import Phone, World

pytestmark = pytest.mark.django_db


def taken(phone: Phone, world: World) -> None:
    """One casing in the ledger."""
    phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    assert phone.push().status == 200
    assert Fact.objects.count() == 1


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE custody_fact SET stamp = stamp + 1",
        "UPDATE custody_fact SET told = '{}'",
        "UPDATE custody_fact SET recorded_at = now()",
        "UPDATE custody_fact SET work_order = NULL, label = 'K7XXXXXX'",
        "DELETE FROM custody_fact",
        "UPDATE journal_entry SET kind = 'x'",
        "DELETE FROM journal_entry",
    ],
)
def test_the_database_itself_refuses_to_change_what_was_told(
    world: World, phone: Phone, statement: str
) -> None:
    taken(phone, world)
    with pytest.raises(IntegrityError, match="never changed"), transaction.atomic():
        connection.cursor().execute(statement)


def test_only_whose_a_fact_is_may_change(world: World, phone: Phone) -> None:
    taken(phone, world)
    assert Fact.objects.update(work_order=None) == 1
