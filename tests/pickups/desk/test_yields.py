"""Fleet yield: what counts as the fleet's, and what the plant or the road did and nobody else."""

import re
from datetime import timedelta
from typing import Any, get_args
from uuid import uuid4

import pytest
from django.test import Client

from pickups.desk import rules
from pickups.desk.rules import Ended
from pickups.kernel import clock
from pickups.kernel.languages import grouped
from plant.inspection.wire import Cause
from tests.conftest import Enrol
from tests.pickups.desk.conftest import SignedIn
from tests.pickups.promises.promising import taken
from tests.sync.batches import push
from tests.world import Phone, World
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db


def made(world: World, phone: Phone, gateway: Gateway, outcome: str, **told: Any) -> str:
    """A casing of the first customer that came to this end."""
    label = world.a_label()
    phone.pick_up(label, world.yard.uid, uuid4(), size="11R22.5")
    assert push(phone) == ["accepted"]
    gateway.tell(label, outcome, station="initial-inspection", **told)
    return label


def row(office: Client, world: World, months: int = 12) -> str:
    """The customer's line on the page, as text."""
    page = office.get(f"/office/yield/?months={months}").content.decode()
    if "Tarn Valley Haulage" not in page:
        return ""
    line = page.split("Tarn Valley Haulage")[1].split("</tr>")[0]
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", line)).strip()


@pytest.mark.parametrize(
    ("cause", "share", "of"),
    [
        ("casing", "50 %", "1 of 2"),
        ("customer", "50 %", "1 of 2"),
        ("plant", "100 %", "1 of 1 the plant's doing: 1"),
        ("road_or_dock", "100 %", "1 of 1 road or dock: 1"),
    ],
    ids=["casing", "customer", "plant", "road"],
)
def test_each_cause_counts_as_it_has_to_and_is_listed_behind_the_number(
    world: World, phone: Phone, gateway: Gateway, office: Client, cause: str, share: str,
    of: str,
) -> None:  # fmt: skip
    good = made(world, phone, gateway, "finished")
    bad = made(world, phone, gateway, "rejected", reason="ZIPPER", cause=cause)
    assert row(office, world).replace("&#x27;", "'") == f"{share} {of}"
    page = office.get(f"/office/yield/{world.customer.uid}/").content.decode()
    groups = {part.split('"')[0]: part for part in page.split('aria-labelledby="g-')[1:]}
    assert grouped(good) in groups["finished"]
    ended = rules.ended({"cause": cause})
    assert set(groups) == {"finished", str(ended)}
    assert grouped(bad) in groups[str(ended)]
    assert grouped(bad) not in groups["finished"]
    assert "None" not in page


def test_what_stands_counts_and_not_what_was_released_or_taken_back(
    world: World, phone: Phone, gateway: Gateway, office: Client
) -> None:
    label = made(world, phone, gateway, "passed")
    cut = gateway.tell(label, "rejected", station="initial-inspection", reason="SW_CUT",
                       cause="casing")  # fmt: skip
    assert row(office, world) == "0 % 0 of 1"
    gateway.tell(label, "released", station="initial-inspection", releases=cut["id"], note="ok")
    assert row(office, world) == ""  # decided about no longer
    gateway.tell(label, "finished", station="paint")
    assert row(office, world) == "100 % 1 of 1"


def test_only_the_period_that_is_asked_for_and_only_casings_to_be_retreaded(
    world: World, phone: Phone, gateway: Gateway, office: Client
) -> None:
    old = clock.now() - timedelta(days=100)
    made(world, phone, gateway, "finished", happened_at=old)
    assert row(office, world, months=3) == ""
    assert row(office, world) == "100 % 1 of 1"
    only_repaired = taken(phone, world, None, work="repair")
    assert push(phone) == ["accepted"]
    gateway.tell(only_repaired["payload"]["label"], "finished", station="paint")
    assert row(office, world) == "100 % 1 of 1"
    for odd in ("0", "-1", "x", "9" * 999):
        assert "<h1>" in office.get(f"/office/yield/?months={odd}").content.decode()


def test_each_customer_has_its_own_and_a_contested_casing_is_nobodys(
    world: World, phone: Phone, enrol: Enrol, gateway: Gateway, office: Client
) -> None:
    label = made(world, phone, gateway, "finished")
    other = enrol(world.other_driver)
    theirs = world.a_label()
    other.pick_up(theirs, world.other_yard.uid, uuid4())
    assert push(other) == ["accepted"]
    gateway.tell(theirs, "rejected", station="initial-inspection", reason="ZIPPER", cause="casing")
    page = office.get(f"/office/yield/{world.other_customer.uid}/").content.decode()
    assert grouped(theirs) in page
    assert grouped(label) not in page
    other.pick_up(label, world.other_yard.uid, uuid4())
    assert push(other) == ["contested label_contested"]
    assert row(office, world) == ""
    assert office.get(f"/office/yield/{uuid4()}/").status_code == 404


def test_the_share_is_of_those_that_count_alone() -> None:
    counts = {Ended.FINISHED: 3, Ended.REJECTED: 1, Ended.PLANT: 9, Ended.ROAD: 9}
    assert rules.fleet_yield(counts) == (3, 4)
    assert rules.fleet_yield({Ended.PLANT: 2}) == (0, 0)
    assert rules.ended(None) is Ended.FINISHED
    assert set(rules.CAUSES) == set(get_args(Cause))


@pytest.mark.parametrize("language", ["en", "es"])
def test_nothing_counts_yet_is_said_in_words(
    world: World, phone: Phone, gateway: Gateway, signed_in: SignedIn, language: str
) -> None:
    office = signed_in("sales", language=language)
    made(world, phone, gateway, "rejected", reason="ZIPPER", cause="plant")
    page = office.get("/office/yield/").content.decode()
    assert ("nothing counts yet" if language == "en" else "aún no cuenta nada") in page
