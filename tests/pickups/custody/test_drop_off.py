"""Over a store's counter: casings dropped off there, fetched there, and places nobody knows."""

from typing import Any
from uuid import UUID, uuid4

import pytest

from pickups.casings.models import WorkOrder
from pickups.custody import queries, visits
from pickups.custody.models import Delivery, Fact, Pickup, Signature
from pickups.custody.shown import shown
from pickups.questions.models import Question
from pickups.sync.models import Operation
from tests.pickups.custody.test_hand_over import hand_over
from tests.pickups.custody.test_record import open_kinds, order, push, tell_again
from tests.world import Phone, World

pytestmark = pytest.mark.django_db

PROMISED = {"on": "2026-04-24", "basis": "by_hand", "offered": None, "table": None}
WANTED = {"work": "repair", "basis": "pool", "unit": "T-118", "purchase_order": "PO 4471",
          "tread_design": "rib", "back_to": "store", "promised": PROMISED}  # fmt: skip


def drop_off(phone: Phone, world: World, label: str, store: UUID, **more: Any) -> dict[str, Any]:
    """One casing taken in over the counter, pushed."""
    payload = {"pickup": str(uuid4()), "yard": str(world.yard.uid), "label": label,
               "store": str(store), **WANTED, **more}  # fmt: skip
    made = phone.enter("custody.pick_up", payload, version=2)
    push(phone)
    return made


def test_what_is_dropped_off_is_on_the_stores_rack_with_what_is_wanted(
    world: World, phone: Phone
) -> None:
    op = drop_off(phone, world, world.a_label(), world.store.uid)
    standing = order(op)
    assert standing.holder == f"site:{world.store.uid}"
    assert standing.told == {"store": str(world.store.uid), **WANTED}
    assert (standing.customer, standing.site) == (world.customer.uid, world.store.uid)
    assert not Question.objects.exists()


def test_a_correction_by_an_older_app_keeps_counter_and_what_was_wanted(
    world: World, phone: Phone
) -> None:
    label = world.a_label()
    op = drop_off(phone, world, label, world.store.uid)
    bare = {k: op["payload"][k] for k in ("pickup", "yard", "label")}
    tell_again(phone, {**op, "payload": bare}, label, tin="4B08 2910")
    assert order(op).told == {"store": str(world.store.uid), **WANTED, "tin": "4B08 2910"}
    assert order(op).holder == f"site:{world.store.uid}"


def test_a_correction_moves_nothing_to_another_counter(world: World, phone: Phone) -> None:
    label = world.a_label()
    op = drop_off(phone, world, label, world.store.uid)
    payload = op["payload"] | {"store": str(world.other_store.uid), "unit": "T-200"}
    corrects = {"fact": op["id"], "label": label}
    phone.enter("custody.pick_up", payload | {"corrects": corrects}, version=2)
    push(phone)
    assert order(op).told["store"] == str(world.store.uid)
    assert order(op).told["unit"] == "T-200"
    assert order(op).holder == f"site:{world.store.uid}"


def test_a_drop_off_at_a_store_that_nobody_knows_is_taken_and_asked_about_once(
    world: World, phone: Phone
) -> None:
    nowhere = uuid4()
    first = drop_off(phone, world, world.a_label(), nowhere)
    drop_off(phone, world, world.a_label(), nowhere)
    assert phone.answers[first["id"]]["code"] == "holder_unknown"
    assert open_kinds(f"site:{nowhere}") == ["holder_unknown"]
    assert order(first).holder == f"site:{nowhere}"
    assert order(first).site == world.store.uid


@pytest.mark.parametrize("kind", ["person", "site", "plant", "customer"])
def test_a_hand_over_to_nobody_known_is_taken_and_asked_about(
    world: World, phone: Phone, kind: str
) -> None:
    label, taker = world.a_label(), f"{kind}:{uuid4()}"
    phone.pick_up(label, world.yard.uid, uuid4())
    push(phone)
    made = hand_over(phone, label, "in", f"person:{world.driver.uid}", taker)
    assert phone.answers[made["id"]]["code"] == "holder_unknown"
    (question,) = Question.objects.all()
    assert (question.subject, question.facts["taker"]) == (taker, taker)
    assert WorkOrder.objects.get().holder == taker


def test_a_hand_over_to_whom_we_know_asks_nothing(world: World, phone: Phone) -> None:
    label = world.a_label()
    phone.pick_up(label, world.yard.uid, uuid4())
    push(phone)
    for taker in (
        f"person:{world.other_driver.uid}",
        f"site:{world.store.uid}",
        f"plant:{world.plant.uid}",
        f"customer:{world.customer.uid}",
    ):
        hand_over(phone, label, "in", f"person:{world.driver.uid}", taker)
    assert not Question.objects.exists()


def test_a_customer_who_changes_his_mind_fetches_it_unworked_at_the_counter(
    world: World, phone: Phone
) -> None:
    label = world.a_label()
    op = drop_off(phone, world, label, world.store.uid)
    delivery = uuid4()
    payload = {"delivery": str(delivery), "yard": str(world.yard.uid), "label": label,
               "store": str(world.store.uid)}  # fmt: skip
    handed = phone.enter("custody.deliver", payload, version=2)
    end = {"delivery": str(delivery), "yard": str(world.yard.uid), "casings": [handed["id"]],
           "store": str(world.store.uid), "signer": "R. Amsel"}  # fmt: skip
    phone.enter("custody.finish_delivery", end, version=2)
    assert push(phone) == ["accepted", "accepted"]
    assert (order(op).progress, order(op).holder) == ("returned", f"customer:{world.customer.uid}")
    assert Delivery.objects.get().store == world.store.uid
    assert Fact.objects.get(kind="returned").told["giver"] == f"site:{world.store.uid}"
    assert not Question.objects.exists()


# --- Who signed ---------------------------------------------------------------------------------


def end_of(phone: Phone, world: World, op: dict[str, Any], **more: Any) -> dict[str, Any]:
    """The end of a drop-off, entered."""
    payload = {"pickup": op["payload"]["pickup"], "yard": str(world.yard.uid),
               "casings": [op["id"]], "store": str(world.store.uid), **more}  # fmt: skip
    return phone.enter("custody.finish_pickup", payload, version=2)


def test_who_signed_for_a_pickup_stands_apart_from_everything_that_is_kept(
    world: World, phone: Phone
) -> None:
    op = drop_off(phone, world, world.a_label(), world.store.uid)
    end_of(phone, world, op, signer="R. Amsel", signature="a" * 64, shown="b" * 64)
    assert push(phone) == ["accepted"]
    signed = Signature.objects.get(visit=op["payload"]["pickup"])
    assert (signed.name, signed.image) == ("R. Amsel", "a" * 64)
    row = Pickup.objects.get()
    assert (row.store, row.shown, row.unsigned) == (world.store.uid, "b" * 64, "")
    kept = Fact.objects.get(kind="pickup_end").told
    assert kept["signed"] is True
    assert "Amsel" not in str(kept)
    assert "a" * 64 not in str(kept)
    assert not Operation.objects.exclude(raw=None).exists(), "no copy of the name is kept"


@pytest.mark.parametrize("late", [False, True])
def test_what_was_signed_is_the_list_of_the_end_that_was_signed(
    world: World, phone: Phone, late: bool
) -> None:
    label = world.a_label()
    op = drop_off(phone, world, label, world.store.uid)
    whole = shown([(label, "")])
    ends = [
        end_of(phone, world, op, unsigned="nobody there yet", shown="b" * 64),
        end_of(phone, world, op, signer="R. Amsel", shown=whole),
    ]
    for end in ends[::-1] if late else ends:
        assert phone.push([end]).status == 200
    row = Pickup.objects.get()
    assert (row.shown, Signature.objects.get().shown) == ("b" * 64, whole)
    assert queries.as_signed(row, [(label, label, "")], [])
    assert not queries.as_signed(row, [(label, label, "2026-04-28")], [])


def test_of_a_signature_that_was_erased_nothing_is_said_about_its_list(
    world: World, phone: Phone
) -> None:
    op = drop_off(phone, world, world.a_label(), world.store.uid)
    end_of(phone, world, op, signer="R. Amsel", shown="b" * 64)
    push(phone)
    row, label = Pickup.objects.get(), op["payload"]["label"]
    assert not queries.as_signed(row, [(label, label, "")], [])
    Signature.objects.all().delete()
    assert queries.as_signed(row, [(label, label, "")], [])


def test_why_nobody_signed_is_kept_with_the_pickup(world: World, phone: Phone) -> None:
    op = drop_off(phone, world, world.a_label(), world.store.uid)
    end_of(phone, world, op, unsigned="left in a hurry")
    push(phone)
    assert Pickup.objects.get().unsigned == "left in a hurry"
    assert "signed" not in Fact.objects.get(kind="pickup_end").told
    assert not Signature.objects.exists()


@pytest.mark.parametrize("late", [False, True])
def test_the_first_signature_counts_whatever_end_comes_first(
    world: World, phone: Phone, late: bool
) -> None:
    op = drop_off(phone, world, world.a_label(), world.store.uid)
    ends = [
        end_of(phone, world, op, unsigned="nobody there yet"),
        end_of(phone, world, op, signer="R. Amsel", signature="a" * 64),
        end_of(phone, world, op, signer="Somebody Else", signature="c" * 64),
    ]
    for end in ends[::-1] if late else ends:
        assert phone.push([end]).status == 200
    assert Signature.objects.get().name == "R. Amsel"
    assert Pickup.objects.get().unsigned == "nobody there yet"
    others = {f"fact:{end['id']}" for end in ends[1:]}
    asked = Question.objects.filter(kind="pickup_differs", settled_at=None)
    assert set(asked.values_list("subject", flat=True)) == others


def test_a_phone_sees_where_and_when_a_visit_was(world: World, phone: Phone) -> None:
    op = drop_off(phone, world, world.a_label(), world.store.uid)
    end = end_of(phone, world, op, signer="R. Amsel", customer_count=1)
    push(phone)
    uid = UUID(op["payload"]["pickup"])
    assert visits.bodies([uid]) == {
        uid: {
            "yard": str(world.yard.uid),
            "store": str(world.store.uid),
            "count": 1,
            "customer_count": 1,
            "trailer": None,
            "nobody_there": False,
            "deposit_cents": None,
            "deposit_note": "",
            "emptied_at": None,
            "finished_at": end["happened_at"],
        }
    }
