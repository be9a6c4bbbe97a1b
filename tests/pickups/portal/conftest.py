"""Customers with their page open, and casings of theirs on their way."""

import re
from collections.abc import Callable
from datetime import datetime
from typing import Any, Protocol
from uuid import UUID, uuid4

import pytest
from django.test import Client

from pickups.customers import services as customers
from pickups.customers.models import Contact, Customer
from pickups.kernel import clock
from tests.conftest import Enrol
from tests.world import Phone, World
from tests.world.plant import Gateway


class Answer(Protocol):
    """Whatever the test client gives back."""

    @property
    def content(self) -> bytes: ...


Opened = Callable[..., Client]
PickedUp = Callable[..., tuple[str, UUID]]


@pytest.fixture
def opened(world: World) -> Opened:
    """A browser in which a contact of a customer has pressed the button behind a mailed link."""

    def make(customer: Customer | None = None, **options: Any) -> Client:
        contact = Contact.objects.get(customer=customer or world.customer)
        browser = Client(raise_request_exception=True, **options)
        path = customers.new_link(contact=contact.uid, at=clock.now())
        assert browser.post(path).status_code == 302
        return browser

    return make


@pytest.fixture
def ines(opened: Opened) -> Client:
    """The browser of the first customer's contact, who reads English."""
    return opened()


@pytest.fixture
def picked_up(world: World, enrol: Enrol) -> PickedUp:
    """A casing picked up at the first customer's yard, or another: its label and work order."""
    phones: dict[UUID, Phone] = {}

    def make(yard: UUID | None = None, label: str = "", **told: Any) -> tuple[str, UUID]:
        driver = world.other_driver if yard == world.other_yard.uid else world.driver
        phone = phones.setdefault(driver.uid, enrol(driver))
        label = label or world.a_label()
        fact = phone.pick_up(label, yard or world.yard.uid, uuid4(), **told)
        assert phone.push().status == 200
        return label, UUID(fact["id"])

    return make


def tell(gateway: Gateway, label: str, *outcomes: str, **more: Any) -> list[dict[str, Any]]:
    """Station events in order, each a moment after the one before."""
    return [gateway.tell(label, outcome, **more) for outcome in outcomes]


def text(answer: Answer) -> str:
    """A page as it is read: no tags, no runs of spaces."""
    bare = re.sub(r"<[^>]+>", " ", answer.content.decode())
    return re.sub(r"\s+", " ", bare.replace("&#x27;", "'").replace("\u2009", ""))


def plain(answer: Answer) -> bytes:
    """A page's bytes without the form's secret, which is drawn anew for every answer."""
    return re.sub(rb'name="csrfmiddlewaretoken" value="[^"]*"', b"", answer.content)


def in_past(days: int) -> datetime:
    """A day that is over."""
    return clock.from_ms(clock.to_ms(clock.now()) - days * 86_400_000)
