"""What a plant ruined it owes, what was worked too often is held, and a failed retread is kept and
decided about."""

import re
from uuid import UUID, uuid4

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from pickups.casings.models import WorkOrder
from pickups.custody import ownership
from pickups.journal.models import Entry
from pickups.kernel.wire import Malformed
from pickups.people.models import User
from pickups.questions.models import Question
from plant.adjustments import queries, reactions, services
from plant.adjustments.models import Claim, Owed, Settled
from plant.adjustments.prorata import Terms
from plant.curing import services as curing
from plant.dock.models import Route
from plant.inspection.models import StationEvent, Work
from tests.plant.curing.plant_day import a_qualified_person, drain
from tests.sync.batches import push
from tests.world import Phone, World
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db


@pytest.fixture
def label(world: World, phone: Phone, gateway: Gateway) -> str:
    """A casing that was picked up and is in the plant."""
    made = world.a_label()
    phone.pick_up(made, world.yard.uid, uuid4())
    assert push(phone) == ["accepted"]
    gateway.tell(made, "received", station="receiving")
    return made


def ruined(gateway: Gateway, label: str) -> UUID:
    told = gateway.tell(label, "rejected", reason="CURED_DEFECT", cause="plant", station="curing")
    drain()
    return UUID(told["id"])


def test_only_what_the_plant_ruined_is_owed_and_no_more_once_it_is_released(
    world: World, gateway: Gateway, label: str
) -> None:
    gateway.tell(other := world.a_label(), "rejected")
    event = ruined(gateway, label)
    drain()
    assert [row.label for row in queries.owed(world.plant.uid)] == [label]
    assert other != label
    gateway.tell(label, "released", releases=str(event), station="curing")
    drain()
    (row,) = queries.owed(world.plant.uid)
    assert queries.settled(row).how == "released"  # type: ignore[union-attr]


def test_a_rejection_that_was_a_mistake_is_owed_no_more_and_a_release_that_was_one_is_owed_again(
    world: World, gateway: Gateway, label: str
) -> None:
    def owing() -> list[str]:
        drain()
        settled = [queries.settled(row) for row in queries.owed(world.plant.uid)]
        return [one.how if one else "" for one in settled]

    def withdraw(event: object) -> None:
        gateway.tell(label, "withdrawn", withdraws=str(event), station="curing", note="mistaken")

    first = ruined(gateway, label)
    withdraw(first)
    assert owing() == ["released"]
    second = ruined(gateway, label)
    let_go = gateway.tell(label, "released", releases=str(second), station="curing")["id"]
    assert sorted(owing()) == ["released", "released"]
    withdraw(let_go)
    assert sorted(owing()) == ["", "released", "released"]
    last = gateway.tell(label, "released", releases=str(second), station="curing")
    assert sorted(owing()) == ["released"] * 3
    withdraw(last["id"])
    for entry in Entry.objects.filter(kind__startswith="casing."):
        reactions.owed(entry)
    assert sorted(owing()) == ["", "released", "released", "released"]


def test_a_casing_from_stock_makes_the_ruined_one_the_dealers(
    world: World, gateway: Gateway, label: str
) -> None:
    ruined(gateway, label)
    (row,) = queries.owed(world.plant.uid)
    order = WorkOrder.objects.get(label=label)
    with pytest.raises(ownership.Refused):
        ownership.exchange(work_order=order.uid, by=world.dispatcher.uid)
    services.settle(plant=world.plant.uid, owed=row.uid, how="exchange", cents=None, office=True,
                    said="from rack 3", by=world.dispatcher.uid)  # fmt: skip
    assert WorkOrder.objects.select_related("casing").get(label=label).casing.dealers
    assert Settled.objects.get().change is not None
    with pytest.raises(services.Gone):
        services.settle(plant=world.plant.uid, owed=row.uid, how="credit", cents=100, said="-",
                        by=world.dispatcher.uid, office=True)  # fmt: skip


def test_a_credit_needs_an_amount(world: World, gateway: Gateway, label: str) -> None:
    ruined(gateway, label)
    (row,) = queries.owed(world.plant.uid)
    for cents in (None, 0, 10**9):
        with pytest.raises(Malformed):
            services.settle(plant=world.plant.uid, owed=row.uid, how="credit", cents=cents,
                            said="-", by=world.dispatcher.uid, office=True)  # fmt: skip
    services.settle(plant=world.plant.uid, owed=row.uid, how="credit", cents=5_746, said="-",
                    by=world.dispatcher.uid, office=True)  # fmt: skip
    assert Settled.objects.get().cents == 5_746


@pytest.mark.parametrize("language", ["en", "es"])
def test_what_is_owed_is_settled_in_words_by_whom_the_plant_named_or_the_office(
    world: World, gateway: Gateway, label: str, language: str
) -> None:
    ruined(gateway, label)
    at = f"/plant/adjustments/owed/{Owed.objects.get().uid}/settle"
    person, told = a_qualified_person(world), {"how": "credit", "amount": "57.46", "said": "agreed"}
    floor = signed_in(person, language)
    refused = floor.post(at, told)
    assert refused.status_code == 403
    assert ("named qualified" if language == "en" else "nombró calificado") in (
        refused.content.decode()
    )
    assert 'name="said"' not in floor.get("/plant/adjustments/").content.decode()
    curing.name_qualified(plant=world.plant.uid, person=person.uid, matter="claim", grounds="-",
                          by=world.dispatcher.uid)  # fmt: skip
    assert floor.post(at, told | {"said": " "}).status_code == 400
    assert not Settled.objects.exists()
    assert floor.post(at, told).status_code == 302


def test_the_office_settles_without_being_named(world: World, gateway: Gateway, label: str) -> None:
    ruined(gateway, label)
    at = f"/plant/adjustments/owed/{Owed.objects.get().uid}/settle"
    admin = signed_in(User.objects.create_user("bea", role="admin", site=world.store), "en")
    told = {"how": "credit", "amount": "57.46", "said": "agreed"}
    assert admin.post(at, told).status_code == 302


def test_nobody_names_himself(world: World) -> None:
    boss = User.objects.create_user("bea", role="admin", site=world.store)
    told = {"person": str(boss.uid), "matter": "claim", "grounds": "course"}
    answer = signed_in(boss, "en").post("/plant/cure/qualified", told)
    assert answer.status_code == 400
    assert "another administrator names you" in answer.content.decode()
    with pytest.raises(Malformed):
        curing.name_qualified(plant=world.plant.uid, person=boss.uid, matter="claim",
                              grounds="-", by=boss.uid)  # fmt: skip


def locked(seen: CaptureQueriesContext) -> list[str]:
    """What was locked, in order: keys, or the table whose rows were."""
    found = []
    for query in seen.captured_queries:
        sql = query["sql"]
        if "pg_advisory" in sql:
            found.append("keys")
        elif "FOR UPDATE" in sql or "FOR NO KEY UPDATE" in sql:
            found += re.findall(r'FROM "(\w+)"', sql)[:1]
    return found


@pytest.mark.parametrize("how", ["credit", "exchange"])
def test_keys_are_taken_before_rows_and_who_decides_is_asked_while_nobody_can_end_it(
    world: World, gateway: Gateway, label: str, how: str
) -> None:
    ruined(gateway, label)
    person = a_qualified_person(world)
    curing.name_qualified(plant=world.plant.uid, person=person.uid, matter="claim", grounds="-",
                          by=world.dispatcher.uid)  # fmt: skip
    with CaptureQueriesContext(connection) as seen:
        services.settle(plant=world.plant.uid, owed=Owed.objects.get().uid, how=how, cents=9,
                        said="-", by=person.uid)  # fmt: skip
    order = locked(seen)
    assert order[0] == "keys"
    assert order.count("keys") == 1
    assert {"curing_qualified", "adjustments_owed"} <= set(order)


def test_a_plant_without_stations_keeps_evidence_all_the_same(
    world: World, gateway: Gateway, label: str
) -> None:
    world.plant.stations.all().delete()
    services.claim(plant=world.plant.uid, found_by=label, label=label, complaint="tread came off",
                   readings=[13], by=world.dispatcher.uid)  # fmt: skip
    assert Work.objects.get(label=label).stage == "on_hold"


def test_worked_again_past_the_limit_is_held_and_asked_about(
    world: World, gateway: Gateway, label: str
) -> None:
    Route.objects.update_or_create(plant=world.plant, defaults={"rework_limit": 1})
    gateway.tell(label, "repair", again_at="buffing", station="final-inspection")
    drain()
    assert not Question.objects.filter(kind="rework_limit").exists()
    gateway.tell(label, "repair", again_at="curing", station="final-inspection")
    drain()
    assert Question.objects.get(kind="rework_limit").facts["reworks"] == 2
    assert Work.objects.get(label=label).stage == "on_hold"
    told = StationEvent.objects.count()
    fact = StationEvent.objects.filter(outcome="repair").latest("happened_at").fact
    assert services.too_often(plant=world.plant.uid, label=label, fact=fact)
    assert StationEvent.objects.count() == told


def test_without_a_limit_nothing_is_held(world: World, gateway: Gateway, label: str) -> None:
    for _ in range(3):
        gateway.tell(label, "repair", again_at="buffing", station="final-inspection")
    drain()
    assert Work.objects.get(label=label).stage == "repair"


def test_a_failed_retread_is_kept_until_somebody_qualified_has_decided(
    world: World, gateway: Gateway, label: str
) -> None:
    person = a_qualified_person(world)
    told = {"plant": world.plant.uid, "found_by": "7X32826", "label": label, "by": person.uid}
    with pytest.raises(Malformed):
        services.claim(**told, complaint="tread came off", readings=[])  # type: ignore[arg-type]
    uid = services.claim(**told, complaint="tread came off", readings=[13, 13])  # type: ignore[arg-type]
    with pytest.raises(Malformed):
        services.claim(**told, complaint="again", readings=[13])  # type: ignore[arg-type]
    assert Work.objects.get(label=label).stage == "on_hold"

    def decide(what: str, terms: Terms | None) -> int:
        return services.decide(plant=world.plant.uid, uid=uid, what=what, terms=terms,
                               grounds="cushion let go", by=person.uid)  # fmt: skip

    with pytest.raises(curing.NotQualified):
        decide("honoured", Terms(16_460, 22, 4))
    curing.name_qualified(plant=world.plant.uid, person=person.uid, matter="claim", grounds="-",
                          by=world.dispatcher.uid)  # fmt: skip
    with pytest.raises(Malformed):
        decide("honoured", None)
    assert decide("honoured", Terms(16_460, 22, 4)) == 8_230
    assert Work.objects.get(label=label).stage == "in_work"
    with pytest.raises(services.Gone):
        decide("refused", None)
    assert Claim.objects.count() == 1
    assert Owed.objects.count() == 0


def signed_in(user: object, language: str) -> Client:
    client = Client()
    client.force_login(user)  # type: ignore[arg-type]
    client.post("/office/language", {"language": language})
    return client


@pytest.mark.parametrize("language", ["en", "es"])
def test_on_the_pages(world: World, gateway: Gateway, label: str, language: str) -> None:
    ruined(gateway, label)
    person = a_qualified_person(world)
    curing.name_qualified(plant=world.plant.uid, person=person.uid, matter="claim", grounds="-",
                          by=world.dispatcher.uid)  # fmt: skip
    floor = signed_in(person, language)
    page = floor.get("/plant/adjustments/").content.decode()
    assert "Tarn Valley Haulage" in page
    owed = Owed.objects.get().uid
    at = f"/plant/adjustments/owed/{owed}/settle"
    assert floor.post(at, {"how": "credit", "amount": "much", "said": "-"}).status_code == 400
    assert (
        floor.post(at, {"how": "credit", "amount": "57.46", "said": "agreed with Ines"}).status_code
        == 302
    )
    assert Settled.objects.get().cents == 5_746
    new = {"q": label, "complaint": "tread came off", "tread": "13 13"}
    assert floor.post("/plant/adjustments/claims", new | {"tread": "x"}).status_code == 400
    assert floor.post("/plant/adjustments/claims", new | {"q": "nobody"}).status_code == 400
    opened = floor.post("/plant/adjustments/claims", new)
    assert opened.status_code == 302
    said = {"what": "honoured", "price": "164.60", "original": "22", "pull": "4",
            "grounds": "let go"}  # fmt: skip
    assert floor.post(f"{opened['Location']}decide", said | {"pull": "22"}).status_code == 400
    assert floor.post(f"{opened['Location']}decide", said).status_code == 302
    page = floor.get(opened["Location"]).content.decode()
    assert "82.30" in page
    assert "None" not in page


@pytest.mark.parametrize(
    ("language", "said"),
    [("en", "kept as evidence of a claim"), ("es", "se guarda como prueba de un reclamo")],
    ids=["en", "es"],
)
def test_why_it_is_kept_is_read_in_ones_own_language(
    world: World, gateway: Gateway, label: str, language: str, said: str
) -> None:
    services.claim(plant=world.plant.uid, found_by=label, label=label, complaint="tread came off",
                   readings=[13], by=world.dispatcher.uid)  # fmt: skip
    client = signed_in(world.dispatcher, language)
    page = client.get("/office/labels", {"q": label}, follow=True).content.decode()
    assert said in page
    assert "kept:" not in page
