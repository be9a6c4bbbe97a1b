"""Hand-overs in the story: each once, whoever told of it, and who signed, if it was theirs."""

from collections.abc import Callable
from datetime import datetime, timedelta
from itertools import permutations
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.test import Client

from pickups.kernel import clock
from tests.pickups.portal.conftest import Opened, PickedUp, text
from tests.pickups.portal.test_story import a_photo
from tests.world import Phone, World
from tests.world.plant import Gateway


class Way:
    """One casing on its way, a minute a step; whoever tells of a step may tell at any time."""

    def __init__(self, world: World, phone: Phone, gateway: Gateway, label: str) -> None:
        self.world, self.phone, self.gateway, self.label = world, phone, gateway, label
        self.driver, self.rack = f"person:{world.driver.uid}", f"site:{world.store.uid}"
        self.plant = f"plant:{world.plant.uid}"
        self.began = clock.now()

    def at(self, minute: float) -> datetime:
        return self.began + timedelta(minutes=minute)

    def entered(self, minute: float, kind: str, **told: Any) -> dict[str, Any]:
        at = self.at(minute)
        op = self.phone.enter(kind, told, stamp=clock.to_ms(at), happened_at=clock.rfc3339(at))
        assert self.phone.push().status == 200
        assert self.phone.outbox == []
        return op

    def handed(self, minute: float, way: str, giver: str, taker: str, **more: Any) -> None:
        told = {"label": self.label, "way": way, "giver": giver, "taker": taker}
        self.entered(minute, "custody.hand_over", **told, **more)

    def delivered(self, minute: float, **more: Any) -> str:
        told = {"delivery": str(uuid4()), "yard": str(self.world.yard.uid), "label": self.label}
        return str(self.entered(minute, "custody.deliver", **told | more)["id"])

    def posted(self, minute: float, outcome: str) -> None:
        self.gateway.tell(self.label, outcome, happened_at=self.at(minute))


@pytest.fixture
def way(world: World, phone: Phone, gateway: Gateway) -> Way:
    return Way(world, phone, gateway, world.a_label())


def picked_up_by(way: Way) -> str:
    told = {"pickup": str(uuid4()), "yard": str(way.world.yard.uid), "label": way.label}
    return str(way.entered(0, "custody.pick_up", **told)["id"])


THERE_AND_BACK = [
    "Picked up at North yard by our driver.",
    "Unloaded at Bramblewick store.",
    "Left Bramblewick store on a truck.",
    "Arrived at Fernhollow plant.",
    "Passed buffing.",
    "Finished.",
    "Left Fernhollow plant on a truck.",
    "Unloaded at Bramblewick store.",
    "Out for delivery, from Bramblewick store.",
    "Delivered: handed back to you at North yard.",
]


def said(page: str) -> list[str]:
    """The sentences of the way, in the order in which they stand."""
    found = [(at, one) for one in set(THERE_AND_BACK) for at in places(page, one)]
    return [one for _, one in sorted(found)]


def places(page: str, sentence: str) -> list[int]:
    return [at for at in range(len(page)) if page.startswith(sentence, at)]


def test_the_whole_way_is_told_in_order_each_hand_over_once_with_both_its_witnesses(
    ines: Client, way: Way
) -> None:
    order = picked_up_by(way)
    way.handed(1, "in", way.driver, way.rack)
    way.handed(1.1, "in", way.driver, way.rack)  # the counter scans what the driver has scanned
    way.handed(2, "in", way.rack, way.driver)
    way.handed(3, "in", way.driver, way.plant)
    way.posted(3.1, "received")
    way.posted(4, "passed")
    way.posted(5, "finished")
    way.posted(6, "shipped")
    way.handed(6.1, "out", way.plant, way.driver)
    way.handed(7, "out", way.driver, way.rack)
    way.handed(8, "out", way.rack, way.driver)
    page = text(ines.get(f"/casings/{order}"))
    assert "It is finished, and our driver has it with him to bring it to you." in page
    way.delivered(9)
    assert said(text(ines.get(f"/casings/{order}"))) == THERE_AND_BACK


@pytest.mark.parametrize("first", ["driver", "dock"])
@pytest.mark.parametrize("arrives_first", ["driver", "dock"])
def test_the_drivers_scan_and_the_docks_are_one_arrival_whose_clock_ever_is_behind(
    ines: Client, way: Way, first: str, arrives_first: str
) -> None:
    order = picked_up_by(way)
    # The dock's clock may be an hour behind: then it received what was not loaded yet.
    dock = 3.1 if first == "driver" else -50
    tells: dict[str, Callable[[], None]] = {
        "driver": lambda: way.handed(3, "in", way.driver, way.plant),
        "dock": lambda: way.posted(dock, "received"),
    }
    tells.pop(arrives_first)()
    for tell in tells.values():
        tell()
    assert text(ines.get(f"/casings/{order}")).count("Arrived at Fernhollow plant.") == 1


def test_one_that_came_back_undelivered_went_out_twice(ines: Client, way: Way) -> None:
    order = picked_up_by(way)
    way.posted(5, "finished")
    way.handed(7, "out", way.driver, way.rack)
    way.handed(8, "out", way.rack, way.driver)
    way.handed(9, "out", way.driver, way.rack)
    way.handed(10, "out", way.rack, way.driver)
    page = text(ines.get(f"/casings/{order}"))
    assert len(places(page, "Out for delivery, from Bramblewick store.")) == 2
    assert len(places(page, "Unloaded at Bramblewick store.")) == 2


def test_photos_of_every_witness_stand_with_the_one_hand_over(
    ines: Client, way: Way, phone: Phone
) -> None:
    order = picked_up_by(way)
    red, blue = a_photo(phone, "#a00"), a_photo(phone, "#00a")
    way.handed(1, "in", way.driver, way.rack, photos=[red])
    way.handed(1.1, "in", way.driver, way.rack, photos=[blue])
    page = ines.get(f"/casings/{order}").content.decode()
    (event,) = [li for li in page.split("<li>") if "Unloaded" in li and "photos" in li]
    assert page.count("Unloaded") == 1
    assert f"/casings/{order}/photos/1" in page
    assert f"/casings/{order}/photos/2" in page
    assert event


def test_a_plant_that_is_the_home_sends_it_out_for_delivery(
    ines: Client, way: Way, world: World
) -> None:
    type(world.customer).objects.filter(uid=world.customer.uid).update(home_site=world.plant)
    order = picked_up_by(way)
    way.posted(5, "finished")
    assert "It is ready at Fernhollow plant" in text(ines.get(f"/casings/{order}"))
    way.posted(6, "shipped")
    way.handed(6.1, "out", way.plant, way.driver)
    page = text(ines.get(f"/casings/{order}"))
    assert page.count("Out for delivery, from Fernhollow plant.") == 1
    assert "Left Fernhollow" not in page


# --- Who signed -----------------------------------------------------------------------------------


def over(way: Way, kind: str, visit: str, yard: UUID, casing: str, **more: Any) -> None:
    name = "pickup" if kind == "finish_pickup" else "delivery"
    told = {name: visit, "yard": str(yard), "casings": [casing]}
    way.phone.enter(f"custody.{kind}", told | more, version=2)
    assert way.phone.push().status == 200
    assert way.phone.outbox == []


def test_the_story_says_who_of_theirs_signed_when_it_came_and_when_it_went(
    ines: Client, way: Way, world: World
) -> None:
    pickup, delivery = str(uuid4()), str(uuid4())
    told = {"pickup": pickup, "yard": str(world.yard.uid), "label": way.label}
    order = str(way.entered(0, "custody.pick_up", **told)["id"])
    assert "igned" not in text(ines.get(f"/casings/{order}"))
    over(way, "finish_pickup", pickup, world.yard.uid, order, signer="R. Amsel")
    way.posted(5, "finished")
    casing = way.delivered(9, delivery=delivery)
    over(way, "finish_delivery", delivery, world.yard.uid, casing, unsigned="nobody there")
    page = text(ines.get(f"/casings/{order}"))
    assert "Picked up at North yard by our driver. Signed by R. Amsel." in page
    assert "handed back to you at North yard. Not signed: nobody there" in page


def test_who_signed_for_another_customer_is_told_to_nobody(
    opened: Opened, way: Way, world: World
) -> None:
    """Picked up as one customer's, told again as another's, and left at a third place."""
    pickup, delivery = str(uuid4()), str(uuid4())
    told = {"pickup": pickup, "yard": str(world.other_yard.uid), "label": way.label}
    order = str(way.entered(0, "custody.pick_up", **told)["id"])
    over(way, "finish_pickup", pickup, world.other_yard.uid, order, signer="Secret Signer")
    named = {"fact": order, "label": way.label}
    way.entered(1, "custody.pick_up", **told | {"yard": str(world.yard.uid), "corrects": named})
    way.posted(5, "finished")
    casing = way.delivered(9, delivery=delivery, yard=str(world.other_yard.uid))
    over(way, "finish_delivery", delivery, world.other_yard.uid, casing, signer="Secret Signer")
    page = text(opened().get(f"/casings/{order}"))
    assert "Handed over; we are checking where." in page
    assert "It was handed over, and we are checking where. We will call you." in page
    assert "back with you" not in page
    assert "handed back to you" not in page
    for secret in ("Secret Signer", "Pit gate", "Reedbank", "Signed"):
        assert secret not in page
    assert opened(world.other_customer).get(f"/casings/{order}").status_code == 404


def test_over_a_counter_it_was_dropped_off_and_fetched(
    ines: Client, way: Way, world: World
) -> None:
    store = {"store": str(world.store.uid)}
    told = {"pickup": str(uuid4()), "yard": str(world.yard.uid), "label": way.label}
    fact = way.phone.enter("custody.pick_up", told | store | {"back_to": "store"}, version=2)
    assert way.phone.push().status == 200
    way.posted(5, "finished")
    way.handed(6, "out", way.driver, way.rack)
    told = {"delivery": str(uuid4()), "yard": str(world.yard.uid), "label": way.label}
    way.phone.enter("custody.deliver", told | store, version=2,
                    stamp=clock.to_ms(way.at(7)), happened_at=clock.rfc3339(way.at(7)))  # fmt: skip
    assert way.phone.push().status == 200
    page = text(ines.get(f"/casings/{fact['id']}"))
    assert "Dropped off at Bramblewick store." in page
    assert "Handed to you at Bramblewick store." in page
    assert "driver" not in page


STEPS: list[Callable[[Way], None]] = [
    lambda way: way.handed(3, "in", way.driver, way.plant),
    lambda way: way.posted(3.1, "received"),
    lambda way: way.posted(6, "shipped"),
    lambda way: way.handed(6.1, "out", way.plant, way.driver),
]


def test_in_whatever_order_it_is_told_the_story_is_the_same(
    opened: Opened, world: World, phone: Phone, gateway: Gateway, picked_up: PickedUp
) -> None:
    browser, stories = opened(), []
    for told in permutations(range(len(STEPS))):
        way = Way(world, phone, gateway, world.a_label())
        way.began = datetime.fromisoformat("2026-05-04T10:00:00Z")
        order = picked_up_by(way)
        for number in told:
            STEPS[number](way)
        page = text(browser.get(f"/casings/{order}"))
        stories.append(page.partition("What happened")[2])
    assert set(stories) == {stories[0]}
    assert said(stories[0]) == [THERE_AND_BACK[i] for i in (0, 3, 6)]
