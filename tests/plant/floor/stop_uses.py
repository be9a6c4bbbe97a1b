"""A cured load with casings of two owners, and a stop-use notice about some of them, written as
the office writes it."""

import re
from uuid import uuid4

import pytest
from django.test import Client

from pickups.casings.models import WorkOrder
from pickups.kernel.languages import grouped
from pickups.notices.models import StopUse
from tests.conftest import Enrol
from tests.plant.curing.plant_day import NUMBER, drain
from tests.sync.batches import push
from tests.world import Phone, World
from tests.world.mail import text_of
from tests.world.plant import Gateway

WHY = {"why_en": "The cure fell short.", "why_es": "Faltó curado."}
LOOK = f"/plant/stop-use/new?load={NUMBER}"
SEND = f"/plant/stop-use/send?load={NUMBER}"


@pytest.fixture
def cured(world: World, phone: Phone, enrol: Enrol, gateway: Gateway) -> list[str]:
    """One load: two casings of one owner, the first back with it, one of another, back too, one
    that nobody has picked up."""
    labels = sorted(world.a_label() for _ in range(4))
    other = enrol(world.other_driver)
    for label in labels[:2]:
        phone.pick_up(label, world.yard.uid, uuid4(), size="11R22.5", tin="1YB2 4F7 2318")
    other.pick_up(labels[2], world.other_yard.uid, uuid4())
    assert set(push(phone) + push(other)) == {"accepted"}
    for label in labels:
        for station in ("enveloping", "stripping"):
            gateway.tell(label, "passed", station=station, load=NUMBER)
    built = {"retread_tin": "7X32826"}
    gateway.tell(labels[0], "passed", station="final-inspection", built=built)
    for i in (0, 2):
        gateway.tell(labels[i], "finished", station="paint")
        gateway.tell(labels[i], "shipped", station="shipping")
    for driver, i, yard in ((phone, 0, world.yard), (other, 2, world.other_yard)):
        over = {"label": labels[i], "delivery": str(uuid4()), "yard": str(yard.uid)}
        driver.enter("custody.deliver", over)
        assert push(driver) == ["accepted"]
    drain()
    return labels


def order(label: str) -> WorkOrder:
    return WorkOrder.objects.get(label=label)


def spaced(label: str) -> str:
    """As people read it: groups of four, apart by some space."""
    return grouped(label)


def hidden(page: str, name: str) -> str:
    found = re.search(rf'name="{name}" value="([^"]*)"', page)
    assert found
    return found[1]


def looked(desk: Client, labels: list[str], **typed: str) -> str:
    """The page that shows what would be sent."""
    chosen = [str(order(label).uid) for label in labels]
    answer = desk.post(LOOK, {"order": chosen, **WHY, **typed})
    assert answer.status_code == 200
    return answer.content.decode()


def written(desk: Client, labels: list[str]) -> StopUse:
    """A notice about these, sent."""
    page = looked(desk, labels)
    form = {name: hidden(page, name) for name in ("uid", "orders", "why_en", "why_es")}
    assert desk.post(SEND, form | {"count": str(len(labels))}).status_code == 302
    return StopUse.objects.get(uid=form["uid"])


def opened(message: object) -> tuple[Client, str]:
    """The button behind a mail's link pressed: the browser, and the page that comes first."""
    found = re.search(r"(/c/\S+)", text_of(message))  # type: ignore[arg-type]
    assert found
    browser = Client()
    answer = browser.post(found[1])
    return browser, answer["Location"]
