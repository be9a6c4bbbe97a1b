"""What a plant ruined it owes, what was worked too often is held, and a failed retread is kept and
decided about."""

from uuid import UUID, uuid4

import pytest
from django.test import Client

from pickups.casings.models import WorkOrder
from pickups.custody import ownership
from pickups.journal.models import Entry
from pickups.kernel.wire import Malformed
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
    services.settle(plant=world.plant.uid, owed=row.uid, how="exchange", cents=None, said="from "
                    "rack 3", by=world.dispatcher.uid)  # fmt: skip
    assert WorkOrder.objects.select_related("casing").get(label=label).casing.dealers
    assert Settled.objects.get().change is not None
    with pytest.raises(services.Gone):
        services.settle(plant=world.plant.uid, owed=row.uid, how="credit", cents=100, said="",
                        by=world.dispatcher.uid)  # fmt: skip


def test_a_credit_needs_an_amount(world: World, gateway: Gateway, label: str) -> None:
    ruined(gateway, label)
    (row,) = queries.owed(world.plant.uid)
    for cents in (None, 0, 10**9):
        with pytest.raises(Malformed):
            services.settle(plant=world.plant.uid, owed=row.uid, how="credit", cents=cents,
                            said="", by=world.dispatcher.uid)  # fmt: skip
    services.settle(plant=world.plant.uid, owed=row.uid, how="credit", cents=5_746, said="",
                    by=world.dispatcher.uid)  # fmt: skip
    assert Settled.objects.get().cents == 5_746


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
    assert floor.post(at, {"how": "credit", "amount": "much"}).status_code == 400
    assert floor.post(at, {"how": "credit", "amount": "57.46"}).status_code == 302
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
