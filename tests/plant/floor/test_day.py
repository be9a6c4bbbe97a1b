"""The plant's day: what is inside by station, what ended, and that it is asked for again."""

import re
from datetime import timedelta
from typing import Any
from uuid import uuid4

from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from pickups.kernel import clock
from pickups.people import services as people
from pickups.people.models import Site
from plant.floor import figures
from plant.floor.figures import Ended, Inside
from plant.inspection.models import Work
from tests.plant.floor.conftest import SignedIn
from tests.world import World
from tests.world.plant import Gateway


def text(client: Client, address: str = "/plant/") -> str:
    page = client.get(address).content.decode().replace("\N{THIN SPACE}", "")
    return re.sub(r"\s+", " ", page)


def row(page: str, station: str) -> list[str]:
    """What a station's line says: here, longest, next, done today."""
    found = re.search(rf'at/{station}">.*?</tr>', page)
    assert found is not None
    return re.findall(r"<td[^>]*>(.*?)</td>", found[0])


def passed(gateway: Gateway, label: str, *stations: str) -> None:
    gateway.tell(label, "received", station="receiving")
    for station in stations:
        gateway.tell(label, "passed", station=station)


def test_work_in_process_stands_at_its_station_and_in_the_queue_of_the_next(
    world: World, gateway: Gateway, operator: Client
) -> None:
    assert "Nothing is inside." in text(operator)
    one, two = world.a_label(), world.a_label()
    passed(gateway, one)
    passed(gateway, two, "initial-inspection")
    page = text(operator)
    assert "2 in process" in page
    here, longest, _, done = row(page, "receiving")
    assert (here, done) == ("1", "2")
    assert longest
    following = Work.objects.get(label=one).next
    assert row(page, following)[2] == "1"
    waits, here = text(operator, f"/plant/at/{following}").split("Here: ")
    assert one in waits
    assert two not in waits
    assert one not in here
    assert one in text(operator, "/plant/at/receiving").split("Here: 1")[1]


def test_what_waits_for_a_person_is_counted_apart_and_is_in_no_queue(
    world: World, gateway: Gateway, operator: Client
) -> None:
    held, bad = world.a_label(), world.a_label()
    passed(gateway, held)
    gateway.tell(held, "hold", station="initial-inspection", note="look at the bead")
    passed(gateway, bad)
    gateway.tell(bad, "rejected", station="initial-inspection", reason="ZIPPER", cause="casing")
    page = text(operator)
    assert "1 on hold" in page
    assert "1 rejected, waiting to go home" in page
    assert sum(int(row(page, station)[2]) for station in ("cleaning", "buffing", "repair")) == 0


def test_throughput_first_pass_yield_and_reasons_of_the_week(
    world: World, gateway: Gateway, operator: Client
) -> None:
    good, again, bad = world.a_label(), world.a_label(), world.a_label()
    assert "nothing has ended yet" in text(operator)
    for label in (good, again):
        passed(gateway, label, "initial-inspection")
    gateway.tell(again, "repair", station="final-inspection", again_at="buffing")
    for label in (good, again):
        gateway.tell(label, "finished", station="paint")
    passed(gateway, bad)
    gateway.tell(bad, "rejected", station="initial-inspection", reason="ZIPPER", cause="casing")
    page = text(operator)
    assert "2 today" in page
    assert "2 this week" in page
    assert "33 % of 3 that ended" in page
    assert re.search(r"<dd>1 · the sidewall cords are tired", page)


def test_what_was_taken_back_counts_for_nothing(
    world: World, gateway: Gateway, operator: Client
) -> None:
    label = world.a_label()
    passed(gateway, label)
    event = gateway.tell(label, "finished", station="paint")
    assert "1 today" in text(operator)
    gateway.tell(label, "withdrawn", station="paint", withdraws=event["id"], note="wrong tire")
    page = text(operator)
    assert "0 today" in page
    assert "nothing has ended yet" in page


def test_a_rejected_casing_is_never_counted_as_finished_whatever_was_told_later(
    world: World, gateway: Gateway, operator: Client
) -> None:
    label = world.a_label()
    passed(gateway, label)
    gateway.tell(label, "rejected", station="shearography", reason="SEPARATION", cause="casing")
    gateway.tell(label, "finished", station="paint", tag=(tag := world.a_label()))
    page = text(operator)
    assert tag
    assert "0 today" in page
    assert "0 this week" in page
    assert "0 % of 1 that ended" in page
    assert re.search(r"<dd>1 · ", page)


def test_a_rejection_that_was_released_is_no_reason_and_no_end(
    world: World, gateway: Gateway, operator: Client
) -> None:
    label = world.a_label()
    passed(gateway, label)
    event = gateway.tell(label, "rejected", station="initial-inspection", reason="AGE_POLICY",
                         cause="casing")["id"]  # fmt: skip
    assert re.search(r"<dd>1 · ", text(operator))
    gateway.tell(label, "released", station="initial-inspection", releases=event)
    page = text(operator)
    assert not re.search(r"<dd>1 · ", page)
    assert "nothing has ended yet" in page


def test_what_ended_before_monday_is_no_figure_of_this_week(
    world: World, gateway: Gateway, operator: Client
) -> None:
    label, old = world.a_label(), clock.now() - timedelta(days=9)
    gateway.tell(label, "received", station="receiving", happened_at=old)
    gateway.tell(label, "finished", station="paint", happened_at=old)
    page = text(operator)
    assert "0 this week" in page
    assert "1 finished, waiting for a truck" in page


def test_the_part_that_is_asked_for_again_answers_only_where_something_differs(
    world: World, gateway: Gateway, operator: Client
) -> None:
    first = operator.get("/plant/live").content.decode()
    mark = re.search(r'data-mark="(\w+)"', first)
    assert mark is not None
    assert operator.get("/plant/live", {"seen": mark[1]}).status_code == 204
    passed(gateway, world.a_label())
    answer = operator.get("/plant/live", {"seen": mark[1]})
    assert answer.status_code == 200
    assert "1 in process" in answer.content.decode()
    assert "<html" not in answer.content.decode()


def test_a_plant_sees_nothing_of_another(
    world: World, gateway: Gateway, signed_in: SignedIn
) -> None:
    passed(gateway, world.a_label())
    other = people.open_site(name="Ashmere plant", kind=Site.Kind.PLANT)
    desk = signed_in("dispatcher")
    desk.post("/plant/choose", {"plant": str(other.uid)})
    assert "Nothing is inside." in text(desk)


def test_a_station_says_what_to_look_out_for_and_what_comes_before_it(
    signed_in: SignedIn,
) -> None:
    page = text(signed_in(), "/plant/at/curing")
    assert "Nothing on this screen opens, starts or releases it" in page
    assert "Local codes and licensed practice come before every line here." in page
    page = text(signed_in(language="es"), "/plant/at/curing")
    assert "Recipiente a presión" in page


def test_a_station_that_is_not_there_is_no_page(operator: Client) -> None:
    assert operator.get("/plant/at/nowhere").status_code == 404


def test_a_thousand_inside_take_no_more_queries_than_one(
    world: World, gateway: Gateway, operator: Client
) -> None:
    passed(gateway, world.a_label())
    template = Work.objects.get()

    def queries() -> int:
        with CaptureQueriesContext(connection) as seen:
            assert operator.get("/plant/").status_code == 200
            assert operator.get("/plant/at/receiving").status_code == 200
        return len(seen)

    one = queries()
    known: dict[str, Any] = {
        field.attname: getattr(template, field.attname) for field in Work._meta.concrete_fields
    }
    made = [Work(**{**known, "uid": uuid4(), "label": f"Z{i:07}"}) for i in range(1000)]
    Work.objects.bulk_create(made)
    assert queries() == one
    page = text(operator)
    assert "1001 in process" in page
    assert "The 200 that have waited longest are shown." in text(operator, "/plant/at/receiving")


AT = clock.now()


def inside(station: str, following: str, stage: str = "in_work") -> Inside:
    return Inside("K", station, following, stage, AT, AT)


def test_a_station_that_the_route_has_no_longer_is_shown_while_something_lies_there() -> None:
    rows = figures.by_station(["a", "b"], [inside("old", "b"), inside("a", "b", "on_hold")], {})
    assert [(one.code, one.here, one.waits) for one in rows] == [
        ("a", 1, 0),
        ("b", 0, 1),
        ("old", 1, 0),
    ]


def test_first_pass_is_of_all_that_ended_and_nothing_of_nothing() -> None:
    ended = [
        Ended(finished=True, again=False, rejected=False),
        Ended(finished=True, again=True, rejected=False),
        Ended(finished=True, again=False, rejected=True),
        Ended(finished=False, again=False, rejected=True),
    ]
    assert figures.first_pass(ended) == 0.25
    assert figures.first_pass([]) is None
