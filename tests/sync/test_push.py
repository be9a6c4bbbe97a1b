"""A batch is answered in its order, a repeat as before, and an id is never used twice."""

import json
from uuid import uuid4

from pickups.casings.models import WorkOrder
from pickups.custody.models import Fact
from pickups.questions.queries import open_about
from pickups.sync import queries
from pickups.sync.models import Operation
from tests.conftest import Enrol
from tests.sync.batches import dumped, kept, push, push_bytes, told
from tests.world import Phone, World
from tests.world.tables import nothing_written


def test_a_pick_up_reaches_the_ledger_with_who_when_and_by_which_clock(
    world: World, phone: Phone
) -> None:
    op = phone.pick_up(world.a_label(), world.yard.uid, uuid4(), tread_32nds=[6, 7])
    assert push(phone) == ["accepted"]
    assert phone.outbox == []
    fact = Fact.objects.get()
    assert (str(fact.uid), str(fact.by), fact.device) == (op["id"], op["by"], phone.uid)
    assert (fact.stamp, fact.told["tread_32nds"]) == (op["stamp"], [6, 7])
    order = WorkOrder.objects.get()
    assert (order.customer, order.site) == (world.customer.uid, world.store.uid)
    assert order.holder == f"person:{world.driver.uid}"


def test_answers_stand_in_the_order_of_the_operations(world: World, phone: Phone) -> None:
    pickup = uuid4()
    good = [phone.pick_up(world.a_label(), world.yard.uid, pickup) for _ in range(3)]
    unknown = phone.enter("custody.sing", {})
    early = phone.finish(pickup, world.yard.uid, [str(uuid4())])
    broken = b'{"id":"%s"}' % str(uuid4()).encode()
    answers = push_bytes(
        phone,
        [dumped(good[0]), broken, dumped(unknown), dumped(good[1]), dumped(early), dumped(good[2])],
    )
    assert [told(a) for a in answers] == [
        "accepted",
        "refused malformed",
        "held kind_unknown",
        "accepted",
        "held reference_unseen",
        "accepted",
    ]
    sent = [good[0]["id"], json.loads(broken)["id"], unknown["id"], good[1]["id"], early["id"]]
    assert [a["id"] for a in answers] == [*sent, good[2]["id"]]


def test_a_repeat_is_answered_as_before_and_writes_nothing(world: World, phone: Phone) -> None:
    pickup = uuid4()
    phone.pick_up(world.a_label(), world.yard.uid, pickup)
    phone.pick_up("K7000000", world.yard.uid, pickup)
    phone.enter("custody.sing", {})
    ops = list(phone.outbox)
    first = phone.push(ops).json["answers"]
    assert {a["outcome"] for a in first} == {"accepted", "contested", "held"}
    with nothing_written():
        again = phone.push(ops).json["answers"]
    assert again == [{**a, "repeat": True} for a in first]


def test_a_repeat_written_in_another_way_is_the_same_operation(world: World, phone: Phone) -> None:
    op = phone.pick_up(world.a_label(), world.yard.uid, uuid4(), note="bay ü")
    assert push(phone) == ["accepted"]
    other = json.dumps(dict(reversed(op.items())), ensure_ascii=False, indent=3).encode()
    (answer,) = push_bytes(phone, [other])
    assert (told(answer), answer["repeat"]) == ("accepted", True)


def test_one_operation_twice_in_a_batch_is_applied_once(world: World, phone: Phone) -> None:
    op = phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    first, second = phone.push([op, op]).json["answers"]
    assert (first["outcome"], "repeat" in first) == ("accepted", False)
    assert second == {**first, "repeat": True}
    assert Fact.objects.count() == 1


def test_an_id_with_another_body_is_refused_without_the_first_answer(
    world: World, phone: Phone
) -> None:
    op = phone.pick_up("K7000000", world.yard.uid, uuid4())
    assert push(phone) == ["contested label_not_printed"]
    with nothing_written():
        (answer,) = phone.push([{**op, "stamp": op["stamp"] + 1}]).json["answers"]
    assert told(answer) == "refused id_reused"
    assert (answer["field"], answer["value"]) == ("id", op["id"])
    assert not answer.keys() & {"position", "repeat"}


def test_an_id_with_another_body_beside_its_first_in_one_batch_is_refused(
    world: World, phone: Phone
) -> None:
    op = phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    reply = phone.push([op, {**op, "stamp": op["stamp"] + 1}, op])
    assert [told(a) for a in reply.json["answers"]] == ["accepted", "refused id_reused", "accepted"]
    assert Fact.objects.get().stamp == op["stamp"]


def test_an_id_from_another_device_is_refused_even_with_the_same_body(
    world: World, phone: Phone, enrol: Enrol
) -> None:
    op = phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    assert push(phone) == ["accepted"]
    other = enrol()
    with nothing_written():
        (answer,) = other.push([op]).json["answers"]
    assert told(answer) == "refused id_reused"
    assert "position" not in answer


def test_the_whole_of_an_operation_is_kept_only_as_its_hash_once_it_was_applied(
    world: World, phone: Phone
) -> None:
    op = phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    assert push(phone) == ["accepted"]
    row = kept(op)
    assert (row.raw, len(bytes(row.hash))) == (None, 32)


def test_a_sequence_number_used_before_is_asked_about_and_nothing_is_lost(
    world: World, phone: Phone
) -> None:
    first = phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    assert push(phone) == ["accepted"]
    copied = phone.pick_up(world.a_label(), world.yard.uid, uuid4()) | {"sequence": 1}
    phone.outbox.clear()
    assert push(phone, copied) == ["accepted"]
    assert Fact.objects.count() == 2
    assert open_about(f"device:{phone.uid}") == ["sequence_taken"]
    assert (kept(first).sequence, kept(copied).sequence) == (1, None)


def test_a_sequence_number_twice_in_one_batch_is_asked_about_too(
    world: World, phone: Phone
) -> None:
    first = phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    second = phone.pick_up(world.a_label(), world.yard.uid, uuid4()) | {"sequence": 1}
    assert push(phone, first, second) == ["accepted", "accepted"]
    assert open_about(f"device:{phone.uid}") == ["sequence_taken"]


def test_a_gap_in_the_numbers_shows_until_it_is_filled(world: World, phone: Phone) -> None:
    ops = [phone.pick_up(world.a_label(), world.yard.uid, uuid4()) for _ in range(4)]
    assert push(phone, ops[0], ops[3]) == ["accepted", "accepted"]
    assert queries.gaps(phone.uid) == [(phone.incarnation, 2)]
    assert push(phone, ops[2], ops[0]) == ["accepted", "accepted"]
    assert queries.gaps(phone.uid) == [(phone.incarnation, 1)]
    assert push(phone, ops[1]) == ["accepted"]
    assert queries.gaps(phone.uid) == []


def test_a_number_used_twice_does_not_hide_a_gap(world: World, phone: Phone) -> None:
    ops = [phone.pick_up(world.a_label(), world.yard.uid, uuid4()) for _ in range(4)]
    assert push(phone, ops[0], ops[1] | {"sequence": 1}, ops[3]) == ["accepted"] * 3
    assert queries.gaps(phone.uid) == [(phone.incarnation, 2)]


def test_a_new_store_on_a_known_device_is_asked_about_and_the_first_is_not(
    world: World, phone: Phone
) -> None:
    phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    assert push(phone) == ["accepted"]
    assert open_about(f"device:{phone.uid}") == []
    phone.incarnation, phone.sequence = uuid4(), 0
    phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    assert push(phone) == ["accepted"]
    assert open_about(f"device:{phone.uid}") == ["new_incarnation"]
    assert Fact.objects.count() == 2


def test_an_empty_batch_is_answered(phone: Phone) -> None:
    reply = phone.push([])
    assert (reply.status, reply.json["answers"]) == (200, [])
    assert Operation.objects.count() == 0
