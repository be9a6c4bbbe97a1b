"""A load as it is told over HTTP: in and out, its record, what it holds and who decides."""

import json
from collections.abc import Mapping
from datetime import timedelta
from uuid import uuid4

import pytest
from django.db import InternalError, connection, transaction
from django.db.utils import IntegrityError
from django.test import Client
from django.test.utils import CaptureQueriesContext

from pickups.casings.models import WorkOrder
from pickups.kernel import clock
from pickups.kernel.clock import rfc3339
from pickups.kernel.wire import Malformed
from pickups.questions.models import Question
from plant.curing import queries, services
from plant.curing.equivalent import Law
from plant.curing.models import CureRecord, Decision, Hold, Qualified
from plant.inspection.models import StationEvent, Work
from tests.conftest import Enrol
from tests.plant.curing.plant_day import (
    CSV,
    NUMBER,
    START,
    a_qualified_person,
    after,
    ask,
    drain,
    entered,
    load,
    set_in,
    set_out,
    table,
    word,
)
from tests.plant.inspection.refusals import refused
from tests.sync.batches import push
from tests.world import Phone, World
from tests.world.plant import Gateway
from tests.world.tables import nothing_written

pytestmark = pytest.mark.django_db
RECORD = f"/api/plant/loads/{NUMBER}/record"


def post(gateway: Gateway, told: Mapping[str, object]) -> dict[str, object]:
    reply = ask(gateway, "POST", "/api/plant/loads", json.dumps(told).encode())
    assert reply.status == 200, reply.body
    made: dict[str, object] = reply.json
    return made


def open_kinds() -> set[str]:
    return set(Question.objects.filter(settled_at=None).values_list("kind", flat=True))


def test_what_goes_in_and_comes_out(world: World, gateway: Gateway) -> None:
    labels = sorted(world.a_label() for _ in range(3))
    set_in(gateway, labels)
    drain()
    assert (load(world).state, load(world).since) == ("setting", after(-29))
    assert post(gateway, word()) == {"number": NUMBER, "outcome": "accepted", "repeat": False}
    assert load(world).state == "in"
    assert load(world).missing == []
    post(gateway, word(told_at=rfc3339(after(65)), ended_at=rfc3339(after(62))))
    set_out(gateway, labels[:2])
    drain()
    said = ask(gateway, "GET", f"/api/plant/loads/{NUMBER}").json
    assert said["state"] == "out"
    assert said["set_in"] == [{"label": x, "envelope": f"E{i}"} for i, x in enumerate(labels, 1)]
    assert said["set_out"] == labels[:2]
    assert said["missing"] == labels[2:]
    assert said["lots"] == [{"kind": "cushion_gum", "number": "CG-0417"}]
    assert said["record"]["verdict"] == "no_record"


def test_missing_is_asked_an_hour_after_the_last_and_settled_by_any_later_scan(
    world: World, gateway: Gateway
) -> None:
    labels = sorted(world.a_label() for _ in range(3))
    set_in(gateway, labels)
    set_out(gateway, labels[:2])
    drain()
    services.sweep(at=after(72 + 59))
    assert "load_missing" not in open_kinds()
    services.sweep(at=after(72 + 61))
    asked = Question.objects.get(kind="load_missing")
    assert asked.facts["labels"] == labels[2:]
    gateway.tell(labels[2], "passed", station="final-inspection", happened_at=after(200))
    services.sweep(at=after(210))
    assert load(world).missing == []
    assert "load_missing" not in open_kinds()


def test_a_scan_that_was_a_mistake_is_taken_out_of_the_load(world: World, gateway: Gateway) -> None:
    labels = sorted(world.a_label() for _ in range(2))
    set_in(gateway, labels)
    told = StationEvent.objects.get(label=labels[1])
    gateway.tell(labels[1], "withdrawn", station="enveloping", withdraws=str(told.event),
                 note="another casing", happened_at=after(-1))  # fmt: skip
    drain()
    assert [row["label"] for row in load(world).set_in] == labels[:1]


def test_words_come_in_any_order_and_the_last_told_stands(world: World, gateway: Gateway) -> None:
    later = word(told_at=rfc3339(after(65)), ended_at=rfc3339(after(62)), operator="18")
    post(gateway, later)
    post(gateway, word())
    assert (load(world).operator, load(world).ended_at) == ("18", after(62))
    version = load(world).version
    assert post(gateway, later)["repeat"] is True
    assert load(world).version == version
    with nothing_written():
        reply = ask(gateway, "POST", "/api/plant/loads",
                    json.dumps(later | {"operator": "19"}).encode())  # fmt: skip
        refused(reply, 409, "id_reused")


def test_a_tablets_word_leaves_lots_operator_and_note_as_the_system_said_them(
    world: World, enrol: Enrol, gateway: Gateway
) -> None:
    post(gateway, word(operator="44", note="door seal looked at"))
    told = {"load": str(uuid4()), "number": NUMBER,
            "started_at": rfc3339(START), "ended_at": rfc3339(after(62))}  # fmt: skip
    tablet = enrol(a_qualified_person(world))
    tablet.enter("curing.load", told)
    assert push(tablet) == ["accepted"]
    drain()
    one = load(world)
    assert (one.state, one.ended_at, one.chamber) == ("out", after(62), "c1")
    assert (one.operator, one.note) == ("44", "door seal looked at")
    assert queries.with_lot(world.plant.uid, "CG-0417") == queries.loads_by(
        world.plant.uid, "44") == [NUMBER]  # fmt: skip
    post(gateway, {"id": str(uuid4()), "number": NUMBER, "told_at": rfc3339(clock.now()),
                   "lots": []})  # fmt: skip
    assert (load(world).lots, load(world).operator) == ([], "44")


def test_a_record_that_meets_what_was_entered(world: World, gateway: Gateway) -> None:
    entered(world, law=Law(reference_c=99, energy_kj=90))
    labels = [world.a_label()]
    set_in(gateway, labels)
    post(gateway, word(ended_at=rfc3339(after(60))))
    assert ask(gateway, "POST", RECORD, table(), **CSV).json["repeat"] is False
    assert ask(gateway, "POST", RECORD, table(), **CSV).json["repeat"] is True
    said = ask(gateway, "GET", f"/api/plant/loads/{NUMBER}").json["record"]
    assert said == {
        "verdict": "meets", "grounds": [], "specification": 1, "lowest_c": 99, "highest_c": 99,
        "lowest_kpa": 586, "highest_kpa": 586, "minutes_in_range": 60, "gaps": 0,
        "equivalent_minutes": 60,
    }  # fmt: skip
    assert (load(world).state, Hold.objects.count()) == ("out", 0)


def test_without_a_specification_nothing_is_held_and_nothing_is_passed(
    world: World, gateway: Gateway
) -> None:
    set_in(gateway, [world.a_label()])
    post(gateway, word())
    ask(gateway, "POST", RECORD, table(10, celsius=20), **CSV)
    assert (load(world).verdict, load(world).state) == ("no_terms", "in")
    assert Hold.objects.count() == 0


def test_a_load_that_falls_short_holds_its_casings_until_somebody_qualified_decides(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    entered(world)
    labels = sorted(world.a_label() for _ in range(3))
    for label in labels:
        phone.pick_up(label, world.yard.uid, uuid4())
    assert set(push(phone)) == {"accepted"}
    set_in(gateway, labels[:2])
    post(gateway, word(ended_at=rfc3339(after(40))))
    ask(gateway, "POST", RECORD, table(40), **CSV)
    assert load(world).state == "held"
    assert load(world).held == labels[:2]
    assert set(WorkOrder.objects.filter(on_hold=True).values_list("label", flat=True)) == set(
        labels[:2]
    )
    set_in(gateway, labels[2:])  # a scan that comes late is held too
    drain()
    assert load(world).held == labels
    assert open_kinds() >= {"load_short"}
    person = a_qualified_person(world)
    with nothing_written(), pytest.raises(services.NotQualified):
        services.decide(plant=world.plant.uid, number=NUMBER, labels=labels, what="release",
                        grounds="looks good", by=world.driver.uid)  # fmt: skip
    with nothing_written(), pytest.raises(Malformed):
        services.decide(plant=world.plant.uid, number=NUMBER, labels=labels, what="release",
                        grounds=" ", by=person.uid)  # fmt: skip

    def decide(label: str, what: str) -> None:
        services.decide(plant=world.plant.uid, number=NUMBER, labels=[label], what=what,
                        grounds="durometer at four places", by=person.uid)  # fmt: skip

    decide(labels[0], "release")
    decide(labels[1], "reject")
    assert load(world).state == "held"
    decide(labels[2], "recure")
    assert load(world).state == "released"
    assert "load_short" not in open_kinds()
    stages = dict(Work.objects.values_list("label", "stage"))
    assert stages == {labels[0]: "in_work", labels[1]: "rejected", labels[2]: "repair"}
    assert Work.objects.get(label=labels[2]).reworks == 1
    rejected = Work.objects.get(label=labels[1]).told["rejections"][0]
    assert (rejected["reason"], rejected["cause"]) == ("CURED_DEFECT", "plant")
    assert not WorkOrder.objects.filter(on_hold=True).exists()
    told = StationEvent.objects.count()
    with nothing_written(), pytest.raises(Malformed):
        decide(labels[1], "release")
    services.settle(plant=world.plant.uid, number=NUMBER)
    assert StationEvent.objects.count() == told


def test_a_better_record_releases_nothing_by_itself(world: World, gateway: Gateway) -> None:
    entered(world)
    set_in(gateway, [label := world.a_label()])
    post(gateway, word())
    ask(gateway, "POST", RECORD, table(40), **CSV)
    ask(gateway, "POST", RECORD, table(60), **CSV)
    assert (load(world).verdict, load(world).state) == ("meets", "held")
    assert load(world).held == [label]
    assert CureRecord.objects.count() == 2


def test_a_record_that_came_before_is_the_same_whatever_came_behind_it(
    world: World, gateway: Gateway
) -> None:
    entered(world)
    post(gateway, word())
    part, whole = table(40), table(60)
    for raw in (part, whole, part):
        ask(gateway, "POST", RECORD, raw, **CSV)
    assert CureRecord.objects.count() == 2
    assert load(world).verdict == "meets"


def test_a_load_that_fell_short_once_holds_what_is_told_to_have_been_in_it_later(
    world: World, gateway: Gateway
) -> None:
    entered(world)
    post(gateway, word())
    ask(gateway, "POST", RECORD, table(40), **CSV)
    ask(gateway, "POST", RECORD, table(60), **CSV)
    assert (load(world).verdict, load(world).state) == ("meets", "held")
    set_in(gateway, [label := world.a_label()])
    drain()
    assert (load(world).state, load(world).held) == ("held", [label])
    assert Work.objects.get(label=label).stage == "on_hold"


def test_a_word_from_the_future_stands_no_longer_than_until_the_next(
    world: World, gateway: Gateway
) -> None:
    post(gateway, word(told_at="2099-01-01T00:00:00Z", operator="clock"))
    assert load(world).operator == "clock"
    post(gateway, word(told_at=rfc3339(clock.now()), operator="18"))
    assert load(world).operator == "18"


def test_a_record_is_read_again_only_where_it_may_come_to_something_else(
    world: World, gateway: Gateway
) -> None:
    entered(world)
    post(gateway, word())
    ask(gateway, "POST", RECORD, table(60), **CSV)
    drain()
    said = load(world).record
    with CaptureQueriesContext(connection) as done:
        set_in(gateway, [world.a_label(), world.a_label()])
        drain()
    assert len(load(world).set_in) == 2
    assert not [q for q in done.captured_queries if '"curing_record"."raw"' in q["sql"]]
    assert load(world).record == said
    with CaptureQueriesContext(connection) as done:
        post(gateway, word(told_at=rfc3339(after(90)), ended_at=rfc3339(after(80))))
        drain()
    assert len([q for q in done.captured_queries if '"curing_record"."raw"' in q["sql"]]) == 1
    assert load(world).verdict == "short"


def test_what_came_out_and_never_went_in_is_asked_an_hour_after(
    world: World, gateway: Gateway
) -> None:
    right, wrong = world.a_label(), world.a_label()
    post(gateway, word())
    set_in(gateway, [right])
    set_out(gateway, [right, wrong])
    drain()
    assert services.sweep(at=after(73) + timedelta(minutes=10)) == 0
    services.sweep(at=after(73) + timedelta(hours=2))
    asked = Question.objects.get(kind="load_over", settled_at=None)
    assert asked.facts["labels"] == [wrong]
    set_in(gateway, [wrong])
    drain()
    assert "load_over" not in open_kinds()


@pytest.mark.parametrize("code", ["", "enveloping-2"], ids=["none", "doubled"])
def test_nothing_is_sent_to_be_cured_again_where_the_route_has_no_such_station(
    world: World, gateway: Gateway, code: str
) -> None:
    entered(world)
    set_in(gateway, [label := world.a_label()])
    post(gateway, word(ended_at=rfc3339(after(40))))
    ask(gateway, "POST", RECORD, table(40), **CSV)
    stations = world.plant.stations.filter(code="enveloping")
    stations.update(code=code) if code else stations.delete()
    client = Client(headers={"Accept-Language": "en"})
    client.force_login(a_qualified_person(world))
    told = {"label": label, "what": "recure", "grounds": "durometer at four places"}
    answer = client.post(f"/plant/loads/{NUMBER}/decide", told)
    if code:
        assert answer.status_code == 302
        assert StationEvent.objects.get(outcome="repair").body["again_at"] == code
    else:
        assert answer.status_code == 400
        assert "no station with the code enveloping" in answer.content.decode()
        assert not StationEvent.objects.filter(outcome="repair").exists()


def test_who_is_qualified_no_longer_decides_no_longer(world: World, gateway: Gateway) -> None:
    person = a_qualified_person(world)
    named = Qualified.objects.get()
    assert services.qualified(plant=world.plant.uid, person=person.uid, matter="cure")
    assert not services.qualified(plant=world.plant.uid, person=person.uid, matter="claim")
    assert services.end_qualified(plant=world.plant.uid, qualified=named.id, by=person.uid)
    assert not services.end_qualified(plant=world.plant.uid, qualified=named.id, by=person.uid)
    assert not services.qualified(plant=world.plant.uid, person=person.uid, matter="cure")


def test_a_record_that_cannot_be_read_is_refused_cell_by_cell(
    world: World, gateway: Gateway
) -> None:
    post(gateway, word())
    with nothing_written():
        reply = ask(gateway, "POST", RECORD, b"minutes,temperature_c\n0,99\nx,500\n2,hot\n", **CSV)
    faults = refused(reply, 400, "malformed")["faults"]
    assert faults == [
        {"field": "row 3.temperature_c", "value": "500", "allowed": "-40 to 300 °C"},
        {
            "field": "row 4.temperature",
            "value": "hot",
            "allowed": "a number such as 98.5, or nothing",
        },
    ]
    series = {"temperature_unit": "c", "readings": [
        {"at": rfc3339(after(1)), "temperature": 99}, {"at": rfc3339(after(0)), "temperature": 99},
    ]}  # fmt: skip
    with nothing_written():
        reply = ask(gateway, "POST", RECORD, json.dumps(series).encode())
        assert refused(reply, 400, "malformed")["faults"][0]["field"] == "readings[1].at"
        elsewhere = RECORD.replace(NUMBER, "nobodys")
        refused(ask(gateway, "POST", elsewhere, table(), **CSV), 404, "not_found")
        refused(ask(gateway, "GET", "/api/plant/loads/nobodys"), 404, "not_found")
        refused(ask(gateway, "POST", RECORD, b"", Content_Type="text/plain"), 415, "media_type")


def test_a_posted_series_in_other_units(world: World, gateway: Gateway) -> None:
    entered(world)
    post(gateway, word())
    readings = [{"at": rfc3339(after(m)), "temperature": 210.2, "pressure": 85} for m in
                range(0, 61, 5)]  # fmt: skip
    series = {"temperature_unit": "f", "pressure_unit": "psi", "readings": readings}
    assert ask(gateway, "POST", RECORD, json.dumps(series).encode()).status == 200
    said = load(world).record
    assert (said["verdict"], said["highest_c"], said["lowest_kpa"]) == ("meets", 99.0, 586.1)


def test_a_tablet_tells_of_a_load_and_then_of_its_right_number(
    world: World, enrol: Enrol, phone: Phone, gateway: Gateway
) -> None:
    """The word of the same id with another number moves it; the first number is left empty."""
    operator = a_qualified_person(world)
    tablet = enrol(operator)
    told = {"load": str(uuid4()), "number": "14-1", "chamber": "c1", "operator": "17"}
    tablet.enter("curing.load", told)
    assert push(tablet) == ["accepted"]
    drain()
    assert (load(world, "14-1").chamber, load(world, "14-1").state) == ("c1", "setting")
    tablet.enter("curing.load", told | {"number": "14-2", "started_at": rfc3339(START)})
    assert push(tablet) == ["accepted"]
    drain()
    assert (load(world, "14-1").chamber, load(world, "14-2").state) == ("", "in")
    phone.enter("curing.load", told | {"load": str(uuid4())})  # a driver's phone is no plant's
    assert push(phone) == ["held payload_not_understood"]


def test_what_was_told_and_decided_is_never_changed(world: World, gateway: Gateway) -> None:
    entered(world)
    set_in(gateway, [world.a_label()])
    post(gateway, word())
    ask(gateway, "POST", RECORD, table(40), **CSV)
    person = a_qualified_person(world)
    services.decide(plant=world.plant.uid, number=NUMBER, labels=load(world).held, what="release",
                    grounds="measured", by=person.uid)  # fmt: skip
    assert Decision.objects.count() == 1
    for name in ("specification", "load_word", "record", "hold", "decision"):
        with (
            pytest.raises((IntegrityError, InternalError)),
            transaction.atomic(),
            connection.cursor() as c,
        ):
            c.execute(f"DELETE FROM curing_{name}")


def test_devices_forget_a_load_that_is_over_and_hear_of_it_again(
    world: World, gateway: Gateway
) -> None:
    set_in(gateway, labels := [world.a_label()])
    set_out(gateway, labels)
    drain()
    services.sweep(at=after(0) + timedelta(days=4))
    assert load(world).shown is False
    post(gateway, word(told_at=rfc3339(clock.now())))
    assert load(world).shown is True
