"""Facts meet their casings in the tables: waiting, adopted, contested, corrected, settled."""

from datetime import timedelta
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.db import transaction

from pickups.casings.models import WorkOrder
from pickups.custody.fold import Kind
from pickups.custody.models import Fact
from pickups.journal import services as journal
from pickups.journal.models import Entry
from pickups.kernel.clock import now
from pickups.labels import rules
from pickups.questions.models import Question
from tests.conftest import Enrol
from tests.world import Phone, World
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db


def pick_up(phone: Phone, world: World, label: str, **more: Any) -> dict[str, Any]:
    """One casing entered and pushed; returns the operation."""
    op = phone.pick_up(label, more.pop("yard", world.yard.uid), more.pop("pickup", uuid4()), **more)
    push(phone)
    return op


def push(phone: Phone) -> list[str]:
    """Push everything; returns the outcomes."""
    reply = phone.push()
    assert reply.status == 200, reply.body
    assert phone.outbox == []
    return [a["outcome"] for a in reply.json["answers"]]


def tell_again(phone: Phone, op: dict[str, Any], label: str, **more: Any) -> dict[str, Any]:
    """A correction of an earlier pick_up, pushed."""
    payload = op["payload"] | {"label": label} | more
    payload["corrects"] = {"fact": op["id"], "label": op["payload"]["label"]}
    made = phone.enter("custody.pick_up", payload)
    push(phone)
    return made


def take_back(phone: Phone, op: dict[str, Any]) -> None:
    """A withdrawal of an earlier pick_up, pushed."""
    named = {"fact": op["id"], "label": op["payload"]["label"]}
    payload = {"pickup": op["payload"]["pickup"], "withdraws": named, "reason": "wrong pile"}
    phone.enter("custody.withdraw", payload)
    push(phone)


def order(op: dict[str, Any]) -> WorkOrder:
    return WorkOrder.objects.get(uid=op["id"])


def owner_of(label: str) -> set[UUID | None]:
    """Whose the plant's facts under a label are."""
    rows = Fact.objects.filter(label=label).exclude(kind=Kind.PICKED_UP)
    return set(rows.exclude(kind=Kind.WITHDRAWN).values_list("work_order", flat=True))


def open_kinds(subject: str) -> list[str]:
    rows = Question.objects.filter(subject=subject, settled_at=None)
    return sorted(rows.values_list("kind", flat=True))


# --- Facts that wait ----------------------------------------------------------------------------


def test_plant_facts_wait_for_the_label_and_are_adopted_with_the_pick_up(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    label = world.a_label()
    gateway.tell(label, "received", station="receiving")
    gateway.tell(label, "passed")
    assert owner_of(label) == {None}
    assert not WorkOrder.objects.exists()
    op = pick_up(phone, world, label)
    assert owner_of(label) == {UUID(op["id"])}
    adopted = order(op)
    assert (adopted.progress, adopted.station) == ("in_work", "buffing")
    assert adopted.holder == f"plant:{world.plant.uid}"


def test_a_pick_up_that_is_rolled_back_adopts_nothing(
    world: World, phone: Phone, gateway: Gateway, monkeypatch: pytest.MonkeyPatch
) -> None:
    label = world.a_label()
    gateway.tell(label, "received")
    op = phone.pick_up(label, world.yard.uid, uuid4())
    with transaction.atomic():
        push(phone)
        assert owner_of(label) == {UUID(op["id"])}
        transaction.set_rollback(True)
    assert owner_of(label) == {None}
    assert not WorkOrder.objects.exists()


def test_a_fact_told_twice_is_one_fact(world: World, phone: Phone, gateway: Gateway) -> None:
    label = world.a_label()
    pick_up(phone, world, label)
    event = gateway.tell(label, "received")
    version = WorkOrder.objects.get().version
    assert gateway.post(event).json["answers"][0]["repeat"] is True
    assert Fact.objects.filter(label=label, kind=Kind.RECEIVED).count() == 1
    assert WorkOrder.objects.get().version == version


# --- Contested labels ---------------------------------------------------------------------------


@pytest.fixture
def contested(
    world: World, enrol: Enrol, gateway: Gateway
) -> tuple[str, list[Phone], list[dict[str, Any]]]:
    """A label that a plant has seen and two drivers have put on a casing each."""
    label = world.a_label()
    phones = [enrol(), enrol(world.other_driver)]
    first = pick_up(phones[0], world, label)
    gateway.tell(label, "finished")
    assert order(first).progress == "finished"
    second = phones[1].pick_up(label, world.other_yard.uid, uuid4())
    assert push(phones[1]) == ["contested"]
    return label, phones, [first, second]


Contested = tuple[str, list[Phone], list[dict[str, Any]]]


def test_a_second_casing_under_a_label_contests_it_and_both_hear_nothing_of_it(
    contested: Contested, gateway: Gateway
) -> None:
    label, phones, ops = contested
    assert phones[1].answers[ops[1]["id"]]["code"] == "label_contested"
    assert owner_of(label) == {None}
    gateway.tell(label, "shipped", station="shipping")
    assert owner_of(label) == {None}
    for op in ops:
        standing = order(op)
        assert standing.contested
        assert (standing.progress, standing.station) == ("picked_up", "")
        assert standing.holder.startswith("person:")
    question = Question.objects.get(subject=f"label:{label}")
    assert question.kind == "label_contested"
    assert set(question.facts["work_orders"]) == {op["id"] for op in ops}


@pytest.mark.parametrize("loser", [0, 1])
def test_a_withdrawal_settles_a_contested_label(
    contested: Contested, gateway: Gateway, loser: int
) -> None:
    label, phones, ops = contested
    take_back(phones[loser], ops[loser])
    kept, gone = order(ops[1 - loser]), order(ops[loser])
    assert (kept.contested, kept.progress) == (False, "finished")
    assert (gone.contested, gone.withdrawn, gone.progress) == (False, True, "picked_up")
    assert owner_of(label) == {kept.uid}
    assert open_kinds(f"label:{label}") == []
    cleared = set(Entry.objects.filter(kind="pickup.cleared").values_list("subject", flat=True))
    assert cleared == {f"pickup:{op['payload']['pickup']}" for op in ops}


def test_a_correction_to_another_label_settles_a_contested_label(
    contested: Contested, world: World, gateway: Gateway
) -> None:
    label, phones, ops = contested
    other = world.a_label()
    gateway.tell(other, "received")
    tell_again(phones[1], ops[1], other)
    assert order(ops[0]).progress == "finished"
    moved = order(ops[1])
    assert (moved.label, moved.progress, moved.contested) == (other, "received", False)
    assert owner_of(label) == {order(ops[0]).uid}
    assert owner_of(other) == {moved.uid}
    assert open_kinds(f"label:{label}") == []
    assert Entry.objects.filter(kind="pickup.cleared").count() == 2


def test_a_label_on_three_casings_stays_contested_until_one_is_left(
    contested: Contested, world: World, enrol: Enrol
) -> None:
    label, phones, ops = contested
    third = enrol()
    last = third.pick_up(label, world.yard.uid, uuid4())
    assert push(third) == ["contested"]
    tell_again(phones[1], ops[1], world.a_label())
    (question,) = Question.objects.filter(subject=f"label:{label}", settled_at=None)
    assert set(question.facts["work_orders"]) == {ops[0]["id"], last["id"]}
    assert owner_of(label) == {None}
    assert not Entry.objects.filter(kind="pickup.cleared").exists()
    take_back(third, last)
    assert order(ops[0]).progress == "finished"
    assert open_kinds(f"label:{label}") == []


def test_a_conflict_on_a_label_that_was_contested_is_asked_once_it_is_settled(
    contested: Contested, world: World, gateway: Gateway
) -> None:
    label, phones, ops = contested
    gateway.tell(label, "rejected")
    assert open_kinds(f"label:{label}") == ["label_contested"]
    tell_again(phones[1], ops[1], world.a_label())
    assert open_kinds(f"label:{label}") == ["impossible_order"]
    assert order(ops[0]).progress == "rejected"


# --- Corrections --------------------------------------------------------------------------------


def test_a_casing_told_again_and_again_moves_over_three_labels_with_what_they_know(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    one, two, three = (world.a_label() for _ in range(3))
    outcomes = ((one, "received"), (two, "passed"), (three, "finished"))
    for label, outcome in outcomes:
        gateway.tell(label, outcome)
    op = pick_up(phone, world, one)
    assert order(op).progress == "received"
    tell_again(phone, op, two)
    assert (order(op).label, order(op).progress) == (two, "in_work")
    tell_again(phone, op, three, size="11R22.5")
    assert (order(op).label, order(op).progress) == (three, "finished")
    assert order(op).told == {"size": "11R22.5"}
    assert [owner_of(label) for label in (one, two, three)] == [{None}, {None}, {UUID(op["id"])}]
    assert WorkOrder.objects.count() == 1
    # The label is free again for another casing.
    again = pick_up(phone, world, one)
    assert (order(again).progress, order(again).contested) == ("received", False)


@pytest.mark.parametrize("late_first", [False, True])
def test_of_corrections_from_two_devices_the_greater_stamp_wins(
    world: World, enrol: Enrol, late_first: bool
) -> None:
    phones = [enrol(), enrol()]
    phones[1].ahead = timedelta(days=2)
    op = pick_up(phones[0], world, world.a_label())
    labels = [world.a_label(), world.a_label()]
    for i in (1, 0) if late_first else (0, 1):
        tell_again(phones[i], op, labels[i])
    assert order(op).label == labels[1]


def test_a_correction_that_comes_before_its_original_is_parked_and_counts_then(
    world: World, enrol: Enrol, gateway: Gateway
) -> None:
    wrong, right = world.a_label(), world.a_label()
    gateway.tell(right, "received")
    phones = [enrol(), enrol()]
    op = phones[0].pick_up(wrong, world.yard.uid, uuid4())
    tell_again(phones[1], op, right)
    assert not WorkOrder.objects.exists()
    assert owner_of(right) == {None}
    push(phones[0])
    assert (order(op).label, order(op).progress) == (right, "received")
    assert owner_of(right) == {UUID(op["id"])}


def test_a_withdrawal_that_comes_before_its_original_counts_too(world: World, enrol: Enrol) -> None:
    phones = [enrol(), enrol()]
    op = phones[0].pick_up(world.a_label(), world.yard.uid, uuid4())
    phones[1].ahead = timedelta(minutes=1)
    take_back(phones[1], op)
    push(phones[0])
    assert order(op).withdrawn


# --- Questions ----------------------------------------------------------------------------------


def test_facts_that_cannot_both_be_true_ask_and_a_release_settles_it(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    label = world.a_label()
    op = pick_up(phone, world, label)
    rejection = gateway.tell(label, "rejected", reason="SW_CUT")
    assert open_kinds(f"label:{label}") == []
    gateway.tell(label, "finished")
    assert open_kinds(f"label:{label}") == ["impossible_order"]
    assert (order(op).progress, order(op).reason) == ("rejected", "SW_CUT")
    gateway.tell(label, "released", releases=rejection["id"])
    assert open_kinds(f"label:{label}") == []
    assert (order(op).progress, order(op).reason) == ("finished", "")
    question = Question.objects.get()
    assert question.settlement == "settled by a later fact"


def test_facts_that_conflicted_while_they_waited_ask_when_the_casing_comes(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    label = world.a_label()
    gateway.tell(label, "rejected")
    gateway.tell(label, "finished")
    assert open_kinds(f"label:{label}") == ["plant_impossible"]
    op = pick_up(phone, world, label)
    assert phone.answers[op["id"]]["outcome"] == "contested"
    while journal.drain():
        pass
    assert open_kinds(f"label:{label}") == ["impossible_order"]  # asked once, not by both


def never_printed() -> str:
    """A sound code of a range of which no roll was printed."""
    made = (rules.code("Y9", 5, "A" + last) for last in rules.SYMBOLS)
    return next(code for code in made if code is not None)


def test_a_sound_label_that_was_never_printed_is_taken_and_asked_about(
    world: World, phone: Phone
) -> None:
    label = never_printed()
    op = pick_up(phone, world, label)
    assert phone.answers[op["id"]]["outcome"] == "contested"
    assert phone.answers[op["id"]]["code"] == "label_not_printed"
    assert open_kinds(f"label:{label}") == ["label_not_printed"]
    assert order(op).contested is False


def test_an_unknown_yard_is_taken_for_the_store_of_the_device_and_asked_about(
    world: World, phone: Phone
) -> None:
    yard = uuid4()
    op = pick_up(phone, world, world.a_label(), yard=yard)
    assert phone.answers[op["id"]]["code"] == "yard_unknown"
    assert (order(op).customer, order(op).site) == (None, world.store.uid)
    pick_up(phone, world, world.a_label(), yard=yard)
    assert open_kinds(f"yard:{yard}") == ["yard_unknown"]


def test_an_unknown_person_is_believed_and_asked_about_once(world: World, phone: Phone) -> None:
    phone.person = uuid4()
    first = pick_up(phone, world, world.a_label())
    pick_up(phone, world, world.a_label())
    assert phone.answers[first["id"]]["code"] == "person_unknown"
    assert open_kinds(f"person:{phone.person}") == ["person_unknown"]
    assert order(first).holder == f"person:{phone.person}"


def test_a_fact_from_the_future_is_taken_and_asked_about(world: World, gateway: Gateway) -> None:
    gateway.tell(world.a_label(), "received", happened_at=now() + timedelta(minutes=4))
    assert not Question.objects.exists()
    gateway.tell(world.a_label(), "received", happened_at=now() + timedelta(days=3))
    (question,) = Question.objects.all()
    assert question.kind == "from_the_future"


def test_a_clock_that_is_known_to_be_off_raises_no_question(world: World, phone: Phone) -> None:
    phone.ahead = timedelta(days=3)
    op = pick_up(phone, world, world.a_label())
    assert phone.answers[op["id"]]["outcome"] == "accepted"
    assert not Question.objects.exists()


def test_a_moment_that_no_table_can_give_back_is_refused_by_name(
    world: World, phone: Phone
) -> None:
    moment = "9999-12-31T23:59:59-12:00"  # the year 10000 in UTC
    good = phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    phone.enter("custody.pick_up", good["payload"], happened_at=moment)
    answers = phone.push().json["answers"]
    assert [a["outcome"] for a in answers] == ["accepted", "refused"]
    assert (answers[1]["field"], answers[1]["value"]) == ("happened_at", moment)
    assert WorkOrder.objects.count() == 1


def test_a_sender_whose_clock_is_ages_off_is_believed_all_the_same(
    world: World, phone: Phone
) -> None:
    op = phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    body = {"protocol": 1, "sent_at": "9999-12-31T23:00:00Z", "operations": [op]}
    (answer,) = phone.send("POST", "/api/sync/push", body, cookie=True).json["answers"]
    assert answer["outcome"] == "accepted"
