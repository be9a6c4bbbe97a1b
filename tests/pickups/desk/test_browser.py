"""The office in a real browser: accessible in both lights, sizes and languages; keyboard only."""

from collections.abc import Iterator
from uuid import UUID, uuid4

import pytest
from django.conf import settings
from django.test import Client
from playwright.sync_api import Browser, BrowserContext, Page, Playwright
from pytest_django.live_server_helper import LiveServer

from pickups.casings.models import WorkOrder
from pickups.kernel import clock
from pickups.people.models import Device
from pickups.questions import services as questions
from pickups.questions.rules import Kind
from tests.conftest import Enrol
from tests.pickups.desk.conftest import Contested
from tests.pickups.desk.test_labels import with_photo
from tests.world import World

pytestmark = pytest.mark.django_db(transaction=True)
AXE = settings.BASE_DIR / "frontend" / "node_modules" / "axe-core" / "axe.min.js"
RULES = ["wcag2a", "wcag2aa", "wcag2aaa", "wcag21aa", "wcag22aa", "best-practice"]


@pytest.fixture(scope="module")
def browser(playwright: Playwright, chromium: str) -> Iterator[Browser]:
    started = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
    yield started
    started.close()


def opened(browser: Browser, server: LiveServer, world: World, **options: object) -> BrowserContext:
    """A browser in which the dispatcher is signed in, and that fails on a blocked inline part."""
    client = Client()
    client.force_login(world.dispatcher)
    context = browser.new_context(base_url=server.url, **options)  # type: ignore[arg-type]
    session = client.cookies[settings.SESSION_COOKIE_NAME].value
    context.add_cookies(
        [{"name": settings.SESSION_COOKIE_NAME, "value": session, "url": server.url}]
    )
    return context


def faults(page: Page) -> list[str]:
    page.evaluate(AXE.read_text())
    found = page.evaluate("rules => axe.run(document, {runOnly: rules})", RULES)
    assert len(found["passes"]) > 10  # it did look
    wide = page.evaluate("document.documentElement.scrollWidth > innerWidth")
    return [f"{page.url}: {v['id']}" for v in found["violations"]] + ["too wide"] * wide


@pytest.mark.parametrize("light", ["light", "dark"])
@pytest.mark.parametrize("language", ["en", "es"])
def test_every_page_is_accessible_and_fits_a_small_phone(
    browser: Browser,
    live_server: LiveServer,
    world: World,
    enrol: Enrol,
    contested: Contested,
    light: str,
    language: str,
) -> None:
    device = Device.objects.all()[0].uid
    asked = [questions.Ask(Kind.YARD_UNKNOWN, f"yard:{uuid4()}", {})]
    questions.ask(asked, at=clock.now())
    questions.settle(
        kinds=[Kind.YARD_UNKNOWN],
        subjects=[asked[0].subject],
        how="A new yard; entered.",
        at=clock.now(),
        by=world.dispatcher.uid,
    )
    addresses = [
        "/office/",
        "/office/devices",
        f"/office/devices/{device}/revoke",
        "/office/contacts",
        f"/office/contacts/{world.customer.contacts.get().uid}/revoke",
        f"/office/labels/{contested.label}",
        "/office/labels?q=K72K54X3",
        f"/office/devices/{uuid4()}/close",
        f"/L/{contested.label}",
        "/office/sign-in",
    ]
    size = {"width": 360, "height": 740} if language == "es" else {"width": 1440, "height": 900}
    options = {"viewport": size, "color_scheme": light, "locale": language, "bypass_csp": True}
    context = opened(browser, live_server, world, **options)
    page = context.new_page()
    found = []
    for address in addresses:
        page.goto(address)
        found += faults(page)
    page.goto("/office/")
    page.get_by_text("Settled lately").or_(page.get_by_text("Resueltas últimamente")).click()
    found += faults(page)
    page.goto("/office/devices")
    page.locator("button.primary").click()
    page.get_by_test_id("code").wait_for()
    found += faults(page)
    page.goto("/office/contacts")
    page.locator(".do button").first.click()
    page.locator("#address").wait_for()
    found += faults(page)
    context.close()
    assert found == []


def test_a_contested_label_is_decided_without_a_mouse(
    browser: Browser, live_server: LiveServer, world: World, contested: Contested
) -> None:
    context = opened(browser, live_server, world)
    page = context.new_page()
    said: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.goto("/office/")
    for _ in range(40):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.name") == "said":
            break
    page.keyboard.type("Read the wrong label in the rain.")
    page.keyboard.press("Enter")
    page.get_by_text("The label now belongs to the other casing.").wait_for()
    context.close()
    assert said == []  # the security policy blocked nothing
    first: UUID = min(contested.ours, contested.theirs)
    assert WorkOrder.objects.get(uid=first).withdrawn


def test_a_photo_opened_alone_breaks_no_policy(
    browser: Browser, live_server: LiveServer, world: World, enrol: Enrol
) -> None:
    fact = with_photo(world, enrol())
    context = opened(browser, live_server, world)
    page = context.new_page()
    said: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.goto(f"/office/photos/{fact}/1")
    width = page.evaluate("document.images[0].naturalWidth")
    page.wait_for_timeout(300)
    context.close()
    assert (width, said) == (40, [])
