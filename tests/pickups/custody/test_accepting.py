"""Taken against what the customer accepts: kept always, asked about where nobody said why."""

from collections.abc import Callable
from datetime import timedelta
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.test import Client

from pickups.casings.models import WorkOrder
from pickups.custody import accepting
from pickups.customers import specifying
from pickups.customers.models import SpecificationVersion
from pickups.customers.rules import Terms
from pickups.journal.services import drain
from pickups.kernel import clock
from pickups.questions import services as questions
from pickups.questions.models import Question
from pickups.questions.rules import Kind
from tests.conftest import Enrol
from tests.sync.batches import push
from tests.world import Phone, World

pytestmark = pytest.mark.django_db
HOUR = timedelta(hours=1)
OLD = [{"tin": "4B08 4DHR 1214", "made": "new"}]
Taken = Callable[..., dict[str, Any]]


@pytest.fixture
def taken(world: World, phone: Phone) -> Taken:
    """One casing taken in the yard by a phone of today, and everything that it set off."""

    def take(**more: Any) -> dict[str, Any]:
        told = {"pickup": str(uuid4()), "yard": str(world.yard.uid), "label": world.a_label()}
        op = phone.enter("custody.pick_up", {**told, **more}, version=3)
        assert push(phone) == ["accepted"]
        settle()
        return op

    return take


def settle() -> None:
    while drain():
        pass


def stand(world: World, told: Terms, *, ago: timedelta = HOUR) -> SpecificationVersion:
    at = clock.now() - ago
    return specifying.specify(customer=world.customer.uid, terms=told, by=None, at=at)


def check(verdict: str, by: SpecificationVersion | None = None, **more: Any) -> dict[str, Any]:
    named = {
        "specification": str(by.specification_id) if by else None,
        "number": by.number if by else None,
    }
    return {"verdict": verdict, "because": [], "overruled": "", **named, **more}


def asked() -> list[dict[str, Any]]:
    return [q.facts for q in Question.objects.filter(kind=Kind.NOT_ACCEPTED, settled_at=None)]


def test_what_the_phone_said_to_leave_is_asked_about_where_no_reason_was_given(
    world: World, taken: Taken
) -> None:
    by = stand(world, Terms(oldest_years=7))
    op = taken(tins=OLD, check=check("leave", by, because=["too_old"]))
    assert asked() == [{"against": ["too_old"], "by_number": 1}]
    assert WorkOrder.objects.get(uid=op["id"]).withdrawn is False
    assert Question.objects.get(kind=Kind.NOT_ACCEPTED).subject == f"fact:{op['id']}"


def test_a_check_that_said_to_leave_it_and_named_no_rule_is_asked_about(
    world: World, taken: Taken
) -> None:
    by = stand(world, Terms(oldest_years=7))
    taken(check=check("leave", by))
    assert asked() == [{"against": [], "by_number": 1}]
    taken(check=check("leave", by, overruled="they ask for it"))
    assert len(asked()) == 1


def test_a_phone_whose_clock_is_days_behind_is_held_against_what_stood_by_ours(
    world: World, enrol: Enrol
) -> None:
    stand(world, Terms(oldest_years=7))
    behind = enrol()
    behind.ahead = timedelta(days=-3)
    told = {"pickup": str(uuid4()), "yard": str(world.yard.uid), "label": world.a_label()}
    behind.enter("custody.pick_up", told | {"line": "retread", "tins": OLD}, version=3)
    push(behind)
    settle()
    assert asked() == [{"against": ["too_old"], "by_number": 1}]


def test_a_reason_is_enough(world: World, taken: Taken) -> None:
    by = stand(world, Terms(oldest_years=7))
    taken(tins=OLD, check=check("leave", by, because=["too_old"], overruled="they ask for it"))
    assert asked() == []


def test_what_was_held_against_the_number_in_force_is_believed(world: World, taken: Taken) -> None:
    by = stand(world, Terms(oldest_years=7))
    taken(tins=OLD, check=check("plant", by))
    assert asked() == []


def test_a_phone_that_had_not_heard_of_the_number_in_force_is_checked_again(
    world: World, taken: Taken
) -> None:
    first = stand(world, Terms(oldest_years=20), ago=2 * HOUR)
    stand(world, Terms(oldest_years=7))
    taken(tins=OLD, check=check("take", first))
    assert asked() == [{"against": ["too_old"], "by_number": 2}]
    taken(
        tins=[{"tin": f"10{clock.now().year % 100:02}", "made": "new"}], check=check("take", first)
    )
    assert len(asked()) == 1


def test_a_number_that_came_later_is_not_asked_of_what_was_taken_before(
    world: World, taken: Taken
) -> None:
    first = stand(world, Terms(oldest_years=20))
    stand(world, Terms(oldest_years=7), ago=-HOUR)
    taken(tins=OLD, check=check("take", first))
    assert asked() == []


def test_a_yards_own_was_in_force_before_its_customers(world: World, taken: Taken) -> None:
    general = stand(world, Terms(oldest_years=20))
    at = clock.now() - HOUR
    named: dict[str, Any] = {"customer": world.customer.uid, "yard": world.yard.uid}
    specifying.specify(**named, terms=Terms(most_caps=0), by=None, at=at)
    capped = [*OLD, {"tin": "2318", "made": "retread"}]
    taken(tins=capped, check=check("take", general))
    assert asked() == [{"against": ["too_many_caps"], "by_number": 1}]
    specifying.withdraw_specification(**named, by=None, at=clock.now() - timedelta(minutes=1))
    taken(tins=capped, check=check("take", general))
    assert len(asked()) == 1


def test_a_stop_that_no_check_was_told_of_is_asked_about(world: World, taken: Taken) -> None:
    cord = [{"zone": "sidewall", "kind": "cord"}]
    taken(findings=cord)
    assert asked() == [{"against": ["stop_condition"], "by_number": None}]
    taken(findings=cord, line="adjustment")  # a claim's evidence is always taken
    assert len(asked()) == 1


def test_an_app_that_knew_of_no_check_is_not_asked_after(world: World, phone: Phone) -> None:
    stand(world, Terms(oldest_years=7))
    phone.pick_up(world.a_label(), world.yard.uid, uuid4(), tin="4B08 4DHR 1214")
    assert push(phone) == ["accepted"]
    settle()
    assert asked() == []


def test_told_again_with_a_reason_it_settles_itself(
    world: World, phone: Phone, taken: Taken
) -> None:
    by = stand(world, Terms(oldest_years=7))
    op = taken(tins=OLD, check=check("leave", by, because=["too_old"]))
    original = {"fact": op["id"], "label": op["payload"]["label"]}
    again = {**op["payload"], "corrects": original}
    again["check"] = {**op["payload"]["check"], "overruled": "the office said so"}
    phone.enter("custody.pick_up", again, version=3)
    assert push(phone) == ["accepted"]
    settle()
    assert asked() == []
    assert Question.objects.get(kind=Kind.NOT_ACCEPTED).settlement == "told anew or withdrawn"


def test_withdrawn_it_settles_itself(world: World, phone: Phone, taken: Taken) -> None:
    by = stand(world, Terms(oldest_years=7))
    op = taken(tins=OLD, check=check("leave", by, because=["too_old"]))
    named = {"fact": op["id"], "label": op["payload"]["label"]}
    told = {"pickup": op["payload"]["pickup"], "withdraws": named, "reason": "left there"}
    phone.enter("custody.withdraw", told)
    assert push(phone) == ["accepted"]
    settle()
    assert asked() == []


def test_what_a_dispatcher_has_settled_is_not_asked_again(
    world: World, phone: Phone, taken: Taken
) -> None:
    by = stand(world, Terms(oldest_years=7))
    op = taken(tins=OLD, check=check("leave", by, because=["too_old"]))
    subject = f"fact:{op['id']}"
    questions.settle(kinds=[Kind.NOT_ACCEPTED], subjects=[subject], how="keep it", at=clock.now())
    accepting.review(work_orders=[UUID(op["id"])], at=clock.now())
    assert asked() == []
    assert Question.objects.get(kind=Kind.NOT_ACCEPTED).settlement == "keep it"


@pytest.mark.parametrize(
    ("language", "said"),
    [
        ("en", ["nobody said why", "Against it", "its age"]),
        ("es", ["nadie dijo por qué", "su edad"]),
    ],
)
def test_the_office_reads_what_speaks_against_it(
    world: World, taken: Taken, language: str, said: list[str]
) -> None:
    by = stand(world, Terms(oldest_years=7))
    taken(tins=OLD, check=check("leave", by, because=["too_old"]))
    client = Client(headers={"Accept-Language": language})
    client.force_login(world.dispatcher)
    page = client.get("/office/").content.decode()
    assert [text for text in said if text not in page] == []
