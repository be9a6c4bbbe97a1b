"""Work orders as phones see them: versions rise only with what can be seen, each store its own."""

from typing import Any
from uuid import UUID, uuid4

import pytest

from pickups.casings import queries
from pickups.casings.models import Casing, WorkOrder
from pickups.custody.fold import Kind
from pickups.custody.models import Fact
from pickups.sync.models import Feed
from tests.conftest import Enrol
from tests.world import Phone, World
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db


def picked_up(phone: Phone, label: str, yard: UUID, **more: Any) -> WorkOrder:
    op = phone.pick_up(label, yard, uuid4(), **more)
    assert phone.push().status == 200
    return WorkOrder.objects.get(uid=op["id"])


def feed_of(order: WorkOrder) -> dict[str, tuple[int, bool]]:
    """Scope to version and whether it is gone from there."""
    rows = Feed.objects.filter(entity="work_order", uid=order.uid)
    return {row.scope: (row.version, row.gone) for row in rows}


def test_a_work_order_begins_with_its_casing_and_what_was_read_off_it(
    world: World, phone: Phone
) -> None:
    order = picked_up(
        phone, world.a_label(), world.yard.uid, tin="1U3XABC1225", size="11R22.5", note="cut"
    )
    casing = Casing.objects.get()
    assert (casing.uid, casing.tin, casing.size) == (order.uid, "1U3XABC1225", "11R22.5")
    assert (order.customer, order.site) == (world.customer.uid, world.store.uid)
    assert order.told == {"tin": "1U3XABC1225", "size": "11R22.5", "note": "cut"}
    body = queries.bodies([order.uid])[order.uid]
    assert (body["note"], body["photos"], body["progress"]) == ("cut", [], "picked_up")


def test_a_version_rises_only_where_something_can_be_seen(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    label = world.a_label()
    order = picked_up(phone, label, world.yard.uid)
    versions = []
    for outcome, station in (
        ("received", "receiving"),
        ("passed", "buffing"),
        ("passed", "buffing"),  # the same again: a fact, and nothing new to see
        ("hold", "buffing"),
    ):
        gateway.tell(label, outcome, station=station)
        order.refresh_from_db()
        versions.append(order.version)
        assert feed_of(order) == {f"site:{world.store.uid}": (order.version, False)}
    assert versions == [2, 3, 3, 4]
    assert Fact.objects.filter(kind=Kind.PASSED).count() == 2


def test_a_casing_told_for_another_stores_yard_leaves_one_store_and_enters_the_other(
    world: World, phone: Phone
) -> None:
    label = world.a_label()
    order = picked_up(phone, label, world.yard.uid)
    payload = {
        "pickup": str(order.pickup),
        "yard": str(world.other_yard.uid),
        "label": label,
        "corrects": {"fact": str(order.uid), "label": label},
    }
    phone.enter("custody.pick_up", payload)
    assert phone.push().status == 200
    order.refresh_from_db()
    assert (order.customer, order.site) == (world.other_customer.uid, world.other_store.uid)
    assert feed_of(order) == {
        f"site:{world.store.uid}": (2, True),
        f"site:{world.other_store.uid}": (2, False),
    }


@pytest.mark.xdist_group("feed")
@pytest.mark.usefixtures("apart")
@pytest.mark.django_db(transaction=True)
def test_a_phone_sees_its_own_stores_casings_and_no_others(
    world: World, enrol: Enrol, gateway: Gateway
) -> None:
    ours, theirs = enrol(), enrol(world.other_driver)
    label = world.a_label()
    order = picked_up(ours, label, world.yard.uid)
    gateway.tell(label, "rejected", reason="BEAD_TEAR")
    ours.pull_all()
    theirs.pull_all()
    seen = ours.seen("work_order")[str(order.uid)]
    assert (seen["progress"], seen["reason"]) == ("rejected", "BEAD_TEAR")
    assert theirs.seen("work_order") == {}
