"""Scrap that is counted and casings that are left there: lines of a pickup, told by a phone."""

from datetime import timedelta
from typing import Any
from uuid import UUID, uuid4

import pytest

from pickups.custody import overdue
from pickups.custody.models import Fact, Pickup, VisitLine
from pickups.customers import services as customers
from pickups.journal.services import drain
from pickups.kernel import clock
from pickups.questions.models import Question
from pickups.sync.push import retry_held
from tests.conftest import Enrol
from tests.pickups.custody.test_record import push, take_back
from tests.pickups.custody.test_visits import open_kinds, pick_two
from tests.world import Phone, World

pytestmark = pytest.mark.django_db

CORD = {"zone": "sidewall", "kind": "cord", "side": "other", "mm": 60}
SCRAP = {"fee_cents": 0, "manifest": "SM-20418"}


def line(op: dict[str, Any]) -> VisitLine:
    return VisitLine.objects.get(uid=op["id"])


def finish(
    phone: Phone, world: World, pickup: UUID, *casings: dict[str, Any], **more: Any
) -> dict[str, Any]:
    """The end of a pickup as the third version tells it; scrap and left are operations."""
    ids = {k: [op["id"] for op in more.pop(k, ())] for k in ("scrap", "left")}
    payload = {"pickup": str(pickup), "yard": str(world.yard.uid), **ids, **more}
    payload["casings"] = [op["id"] for op in casings]
    return phone.enter("custody.finish_pickup", payload, version=3)


def differing() -> dict[str, Any]:
    facts: dict[str, Any] = Question.objects.get(kind="pickup_differs", settled_at=None).facts
    return facts


def test_a_line_is_kept_as_a_fact_under_no_label_and_stands_as_it_was_told(
    world: World, phone: Phone
) -> None:
    pickup = uuid4()
    scrap = phone.count_scrap(pickup, world.yard.uid, 6, **SCRAP)
    left = phone.leave_here(pickup, world.yard.uid, brand="Corvane", findings=[CORD])
    assert push(phone) == ["accepted", "accepted"]
    kept = Fact.objects.get(uid=scrap["id"])
    assert (kept.kind, kept.label, kept.work_order, kept.holder) == ("scrap", "", None, "")
    assert line(scrap).told == {"count": 6, "fee_cents": 0, "manifest": "SM-20418"}
    stands = line(left)
    assert stands.told["findings"][0]["kind"] == "cord"
    assert (stands.customer, stands.site) == (world.customer.uid, world.store.uid)
    assert not Question.objects.exists()


def test_the_last_correction_wins_by_stamp_whatever_came_last(world: World, phone: Phone) -> None:
    pickup = uuid4()
    first = phone.count_scrap(pickup, world.yard.uid, 6)
    second = phone.count_scrap(pickup, world.yard.uid, 7, corrects=first["id"])
    third = phone.count_scrap(pickup, world.yard.uid, 8, corrects=second["id"])
    for op in (first, third, second):
        assert phone.push([op]).status == 200
    assert phone.answers[third["id"]]["outcome"] == "held", "what it names is not here yet"
    retry_held()
    assert line(first).told == {"count": 8}
    assert VisitLine.objects.count() == 1
    # A correction of a correction is one of the line.
    assert set(Fact.objects.exclude(corrects=None).values_list("corrects", flat=True)) == {
        UUID(first["id"])
    }


def test_a_line_that_was_taken_back_may_be_told_anew(world: World, phone: Phone) -> None:
    pickup = uuid4()
    op = phone.leave_here(pickup, world.yard.uid, brand="Corvane")
    phone.leave_here(pickup, world.yard.uid, taken=True, corrects=op["id"])
    push(phone)
    assert line(op).withdrawn
    phone.leave_here(pickup, world.yard.uid, brand="Lathmore", corrects=op["id"])
    push(phone)
    assert not line(op).withdrawn
    assert line(op).told == {"brand": "Lathmore"}


def test_a_correction_waits_for_what_it_corrects_and_is_applied_by_itself(
    world: World, phone: Phone
) -> None:
    pickup = uuid4()
    op = phone.count_scrap(pickup, world.yard.uid, 6)
    again = phone.count_scrap(pickup, world.yard.uid, 7, corrects=op["id"])
    phone.push([again])
    assert phone.answers[again["id"]]["code"] == "reference_unseen"
    assert not VisitLine.objects.exists()
    phone.push([op])
    assert line(op).told == {"count": 7}
    assert open_kinds() == set()


@pytest.mark.parametrize("what", ["another kind", "another pickup", "a pick_up"])
def test_a_correction_of_what_is_no_such_line_changes_nothing_and_is_asked_about(
    world: World, phone: Phone, what: str
) -> None:
    pickup = uuid4()
    op = phone.count_scrap(pickup, world.yard.uid, 6)
    picked = phone.pick_up(world.a_label(), world.yard.uid, pickup)
    push(phone)
    if what == "another kind":
        phone.leave_here(pickup, world.yard.uid, taken=True, corrects=op["id"])
    else:
        named, visit = (picked, pickup) if what == "a pick_up" else (op, uuid4())
        phone.count_scrap(visit, world.yard.uid, 9, corrects=named["id"])
    assert push(phone) == ["contested"]
    assert open_kinds() == {"correction_parked"}
    assert line(op).told == {"count": 6}
    assert Fact.objects.filter(kind__in=["scrap", "left"]).count() == 2, "kept all the same"


def test_an_end_that_lists_its_lines_is_accepted_and_one_with_nothing_is_an_empty_visit(
    world: World, phone: Phone
) -> None:
    pickup = uuid4()
    scrap = phone.count_scrap(pickup, world.yard.uid, 6)
    left = phone.leave_here(pickup, world.yard.uid)
    finish(phone, world, pickup, scrap=[scrap], left=[left], customer_count=0)
    finish(phone, world, uuid4())
    assert push(phone) == ["accepted"] * 4
    row = Pickup.objects.get(uid=pickup)
    assert (row.casings, row.scrap, row.left) == ([], [scrap["id"]], [left["id"]])
    assert not Question.objects.exists()


@pytest.mark.parametrize("kind", ["scrap", "left"])
def test_a_line_that_the_end_leaves_out_is_asked_about_until_it_is_taken_back(
    world: World, phone: Phone, kind: str
) -> None:
    pickup, yard = uuid4(), world.yard.uid
    (one, two) = pick_two(phone, world, pickup)
    op = phone.count_scrap(pickup, yard, 6) if kind == "scrap" else phone.leave_here(pickup, yard)
    finish(phone, world, pickup, one, two, customer_count=2)
    assert push(phone) == ["accepted", "contested"]
    told = {"scrap": "scrap_counted", "left": "left_there"}[kind]
    assert (differing()[f"{kind}_listed"], differing()[told]) == ([], [op["id"]])
    if kind == "scrap":
        phone.count_scrap(pickup, yard, 0, corrects=op["id"])
    else:
        phone.leave_here(pickup, yard, taken=True, corrects=op["id"])
    push(phone)
    assert open_kinds() == set(), "the customer counts casings: no count differs either"


def test_a_line_that_comes_late_is_asked_about_and_one_listed_and_taken_back_is_not_missed(
    world: World, phone: Phone
) -> None:
    pickup, yard = uuid4(), world.yard.uid
    scrap = phone.count_scrap(pickup, yard, 6)
    finish(phone, world, pickup, scrap=[scrap])
    phone.count_scrap(pickup, yard, 0, corrects=scrap["id"])
    assert push(phone) == ["accepted"] * 3
    late = phone.leave_here(pickup, yard)
    assert push(phone) == ["contested"]
    assert differing()["left_there"] == [late["id"]]
    phone.leave_here(pickup, yard, taken=True, corrects=late["id"])
    push(phone)
    assert open_kinds() == set()


def test_an_end_waits_for_the_lines_that_it_lists(world: World, phone: Phone) -> None:
    pickup = uuid4()
    scrap = phone.count_scrap(pickup, world.yard.uid, 6)
    over = finish(phone, world, pickup, scrap=[scrap])
    phone.push([over])
    assert phone.answers[over["id"]]["code"] == "reference_unseen"
    phone.push([scrap])
    assert Pickup.objects.get().scrap == [scrap["id"]]


def test_an_end_told_by_an_app_that_knew_of_no_lines_is_held_against_them_too(
    world: World, phone: Phone
) -> None:
    pickup = uuid4()
    made = pick_two(phone, world, pickup)
    phone.count_scrap(pickup, world.yard.uid, 6)
    phone.finish(pickup, world.yard.uid, [op["id"] for op in made])
    assert push(phone) == ["accepted", "contested"]
    assert differing()["of_another"] == []


def test_a_line_at_another_customers_yard_is_asked_about(world: World, phone: Phone) -> None:
    pickup = uuid4()
    made = pick_two(phone, world, pickup)
    scrap = phone.count_scrap(pickup, world.other_yard.uid, 6)
    finish(phone, world, pickup, *made, scrap=[scrap])
    assert push(phone) == ["accepted", "contested"]
    assert differing()["of_another"] == [scrap["id"]]


def test_a_line_by_a_stranger_at_an_unknown_yard_ten_years_ahead_is_asked_about(
    world: World, phone: Phone
) -> None:
    phone.person = uuid4()
    op = phone.count_scrap(uuid4(), uuid4(), 6)
    op["happened_at"] = clock.rfc3339(clock.now() + timedelta(days=3650))
    assert push(phone) == ["contested"]
    assert open_kinds() == {"person_unknown", "yard_unknown", "from_the_future"}
    assert line(op).site == world.store.uid, "who sent it sees it"


def test_another_stores_phone_that_tells_a_line_again_is_asked_about(
    world: World, phone: Phone, enrol: Enrol
) -> None:
    op = phone.count_scrap(uuid4(), world.yard.uid, 6)
    push(phone)
    other = enrol(world.other_driver)
    other.count_scrap(UUID(op["payload"]["pickup"]), world.yard.uid, 7, corrects=op["id"])
    push(other)
    assert line(op).told == {"count": 7}, "it is recorded as told"
    assert open_kinds() == {"other_store"}


def test_a_pickup_of_nothing_but_scrap_that_nobody_finishes_is_asked_about(
    world: World, phone: Phone
) -> None:
    pickup = uuid4()
    scrap = phone.count_scrap(pickup, world.yard.uid, 6)
    gone = phone.count_scrap(uuid4(), world.yard.uid, 2)
    phone.count_scrap(UUID(gone["payload"]["pickup"]), world.yard.uid, 0, corrects=gone["id"])
    push(phone)
    assert overdue.ask_unfinished(at=clock.now() + timedelta(days=2)) == 1
    assert Question.objects.get(settled_at=None).facts["fact"] == scrap["id"]
    finish(phone, world, pickup, scrap=[scrap])
    push(phone)
    assert open_kinds() == set()


def test_photos_of_a_line_are_asked_for(world: World, phone: Phone) -> None:
    phone.leave_here(uuid4(), world.yard.uid, photos=["a" * 64])
    reply = phone.push()
    assert reply.json["missing_photos"] == ["a" * 64]


def test_a_repeated_push_changes_nothing(world: World, phone: Phone) -> None:
    pickup = uuid4()
    op = phone.count_scrap(pickup, world.yard.uid, 6)
    again = phone.count_scrap(pickup, world.yard.uid, 7, corrects=op["id"])
    for batch in ([op, again], [again], [op], [again, op]):
        phone.push(batch)
    assert (line(op).told, line(op).version) == ({"count": 7}, 2)
    assert Fact.objects.count() == 2


@pytest.mark.django_db(transaction=True)
@pytest.mark.usefixtures("apart")
@pytest.mark.xdist_group("feed")
def test_lines_move_with_their_customer_to_another_stores_phones(
    world: World, phone: Phone, enrol: Enrol
) -> None:
    pickup = uuid4()
    scrap = phone.count_scrap(pickup, world.yard.uid, 6, **SCRAP)
    (taken, _) = pick_two(phone, world, pickup)
    take_back(phone, taken)
    phone.pull_all()
    assert phone.seen("visit_line")[scrap["id"]]["manifest"] == "SM-20418"
    other = enrol(world.other_driver)
    customers.move_customer(uid=world.customer.uid, home_site=world.other_store)
    drain()
    phone.pull_all()
    other.pull_all()
    assert phone.seen("visit_line") == {}
    assert other.seen("visit_line")[scrap["id"]]["count"] == 6
