"""Questions that are the plant's to answer: listed on its day, settled there in words."""

import re
from uuid import uuid4

import pytest
from django.test import Client

from pickups.custody.models import Fact
from pickups.kernel import clock
from pickups.people import services as people
from pickups.people.models import Site
from pickups.questions import services as questions
from pickups.questions.models import Question
from pickups.questions.rules import Kind
from pickups.questions.services import Ask
from plant.curing import services as curing
from plant.dock.models import Route
from plant.floor import words
from plant.floor.queries import asked
from plant.inspection.models import Work
from tests.plant.curing.plant_day import after, drain, load, set_in, set_out
from tests.plant.floor.conftest import SignedIn
from tests.world import World
from tests.world.plant import Gateway
from tests.world.tables import nothing_written

pytestmark = pytest.mark.django_db


@pytest.fixture
def often(world: World, gateway: Gateway) -> str:
    """A casing that was sent back more often than the plant allows: its label."""
    Route.objects.update_or_create(plant=world.plant, defaults={"rework_limit": 0})
    gateway.tell(label := world.a_label(), "received", station="receiving")
    gateway.tell(label, "repair", again_at="buffing", station="final-inspection")
    drain()
    assert Work.objects.get(label=label).stage == "on_hold"
    return label


def address(client: Client) -> str:
    """Of the only question on the plant's day."""
    page = client.get("/plant/").content.decode()
    (found,) = {str(at) for at in re.findall(r'href="(/plant/questions/\d+/)"', page)}
    return found


def test_every_kind_that_is_the_plants_has_words() -> None:
    assert asked.PLANTS
    for language in words.LANGUAGES:
        assert {f"asked_{kind}" for kind in asked.PLANTS} <= words.of(language).keys()


@pytest.mark.parametrize(
    ("language", "said"), [("en", "does it go on?"), ("es", "¿sigue?")], ids=["en", "es"]
)
def test_what_waits_for_the_plant_stands_on_its_day_and_on_its_own_page(
    world: World, signed_in: SignedIn, often: str, language: str, said: str
) -> None:
    client = signed_in(language=language)
    assert said in client.get("/plant/").content.decode()
    assert said in client.get("/plant/live").content.decode()
    page = client.get(address(client)).content.decode()
    assert said in page
    assert words.grouped(often) in page
    assert "None" not in page


def test_a_casing_that_goes_on_is_on_hold_no_more_and_one_that_does_not_stays_so(
    world: World, operator: Client, often: str
) -> None:
    at = f"{address(operator)}settle"
    for wrong in ({"said": "the bead is sound"}, {"what": "goes_on", "said": " "}):
        with nothing_written():
            assert operator.post(at, wrong).status_code == 400
    assert operator.post(at, {"what": "goes_on", "said": "the bead is sound"}).status_code == 302
    question = Question.objects.get(kind="rework_limit")
    assert question.settlement == "the bead is sound"
    assert question.settled_by is not None
    assert Work.objects.get(label=often).stage == "repair"
    assert Fact.objects.filter(kind="released").count() == 1
    again = operator.post(at, {"what": "goes_on", "said": "again"}, follow=True)
    assert "settled already" in again.content.decode()


def test_it_stays_on_hold_where_that_is_the_answer(
    world: World, operator: Client, often: str
) -> None:
    told = {"what": "stays", "said": "worn out"}
    assert operator.post(f"{address(operator)}settle", told).status_code == 302
    assert Question.objects.get(kind="rework_limit").settled_at is not None
    assert Work.objects.get(label=often).stage == "on_hold"


def test_what_did_not_come_out_is_asked_until_somebody_says_where_it_is(
    world: World, gateway: Gateway, operator: Client
) -> None:
    lost, came = world.a_label(), world.a_label()
    set_in(gateway, [lost, came])
    set_out(gateway, [came])
    drain()
    curing.sweep(at=after(60 * 24))
    assert words.grouped(lost) in operator.get(page := address(operator)).content.decode()
    assert operator.post(f"{page}settle", {"said": "fell behind the rail"}).status_code == 302
    assert load(world).missing == [lost]
    curing.sweep(at=after(60 * 25))
    assert not Question.objects.filter(settled_at=None).exists()


def test_a_load_that_fell_short_is_decided_on_its_own_page(world: World, operator: Client) -> None:
    facts = {"plant": str(world.plant.uid), "number": "14-2", "labels": [], "grounds": []}
    questions.ask([Ask(Kind.LOAD_SHORT, f"load:{uuid4()}", facts)], at=clock.now())
    page = operator.get(address(operator)).content.decode()
    assert 'name="said"' not in page
    answer = operator.post(f"{address(operator)}settle", {"said": "fine"})
    assert answer["Location"] == "/plant/loads/14-2/"
    assert Question.objects.get().settled_at is None


def test_another_plants_questions_are_no_business_of_this_one(
    world: World, signed_in: SignedIn, often: str
) -> None:
    page = address(signed_in())
    other = people.open_site(name="Ashmere plant", kind=Site.Kind.PLANT)
    boss = signed_in("admin")
    boss.post("/plant/choose", {"plant": str(other.uid)})
    assert boss.get(page).status_code == 404
    with nothing_written():
        boss.post(f"{page}settle", {"what": "goes_on", "said": "-"})
