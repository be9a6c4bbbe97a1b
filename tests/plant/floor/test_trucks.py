"""Trucks' lists on their page: what is on each, what differs, closing."""

import re
from typing import Any
from uuid import uuid4

from django.db import connection
from django.test import Client

from pickups.kernel import clock
from pickups.questions.models import Question
from pickups.runs import services as runs
from plant.dock import consigning
from plant.dock.models import Consignment
from tests.conftest import Enrol
from tests.plant.dock.test_consignments import counted, drained, handed, on_truck
from tests.plant.floor.conftest import SignedIn
from tests.world import Phone, World
from tests.world.plant import Gateway


def text(client: Client) -> str:
    page = client.get("/plant/trucks").content.decode()
    return re.sub(r"\s+", " ", page.replace("\N{THIN SPACE}", ""))


def test_a_truck_on_its_way_is_shown_with_its_list_and_what_differs_at_once(
    world: World, phone: Phone, gateway: Gateway, operator: Client, enrol: Enrol
) -> None:
    assert "No truck is on its way here" in text(operator)
    first, _ = on_truck(world, phone, 2)
    run = handed(world)
    page = text(operator)
    assert "From Bramblewick store" in page
    assert "Driver Dale Orrin · 2 on the list, 0 scanned, counted by hand: not yet" in page
    assert "Tarn Valley Haulage" in page
    counted(enrol, world, run, 2)
    gateway.tell(first, "received", station="receiving")
    drained()
    page = text(operator)
    assert "2 on the list, 1 scanned, counted by hand: 2" in page
    assert "So far every scan fits the list." in page
    unknown = world.a_label()
    gateway.tell(unknown, "received", station="receiving")
    drained()
    assert f'Picked up by nobody</dt><dd><span class="code">{unknown}' in text(operator)


def test_closing_tells_the_office_what_differed_and_shows_it(
    world: World, phone: Phone, gateway: Gateway, operator: Client, enrol: Enrol
) -> None:
    first, short = on_truck(world, phone, 2)
    run = handed(world)
    counted(enrol, world, run, 2)
    gateway.tell(first, "received", station="receiving")
    drained()
    row = Consignment.objects.get(way="in")
    answer = operator.post(f"/plant/trucks/{row.uid}/close", follow=True)
    assert "Closed. What differed was told to the office." in answer.content.decode()
    page = text(operator)
    assert f'Short</dt><dd><span class="code">{short}' in page
    assert Question.objects.get(kind="consignment_differs").facts["short"] == [short]
    answer = operator.post(f"/plant/trucks/{row.uid}/close", follow=True)
    assert "It was closed already." in answer.content.decode()
    assert Question.objects.filter(kind="consignment_differs").count() == 1


def test_a_list_whose_run_is_taken_back_while_it_is_closed_is_said_to_be_gone(
    world: World, phone: Phone, operator: Client
) -> None:
    on_truck(world, phone, 1)
    run = handed(world)
    row = Consignment.objects.get(way="in")

    def meanwhile(execute: Any, sql: str, *rest: Any) -> Any:
        if "inspection_station_event" in sql and Consignment.objects.filter(uid=row.uid).exists():
            runs.take_back(run=run.uid)
            consigning.of_run(run=run.uid, at=clock.now())
        return execute(sql, *rest)

    with connection.execute_wrapper(meanwhile):
        answer = operator.post(f"/plant/trucks/{row.uid}/close", follow=True)
    assert "took that run back meanwhile" in answer.content.decode()


def test_a_list_of_another_plant_is_not_there(operator: Client) -> None:
    assert operator.post(f"/plant/trucks/{uuid4()}/close").status_code == 404


def test_the_office_reads_it_and_has_no_key_to_close(
    world: World, phone: Phone, signed_in: SignedIn
) -> None:
    on_truck(world, phone, 1)
    handed(world)
    page = text(signed_in("dispatcher"))
    assert "From Bramblewick store" in page
    assert "Close this list" not in page
