"""What stations tell and take back, by key and on a tablet, in whatever order it arrives."""

from datetime import timedelta
from typing import Any
from uuid import UUID, uuid4
from zoneinfo import ZoneInfo

import pytest
from django.conf import settings
from django.contrib.auth import get_user_model
from django.test import Client

from pickups.casings import tin
from pickups.casings.models import WorkOrder
from pickups.custody.models import Fact
from pickups.journal import services as journal
from pickups.kernel import clock
from pickups.people import services as people
from pickups.people.models import Site
from pickups.questions.models import Question
from pickups.questions.queries import open_about
from pickups.sync.models import Feed
from plant.dock import services as dock
from plant.dock.models import Route
from plant.inspection.models import StationEvent, Work
from plant.inspection.queries import bodies
from tests.conftest import Enrol, in_process
from tests.plant.inspection.refusals import refused
from tests.world import Phone, World
from tests.world.plant import Gateway
from tests.world.tables import nothing_written

pytestmark = pytest.mark.django_db


def picked_up(phone: Phone, world: World, label: str, **more: Any) -> dict[str, Any]:
    pickup = uuid4()
    if more:
        told = {"pickup": str(pickup), "yard": str(world.yard.uid), "label": label, **more}
        op = phone.enter("custody.pick_up", told, version=2)
    else:
        op = phone.pick_up(label, world.yard.uid, pickup)
    assert phone.push().status == 200
    return op


def order() -> WorkOrder:
    return WorkOrder.objects.get()


def inside(label: str) -> dict[str, Any]:
    work = Work.objects.get(label=label)
    return bodies([work.uid])[work.uid]


def drained() -> None:
    while journal.drain():
        pass


# --- Taken back ---------------------------------------------------------------------------------


@pytest.mark.parametrize("first", ["what was told", "that it was a mistake"])
def test_an_event_that_is_taken_back_counts_nowhere(
    world: World, phone: Phone, gateway: Gateway, first: str
) -> None:
    label = world.a_label()
    picked_up(phone, world, label)
    gateway.tell(label, "received", station="receiving")
    wrong = gateway.event(label, "rejected")
    back = gateway.event(label, "withdrawn", withdraws=wrong["id"], note="read the wrong label")
    told = [wrong, back] if first == "what was told" else [back, wrong]
    for event in told:
        assert gateway.post(event).status == 200
    assert (order().progress, order().reason) == ("received", "")
    assert (inside(label)["stage"], inside(label)["rejections"]) == ("in_work", [])
    assert not Question.objects.filter(settled_at=None).exists()
    with nothing_written():
        assert gateway.post({"events": told}).json["answers"][0]["repeat"] is True


def test_a_casing_of_which_all_was_taken_back_comes_back_to_the_tablets_when_it_is_told_of(
    world: World, gateway: Gateway
) -> None:
    label = world.a_label()
    wrong = gateway.event(label, "received", station="receiving")
    for event in (wrong, gateway.event(label, "withdrawn", withdraws=wrong["id"], note="misread")):
        assert gateway.post(event).status == 200
    (row,) = Feed.objects.filter(entity="plant_work")
    assert row.gone
    gateway.tell(label, "received", station="receiving")
    back = Feed.objects.get(entity="plant_work", uid=row.uid)
    assert not back.gone
    assert back.version > row.version
    assert back.version == Work.objects.get(label=label).version


def test_what_names_another_event_counts_under_that_ones_label(
    world: World, gateway: Gateway
) -> None:
    label, other = world.a_label(), world.a_label()
    gateway.tell(label, "received", station="receiving")
    wrong = gateway.event(label, "hold")
    gateway.tell(other, "withdrawn", withdraws=wrong["id"], note="not this one")
    assert gateway.post(wrong).status == 200
    assert inside(label)["stage"] == "in_work"
    assert not Work.objects.filter(label=other).exists()


def test_no_other_plant_takes_it_back(world: World, phone: Phone, gateway: Gateway) -> None:
    second = people.open_site(name="Ashgrove plant", kind=Site.Kind.PLANT)
    dock.lay_out(plant=second)
    other = Gateway(in_process, people.issue_key(plant=second, name="gateway")[1])
    label = world.a_label()
    op = picked_up(phone, world, label)
    told = gateway.tell(label, "rejected")
    other.tell(label, "withdrawn", withdraws=told["id"], note="not ours")
    fact = StationEvent.objects.get(outcome="rejected").fact
    named = {"fact": str(fact), "label": label}
    phone.enter("custody.withdraw", {"pickup": op["payload"]["pickup"], "withdraws": named,
                                     "reason": "no"})  # fmt: skip
    phone.push()
    assert order().progress == "rejected"


@pytest.mark.parametrize(
    ("field", "more"),
    [
        ("withdraws", {"outcome": "withdrawn", "note": "a mistake"}),
        ("withdraws", {"outcome": "passed", "withdraws": str(uuid4())}),
        ("note", {"outcome": "withdrawn", "withdraws": str(uuid4()), "note": " "}),
        ("again_at", {"outcome": "passed", "again_at": "buffing"}),
        ("again_at", {"outcome": "repair", "again_at": "polishing"}),
        ("tag", {"outcome": "passed", "tag": "K7000Y0"}),
        ("built.caps", {"outcome": "passed", "built": {"caps": 0}}),
        ("measured.circumference_mm", {"outcome": "passed", "measured": {"circumference_mm": 1}}),
    ],
    ids=lambda v: "" if isinstance(v, dict) else v,
)
def test_what_does_not_go_together_is_named(
    world: World, gateway: Gateway, field: str, more: dict[str, Any]
) -> None:
    event = gateway.event(world.a_label(), "passed") | more
    with nothing_written():
        (fault,) = refused(gateway.post(event), 400, "malformed")["faults"]
        (second,) = refused(gateway.lines([event, event]), 400, "malformed")["faults"]
    assert fault["field"] == field
    assert fault["allowed"]
    assert second["field"] == f"line 1.{field}"


# --- Released -----------------------------------------------------------------------------------


@pytest.mark.parametrize("late", [False, True], ids=["in order", "release first"])
@pytest.mark.parametrize(("reason", "frees"), [("SW_CUT", True), ("ZIPPER", False)])
def test_a_release_undoes_what_may_be_released_and_else_is_asked_about(
    world: World, phone: Phone, gateway: Gateway, reason: str, frees: bool, late: bool
) -> None:
    label = world.a_label()
    picked_up(phone, world, label)
    rejection = gateway.event(label, "rejected", reason=reason)
    release = gateway.event(label, "released", releases=rejection["id"])
    for event in [release, rejection] if late else [rejection, release]:
        assert gateway.post(event).status == 200
    assert order().progress == ("in_work" if frees else "rejected")
    assert inside(label)["stage"] == ("in_work" if frees else "rejected")
    asked = [] if frees else ["release_not_allowed"]
    assert open_about(f"label:{label}") == asked
    assert StationEvent.objects.filter(outcome="released").count() == 1


def test_a_question_about_the_impossible_is_settled_by_what_explains_it(
    world: World, gateway: Gateway
) -> None:
    label = world.a_label()
    hold = gateway.tell(label, "hold")
    gateway.tell(label, "finished", station="paint")
    assert open_about(f"label:{label}") == ["plant_impossible"]
    gateway.tell(label, "released", releases=hold["id"])
    assert open_about(f"label:{label}") == []
    assert inside(label)["stage"] == "finished"


# --- Labels -------------------------------------------------------------------------------------


def test_a_tag_names_the_casing_from_then_on_until_that_is_taken_back(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    label, tag = world.a_label(), world.a_label()
    picked_up(phone, world, label)
    gateway.tell(label, "passed", station="building")
    uid = Work.objects.get().uid
    bound = gateway.tell(label, "finished", station="paint", tag=tag)
    assert (order().label, order().told["void_labels"]) == (tag, [label])
    gateway.tell(tag, "shipped", station="shipping")
    assert (order().progress, Work.objects.get().uid) == ("shipped", uid)
    assert sorted(inside(tag)["labels"]) == sorted([label, tag])
    gateway.tell(label, "withdrawn", withdraws=bound["id"], note="another casing's tag")
    assert order().label == label
    assert inside(label)["passed"] == ["building"]
    assert inside(tag)["stage"] == "shipped"


def test_a_tag_told_before_its_withdrawal_is_known_and_after_ends_alike(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    label, tag = world.a_label(), world.a_label()
    picked_up(phone, world, label)
    bound = gateway.event(label, "passed", station="paint", tag=tag)
    gateway.tell(label, "withdrawn", withdraws=bound["id"], note="another casing's tag")
    assert gateway.post(bound).status == 200
    assert order().label == label
    assert Fact.objects.filter(kind="relabelled").count() == 1
    assert not Question.objects.filter(settled_at=None).exists()


def test_a_casing_that_is_picked_up_after_the_plant_saw_it_is_the_same_casing(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    label = world.a_label()
    gateway.tell(label, "received", station="receiving")
    gateway.tell(label, "repair", findings=[{"zone": "crown", "kind": "nail hole"}])
    before = inside(label)
    assert before["wanted"] is None
    picked_up(phone, world, label, work="retread", tread_design="RD-240", unit="T-118")
    drained()
    after = inside(label)
    assert after["wanted"]["tread_design"] == "RD-240"
    assert after["wanted"]["owner"] == world.customer.name
    assert after["version"] > before["version"]
    ignored = {"wanted": 0, "version": 0}
    assert after | ignored == before | ignored


def test_labels_that_a_driver_joined_are_one_casing_inside_too(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    old, new = world.a_label(), world.a_label()
    picked_up(phone, world, old)
    gateway.tell(old, "received", station="receiving")
    gateway.tell(new, "passed", station="buffing")
    assert Work.objects.count() == 2
    phone.enter("custody.relabel", {"label": old, "now": new, "why": "lost"})
    assert phone.push().status == 200
    drained()
    assert inside(new)["passed"] == ["receiving", "buffing"]
    assert Work.objects.count() == 1


def test_of_a_contested_label_nothing_that_was_ordered_is_shown(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    label = world.a_label()
    for unit in ("T-1", "T-2"):
        picked_up(phone, world, label, work="retread", unit=unit)
    gateway.tell(label, "received", station="receiving")
    assert (inside(label)["contested"], inside(label)["wanted"]) == (True, None)


def test_what_was_built_is_held_against_what_was_ordered(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    label = world.a_label()
    picked_up(phone, world, label, work="retread", tread_design="RD-240")
    seen = gateway.tell(label, "passed", station="final-inspection",
                        built={"tread_design": "RS-110"})  # fmt: skip
    found = {d["field"]: d for d in inside(label)["differences"]}
    assert (found["tread_design"]["ordered"], found["tread_design"]["found"]) == (
        "RD-240", "RS-110",
    )  # fmt: skip
    gateway.tell(label, "released", station="final-inspection", releases=seen["id"],
                 note="customer agrees")  # fmt: skip
    assert inside(label)["differences"] == []


def test_a_retread_tin_with_another_plants_code_is_not_as_ordered(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    label = world.a_label()
    picked_up(phone, world, label)
    week = tin.code_of(clock.local(clock.now(), ZoneInfo(settings.DEALER_TIME_ZONE)).date()).digits
    built = {"retread_tin": f"AB3{week}"}

    def whys(code: str) -> list[str]:
        Route.objects.update_or_create(plant=world.plant, defaults={"plant_code": code})
        gateway.tell(label, "passed", station="final-inspection", built=built)
        return [d["why"] for d in inside(label)["differences"] if d["field"] == "retread_tin"]

    assert whys("AB3") == whys("") == []
    assert whys("CD4") == ["another_plants_code"]


@pytest.mark.parametrize(("code", "said"), [("AB", 0), ("AB3\n", 1), ("ab3", 0), ("ABI", 0)])
def test_a_plant_code_is_three_symbols_of_a_tin(world: World, code: str, said: int) -> None:
    admin = get_user_model().objects.create_superuser("root", password=None)
    client = Client()
    client.force_login(admin)
    Route.objects.get_or_create(plant=world.plant)
    page = f"/admin/dock/route/{world.plant.uid}/change/"
    client.post(page, {"rework_limit": "2", "plant_code": code})
    assert Route.objects.filter(plant_code="AB3").count() == said
    assert not Route.objects.exclude(plant_code__in=["", "AB3"]).exists()


# --- On a tablet --------------------------------------------------------------------------------


def test_a_tablet_tells_the_same_with_who_and_when(
    world: World, enrol: Enrol, gateway: Gateway
) -> None:
    tablet, label = enrol(world.operator), world.a_label()
    finding = {"zone": "crown", "kind": "cut", "photos": ["ab" * 32]}
    told = {"label": label, "station": "skiving", "outcome": "repair", "findings": [finding]}
    op = tablet.enter("inspection.tell", told | {"photos": ["cd" * 32]})
    hold = tablet.enter("inspection.tell", {**told, "outcome": "hold", "findings": []})
    answers = tablet.push().json
    assert [a["outcome"] for a in answers["answers"]] == ["accepted", "accepted"]
    kept = StationEvent.objects.get(event=UUID(op["id"]))
    assert (kept.by, kept.key, kept.stamp) == (world.operator.uid, "", op["stamp"])
    assert Fact.objects.get(uid=kept.fact).told["photos"] == ["cd" * 32, "ab" * 32]
    (standing,) = inside(label)["holds"]
    assert (standing["event"], standing["by"]) == (hold["id"], str(world.operator.uid))
    gateway.tell(label, "released", releases=hold["id"])
    assert inside(label)["holds"] == []


def test_a_tablets_release_of_what_may_not_be_is_contested_a_lost_station_or_a_misread_tag_held(
    world: World, enrol: Enrol
) -> None:
    tablet, label = enrol(world.operator), world.a_label()
    told = {"label": label, "station": "buffing"}
    zipper = {"outcome": "rejected", "reason": "ZIPPER", "cause": "casing"}
    bad = tablet.enter("inspection.tell", told | zipper)
    tablet.enter("inspection.tell", {**told, "outcome": "released", "releases": bad["id"]})
    tablet.enter("inspection.tell", {**told, "station": "polishing", "outcome": "passed"})
    tablet.enter("inspection.tell", {**told, "outcome": "passed", "tag": "5PYUB1BC"})
    tablet.enter("inspection.tell", {**told, "outcome": "passed"})
    answers = [(a["outcome"], a.get("code")) for a in tablet.push().json["answers"]]
    assert answers == [
        ("accepted", None) if n != 1 else ("contested", "release_not_allowed") for n in (0, 1)
    ] + [("held", "payload_not_understood")] * 2 + [("accepted", None)]
    assert inside(label)["stage"] == "rejected"


def test_what_happened_long_ago_by_a_clock_that_is_off_takes_no_rank_back(
    world: World, gateway: Gateway
) -> None:
    label, day = world.a_label(), timedelta(days=1)
    gateway.tell(label, "shipped", station="shipping", happened_at=clock.now() - 3 * day)
    gateway.tell(label, "received", station="receiving", happened_at=clock.now() + 2 * day)
    assert Work.objects.get().stage == "shipped"
