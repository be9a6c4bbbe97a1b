"""When are my fourteen back? Asked of the group: inside the plant course by course, before it of
those that arrive together; said on the customer's page and on the desk's page of the pickup."""

import re
from datetime import timedelta
from itertools import product
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.test import Client
from hypothesis import given
from hypothesis import strategies as st

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.customers import services as customers
from pickups.kernel import clock
from pickups.kernel.languages import day_in_words
from pickups.notices.queries.together import Together, surer, together
from tests.pickups.desk.conftest import office, signed_in  # noqa: F401
from tests.pickups.portal.conftest import ines, opened, text  # noqa: F401
from tests.pickups.promises.foretold import foretell, spread
from tests.pickups.promises.promising import by_hand, drained, sent, taken, today, told_again
from tests.pickups.promises.trucks import publish
from tests.world import Phone, World
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db(transaction=True)

DAY = timedelta(days=1)
EVERY = range(7)
FAR = by_hand(today() + 90 * DAY)


def daily(world: World) -> None:
    publish(world, to_plant=EVERY, to_yard=EVERY, weekdays=EVERY)


def visit(phone: Phone, world: World, n: int, **more: Any) -> list[dict[str, Any]]:
    """So many casings of one pickup, each with a day by hand that says nothing here."""
    pickup = str(uuid4())
    return [taken(phone, world, FAR, version=4, pickup=pickup, **more) for _ in range(n)]


def group(*ops: dict[str, Any]) -> Together | None:
    orders = WorkOrder.objects.select_related("casing").filter(uid__in=[op["id"] for op in ops])
    return together(orders, at=clock.now())


def test_inside_the_plant_the_group_is_asked_course_by_course(world: World, phone: Phone) -> None:
    """Ten courses; each casing late in one, never the same: each alone is back on the third day
    with 90 %, both only three days later."""
    daily(world)
    one, two = visit(phone, world, 2)
    soon, late = today() + DAY, today() + 4 * DAY
    samples = [late] + [soon] * 9, [soon, late] + [soon] * 8
    foretell(world, casings=dict(zip(map(_uid, (one, two)), samples, strict=True)))
    sent(phone)
    found = group(one, two)
    assert found is not None
    assert (found.on, found.percent, found.of) == (late + 2 * DAY, 90, 2)
    assert (found.back, found.unknown, found.pairs) == (0, 0, [])
    customers.promise_with(uid=world.customer.uid, percent=80, at=clock.now())
    surer = group(one, two)
    assert surer is not None
    assert surer.on == soon + 2 * DAY
    assert group(one) is None, "one alone is no group"


def test_before_they_are_in_they_count_as_so_many_that_arrive_together(
    world: World, phone: Phone
) -> None:
    daily(world)
    ops = visit(phone, world, 3, size="11R22.5")
    foretell(world, groups={1: 0, 2: 1, 5: 7})
    sent(phone)
    found = group(*ops)
    assert found is not None
    # Tomorrow's truck, five days, seven more for the last of up to five, a day at 90 %, two back.
    assert found.on == today() + (1 + 5 + 7 + 1 + 2) * DAY
    pair = group(*ops[:2])
    assert pair is not None
    assert pair.on == today() + (1 + 5 + 1 + 1 + 2) * DAY


def test_parts_that_share_no_courses_are_asked_so_much_surer_that_all_of_it_holds(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    """One inside and one on its way: the day is held in 9 of 10 pairs of their courses."""
    daily(world)
    inside, coming = visit(phone, world, 2)
    done = today() + (1 + 5) * DAY
    ours = [done] * 9 + [done + 9 * DAY]
    foretell(world, casings={_uid(inside): ours})
    sent(phone)
    gateway.tell(inside["payload"]["label"], "received")
    drained()
    found = group(inside, coming)
    assert found is not None
    assert found.on is not None
    last = found.on - 2 * DAY
    pairs = [max(pair) for pair in product(ours, spread(done))]
    assert sum(day <= last for day in pairs) >= 0.9 * len(pairs)
    assert (found.percent, found.on) == (90, done + (9 + 2) * DAY)


@given(st.integers(50, 99), st.integers(1, 6))
def test_whatever_parts_have_in_common_they_fail_together_no_more_often_than_asked(
    percent: int, parts: int
) -> None:
    each = surer(percent, parts)
    assert parts * (100 - each) <= 100 - percent, "the chances to fail add up to no more"
    assert percent <= each <= 100
    assert surer(percent, 1) == percent


def test_what_nobody_can_say_is_said_and_what_is_rejected_is_not_waited_for(
    world: World,
    phone: Phone,
    gateway: Gateway,
    ines: Client,  # noqa: F811
    office: Client,  # noqa: F811
) -> None:
    daily(world)
    ops = visit(phone, world, 4)
    foretell(world, casings={_uid(op): [today() + DAY] * 10 for op in ops[:2]})
    sent(phone)
    third, fourth = (op["payload"]["label"] for op in ops[2:])
    gateway.tell(third, "received")
    gateway.tell(fourth, "received")
    gateway.tell(fourth, "rejected")
    drained()
    found = group(*ops)
    assert found is not None
    assert (found.of, found.unknown, found.on) == (3, 1, today() + 3 * DAY)
    due = day_in_words("en", today() + 3 * DAY)
    page = text(ines.get("/casings/"))
    assert f"2 of 3 are back by {due}, 9 of 10 times. Of 1 of them no day is known yet." in page
    assert "the last of" not in page
    sent(phone, phone.enter("custody.finish_pickup", _end(*ops), version=5))
    page = text(office.get(f"/office/visits/{ops[0]['payload']['pickup']}/"))
    assert f"Of 3 that are waited for 2 by {due}: 9 of 10 times." in page
    assert "The last of" not in page


def test_both_pages_say_it_with_pairs(
    world: World,
    phone: Phone,
    ines: Client,  # noqa: F811
    office: Client,  # noqa: F811
) -> None:
    daily(world)
    one, two, three = visit(phone, world, 3)
    told_again(phone, two, version=4, dual_with=one["payload"]["label"])
    done = today() + 2 * DAY
    foretell(world, casings={_uid(op): [done] * 10 for op in (one, two, three)})
    sent(phone)
    due = day_in_words("en", done + 2 * DAY)
    page = text(ines.get("/casings/"))
    assert re.search(rf"When all of them are back .*the last of 3 is back by {due}", page)
    assert "9 of 10 times" in page
    assert "Matched duals: " in page
    finished = phone.enter("custody.finish_pickup", _end(one, two, three), version=5)
    sent(phone, finished)
    page = text(office.get(f"/office/visits/{one['payload']['pickup']}/"))
    assert f"The last of 3 that are waited for by {due}: 9 of 10 times." in page
    assert "Matched duals: " in page
    assert casings.work_order(_uid(two)) is not None


def _end(*ops: dict[str, Any]) -> dict[str, Any]:
    first = ops[0]["payload"]
    return {
        "pickup": first["pickup"],
        "yard": first["yard"],
        "casings": [op["id"] for op in ops],
        "signer": "R. Amsel",
    }


def _uid(op: dict[str, Any]) -> UUID:
    return UUID(op["id"])
