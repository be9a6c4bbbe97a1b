"""Trucks' lists at the dock: opened by the run, kept as casings move, counted, closed."""

from typing import Any
from uuid import uuid4

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from pickups.journal import services as journal
from pickups.kernel import clock
from pickups.kernel.ids import derived
from pickups.people import services as people
from pickups.people.models import Site
from pickups.questions.models import Question
from pickups.runs import services as runs
from pickups.runs.models import Run
from plant.dock import consignments
from plant.dock.models import Consignment, Count
from plant.dock.services import lay_out
from plant.inspection import closing
from tests.conftest import Enrol, in_process
from tests.pickups.desk.sheets import draw_up
from tests.world import Phone, World
from tests.world.plant import Gateway


def drained() -> None:
    while journal.drain():
        pass


def handed(world: World) -> Run:
    """A run of today with a stop at the plant, with its driver."""
    run = draw_up(world, kind="transfer")
    runs.add_stop(run=run.uid, site=world.plant.uid)
    runs.hand(run=run.uid)
    drained()
    return run


def on_truck(world: World, phone: Phone, many: int) -> list[str]:
    """Casings that the driver has picked up and holds; their labels, sorted."""
    labels = [world.a_label() for _ in range(many)]
    for label in labels:
        phone.pick_up(label, world.yard.uid, uuid4())
    assert phone.push().status == 200
    drained()
    return sorted(labels)


def listed(run: Run, way: str) -> dict[str, Any] | None:
    stop = run.stops.get()
    row = Consignment.objects.filter(uid=derived(stop.uid, way)).first()
    if row is None:
        return None
    body: dict[str, Any] = consignments.bodies([row.uid])[row.uid]
    return body


def labels_on(run: Run, way: str) -> list[tuple[str, str]]:
    body = listed(run, way)
    assert body is not None
    return [(one["label"], one["state"]) for one in body["labels"]]


def close(run: Run, way: str) -> dict[str, Any]:
    row = Consignment.objects.get(uid=derived(run.stops.get().uid, way))
    assert closing.close(row=row, at=clock.now(), by=None)
    row.refresh_from_db()
    told: dict[str, Any] = row.compared
    return told


def counted(enrol: Enrol, world: World, run: Run, n: int, way: str = "in") -> Phone:
    tablet = enrol(world.operator)
    uid = str(derived(run.stops.get().uid, way))
    tablet.enter("dock.count_in", {"consignment": uid, "way": way, "counted": n})
    answer = tablet.push()
    assert [one["outcome"] for one in answer.json["answers"]] == ["accepted"]
    return tablet


def test_what_a_truck_brings_is_what_its_driver_holds_and_stays_listed_once_received(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    labels = on_truck(world, phone, 3)
    run = handed(world)
    assert labels_on(run, "in") == [(label, "coming") for label in labels]
    body = listed(run, "in")
    assert body is not None
    assert (body["from"], body["to"]) == (str(world.store.uid), str(world.plant.uid))
    assert {one["owner"] for one in body["labels"]} == {"Tarn Valley Haulage"}
    gateway.tell(labels[0], "received", station="receiving")
    drained()
    assert labels_on(run, "in") == [(labels[0], "here"), *((x, "coming") for x in labels[1:])]


def test_a_casing_picked_up_on_the_way_comes_onto_the_list(world: World, phone: Phone) -> None:
    first = on_truck(world, phone, 1)
    run = handed(world)
    second = on_truck(world, phone, 1)
    assert [label for label, _ in labels_on(run, "in")] == sorted(first + second)


def test_a_sheet_that_is_written_again_takes_its_lists_away(world: World, phone: Phone) -> None:
    on_truck(world, phone, 1)
    run = handed(world)
    runs.take_back(run=run.uid)
    drained()
    assert not Consignment.objects.exists()
    runs.hand(run=run.uid)
    drained()
    assert Consignment.objects.filter(way="in").count() == 1


def test_what_goes_out_is_what_is_finished_or_rejected_for_the_runs_store(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    done, bad, working = labels = on_truck(world, phone, 3)
    for label in labels:
        gateway.tell(label, "received", station="receiving")
    gateway.tell(done, "finished", station="paint")
    gateway.tell(bad, "rejected", reason="ZIPPER", cause="casing")
    drained()
    run = handed(world)
    assert labels_on(run, "out") == sorted([(done, "finished"), (bad, "rejected")])
    gateway.tell(done, "shipped", station="shipping")
    drained()
    assert (done, "gone") in labels_on(run, "out")
    assert working not in {label for label, _ in labels_on(run, "out")}


def test_short_over_unknown_another_plants_and_contested_are_named_at_closing(
    world: World, phone: Phone, gateway: Gateway, enrol: Enrol
) -> None:
    other = people.open_site(name="Ashmere plant", kind=Site.Kind.PLANT)
    lay_out(plant=other)
    _, key = people.issue_key(plant=other, name="gateway")
    fits, short, elsewhere = on_truck(world, phone, 3)
    run = handed(world)
    Gateway(in_process, key).tell(elsewhere, "received", station="receiving")
    over = world.a_label()
    foreign = enrol(world.other_driver)
    foreign.pick_up(over, world.other_yard.uid, uuid4())
    assert foreign.push().status == 200
    counted(enrol, world, run, 4)
    unknown = world.a_label()
    for label in (fits, over, unknown):
        gateway.tell(label, "received", station="receiving")
    drained()
    told = close(run, "in")
    assert (told["counted"], told["scanned"]) == (4, 3)
    assert told["short"] == [short]
    assert (told["over"], told["unknown"]) == ([over], [unknown])
    question = Question.objects.get(kind="consignment_differs")
    assert question.facts["unknown"] == [unknown]
    assert question.facts["by"] == str(world.operator.uid)


def test_what_fits_is_closed_without_a_question(
    world: World, phone: Phone, gateway: Gateway, enrol: Enrol
) -> None:
    labels = on_truck(world, phone, 2)
    run = handed(world)
    counted(enrol, world, run, 2)
    for label in labels:
        gateway.tell(label, "received", station="receiving")
    drained()
    told = close(run, "in")
    assert (told["short"], told["over"], told["scanned"]) == ([], [], 2)
    assert not Question.objects.filter(kind="consignment_differs").exists()


def test_a_count_that_differs_is_asked_about_though_every_label_fits(
    world: World, phone: Phone, gateway: Gateway, enrol: Enrol
) -> None:
    (label,) = on_truck(world, phone, 1)
    run = handed(world)
    counted(enrol, world, run, 2)
    gateway.tell(label, "received", station="receiving")
    drained()
    close(run, "in")
    assert Question.objects.get(kind="consignment_differs").facts["counted"] == 2


def test_the_last_count_by_stamp_stands_and_none_is_lost(
    world: World, phone: Phone, enrol: Enrol
) -> None:
    on_truck(world, phone, 1)
    run = handed(world)
    tablet = counted(enrol, world, run, 5)
    uid = str(derived(run.stops.get().uid, "in"))
    tablet.enter("dock.count_in", {"consignment": uid, "way": "in", "counted": 1})
    assert tablet.push().status == 200
    body = listed(run, "in")
    assert body is not None
    assert body["counted"] == 1
    assert sorted(Count.objects.values_list("counted", flat=True)) == [1, 5]


def test_a_count_of_a_list_that_is_not_known_here_is_kept(world: World, enrol: Enrol) -> None:
    tablet = enrol(world.operator)
    told = {"consignment": str(uuid4()), "way": "in", "counted": 7}
    tablet.enter("dock.count_in", told)
    assert [one["outcome"] for one in tablet.push().json["answers"]] == ["accepted"]
    assert str(Count.objects.get().consignment) == told["consignment"]


def test_a_truck_that_never_came_closes_its_lists_without_a_question(
    world: World, phone: Phone
) -> None:
    on_truck(world, phone, 1)
    run = handed(world)
    runs.come_back(run=run.uid)
    drained()
    assert not Consignment.objects.filter(closed_at=None).exists()
    assert not Question.objects.filter(kind="consignment_differs").exists()


def test_a_casing_that_was_given_another_label_before_the_list_is_closed_is_no_difference(
    world: World, phone: Phone, gateway: Gateway, enrol: Enrol
) -> None:
    one, two = on_truck(world, phone, 2)
    run = handed(world)
    counted(enrol, world, run, 2)
    for label in (one, two):
        gateway.tell(label, "received", station="receiving")
    gateway.tell(one, "passed", station="receiving", tag=world.a_label())
    drained()
    told = close(run, "in")
    assert (told["short"], told["unknown"], told["over"]) == ([], [], [])
    assert not Question.objects.filter(kind="consignment_differs").exists()


def test_scans_and_a_count_that_come_after_the_truck_has_left_are_held_against_its_list(
    world: World, phone: Phone, gateway: Gateway, enrol: Enrol
) -> None:
    labels = on_truck(world, phone, 3)
    run = handed(world)
    before = clock.now()
    runs.come_back(run=run.uid)
    drained()
    row = Consignment.objects.get(uid=derived(run.stops.get().uid, "in"))
    assert (row.compared["scanned"], row.compared["short"]) == (0, labels)
    for label in labels[:2]:
        gateway.tell(label, "received", station="receiving", happened_at=before)
    drained()
    row.refresh_from_db()
    assert (row.compared["scanned"], row.compared["short"]) == (2, labels[2:])
    assert Question.objects.get(kind="consignment_differs").facts["short"] == labels[2:]
    gateway.tell(labels[2], "received", station="receiving", happened_at=before)
    drained()
    row.refresh_from_db()
    assert row.compared["short"] == []
    assert not Question.objects.filter(kind="consignment_differs", settled_at=None).exists()
    counted(enrol, world, run, 4)
    drained()
    row.refresh_from_db()
    assert row.compared["counted"] == 4
    asked = Question.objects.get(kind="consignment_differs", settled_at=None)
    assert (asked.facts["counted"], asked.facts["scanned"]) == (4, 3)


def test_only_lists_that_may_hold_what_moved_are_looked_at(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    labels = on_truck(world, phone, 2)
    handed(world)
    far = people.open_site(name="Ashmere plant", kind=Site.Kind.PLANT)
    for n in range(4):
        Consignment.objects.create(uid=uuid4(), plant=far, other=world.other_store, run=uuid4(),
                                   way=("in", "out")[n % 2], opened_at=clock.now())  # fmt: skip
    gateway.tell(labels[0], "received", station="receiving")
    with CaptureQueriesContext(connection) as done:
        drained()
    locked = [q["sql"] for q in done.captured_queries if "FOR NO KEY UPDATE" in q["sql"]
              and "dock_consignment" in q["sql"]]  # fmt: skip
    assert locked
    assert all('"uid" IN (' in sql for sql in locked), "all open lists were locked"
    assert not [row for row in Consignment.objects.filter(plant=far) if str(row.uid) in str(locked)]


def test_a_scan_that_was_taken_back_does_not_count(
    world: World, phone: Phone, gateway: Gateway, enrol: Enrol
) -> None:
    (label,) = on_truck(world, phone, 1)
    run = handed(world)
    counted(enrol, world, run, 1)
    event = gateway.tell(label, "received", station="receiving")
    gateway.tell(label, "withdrawn", withdraws=event["id"], note="wrong pile")
    drained()
    assert close(run, "in")["short"] == [label]


@pytest.mark.django_db(transaction=True)  # a feed shows what is committed
@pytest.mark.usefixtures("apart")
@pytest.mark.xdist_group("feed")
def test_the_plants_tablet_hears_of_a_list_until_it_is_closed_and_the_store_does_not(
    world: World, phone: Phone, enrol: Enrol
) -> None:
    labels = on_truck(world, phone, 2)
    run = handed(world)
    tablet = counted(enrol, world, run, 2)

    def shown(device: Phone) -> list[dict[str, Any]]:
        device.pull_all()
        rows = [row for key, row in device.rows.items() if key[1] == "consignment"]
        return [row for row in rows if row.get("body")]

    (row,) = shown(tablet)
    assert [one["label"] for one in row["body"]["labels"]] == labels
    assert (row["body"]["counted"], row["body"]["driver"]) == (2, str(world.driver.uid))
    assert shown(phone) == []
    close(run, "in")
    assert shown(tablet) == []
