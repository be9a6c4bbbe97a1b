"""People of the plant and of the office, signed in."""

from collections.abc import Callable, Iterator

import pytest
from django.test import Client
from playwright.sync_api import Browser, Playwright

from pickups.people.models import User
from tests.world import World

SignedIn = Callable[..., Client]


@pytest.fixture
def signed_in(world: World) -> SignedIn:
    """A browser in which somebody of the given role is signed in; an operator works at the
    plant."""

    def make(role: str = "plant", language: str = "en") -> Client:
        site = world.plant if role == "plant" else world.store
        found = User.objects.filter(role=role).first()
        user = found or User.objects.create_user(role, role=role, site=site)
        client = Client(raise_request_exception=True, headers={"Accept-Language": language})
        client.force_login(user)
        return client

    return make


@pytest.fixture
def operator(signed_in: SignedIn) -> Client:
    """The browser of somebody who works at the plant."""
    return signed_in()


@pytest.fixture(scope="module")
def browser(playwright: Playwright, chromium: str) -> Iterator[Browser]:
    """A browser for this module's tests."""
    started = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
    yield started
    started.close()
