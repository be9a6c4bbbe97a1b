"""The end of a pickup: every word of it is kept, and a receipt is right or it is not sent."""

from datetime import timedelta
from typing import Any
from uuid import UUID, uuid4

import pytest

from pickups.casings.models import Casing
from pickups.custody import overdue
from pickups.custody import services as custody
from pickups.custody.models import Fact, Pickup
from pickups.journal.services import drain
from pickups.kernel import clock
from pickups.notices.models import Notice
from pickups.questions.models import Question
from tests.conftest import Enrol
from tests.pickups.custody.test_record import order, push, take_back
from tests.pickups.notices.conftest import mail
from tests.world import Phone, World
from tests.world.mail import MailServer, text_of

pytestmark = pytest.mark.django_db
__all__ = ["mail"]  # a fixture that the notices have too


def open_kinds() -> set[str]:
    return set(Question.objects.filter(settled_at=None).values_list("kind", flat=True))


def pick_two(phone: Phone, world: World, pickup: UUID) -> list[dict[str, Any]]:
    made = [phone.pick_up(world.a_label(), world.yard.uid, pickup) for _ in range(2)]
    push(phone)
    return made


def test_everything_told_at_the_end_is_kept_as_a_fact(world: World, phone: Phone) -> None:
    pickup, photo = uuid4(), "a" * 64
    made = pick_two(phone, world, pickup)
    ids = [op["id"] for op in made]
    phone.finish(pickup, world.yard.uid, ids, customer_count=2, note="FIRST", photos=[photo])
    phone.finish(pickup, world.yard.uid, ids, customer_count=2, note="SECOND")
    phone.finish(pickup, world.yard.uid, ids[:1], customer_count=3, note="THIRD")
    assert push(phone) == ["accepted", "contested", "contested"]
    ends = Fact.objects.filter(kind="pickup_end").order_by("stamp")
    assert [e.told["note"] for e in ends] == ["FIRST", "SECOND", "THIRD"]
    assert ends[0].told["photos"] == [photo]
    assert Pickup.objects.get().note == "FIRST"
    assert "pickup_differs" in open_kinds()


def test_the_end_that_was_told_first_counts_though_it_comes_last(
    world: World, phone: Phone
) -> None:
    pickup = uuid4()
    ids = [op["id"] for op in pick_two(phone, world, pickup)]
    first = phone.finish(pickup, world.yard.uid, ids, note="FIRST")
    second = phone.finish(pickup, world.yard.uid, ids, note="SECOND")
    for end in (second, first):
        assert phone.push([end]).status == 200
    row = Pickup.objects.get()
    assert (row.note, row.version) == ("FIRST", 2)
    asked = Question.objects.filter(settled_at=None, kind="pickup_differs")
    assert [q.subject for q in asked] == [f"fact:{second['id']}"]


def test_a_question_about_one_end_that_was_settled_is_not_asked_again_by_another(
    world: World, phone: Phone
) -> None:
    pickup = uuid4()
    ids = [op["id"] for op in pick_two(phone, world, pickup)]
    phone.finish(pickup, world.yard.uid, ids, note="FIRST")
    phone.finish(pickup, world.yard.uid, ids, note="SECOND")
    push(phone)
    Question.objects.update(settled_at=clock.now())
    third = phone.finish(pickup, world.yard.uid, ids, note="THIRD")
    push(phone)
    asked = Question.objects.filter(settled_at=None)
    assert [q.subject for q in asked] == [f"fact:{third['id']}"]


def test_an_end_at_another_customers_yard_is_a_question_and_tells_nobody(
    world: World, phone: Phone, mail: MailServer
) -> None:
    pickup = uuid4()
    made = pick_two(phone, world, pickup)
    phone.finish(pickup, world.other_yard.uid, [op["id"] for op in made])
    assert push(phone) == ["contested"]
    assert "pickup_differs" in open_kinds()
    drain()
    assert Notice.objects.count() == 0
    assert mail.mails == []


def test_lines_of_two_customers_in_one_pickup_are_a_question_and_no_receipt_leaves(
    world: World, phone: Phone, mail: MailServer
) -> None:
    pickup = uuid4()
    ours = phone.pick_up(world.a_label(), world.yard.uid, pickup)
    theirs = phone.pick_up(world.a_label(), world.other_yard.uid, pickup)
    phone.finish(pickup, world.yard.uid, [ours["id"], theirs["id"]])
    push(phone)
    assert "pickup_differs" in open_kinds()
    drain()
    assert mail.mails == []


def test_a_list_that_leaves_a_casing_out_waits_for_a_word_and_then_the_receipt_is_whole(
    world: World, phone: Phone, mail: MailServer
) -> None:
    pickup = uuid4()
    first, second = pick_two(phone, world, pickup)
    phone.finish(pickup, world.yard.uid, [first["id"]])
    assert push(phone) == ["contested"]
    drain()
    assert mail.mails == []
    take_back(phone, second)
    assert "pickup_differs" not in open_kinds()
    drain()
    (sent,) = mail.mails
    assert first["payload"]["label"][4:] in text_of(sent)
    assert second["payload"]["label"][4:] not in text_of(sent)


def test_a_line_that_comes_after_the_end_is_asked_about(world: World, phone: Phone) -> None:
    pickup = uuid4()
    made = pick_two(phone, world, pickup)
    phone.finish(pickup, world.yard.uid, [op["id"] for op in made])
    assert push(phone) == ["accepted"]
    phone.pick_up(world.a_label(), world.yard.uid, pickup)
    push(phone)
    assert "pickup_differs" in open_kinds()


def test_a_receipt_of_nothing_is_never_sent(world: World, phone: Phone, mail: MailServer) -> None:
    pickup = uuid4()
    made = pick_two(phone, world, pickup)
    phone.finish(pickup, world.yard.uid, [op["id"] for op in made])
    for op in made:
        take_back(phone, op)
    drain()
    assert mail.mails == []


def test_a_count_that_no_longer_fits_after_a_withdrawal_is_asked_about(
    world: World, phone: Phone
) -> None:
    pickup = uuid4()
    made = pick_two(phone, world, pickup)
    phone.finish(pickup, world.yard.uid, [op["id"] for op in made], customer_count=2)
    assert push(phone) == ["accepted"]
    take_back(phone, made[0])
    assert "count_differs" in open_kinds()


def test_an_end_by_a_stranger_at_an_unknown_yard_ten_years_ahead_is_asked_about(
    world: World, phone: Phone
) -> None:
    pickup = uuid4()
    made = pick_two(phone, world, pickup)
    phone.person = uuid4()
    later = clock.rfc3339(clock.now() + timedelta(days=3650))
    end = phone.finish(pickup, uuid4(), [op["id"] for op in made])
    end["happened_at"] = later
    assert push(phone) == ["contested"]
    assert open_kinds() >= {"person_unknown", "yard_unknown", "from_the_future"}


def test_a_pickup_that_nobody_finishes_is_asked_about_until_it_is(
    world: World, phone: Phone
) -> None:
    pickup = uuid4()
    made = pick_two(phone, world, pickup)
    assert overdue.ask_unfinished(at=clock.now()) == 0
    assert overdue.ask_unfinished(at=clock.now() + timedelta(days=2)) == 1
    assert "pickup_open" in open_kinds()
    phone.finish(pickup, world.yard.uid, [op["id"] for op in made])
    push(phone)
    assert "pickup_open" not in open_kinds()


def test_a_correction_of_what_is_not_here_is_asked_about_until_it_comes(
    world: World, phone: Phone
) -> None:
    pickup, label = uuid4(), world.a_label()
    original = phone.pick_up(label, world.yard.uid, pickup)
    phone.outbox.clear()
    named = {"fact": original["id"], "label": label}
    phone.pick_up(label, world.yard.uid, pickup, tread_32nds=[3], corrects=named)
    assert push(phone) == ["contested"]
    assert "correction_parked" in open_kinds()
    phone.outbox.append(original)
    push(phone)
    assert "correction_parked" not in open_kinds()
    assert order(original).told["tread_32nds"] == [3]


@pytest.mark.parametrize("late", [False, True])
def test_a_casing_is_described_alike_whatever_came_first(
    world: World, phone: Phone, late: bool
) -> None:
    pickup, label = uuid4(), world.a_label()
    original = phone.pick_up(label, world.yard.uid, pickup, tin="OLD 2910")
    named = {"fact": original["id"], "label": label}
    again = phone.pick_up(label, world.yard.uid, pickup, tin="NEW 3011", corrects=named)
    for op in [again, original] if late else [original, again]:
        assert phone.push([op]).status == 200
    assert Casing.objects.get().tin == "NEW 3011"


def test_another_stores_phone_that_takes_a_casing_back_is_asked_about(
    world: World, phone: Phone, enrol: Enrol
) -> None:
    (made, _) = pick_two(phone, world, uuid4())
    other = enrol(world.other_driver)
    take_back(other, made)
    assert order(made).withdrawn, "it is recorded as told"
    assert "other_store" in open_kinds()


def test_two_dispatchers_cannot_take_both_casings_off_a_contested_label(
    world: World, phone: Phone
) -> None:
    label = world.a_label()
    one = phone.pick_up(label, world.yard.uid, uuid4())
    two = phone.pick_up(label, world.yard.uid, uuid4())
    push(phone)
    by = world.dispatcher.uid
    assert custody.withdraw(work_order=UUID(one["id"]), reason="mistake", by=by)
    assert not custody.withdraw(work_order=UUID(two["id"]), reason="mistake", by=by)
    assert not order(two).withdrawn
