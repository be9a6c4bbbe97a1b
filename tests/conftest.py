"""What every test may ask for: the cast, a door to the server in this process, a phone."""

import os
from collections.abc import Callable, Iterator

import pytest
from django.conf import settings
from django.test import Client
from hypothesis import HealthCheck
from hypothesis import settings as properties
from playwright.sync_api import expect
from pytest_django import DjangoDbBlocker

from pickups.config.embedded_postgres import Postgres
from pickups.people import services as people
from pickups.people.models import User
from tests.world import Phone, World, build
from tests.world.clusters import cluster, copy_tables_to, moved_to
from tests.world.phone import Reply
from tests.world.plant import Gateway

BROWSER_PATIENCE_MS = 20_000

# No test measures time: on a machine that does much else an example is late, not wrong.
properties.register_profile(
    "house", deadline=None, suppress_health_check=[HealthCheck.too_slow], print_blob=True
)
properties.load_profile("house")


def pytest_configure() -> None:
    """A test's own transaction around everything it does may last longer than any of the
    product's; in processes of their own the product's bounds hold (tests/config/test_settings)."""
    options = settings.DATABASES["default"]["OPTIONS"]
    for bound in ("transaction_timeout=30s", "idle_in_transaction_session_timeout=5s"):
        assert bound in options["options"]
        options["options"] = options["options"].replace(bound, f"{bound.split('=')[0]}=5min")
    # A screen on a machine that does much else is late, not wrong.
    expect.set_options(timeout=BROWSER_PATIENCE_MS)


TRIED_TWICE = ("tests/journeys/", "tests/config/test_supervisor")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """A browser or a child process that a busy machine starves may be late once: such a test is
    tried a second time (RERUNS=0: not). The summary names it: that is a race to look for."""
    reruns = int(os.environ.get("RERUNS", "1"))
    for item in items:
        if item.nodeid.startswith(TRIED_TWICE):
            item.add_marker(pytest.mark.flaky(reruns=reruns))


@pytest.fixture
def world(db: None) -> World:
    """The fixed cast."""
    return build()


def in_process(method: str, path: str, body: bytes, headers: dict[str, str]) -> Reply:
    """A door straight into Django, with all of its middleware."""
    client = Client(raise_request_exception=False)
    kind = headers.get("Content-Type", "")
    others = {k: v for k, v in headers.items() if k != "Content-Type"}
    answer = client.generic(method, path, body, content_type=kind, headers=others, secure=False)
    given = dict(answer.headers)
    for morsel in answer.cookies.values():
        given["Set-Cookie"] = morsel.OutputString()
    return Reply(
        answer.status_code, given, b"".join(answer) if answer.streaming else answer.content
    )


Enrol = Callable[..., Phone]


@pytest.fixture
def enrol(world: World) -> Enrol:
    """Make an enrolled phone of a driver, by default over the in-process door."""

    def make(driver: User | None = None, door: Callable[..., Reply] = in_process) -> Phone:
        person = driver or world.driver
        assert person.site is not None
        phone = Phone(door, person.uid)
        code = people.show_code(site=person.site, made_by=world.dispatcher)
        assert phone.enrol(code).status == 200
        return phone

    return make


@pytest.fixture
def phone(enrol: Enrol) -> Phone:
    """The first driver's phone, enrolled."""
    return enrol()


@pytest.fixture
def gateway(world: World) -> Gateway:
    """The plant's system, with a key in force."""
    return Gateway(in_process, world.plant_key)


@pytest.fixture(scope="session")
def cluster_apart(django_db_setup: None, django_db_blocker: DjangoDbBlocker) -> Iterator[Postgres]:
    """A second PostgreSQL with the same tables, in which nobody else holds a transaction."""
    with cluster() as server:
        with django_db_blocker.unblock():
            copy_tables_to(server)
        yield server


@pytest.fixture(scope="module")
def apart(cluster_apart: Postgres, django_db_blocker: DjangoDbBlocker) -> Iterator[None]:
    """This module's tests run in a cluster of their own: for what is pulled from the feed."""
    with django_db_blocker.unblock(), moved_to(cluster_apart):
        yield


@pytest.fixture(autouse=True)
def _no_throttle_left_over() -> Iterator[None]:
    """Rates are counted in the broker's cache, which outlives a test."""
    yield
    from django.core.cache import cache

    cache.clear()


@pytest.fixture(scope="session")
def chromium() -> str:
    """The browser's path; the suite fails, and never skips, where there is none."""
    path = os.environ.get("CHROMIUM", "/usr/bin/chromium")
    if not os.access(path, os.X_OK):
        pytest.fail(f"no browser at {path}: apt-get install chromium, or set CHROMIUM=/path/to/it")
    return path
