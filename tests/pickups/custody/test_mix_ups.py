"""A settled mix-up beside the lists of the visits in which the two casings were taken."""

from typing import Any
from uuid import UUID, uuid4

import pytest

from pickups.custody import ownership
from pickups.questions.models import Question
from pickups.questions.rules import Kind
from tests.conftest import Enrol
from tests.pickups.notices.visits import pushed, taken, told_again
from tests.world import Phone, World

pytestmark = pytest.mark.django_db


def differing() -> set[str]:
    rows = Question.objects.filter(kind=Kind.PICKUP_DIFFERS, settled_at=None)
    return set(rows.values_list("subject", flat=True))


def settled(world: World, one: dict[str, Any], two: dict[str, Any]) -> UUID:
    return ownership.settle(
        work_order=UUID(one["id"]), other=UUID(two["id"]), reason="swapped",
        by=world.dispatcher.uid,
    )  # fmt: skip


def test_what_was_settled_is_no_doubt_about_a_signed_list_now_or_later(
    world: World, phone: Phone, enrol: Enrol
) -> None:
    visit, other = uuid4(), enrol(world.other_driver)
    one, keep = (taken(phone, world, pickup=visit) for _ in range(2))
    phone.finish(visit, world.yard.uid, [one["id"], keep["id"]])
    pushed(phone)
    two = taken(other, world, yard=world.other_yard.uid)
    change = settled(world, one, two)
    told_again(phone, keep, size="11R22.5")
    assert differing() == set()
    ownership.undo(change=change, reason="no mix-up", by=world.dispatcher.uid)
    assert differing() == set()


def test_a_list_with_a_casing_of_another_customer_is_asked_about_until_the_mix_up_is_settled(
    world: World, phone: Phone, enrol: Enrol
) -> None:
    visit = uuid4()
    one = taken(phone, world, yard=world.other_yard.uid, pickup=visit)
    phone.finish(visit, world.yard.uid, [one["id"]])
    pushed(phone)
    assert differing() == {f"pickup:{visit}"}
    two = taken(enrol(world.driver), world)
    change = settled(world, one, two)
    assert differing() == set()
    ownership.undo(change=change, reason="no mix-up", by=world.dispatcher.uid)
    assert differing() == {f"pickup:{visit}"}
