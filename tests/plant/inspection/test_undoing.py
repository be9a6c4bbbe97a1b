"""What is released and taken back, by whom: a hold of the plant's own pages, what is never
released, what names nothing; on a tablet by whoever works in the plant."""

import json
from datetime import timedelta
from typing import Any
from uuid import uuid4

import pytest

from pickups.casings.models import WorkOrder
from pickups.desk import services as desk
from pickups.journal import services as journal
from pickups.kernel import clock
from pickups.people.models import User
from pickups.questions.models import Question
from pickups.questions.queries import open_about
from plant.adjustments import services as adjustments
from plant.curing import services as curing
from plant.dock.models import Route
from plant.inspection import services
from plant.inspection.models import StationEvent, Work
from plant.inspection.queries import bodies
from tests.conftest import Enrol
from tests.plant.curing.plant_day import (
    CSV,
    NUMBER,
    a_qualified_person,
    ask,
    drain,
    entered,
    set_in,
    set_out,
    table,
    word,
)
from tests.world import Phone, World
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db


def inside(label: str) -> dict[str, Any]:
    work = Work.objects.get(label=label)
    return bodies([work.uid])[work.uid]


def picked_up(world: World, phone: Phone) -> str:
    label = world.a_label()
    phone.pick_up(label, world.yard.uid, uuid4())
    assert phone.push().status == 200
    return label


# --- Holds of the plant's own pages -------------------------------------------------------------


def short_load(world: World, gateway: Gateway, label: str) -> None:
    entered(world)
    set_in(gateway, [label])
    drain()
    told = word(ended_at=word()["started_at"])
    assert ask(gateway, "POST", "/api/plant/loads", _json(told)).status == 200
    record = f"/api/plant/loads/{NUMBER}/record"
    assert ask(gateway, "POST", record, table(celsius=60), **CSV).status == 200
    set_out(gateway, [label])
    drain()


def _json(told: dict[str, Any]) -> bytes:
    return json.dumps(told).encode()


def held_by(world: World, gateway: Gateway, label: str, what: str) -> str:
    """Held by the plant's own pages; the id of the hold."""
    if what == "load":
        short_load(world, gateway, label)
    elif what == "claim":
        gateway.tell(label, "finished", station="paint")
        adjustments.claim(plant=world.plant.uid, found_by=label, label=label, complaint="let go",
                          readings=[13], by=world.operator.uid)  # fmt: skip
    else:
        Route.objects.update_or_create(plant=world.plant, defaults={"rework_limit": 0})
        gateway.tell(label, "repair", again_at="buffing", station="final-inspection")
        drain()
    (hold,) = inside(label)["holds"]
    assert hold["releasable"] is False
    return str(hold["event"])


@pytest.mark.parametrize("outcome", ["released", "withdrawn"])
@pytest.mark.parametrize("teller", ["key", "tablet"])
@pytest.mark.parametrize("what", ["load", "claim", "rework"])
def test_a_hold_of_the_plants_own_pages_no_station_ends(
    world: World, phone: Phone, enrol: Enrol, gateway: Gateway, what: str, teller: str, outcome: str
) -> None:
    label = picked_up(world, phone)
    hold = held_by(world, gateway, label, what)
    names = {"releases" if outcome == "released" else "withdraws": hold, "note": "looks right"}
    if teller == "key":
        gateway.tell(label, outcome, **names)
    else:
        tablet = enrol(world.operator)
        told = {"label": label, "station": "buffing", "outcome": outcome}
        tablet.enter("inspection.tell", told | names)
        (answer,) = tablet.push().json["answers"]
        assert (answer["outcome"], answer["code"]) == ("contested", "release_not_allowed")
    gateway.tell(label, "finished", station="paint")
    assert (inside(label)["stage"], len(inside(label)["holds"])) == ("on_hold", 1)
    assert WorkOrder.objects.get().on_hold
    assert "release_not_allowed" in open_about(f"label:{label}")
    assert StationEvent.objects.filter(outcome=outcome).count() == 1


def test_a_qualified_persons_decision_ends_it_and_no_station_takes_that_back(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    label = picked_up(world, phone)
    hold = held_by(world, gateway, label, "load")
    gateway.tell(label, "released", releases=hold)
    person = a_qualified_person(world)
    curing.decide(plant=world.plant.uid, number=NUMBER, labels=[label], what="release",
                  grounds="probe at another place was right", by=person.uid)  # fmt: skip
    assert inside(label)["holds"] == []
    assert "release_not_allowed" not in open_about(f"label:{label}")
    release = StationEvent.objects.get(outcome="released", key="")
    gateway.tell(label, "withdrawn", withdraws=str(release.event), note="no")
    assert inside(label)["holds"] == []
    assert not WorkOrder.objects.get().on_hold
    assert "release_not_allowed" in open_about(f"label:{label}")


def test_what_was_worked_too_often_goes_on_when_its_question_is_answered(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    label = picked_up(world, phone)
    held_by(world, gateway, label, "rework")
    question = Question.objects.get(kind="rework_limit")
    said = desk.settle(question=question.pk, note="once more", by=world.dispatcher.uid,
                       role="admin")  # fmt: skip
    assert said == "settled"
    for _ in range(2):
        while journal.drain():
            pass
    assert (inside(label)["stage"], inside(label)["holds"]) == ("repair", [])
    release = StationEvent.objects.get(outcome="released")
    assert (release.by, release.body["note"]) == (world.dispatcher.uid, "once more")


# --- What is never released ---------------------------------------------------------------------


@pytest.mark.parametrize("late", [False, True], ids=["in order", "withdrawal first"])
@pytest.mark.parametrize(
    ("first", "second", "frees"),
    [
        ({"operator": "A7"}, {"operator": "A7"}, True),
        ({"operator": "A7"}, {"operator": "B2"}, False),
        ({"operator": "A7"}, {"operator": "A7", "station": "buffing"}, False),
        ({}, {}, False),
    ],
    ids=["the inspector", "another", "at another station", "nobody says who"],
)
def test_only_who_told_it_there_takes_back_what_is_never_released(
    world: World, phone: Phone, gateway: Gateway, first: dict[str, Any], second: dict[str, Any],
    frees: bool, late: bool,
) -> None:  # fmt: skip
    label = picked_up(world, phone)
    gateway.tell(label, "received", station="receiving")
    at = {"station": "shearography"}
    wrong = gateway.event(label, "rejected", reason="SEPARATION", **(at | first))
    back = gateway.event(label, "withdrawn", withdraws=wrong["id"], note="-", **(at | second))
    for event in [back, wrong] if late else [wrong, back]:
        assert gateway.post(event).status == 200
    gateway.tell(label, "finished", station="paint")
    assert inside(label)["stage"] == ("finished" if frees else "rejected")
    assert WorkOrder.objects.get().progress == ("finished" if frees else "rejected")
    assert ("release_not_allowed" in open_about(f"label:{label}")) is not frees


# --- Who ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("outcome", ["released", "withdrawn"])
@pytest.mark.parametrize(
    ("role", "said"),
    [("driver", "held"), ("counter", "held"), ("sales", "held"), ("plant", "accepted"),
     ("admin", "accepted"), ("dispatcher", "accepted")],
)  # fmt: skip
def test_on_a_tablet_who_works_in_the_plant_undoes(
    world: World, enrol: Enrol, gateway: Gateway, role: str, said: str, outcome: str
) -> None:
    person = User.objects.create_user("rolf", password=None, role=role, site=world.plant)
    tablet, label = enrol(person), world.a_label()
    hold = gateway.tell(label, "hold")
    names = {"releases" if outcome == "released" else "withdraws": hold["id"], "note": "all right"}
    told = {"label": label, "station": "buffing", "outcome": outcome}
    op = tablet.enter("inspection.tell", told | names)
    (answer,) = tablet.push().json["answers"]
    assert answer["outcome"] == said
    held = said == "held"
    assert Work.objects.filter(label=label, stage="on_hold").exists() is held
    assert open_about(f"operation:{op['id']}") == (["release_not_allowed"] if held else [])


# --- What names nothing -------------------------------------------------------------------------


@pytest.mark.parametrize("late", [False, True], ids=["in order", "naming first"])
@pytest.mark.parametrize("outcome", ["released", "withdrawn"])
def test_what_cannot_be_undone_so_is_asked_about(
    world: World, phone: Phone, gateway: Gateway, outcome: str, late: bool
) -> None:
    label = picked_up(world, phone)
    passed = gateway.tell(label, "passed", station="buffing")
    if outcome == "released":
        named = gateway.event(label, "passed", station="building")
        odd = gateway.event(label, "released", releases=named["id"])
    else:
        named = gateway.event(label, "withdrawn", withdraws=passed["id"], note="slip")
        gateway.tell(label, "passed", station="building")
        odd = gateway.event(label, "withdrawn", withdraws=named["id"], note="no slip")
    for event in [odd, named] if late else [named, odd]:
        assert gateway.post(event).status == 200
    question = Question.objects.get(kind="plant_impossible", subject=f"label:{label}")
    assert question.facts["names_nothing"] == [odd["id"]]


def test_what_names_an_event_that_never_comes_is_asked_about_once_after_a_day(
    world: World, gateway: Gateway
) -> None:
    label, at = world.a_label(), clock.now()
    named = gateway.event(label, "hold")
    odd = gateway.tell(label, "released", releases=named["id"])
    subject = f"event:{odd['id']}"
    assert services.sweep(at=at + timedelta(hours=23)) == 0
    assert services.sweep(at=at + timedelta(hours=25)) == 1
    assert services.sweep(at=at + timedelta(hours=26)) == 0
    assert open_about(subject) == ["plant_impossible"]
    assert Question.objects.get(subject=subject).facts["names_nothing"] == [odd["id"]]
    assert gateway.post(named).status == 200
    assert open_about(subject) == []
    assert services.sweep(at=at + timedelta(hours=27)) == 0
