"""A stack and a phone for each journey."""

from collections.abc import Callable, Iterator, Sequence

import pytest
from playwright.sync_api import Playwright, expect

from tests.journeys.app import App
from tests.journeys.clerk import NO_PREVIEW, Counter
from tests.journeys.promised import publish
from tests.world.proxy import Proxy
from tests.world.stack import Stack


@pytest.fixture(scope="module")
def stack() -> Iterator[Stack]:
    """One product for the journeys of a module."""
    with Stack(durable=True) as made:
        made.start_web()
        yield made


@pytest.fixture
def web(stack: Stack) -> Stack:
    """The stack with its web process up, whatever the last journey did to it."""
    if stack.web is None or stack.web.poll() is not None:
        stack.start_web()
    return stack


@pytest.fixture
def proxy(web: Stack) -> Iterator[Proxy]:
    """A line to the web process that can lose an answer."""
    made = Proxy(web.port)
    yield made
    made.close()


OpenApp = Callable[..., App]


@pytest.fixture
def open_app(web: Stack, playwright: Playwright, chromium: str) -> Iterator[OpenApp]:
    """Open an enrolled phone of the driver at its first pickup."""
    opened: list[App] = []

    def make(url: str = "", flags: Sequence[str] = ()) -> App:
        app = App(playwright, chromium, url or web.url, flags)
        opened.append(app)
        app.enrol(web.fresh_code(), web.cast["driver"])
        app.start_pickup(web.cast["yard"])
        return app

    yield make
    for app in opened:
        app.close()


@pytest.fixture
def store(web: Stack) -> Stack:
    """A stack whose store has a counter, and may promise."""
    cast = web.cast
    if "counter" not in cast:
        cast["counter"] = web.call(f"hire({cast['store']!r}, 'counter', 'Noor', 'Vance')").strip()
        cast["hollow"] = web.call(
            f"open_yard({cast['store']!r}, 'Hollow Creek Dairy', 'Creamery', '12 Mill Road')"
        ).strip()
        publish(web, days=5)
        web.call("settle()")
    return web


@pytest.fixture
def counter(store: Stack, playwright: Playwright, chromium: str) -> Iterator[Counter]:
    """A counter's PC, enrolled, with the counter's person at it."""
    made = Counter(playwright, chromium, store.url, [NO_PREVIEW])
    made.enrol(store.fresh_code(), store.cast["counter"])
    expect(made.page.get_by_test_id("find")).to_be_focused()
    yield made
    made.close()
