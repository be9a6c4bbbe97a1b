"""The office's people, signed in, and a label on two casings."""

from collections.abc import Callable
from dataclasses import dataclass
from uuid import UUID, uuid4

import pytest
from django.test import Client

from pickups.people.models import User
from pickups.questions.models import Question
from tests.conftest import Enrol
from tests.world import World

SignedIn = Callable[..., Client]


@pytest.fixture
def signed_in(world: World) -> SignedIn:
    """A browser in which somebody of the given role is signed in."""

    def make(role: str = "dispatcher", language: str = "en") -> Client:
        found = User.objects.filter(role=role).first()
        user = found or User.objects.create_user(role, role=role, site=world.store)
        client = Client(raise_request_exception=True, headers={"Accept-Language": language})
        client.force_login(user)
        return client

    return make


@pytest.fixture
def office(signed_in: SignedIn) -> Client:
    """The dispatcher's browser."""
    return signed_in()


@dataclass
class Contested:
    """One label on two casings: the work orders, and the question about them."""

    label: str
    ours: UUID
    theirs: UUID
    question: int


@pytest.fixture
def contested(world: World, enrol: Enrol) -> Contested:
    """Two drivers pick up one casing each under the same label."""
    label = world.a_label()
    ours = enrol().pick_up(label, world.yard.uid, uuid4(), tread_32nds=[6, 7], tin="4B08 2910")
    first = enrol()
    first.outbox.append(ours)
    assert first.push().status == 200
    second = enrol(world.other_driver)
    theirs = second.pick_up(label, world.other_yard.uid, uuid4(), tread_32nds=[3, 3])
    assert second.push().status == 200
    question = Question.objects.get(kind="label_contested", settled_at=None)
    return Contested(label, UUID(ours["id"]), UUID(theirs["id"]), question.id)
