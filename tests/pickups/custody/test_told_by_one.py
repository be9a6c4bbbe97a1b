"""A hand-over that one side alone has told: asked about after a day, once, until it is answered."""

from datetime import timedelta
from typing import Any
from uuid import uuid4

import pytest

from pickups.custody import overdue
from pickups.custody.models import Fact
from pickups.kernel import clock
from pickups.questions.models import Question
from tests.conftest import Enrol
from tests.pickups.custody.test_hand_over import hand_over
from tests.pickups.custody.test_record import open_kinds, order, pick_up, push, take_back
from tests.world import Phone, World
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db
DAY = timedelta(days=1, minutes=1)


def ask(*, after: timedelta = DAY) -> int:
    """What beat does, so long after now."""
    return overdue.ask_one_sided(at=clock.now() + after)


def asked() -> list[str]:
    return sorted(
        Question.objects.filter(kind="one_side_only", settled_at=None).values_list(
            "subject", flat=True
        )
    )


def bring(phone: Phone, world: World, label: str) -> dict[str, Any]:
    """The driver unloads a casing at the plant."""
    driver, dock = f"person:{world.driver.uid}", f"plant:{world.plant.uid}"
    return hand_over(phone, label, "in", driver, dock)


def test_what_the_plant_says_nothing_of_is_asked_about_after_a_day_until_it_does(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    label = world.a_label()
    pick_up(phone, world, label)
    brought = bring(phone, world, label)
    assert ask(after=timedelta(hours=23)) == 0
    assert ask() == 1
    assert ask() == 1, "it is the same question, brought up to date"
    assert asked() == [f"fact:{brought['id']}"]
    question = Question.objects.get()
    assert question.facts == {"taker": f"plant:{world.plant.uid}"}
    assert question.owner == "dispatcher"
    gateway.tell(label, "passed")
    assert asked() == []
    assert Question.objects.get().settlement == "the other side has told of it"
    assert ask() == 0


def test_the_dock_that_scanned_first_leaves_nothing_to_ask(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    label = world.a_label()
    pick_up(phone, world, label)
    early = clock.now() - timedelta(minutes=20)
    gateway.tell(label, "received", station="receiving", happened_at=early)
    bring(phone, world, label)
    assert ask() == 0


def test_a_day_begins_when_it_was_recorded_not_when_a_phone_says_it_happened(
    world: World, phone: Phone
) -> None:
    label = world.a_label()
    pick_up(phone, world, label)
    phone.ahead = timedelta(days=-5)
    bring(phone, world, label)
    assert ask(after=timedelta(hours=1)) == 0
    assert ask() == 1


def test_what_was_shipped_and_taken_over_by_nobody_is_asked_about(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    label = world.a_label()
    pick_up(phone, world, label)
    for outcome in ("received", "finished", "shipped"):
        gateway.tell(label, outcome)
    assert ask() == 1
    question = Question.objects.get()
    left = Fact.objects.get(kind="shipped")
    assert question.subject == f"fact:{left.uid}"
    assert question.facts == {"taker": f"road:{world.plant.uid}"}
    hand_over(phone, label, "out", f"plant:{world.plant.uid}", f"person:{world.driver.uid}")
    assert asked() == []


def test_a_rack_that_one_person_fills_is_never_asked_about(world: World, phone: Phone) -> None:
    label = world.a_label()
    pick_up(phone, world, label)
    hand_over(phone, label, "in", f"person:{world.driver.uid}", f"site:{world.store.uid}")
    assert ask() == 0


def test_one_question_a_hand_over_however_often_it_was_scanned(world: World, phone: Phone) -> None:
    label = world.a_label()
    pick_up(phone, world, label)
    first = bring(phone, world, label)
    bring(phone, world, label)
    assert ask() == 1
    assert asked() == [f"fact:{first['id']}"]


@pytest.mark.parametrize("settled", [False, True])
def test_a_telling_that_comes_later_with_an_earlier_time_is_no_second_question(
    world: World, phone: Phone, enrol: Enrol, settled: bool
) -> None:
    label = world.a_label()
    pick_up(phone, world, label)
    other, dock = enrol(world.driver), f"plant:{world.plant.uid}"
    brought = {"label": label, "way": "in", "giver": f"person:{world.driver.uid}", "taker": dock}
    other.ahead = timedelta(minutes=-10)
    earlier = other.enter("custody.hand_over", brought)
    first = bring(phone, world, label)
    assert ask() == 1
    if settled:
        Question.objects.update(settled_at=clock.now(), settled_by=world.dispatcher.uid)
    push(other)
    told = Fact.objects.filter(kind="handed_in").order_by("stamp")
    assert [str(f.uid) for f in told] == [earlier["id"], first["id"]]
    assert ask() == (0 if settled else 1)
    assert Question.objects.get().subject == f"fact:{first['id']}"


def test_what_a_person_has_settled_is_not_asked_again(world: World, phone: Phone) -> None:
    label = world.a_label()
    pick_up(phone, world, label)
    bring(phone, world, label)
    assert ask() == 1
    Question.objects.update(settled_at=clock.now(), settled_by=world.dispatcher.uid)
    assert ask() == 0
    assert asked() == []


def test_a_contested_label_has_its_own_question_first(
    world: World, phone: Phone, enrol: Enrol
) -> None:
    label = world.a_label()
    pick_up(phone, world, label)
    other = enrol(world.other_driver)
    rival = other.pick_up(label, world.other_yard.uid, uuid4())
    push(other)
    bring(phone, world, label)
    assert ask() == 0
    assert open_kinds(f"label:{label}") == ["label_contested"]
    take_back(other, rival)
    assert ask() == 1


def test_a_second_way_to_the_plant_is_not_answered_by_the_first(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    label = world.a_label()
    began = clock.now() - timedelta(hours=3)  # so that nearness in time leaves no doubt
    phone.ahead = timedelta(hours=-3)
    op = pick_up(phone, world, label)
    bring(phone, world, label)
    phone.ahead = timedelta()
    for minutes, outcome in enumerate(("received", "finished", "shipped"), 1):
        gateway.tell(label, outcome, happened_at=began + timedelta(minutes=minutes))
    hand_over(phone, label, "out", f"plant:{world.plant.uid}", f"person:{world.driver.uid}")
    again = bring(phone, world, label)
    assert ask() == 1
    assert asked() == [f"fact:{again['id']}"]
    gateway.tell(label, "received", station="receiving")
    assert asked() == []
    assert order(op).progress == "shipped", "no rank is undone"


def test_a_pickup_that_a_person_has_settled_is_not_asked_about_again(
    world: World, phone: Phone
) -> None:
    pick_up(phone, world, world.a_label())
    later = clock.now() + timedelta(days=2)
    assert overdue.ask_unfinished(at=later) == 1
    Question.objects.update(settled_at=later, settled_by=world.dispatcher.uid)
    assert overdue.ask_unfinished(at=later) == 0
    assert not Question.objects.filter(settled_at=None).exists()
