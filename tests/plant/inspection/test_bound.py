"""What a plant's key may read of what was ordered: of casings that are or were bound for the plant,
as people told; what the key itself told of a label opens nothing."""

from typing import Any
from uuid import uuid4

import pytest

from pickups.casings.models import WorkOrder
from pickups.people import services as people
from pickups.people.models import Site
from plant.dock import services as dock
from plant.dock.models import Consignment
from tests.conftest import Enrol, in_process
from tests.world import Phone, World
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db
TIN = "7X32826"


@pytest.fixture
def other(world: World) -> Gateway:
    """A second plant's system."""
    second = people.open_site(name="Ashgrove plant", kind=Site.Kind.PLANT)
    dock.lay_out(plant=second)
    return Gateway(in_process, people.issue_key(plant=second, name="gateway")[1])


@pytest.fixture
def known(world: World, phone: Phone) -> str:
    """A casing that was picked up, with all that can be ordered: its label."""
    label = world.a_label()
    told = {"pickup": str(uuid4()), "yard": str(world.yard.uid), "label": label, "line": "retread",
            "work": "retread", "basis": "own", "tread_design": "RD-240", "unit": "T-118",
            "purchase_order": "4711", "size": "295/75R22.5",
            "tins": [{"tin": TIN, "made": "retread"}]}  # fmt: skip
    phone.enter("custody.pick_up", told, version=3)
    assert phone.push().status == 200
    return label


def answers(system: Gateway, label: str) -> list[Any]:
    """All that a key reads of a label that it told of, but for what differs by itself."""
    work = [w for w in system.work() if label in w["labels"]]
    changed = [c["work"] for c in system.changes()[0] if c["work"] and label in c["work"]["labels"]]
    traced = [system.get("trace", q=label).json, system.get("trace", machine=f"m-{label}").json]
    read = [work, changed, system.casing(label), traced]
    return [_plain(one, label) for one in read]


_OWN = ("uid", "id", "event", "at", "happened_at", "entered_at", "seen_at", "version")


def _plain(value: Any, label: str) -> Any:
    if isinstance(value, dict):
        return {k: _plain(v, label) for k, v in value.items() if k not in _OWN}
    if isinstance(value, list):
        return [_plain(one, label) for one in value]
    return value.replace(label, "LABEL") if isinstance(value, str) else value


def told_of(system: Gateway, label: str) -> list[Any]:
    """A plant's system tells of a label whatever it can, then reads."""
    built = {"tread_design": "X", "retread_tin": "", "caps": 9}
    system.tell(label, "received", station="receiving", machine=f"m-{label}")
    system.tell(label, "passed", station="final-inspection", built=built)
    system.tell(label, "finished", station="paint")
    return answers(system, label)


@pytest.mark.xdist_group("feed")
@pytest.mark.usefixtures("apart")
@pytest.mark.django_db(transaction=True)
def test_a_key_that_tells_of_a_foreign_label_reads_no_more_than_of_an_unknown_one(
    world: World, phone: Phone, gateway: Gateway, other: Gateway, known: str, enrol: Enrol
) -> None:
    unknown = told_of(other, world.a_label())
    elsewhere, tag = world.a_label(), world.a_label()
    phone.pick_up(elsewhere, world.yard.uid, uuid4())
    assert phone.push().status == 200
    # At the first plant, where people told that it is, and under that plant's tag meanwhile.
    tablet = enrol(world.operator)
    told = {"label": elsewhere, "station": "building", "outcome": "passed", "tag": tag}
    tablet.enter("inspection.tell", told)
    assert tablet.push().status == 200
    assert told_of(other, known) == unknown
    assert told_of(other, elsewhere) == unknown
    assert other.get("trace", q=TIN).json["casings"] == []
    (mine,) = [w for w in gateway.work() if w["label"] == tag]
    assert mine["wanted"]["owner"] == world.customer.name


@pytest.mark.parametrize("how", ["a tablet", "a list"])
def test_bound_for_the_plant_is_what_people_told_to_be(
    world: World, gateway: Gateway, other: Gateway, known: str, enrol: Enrol, how: str
) -> None:
    gateway.tell(known, "received", station="receiving")
    assert gateway.casing(known)["work"]["wanted"] is None
    order = WorkOrder.objects.get()
    if how == "a tablet":
        tablet = enrol(world.operator)
        told = {"label": known, "station": "receiving", "outcome": "received"}
        tablet.enter("inspection.tell", told)
        assert tablet.push().status == 200
    else:
        Consignment.objects.create(
            uid=uuid4(), plant=world.plant, way="in", other=world.store, run=uuid4(),
            listed=[str(order.uid)], opened_at=order.picked_up_at,
        )  # fmt: skip
    assert gateway.casing(known)["work"]["wanted"]["owner"] == world.customer.name
    (traced,) = gateway.get("trace", q=known).json["casings"]
    assert (traced["owner"], traced["holder"]) == (world.customer.name, order_holder(known))
    assert [c["label"] for c in gateway.get("trace", q=TIN).json["casings"]] == [known]


def order_holder(label: str) -> str:
    return WorkOrder.objects.get(label=label).holder


def test_where_there_is_one_plant_all_is_bound_for_it(
    world: World, gateway: Gateway, known: str
) -> None:
    gateway.tell(known, "received", station="receiving")
    assert gateway.casing(known)["work"]["wanted"]["owner"] == world.customer.name
