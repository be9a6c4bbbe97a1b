"""A casing without a label, from the form over the candidates to its new label or the rack: over
HTTP, as a supervisor in a browser does it."""

import re
from collections.abc import Callable
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from pickups.casings.models import WorkOrder
from pickups.custody.models import Fact
from pickups.kernel import clock
from pickups.questions.models import Question
from plant.inspection import daily
from plant.inspection.models import Work
from plant.unlabelled import services
from plant.unlabelled.models import Unlabelled
from tests.world import Phone, World
from tests.world.plant import Gateway
from tests.world.tables import nothing_written

pytestmark = pytest.mark.django_db

SEEN = {"size": "295/75 R 22.5", "brand": "ostler", "date_code": "2322", "station": "curing"}


@pytest.fixture
def inside(world: World, phone: Phone, gateway: Gateway) -> str:
    """A casing that the plant holds: its label."""
    label = world.a_label()
    phone.enter(
        "custody.pick_up",
        {
            "pickup": str(uuid4()),
            "yard": str(world.yard.uid),
            "label": label,
            "line": "retread",
            "size": "295/75R22.5",
            "brand": "Ostler",
            "tins": [{"tin": "AB3 CDEF12 2322", "made": "new"}],
            "work": "retread",
            "basis": "own",
        },
        version=3,
    )
    assert phone.push().status == 200
    gateway.tell(label, "received", station="receiving")
    gateway.tell(label, "passed", station="buffing")
    return label


def found(client: Client, **more: str) -> str:
    """The address of the page to which the form leads."""
    reply = client.post("/plant/unlabelled/find", SEEN | more)
    assert reply.status_code == 302, reply.content.decode()
    return str(reply["Location"])


def recognise(client: Client, page: str, inside: str, label: str, **more: str) -> Any:
    order = WorkOrder.objects.get(label=inside)
    told = {"which": str(order.uid), "new": label, "told_by": "same cut on the serial side"}
    return client.post(f"{page}recognise", told | more)


def test_a_missing_casing_that_agrees_is_offered_with_what_agrees(
    operator: Client, inside: str
) -> None:
    page = operator.get(found(operator)).content.decode()
    assert inside[:4] in page
    assert "size, brand, date code, place on the route" in page


def test_a_recognised_casing_wears_the_new_label_and_how_it_was_told_is_kept(
    operator: Client, inside: str, world: World
) -> None:
    page, new = found(operator), world.a_label()
    order = WorkOrder.objects.get(label=inside)
    assert recognise(operator, page, inside, new).status_code == 302
    order.refresh_from_db()
    assert order.label == new
    assert order.told["void_labels"] == [inside]
    row = Unlabelled.objects.get()
    assert (row.work_order, row.label) == (order.uid, new)
    assert row.told_by == "same cut on the serial side"
    assert row.settled_by is not None
    assert "Recognised as" in operator.get(page).content.decode()
    told = Fact.objects.filter(kind="relabelled").get()
    assert told.told["now"] == new


@pytest.mark.parametrize(
    ("before", "station"),
    [
        ([("repair", "initial-inspection", {"findings": [{"zone": "crown", "kind": "cut"}]})],
         "repair"),
        ([("passed", "buffing", {})], "final-inspection"),
        ([("rejected", "buffing", {})], "curing"),
    ],
    ids=["marked for repair", "far along", "rejected"],
)  # fmt: skip
def test_that_it_was_recognised_says_nothing_of_what_was_done_to_it(
    operator: Client,
    inside: str,
    world: World,
    gateway: Gateway,
    before: list[tuple[str, str, dict[str, Any]]],
    station: str,
) -> None:
    for outcome, at, more in before:
        gateway.tell(inside, outcome, station=at, **more)
    was, order = Work.objects.get(label=inside), WorkOrder.objects.get(label=inside)
    page, new = found(operator, station=station), world.a_label()
    assert recognise(operator, page, inside, new).status_code == 302
    now, after = Work.objects.get(label=new), WorkOrder.objects.get(label=new)
    assert (now.stage, now.next, now.doubts) == (was.stage, was.next, was.doubts)
    assert now.station == station
    for name in ("passed", "findings", "rejections"):
        assert now.told[name] == was.told[name]
    assert (after.progress, after.holder) == (order.progress, order.holder)
    day = daily.since(world.plant.uid, order.picked_up_at)
    assert [one.tag for one in day if one.tag] == []
    assert Fact.objects.filter(kind="relabelled").count() == 1
    assert not Question.objects.filter(settled_at=None).exists()


def test_one_that_was_never_scanned_here_was_received_and_no_more(
    operator: Client, world: World, phone: Phone
) -> None:
    label, new = world.a_label(), world.a_label()
    phone.pick_up(label, world.yard.uid, uuid4())
    assert phone.push().status == 200
    order = WorkOrder.objects.get()
    row = Unlabelled.objects.create(
        uid=uuid4(), plant=world.plant, station="repair", found_at=order.picked_up_at,
        found_by=world.operator.uid,
    )  # fmt: skip
    for _ in range(2):
        assert services.recognise(
            found=row, work_order=order.uid, old=label, new=new, station="repair",
            told_by="its number", by=world.operator.uid, at=clock.now(),
        )  # fmt: skip
    work = Work.objects.get()
    assert (work.label, work.stage, work.station) == (new, "in_work", "repair")
    assert work.told["passed"] == ["receiving"]
    order.refresh_from_db()
    assert (order.progress, order.holder) == ("received", f"plant:{world.plant.uid}")


def test_confirming_twice_changes_nothing_more(operator: Client, inside: str, world: World) -> None:
    page, new = found(operator), world.a_label()
    order = WorkOrder.objects.get(label=inside)
    recognise(operator, page, inside, new)
    with nothing_written():
        again = operator.post(
            f"{page}recognise", {"which": str(order.uid), "new": new, "told_by": "again"}
        )
    assert again.status_code == 302


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("which", str(UUID(int=1)), "Choose the casing"),
        ("new", "K7", "is no label"),
        ("told_by", "", "how you know it"),
    ],
)
def test_what_is_missing_is_named_and_what_was_typed_stays(
    operator: Client, inside: str, world: World, field: str, value: str, said: str
) -> None:
    page = found(operator)
    with nothing_written():
        reply = recognise(operator, page, inside, world.a_label(), **{field: value})
    assert reply.status_code == 400
    body = reply.content.decode()
    assert said in body
    if field != "told_by":
        assert "same cut on the serial side" in body


def test_a_label_that_another_casing_wears_is_not_taken(
    operator: Client, inside: str, world: World
) -> None:
    page = found(operator)
    with nothing_written():
        reply = recognise(operator, page, inside, inside)
    assert reply.status_code == 400
    assert "on another casing already" in reply.content.decode()


@pytest.mark.parametrize(
    ("field", "value"),
    [("date_code", "5422"), ("date_code", "22"), ("tread", "41"), ("tread", "x"),
     ("size", "9" * 25), ("station", "nowhere"), ("note", "n" * 501)],
)  # fmt: skip
def test_a_description_that_cannot_be_is_refused_with_field_and_value(
    operator: Client, world: World, field: str, value: str
) -> None:
    with nothing_written():
        reply = operator.post("/plant/unlabelled/find", SEEN | {field: value})
    assert reply.status_code == 400
    body = reply.content.decode()
    assert 'role="alert"' in body
    assert "ostler" in body


def test_nothing_seen_is_no_description(operator: Client, world: World) -> None:
    with nothing_written():
        reply = operator.post("/plant/unlabelled/find", {"station": "curing"})
    assert reply.status_code == 400


def test_what_nobody_recognises_lies_on_the_rack_with_a_question_until_it_is_known(
    operator: Client, inside: str, world: World
) -> None:
    page = found(operator)
    assert operator.post(f"{page}rack", {"rack": "B-3"}).status_code == 302
    question = Question.objects.get(kind="owner_unknown")
    assert question.settled_at is None
    assert question.facts["rack"] == "B-3"
    assert "B-3" in operator.get("/plant/unlabelled/").content.decode()
    recognise(operator, page, inside, world.a_label())
    question.refresh_from_db()
    assert question.settled_at is not None


def test_what_is_like_nothing_missing_says_so(operator: Client, world: World) -> None:
    page = operator.get(found(operator)).content.decode()
    assert "Nothing that is missing here is like it" in page


def test_a_stranger_to_the_decision_reads_and_changes_nothing(
    signed_in: Callable[..., Client], operator: Client, inside: str, world: World
) -> None:
    page = found(operator)
    reader = signed_in("sales")
    body = reader.get(page).content.decode()
    assert not re.search(r'name="told_by"', body)
    with nothing_written():
        assert recognise(reader, page, inside, world.a_label()).status_code == 403


def test_of_two_who_give_one_label_or_recognise_one_casing_the_second_changes_nothing(
    operator: Client, inside: str, world: World
) -> None:
    order, new = WorkOrder.objects.get(label=inside), world.a_label()
    found(operator)
    found(operator)
    first, second = Unlabelled.objects.order_by("found_at")

    def recognised(one: Unlabelled, label: str) -> bool:
        return services.recognise(found=one, work_order=order.uid, old=inside, new=label,
                                  station="curing", told_by="a cut", by=uuid4(),
                                  at=clock.now())  # fmt: skip

    with CaptureQueriesContext(connection) as seen:
        assert recognised(first, new)
    sql = [query["sql"] for query in seen.captured_queries]
    locks = [one for one in sql if "pg_advisory_xact_lock" in one or "FOR UPDATE" in one]
    assert "pg_advisory_xact_lock" in locks[0]
    with nothing_written():
        assert not recognised(second, world.a_label())
        with pytest.raises(services.Worn):
            recognised(second, new)
