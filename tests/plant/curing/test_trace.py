"""From a casing to all that touched it, and from each of those to every casing and its owner."""

import csv
import io
import json
from uuid import uuid4

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from pickups.kernel.clock import rfc3339
from pickups.people.models import User
from plant.curing import tracing
from plant.floor.queries import loads
from plant.floor.queries import trace as pages
from plant.inspection import queries as inspection
from plant.inspection.tracing import Asked
from tests.conftest import Enrol
from tests.plant.curing.plant_day import (
    NUMBER,
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

pytestmark = pytest.mark.django_db
LOT = {"kind": "cushion_gum", "number": "CG-0417"}


@pytest.fixture
def cured(world: World, phone: Phone, enrol: Enrol, gateway: Gateway) -> list[str]:
    """Three casings of two owners in one load, and one that went another way."""
    labels = sorted(world.a_label() for _ in range(4))
    for label in labels[:2]:
        phone.pick_up(label, world.yard.uid, uuid4())
    other = enrol(world.other_driver)
    other.pick_up(labels[2], world.other_yard.uid, uuid4())
    assert set(push(phone) + push(other)) == {"accepted"}
    gateway.tell(labels[0], "passed", station="cushion-gum", lots=[LOT], operator="4",
                 machine="ext-1", happened_at=after(-60))  # fmt: skip
    gateway.tell(labels[3], "passed", station="buffing", operator="4", happened_at=after(-55))
    set_in(gateway, labels[:3])
    told = word(lots=[{"kind": "tread", "number": "T-9"}])
    assert ask(gateway, "POST", "/api/plant/loads", json.dumps(told).encode()).status == 200
    set_out(gateway, labels[:3])
    drain()
    return labels


def found(world: World, **asked: object) -> list[str]:
    return sorted(c.label for c in tracing.trace(world.plant.uid, Asked(**asked)).casings)  # type: ignore[arg-type]


def test_from_a_lot_a_load_an_operator_a_machine_or_a_time_to_every_casing(
    world: World, cured: list[str]
) -> None:
    assert found(world, lot="CG-0417") == cured[:1]
    assert found(world, lot="CG-0417", lot_kind="tread") == []
    assert found(world, lot="T-9") == cured[:3]  # the load says it of itself
    assert found(world, load=NUMBER) == cured[:3]
    assert found(world, operator="4") == [cured[0], cured[3]]
    assert found(world, operator="17") == cured[:3]  # ran the load
    assert found(world, operator="4", station="buffing") == cured[3:]
    assert found(world, machine="ext-1") == cured[:1]
    assert found(world, machine="env-2", since=after(-28.5), until=after(0)) == cured[1:3]
    assert found(world, since=after(-56), until=after(-50)) == cured[3:]
    assert found(world, lot="nobodys") == found(world) == []


def test_a_lot_that_was_told_of_a_load_and_corrected_since_is_still_found_and_says_so(
    world: World, gateway: Gateway, cured: list[str]
) -> None:
    said = word(lots=[{"kind": "tread", "number": "T-9"}])
    told = {**said, "number": "2026-07-14-3", "lots": [{"kind": "tread", "number": "T-8"}]}
    spare = world.a_label()
    set_in(gateway, [spare], told["number"])
    assert ask(gateway, "POST", "/api/plant/loads", json.dumps(told).encode()).status == 200
    drain()
    put_right = told | {"id": str(uuid4()), "told_at": rfc3339(after(90)), "lots": said["lots"]}
    assert ask(gateway, "POST", "/api/plant/loads", json.dumps(put_right).encode()).status == 200
    drain()
    assert load(world, told["number"]).lots == said["lots"]
    made = tracing.trace(world.plant.uid, Asked(lot="T-8"))
    assert [(c.label, c.corrected) for c in made.casings] == [(spare, True)]
    assert made.earlier == (told["number"],)
    both = tracing.trace(world.plant.uid, Asked(lot="T-9"))
    assert {c.label: c.corrected for c in both.casings} == dict.fromkeys([*cured[:3], spare], False)
    assert both.earlier == ()
    # A scan that says the lot itself stands, whatever its load says.
    gateway.tell(spare, "passed", station="building", lots=[{"kind": "tread", "number": "T-8"}])
    (one,) = tracing.trace(world.plant.uid, Asked(lot="T-8")).casings
    assert not one.corrected
    office = signed_in(world.dispatcher)
    page = office.get("/plant/trace/?lot=T-8").content.decode()
    assert "corrected since" in page
    assert told["number"] in page
    answer = ask(gateway, "GET", "/api/plant/trace?lot=T-8").json
    assert [c["corrected"] for c in answer["casings"]] == [False]


def test_who_tells_on_a_tablet_is_found_by_name(
    world: World, enrol: Enrol, cured: list[str]
) -> None:
    tablet = enrol(a_qualified_person(world))
    tablet.enter("inspection.tell", {"label": cured[3], "station": "repair", "outcome": "passed"})
    assert push(tablet) == ["accepted"]
    assert found(world, operator="vera lund") == found(world, operator="Vera") == cured[3:]
    assert found(world, operator="Lund") == []
    User.objects.filter(username="vera").update(is_active=False)
    assert found(world, operator="Vera") == cured[3:]


def test_each_casing_with_its_owner_where_it_is_and_whom_to_write_to(
    world: World, cured: list[str]
) -> None:
    made = tracing.trace(world.plant.uid, Asked(load=NUMBER))
    owners = {c.label: c.owner_name for c in made.casings}
    assert owners == {cured[0]: "Tarn Valley Haulage", cured[1]: "Tarn Valley Haulage",
                      cured[2]: "Reedbank Gravel"}  # fmt: skip
    assert {c.station for c in made.casings} == {"stripping"}
    written = {k: [c.email for c in v] for k, v in made.contacts.items()}
    assert written == {world.customer.uid: ["ines@tarn.example"],
                       world.other_customer.uid: ["abel@reed.example"]}  # fmt: skip


def test_a_casing_is_one_whatever_label_it_wore(
    world: World, gateway: Gateway, cured: list[str]
) -> None:
    tag = world.a_label()
    gateway.tell(cured[0], "finished", station="paint", tag=tag, happened_at=after(300))
    drain()
    assert tag in found(world, lot="CG-0417")
    for name in (tag, cured[0]):
        life = tracing.life(world.plant.uid, tracing.named(world.plant.uid, name)[0])
        assert life is not None
        assert life.casing.label == tag
        assert [load.number for load in life.loads] == [NUMBER]
        assert life.mates == {NUMBER: cured[1:3]}


def test_a_retread_tin_leads_to_its_casing(
    world: World, gateway: Gateway, cured: list[str]
) -> None:
    gateway.tell(cured[1], "passed", station="final-inspection", happened_at=after(200),
                 built={"retread_tin": "7X32826"})  # fmt: skip
    gateway.tell(cured[2], "passed", station="final-inspection", happened_at=after(201),
                 built={"retread_tin": "r-7hk 2826"})  # fmt: skip
    for written in ("7x3 2826", "R 7X3 2826", "r7x32826", "7X3-2826"):
        assert tracing.named(world.plant.uid, written) == [cured[1]], written
    for written in ("7HK2826", "7hk 28 26", "R 7HK 2826"):
        assert tracing.named(world.plant.uid, written) == [cured[2]], written
    assert tracing.named(world.plant.uid, "7X32726") == []
    assert tracing.named(world.plant.uid, "--") == []
    with connection.cursor() as c:
        c.execute("SET LOCAL enable_seqscan = off")
    plan = inspection.branded(world.plant.uid, "7X32826").explain()
    assert "inspection_work_retread_tin" in plan


def test_what_was_taken_back_and_another_plants_is_not_found(
    world: World, gateway: Gateway, cured: list[str]
) -> None:
    told = gateway.tell(cured[3], "passed", station="cushion-gum", lots=[LOT])
    assert found(world, lot="CG-0417") == [cured[0], cured[3]]
    gateway.tell(cured[3], "withdrawn", station="cushion-gum", withdraws=told["id"], note="no")
    assert found(world, lot="CG-0417") == cured[:1]
    assert tracing.trace(world.store.uid, Asked(lot="CG-0417")).casings == []


def test_the_door_answers_both_ways(world: World, gateway: Gateway, cured: list[str]) -> None:
    said = ask(gateway, "GET", f"/api/plant/trace?q={cured[0]}").json
    assert said["life"]["mates"] == {NUMBER: cured[1:3]}
    assert said["life"]["lots"] == [LOT, {"kind": "tread", "number": "T-9"}]
    assert said["life"]["operators"] == ["4", "9", "17"]
    assert said["life"]["machines"] == ["ext-1", "env-2"]
    assert [c["owner"] for c in said["casings"]] == ["Tarn Valley Haulage"]
    many = ask(gateway, "GET", f"/api/plant/trace?load={NUMBER}").json
    assert [c["label"] for c in many["casings"]] == [cured[2], *cured[:2]]
    assert (many["more"], many["life"]) == (False, None)
    for query in ("", "station=buffing", "since=2026-07-14T06:00:00Z", "lot=a&since=yesterday",
                  "lot=a&since=2026-07-14T06:00:00"):  # fmt: skip
        refused(ask(gateway, "GET", f"/api/plant/trace?{query}"), 400, "malformed")


def test_a_trace_asks_for_stations_once_however_many_casings(
    world: World, cured: list[str]
) -> None:
    made = tracing.trace(world.plant.uid, Asked(load=NUMBER))
    life = tracing.life(world.plant.uid, cured[0])
    assert life is not None
    for say in (lambda: pages.table(world.plant.uid, made, "en", names=True),
                lambda: pages.steps(world.plant.uid, life, "en"),
                lambda: pages.gathered(world.plant.uid, life, "en"),
                lambda: loads.mates(load(world), "en")):  # fmt: skip
        with CaptureQueriesContext(connection) as done:
            say()
        asked = [q for q in done.captured_queries if 'FROM "dock_station"' in q["sql"]]
        assert len(asked) <= 1


def signed_in(user: User, language: str = "en") -> Client:
    client = Client()
    client.force_login(user)
    client.post("/office/language", {"language": language})
    return client


@pytest.mark.parametrize("language", ["en", "es"])
def test_the_page_says_owners_places_and_call_counsel_now(
    world: World, cured: list[str], language: str
) -> None:
    office = signed_in(world.dispatcher, language)
    page = office.get(f"/plant/trace/?load={NUMBER}").content.decode()
    assert ("call counsel now" if language == "en" else "llame ahora a su abogado") in page
    assert "ines@tarn.example" in page
    assert "Reedbank Gravel" in page
    assert f'href="/plant/trace/casings.csv?load={NUMBER}"' in page
    file = office.get(f"/plant/trace/casings.csv?load={NUMBER}").content.decode("utf-8-sig")
    rows = list(csv.reader(io.StringIO(file)))
    assert [row[2] for row in rows[1:]] == [cured[2], *cured[:2]]
    floor = signed_in(a_qualified_person(world), language)
    page = floor.get(f"/plant/trace/?load={NUMBER}").content.decode()
    assert "ines@tarn.example" not in page
    assert "Reedbank Gravel" in page
    one = floor.get(f"/plant/trace/?q={cured[0]}").content.decode()
    assert "CG-0417" in one
    assert NUMBER in one
    assert "None" not in one
    assert floor.get("/plant/trace/?station=buffing").status_code == 400


def test_a_load_is_told_given_its_record_and_decided_on_its_pages(
    world: World, gateway: Gateway
) -> None:
    from django.core.files.uploadedfile import SimpleUploadedFile

    entered(world)
    person = a_qualified_person(world)
    floor = signed_in(person)
    told = {"number": "14-7", "chamber": "", "started_at": "2026-07-14 06:00", "operator": "17",
            "lots": "cushion_gum CG-1\ntread T-2"}  # fmt: skip
    assert floor.post("/plant/loads/new", told | {"lots": "glue X"}).status_code == 400
    assert (
        floor.post("/plant/loads/new", told | {"ended_at": "2026-07-13 06:00"}).status_code == 400
    )
    assert floor.post("/plant/loads/new", told).status_code == 302
    set_in(gateway, [label := world.a_label()], "14-7")
    drain()
    at = "/plant/loads/14-7/"
    broken = floor.post(f"{at}record", {"file": SimpleUploadedFile("r.csv", b"minutes,x\n")})
    assert broken.status_code == 400
    assert "temperature_c" in broken.content.decode()
    sent = floor.post(f"{at}record", {"file": SimpleUploadedFile("r.csv", table(40))})
    assert sent.status_code == 302
    page = floor.get(at).content.decode()
    assert "Fell short of what the plant entered" in page
    assert "<polyline" in page
    assert floor.post(f"{at}decide", {"label": label, "what": "release"}).status_code == 400
    done = {"label": label, "what": "release", "grounds": "measured"}
    assert signed_in(world.dispatcher).post(f"{at}decide", done).status_code == 403
    assert floor.post(f"{at}decide", done).status_code == 302
    assert "measured" in floor.get(at).content.decode()


def test_a_specification_is_entered_in_the_plants_own_units_and_ended(world: World) -> None:
    floor = signed_in(a_qualified_person(world))
    typed = {"unit": "f", "low": "203", "most": "221", "minutes": "200", "gap": "5",
             "pressure_unit": "psi", "low_kpa": "80", "most_kpa": "90", "source": "sheet 4",
             "knowing-": "0"}  # fmt: skip
    for wrong in ({"low": "hot"}, {"most": "200"}, {"energy": "90"}, {"source": ""},
                  {"minutes": ""}, {"low": "9999"}):  # fmt: skip
        assert floor.post("/plant/cure/specify", typed | wrong).status_code == 400, wrong
    assert floor.post("/plant/cure/specify", typed).status_code == 302
    page = floor.get("/plant/cure/").content.decode()
    assert "95.0 °C (203 °F) to 105.0 °C (221 °F)" in page
    assert "552 kPa (80 psi)" in page
    assert floor.post("/plant/cure/specify", typed).status_code == 409
    ended = floor.post("/plant/cure/specify", typed | {"knowing-": "1", "end": "1"})
    assert ended.status_code == 302
    assert "Number 2: ended" in floor.get("/plant/cure/").content.decode()
