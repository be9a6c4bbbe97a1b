"""What each phone sees, and when: its own store's rows, each once the server shows it."""

from uuid import uuid4

import pytest
from django.db import connection

from pickups.casings.models import WorkOrder
from pickups.custody.models import Fact
from pickups.customers import services as customers
from pickups.journal.services import drain
from pickups.questions.queries import open_about
from pickups.sync import registry
from tests.conftest import Enrol
from tests.sync.batches import push
from tests.world import Phone, World

pytestmark = [
    pytest.mark.django_db(transaction=True),
    pytest.mark.usefixtures("apart"),
    pytest.mark.xdist_group("feed"),
]


@pytest.fixture
def other(enrol: Enrol, world: World) -> Phone:
    """The other store's phone."""
    return enrol(world.other_driver)


def texts(phone: Phone) -> str:
    return repr(phone.rows)


def test_a_phone_sees_its_own_store_and_nothing_of_the_other(
    world: World, phone: Phone, other: Phone
) -> None:
    order = phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    assert push(phone) == ["accepted"]
    phone.pull_all()
    other.pull_all()
    assert set(phone.seen("yard")) == {str(world.yard.uid)}
    assert set(other.seen("yard")) == {str(world.other_yard.uid)}
    assert set(phone.seen("work_order")) == {order["id"]}
    assert other.seen("work_order") == {}
    assert "Tarn" not in texts(other)
    assert "Reedbank" not in texts(phone)


def test_a_work_order_comes_to_the_phone_as_it_stands(world: World, phone: Phone) -> None:
    pickup = uuid4()
    label = world.a_label()
    op = phone.pick_up(label, world.yard.uid, pickup, tread_32nds=[6, 7], size="295/75R22.5")
    phone.finish(pickup, world.yard.uid, [op["id"]], customer_count=1)
    assert push(phone) == ["accepted", "accepted"]
    phone.pull_all()
    body = phone.seen("work_order")[op["id"]]
    assert (body["label"], body["tread_32nds"], body["size"]) == (label, [6, 7], "295/75R22.5")
    assert (body["progress"], body["holder"]) == ("picked_up", f"person:{world.driver.uid}")
    assert phone.seen("pickup")[str(pickup)]["count"] == 1


def test_an_answer_names_the_position_at_which_its_effect_is_seen(
    world: World, phone: Phone, enrol: Enrol
) -> None:
    """While another transaction is open the effect is not to be seen, and the horizon says so."""
    phone.pull_all()
    connection.ensure_connection()
    from django.db import connections

    long = connections.create_connection("default")
    with long.cursor() as c:
        c.execute("BEGIN")
        c.execute("SELECT pg_current_xact_id()")
        op = phone.pick_up(world.a_label(), world.yard.uid, uuid4())
        position = int(phone.push().json["answers"][0]["position"])
        page = phone.pull().json
        assert int(page["horizon"]) <= position
        assert op["id"] not in phone.seen("work_order")
        c.execute("COMMIT")
    long.close()
    page = phone.pull().json
    assert int(page["horizon"]) > position
    assert not page["more"]
    assert op["id"] in phone.seen("work_order")


def test_a_repeat_names_a_position_that_shows_the_first_effect(world: World, phone: Phone) -> None:
    phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    first, second = (phone.push(ops).json["answers"][0] for ops in [phone.outbox[:]] * 2)
    assert second["position"] == first["position"]


def test_what_is_freed_later_is_seen_no_earlier_than_its_new_position(
    world: World, phone: Phone
) -> None:
    pickup = uuid4()
    casing = phone.pick_up(world.a_label(), world.yard.uid, pickup)
    end = phone.finish(pickup, world.yard.uid, [casing["id"]])
    held = phone.push([end]).json["answers"][0]
    phone.push([casing])
    freed = phone.push([end]).json["answers"][0]
    assert (held["outcome"], freed["outcome"]) == ("held", "accepted")
    assert int(freed["position"]) > int(held["position"])


def test_a_customer_who_moves_is_dropped_by_one_phone_and_put_on_the_other(
    world: World, phone: Phone, other: Phone
) -> None:
    second = customers.open_yard(customer=world.customer, name="South yard")
    for each in (phone, other):
        each.pull_all()
    assert set(phone.seen("yard")) == {str(world.yard.uid), str(second.uid)}
    customers.move_customer(uid=world.customer.uid, home_site=world.other_store)
    for each in (phone, other):
        each.pull_all()
    assert phone.seen("yard") == {}
    theirs = {str(world.other_yard.uid), str(world.yard.uid), str(second.uid)}
    assert set(other.seen("yard")) == theirs
    xids = stamps(str(world.yard.uid))
    assert len(xids) == 2
    assert len(set(xids.values())) == 1, "drop and put in one transaction"
    customers.move_customer(uid=world.customer.uid, home_site=world.store)
    for each in (phone, other):
        each.pull_all(limit=1)
    assert set(phone.seen("yard")) == {str(world.yard.uid), str(second.uid)}
    assert set(other.seen("yard")) == {str(world.other_yard.uid)}


def stamps(uid: str) -> dict[str, str]:
    with connection.cursor() as c:
        c.execute("SELECT scope, xid::text FROM sync_feed WHERE uid = %s", [uid])
        return dict(c.fetchall())


def test_the_work_of_a_customer_that_moves_follows_it_to_the_other_stores_phones(
    world: World, phone: Phone, other: Phone
) -> None:
    pickup = uuid4()
    op = phone.pick_up(world.a_label(), world.yard.uid, pickup)
    phone.finish(pickup, world.yard.uid, [op["id"]])
    assert phone.push().status == 200
    customers.move_customer(uid=world.customer.uid, home_site=world.other_store)
    drain()
    drain()  # safe to run twice
    for each in (phone, other):
        each.pull_all()
    assert phone.seen("work_order") == {}
    assert phone.seen("pickup") == {}
    assert set(other.seen("work_order")) == {op["id"]}
    assert set(other.seen("pickup")) == {str(pickup)}


def test_a_move_to_where_the_customer_is_drops_nothing(world: World, phone: Phone) -> None:
    phone.pull_all()
    customers.move_customer(uid=world.customer.uid, home_site=world.store)
    phone.pull_all()
    assert set(phone.seen("yard")) == {str(world.yard.uid)}


def test_a_device_that_changes_its_store_forgets_the_old_and_gets_the_new_from_the_start(
    world: World, phone: Phone
) -> None:
    phone.pull_all()
    from pickups.people import services as people

    code = people.show_code(site=world.other_store, made_by=world.dispatcher)
    assert phone.enrol(code).status == 200
    page = phone.pull().json
    assert page["forget"] == [f"site:{world.store.uid}"]
    assert list(registry.scopes(phone.uid)) == [f"site:{world.other_store.uid}"]
    phone.pull_all()
    assert set(phone.seen("yard")) == {str(world.other_yard.uid)}
    assert "Tarn" not in texts(phone)


def test_a_casing_of_another_stores_customer_is_recorded_and_goes_to_that_store(
    world: World, phone: Phone, other: Phone
) -> None:
    """The driver was there: it has happened. Its row belongs to the customer's store alone."""
    op = other.pick_up(world.a_label(), world.yard.uid, uuid4())
    assert push(other) == ["accepted"]
    for each in (phone, other):
        each.pull_all()
    assert WorkOrder.objects.get().customer == world.customer.uid
    assert set(phone.seen("work_order")) == {op["id"]}
    assert other.seen("work_order") == {}


def test_a_label_told_by_both_stores_is_contested_and_each_sees_its_own_claim_only(
    world: World, phone: Phone, other: Phone
) -> None:
    label = world.a_label()
    ours = phone.pick_up(label, world.yard.uid, uuid4(), note="ours")
    theirs = other.pick_up(label, world.other_yard.uid, uuid4(), note="theirs")
    assert push(phone) == ["accepted"]
    assert push(other) == ["contested label_contested"]
    for each in (phone, other):
        each.pull_all()
    assert set(phone.seen("work_order")) == {ours["id"]}
    assert set(other.seen("work_order")) == {theirs["id"]}
    assert phone.seen("work_order")[ours["id"]]["contested"] is True
    assert theirs["id"] not in texts(phone)
    assert ours["id"] not in texts(other)
    assert Fact.objects.count() == 2
    assert open_about(f"label:{label}") == ["label_contested"]


def test_a_yard_that_nobody_knows_stays_with_the_store_of_who_was_there(
    world: World, phone: Phone, other: Phone
) -> None:
    yard = uuid4()
    op = other.pick_up(world.a_label(), yard, uuid4())
    assert push(other) == ["contested yard_unknown"]
    for each in (phone, other):
        each.pull_all()
    assert set(other.seen("work_order")) == {op["id"]}
    assert phone.seen("work_order") == {}
    assert open_about(f"yard:{yard}") == ["yard_unknown"]


def test_a_correction_of_the_yard_moves_the_work_order_to_the_other_store(
    world: World, phone: Phone, other: Phone
) -> None:
    label, pickup = world.a_label(), uuid4()
    op = phone.pick_up(label, world.yard.uid, pickup)
    assert push(phone) == ["accepted"]
    phone.pull_all()
    corrects = {"fact": op["id"], "label": label}
    phone.pick_up(label, world.other_yard.uid, pickup, corrects=corrects)
    assert push(phone) == ["accepted"]
    for each in (phone, other):
        each.pull_all()
    assert phone.seen("work_order") == {}
    assert set(other.seen("work_order")) == {op["id"]}


def test_a_customers_new_name_reaches_the_phones_of_its_store(world: World, phone: Phone) -> None:
    phone.pull_all()
    world.customer.name = "Tarn Valley Freight"
    world.customer.save()
    customers.publish_customer(uid=world.customer.uid)
    phone.pull_all()
    assert phone.seen("yard")[str(world.yard.uid)]["customer_name"] == "Tarn Valley Freight"
