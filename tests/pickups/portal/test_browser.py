"""The customer's pages in a real browser: from the mailed link on, by keyboard, in both lights."""

from collections.abc import Iterator
from datetime import timedelta
from uuid import UUID, uuid4

import pytest
from django.conf import settings
from playwright.sync_api import Browser, BrowserContext, Page, Playwright
from pytest_django.live_server_helper import LiveServer

from pickups.customers import services as customers
from pickups.customers.models import Contact
from pickups.kernel import clock
from pickups.portal.rules import COOKIE
from tests.pickups.portal.conftest import PickedUp
from tests.pickups.portal.test_story import a_photo
from tests.world import Phone, World
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db(transaction=True)
AXE = settings.BASE_DIR / "frontend" / "node_modules" / "axe-core" / "axe.min.js"
RULES = ["wcag2a", "wcag2aa", "wcag2aaa", "wcag21aa", "wcag22aa", "best-practice"]


@pytest.fixture(scope="module")
def browser(playwright: Playwright, chromium: str) -> Iterator[Browser]:
    started = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
    yield started
    started.close()


@pytest.fixture
def rejected(world: World, phone: Phone, picked_up: PickedUp, gateway: Gateway) -> UUID:
    """Casings at every stage; the one that was rejected has a photo."""
    label, pickup = world.a_label(), uuid4()
    told = {"size": "295/75R22.5", "tin": "4B08 2910", "photos": [a_photo(phone, "#446")]}
    fact = phone.pick_up(label, world.yard.uid, pickup, **told)
    assert phone.push().status == 200
    at = clock.now()
    gateway.tell(label, "received", station="receiving", happened_at=at + timedelta(minutes=1))
    finding = {"zone": "sidewall", "kind": "cut"}
    later = at + timedelta(minutes=2)
    why = {"reason": "SEPARATION", "findings": [finding]}
    gateway.tell(label, "rejected", happened_at=later, **why)
    for way in (["received", "hold"], ["finished"], ["finished", "shipped"], []):
        other, _ = picked_up(size="11R22.5")
        for outcome in way:
            gateway.tell(other, outcome)
    ready_and_late(world, phone, gateway)
    return UUID(fact["id"])


def ready_and_late(world: World, phone: Phone, gateway: Gateway) -> None:
    """Two that are ready, one of them to be fetched, and one whose promise is broken."""
    driver, rack = f"person:{world.driver.uid}", f"site:{world.store.uid}"
    for promised, told in (
        ("2099-04-28", {"unit": "T-118", "purchase_order": "PO 4471"}),
        ("2099-04-28", {"back_to": "store", "store": str(world.store.uid), "basis": "pool"}),
        ("2020-04-28", {"tread_design": "open shoulder drive"}),
    ):
        payload: dict[str, object] = {"pickup": str(uuid4()), "yard": str(world.yard.uid)}
        payload |= {"label": world.a_label(), "size": "11R22.5", **told}
        payload["promised"] = {"on": promised, "basis": "standard_time"}
        phone.enter("custody.pick_up", payload, version=2)
        assert phone.push().status == 200
        if promised.startswith("2099"):
            gateway.tell(str(payload["label"]), "finished")
            over = {"label": payload["label"], "way": "out", "giver": driver, "taker": rack}
            phone.enter("custody.hand_over", over)
            assert phone.push().status == 200


def pressed(
    browser: Browser, server: LiveServer, world: World, **options: object
) -> BrowserContext:
    """A browser in which the first customer's contact has come in by a mailed link."""
    contact = Contact.objects.get(customer=world.customer)
    path = customers.new_link(contact=contact.uid, at=clock.now())
    context = browser.new_context(base_url=server.url, **options)  # type: ignore[arg-type]
    page = context.new_page()
    page.goto(path)
    page.get_by_role("button").click()
    page.get_by_role("heading", level=2).first.wait_for()
    return context


def faults(page: Page) -> list[str]:
    page.evaluate(AXE.read_text())
    found = page.evaluate("rules => axe.run(document, {runOnly: rules})", RULES)
    assert len(found["passes"]) > 10  # it did look
    wide = page.evaluate("document.documentElement.scrollWidth > innerWidth")
    small = page.evaluate(
        "[...document.querySelectorAll('button, input:not([type=hidden]), .mine a, a.tap')]"
        ".filter(e => e.getBoundingClientRect().height < 48).length"
    )
    said = [f"{page.url}: {v['id']}" for v in found["violations"]]
    return [*said, *([f"{page.url}: too wide"] * wide), *([f"{page.url}: small targets"] * small)]


@pytest.mark.parametrize("light", ["light", "dark"])
@pytest.mark.parametrize("language", ["en", "es"])
def test_every_page_is_accessible_and_fits_a_small_phone(
    browser: Browser,
    live_server: LiveServer,
    world: World,
    rejected: UUID,
    light: str,
    language: str,
) -> None:
    Contact.objects.filter(customer=world.customer).update(language=language)
    size = {"width": 360, "height": 740} if language == "es" else {"width": 1440, "height": 900}
    options = {"viewport": size, "color_scheme": light, "bypass_csp": True}
    context = pressed(browser, live_server, world, **options)
    page = context.new_page()
    found = []
    for address in ("/casings/", f"/casings/{rejected}", "/casings/?q=2910", "/casings/?q=x",
                    "/casings/nowhere", "/c/anything"):  # fmt: skip
        page.goto(address)
        found += faults(page)
    page.get_by_role("button").click()
    page.locator(".big").wait_for()
    found += faults(page)
    context.close()
    assert found == []


def test_from_the_mail_to_the_story_and_out_without_a_mouse(
    browser: Browser, live_server: LiveServer, world: World, rejected: UUID
) -> None:
    asked: list[dict[str, str]] = []
    said: list[str] = []
    context = browser.new_context(base_url=live_server.url, viewport={"width": 360, "height": 740})
    page = context.new_page()
    page.on("console", lambda message: said.append(message.text))
    page.on("request", lambda request: asked.append({"url": request.url, **request.headers}))
    contact = Contact.objects.get(customer=world.customer)
    path = customers.new_link(contact=contact.uid, at=clock.now())
    page.goto(path)
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.get_by_text("1 rejected").wait_for()
    assert page.url == f"{live_server.url}/casings/"
    for _ in range(20):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.closest('.mine') !== null"):
            break
    page.keyboard.press("Enter")
    page.get_by_text("Why: plies or belts have come apart inside, on the sidewall.").wait_for()
    assert page.url == f"{live_server.url}/casings/{rejected}"
    picture = page.locator(".photos img")
    picture.scroll_into_view_if_needed()
    assert picture.evaluate("img => img.decode().then(() => img.naturalWidth)") == 40
    page.get_by_role("button", name="Español").click()
    page.get_by_text("Rechazada en la estación de raspado.").wait_for()
    assert page.url == f"{live_server.url}/casings/{rejected}"
    page.get_by_role("button", name="Salir").click()
    page.get_by_text("open the one in our newest mail").wait_for()
    left = context.cookies(f"{live_server.url}/casings/")
    assert COOKIE not in {cookie["name"] for cookie in left}
    context.close()
    assert [line for line in said if "403" not in line] == []  # the policy blocked nothing
    # The address with the token is named to nobody, not even to ourselves.
    assert [one for one in asked if path in one.get("referer", "")] == []


def test_the_cookie_of_the_customer_is_never_sent_to_the_office(
    browser: Browser, live_server: LiveServer, world: World, rejected: UUID
) -> None:
    context = pressed(browser, live_server, world)
    names = {
        where: {cookie["name"] for cookie in context.cookies(f"{live_server.url}{where}")}
        for where in ("/casings/", "/office/", "/admin/", "/api/sync/push", "/")
    }
    context.close()
    assert COOKIE in names.pop("/casings/")
    assert not any(COOKIE in found for found in names.values())
